"""Which glass on which side, in tables of words."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.results.glass import GlassOption, GlassResult
from noonmark.units import Quantity


def glass_tables(result: GlassResult, speech: Speech) -> Iterator[Table]:
    """Yield the glazings of each wall, the best first."""
    columns = ("glazing", "u_value", "shgc", "useful", "heating", "hours")
    for side in result.sides:
        values = {
            "building": side.building,
            "side": azimuth_name(side.faces_deg),
            "area": Quantity(side.area_m2, "area"),
            "designed": side.designed,
        }
        yield Table(
            title=speech.say(Sentence("glass.title", values)),
            heading=tuple(speech.word(f"glass.{column}") for column in columns),
            rows=tuple(_row(item, speech) for item in side.options),
        )


def _row(item: GlassOption, speech: Speech) -> tuple[str, ...]:
    def kwh(value: float) -> str:
        return speech.say(Sentence("glass.kwh", {"kwh": speech.number(value)}))

    return (
        item.glazing,
        speech.decimal(Quantity(item.u_value, "u_value").write(speech.system)),
        speech.number(item.shgc, 2),
        kwh(item.useful_year_kwh),
        kwh(item.year.heating_kwh),
        speech.number(item.year.hours_above_26_c),
    )
