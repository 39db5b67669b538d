"""Shade chosen by the year, in words: the eaves that were run, the compromise, movable shades."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.study.results.shade import EaveYearResult, MovableShade
from noonmark.units import Quantity

_SHOWN = 8


def eave_year_tables(result: EaveYearResult, speech: Speech) -> Iterator[Table]:
    """Yield the eaves that cost least, best first."""

    def cost(heating: float, hours: float) -> float:
        return heating + result.hour_counts_kwh * hours

    ranked = sorted(
        result.tried, key=lambda item: cost(item.year.heating_kwh, item.year.hours_above_26_c)
    )
    yield Table(
        title=speech.say(Sentence("eave.year_title", {"window": result.window})),
        heading=(
            speech.word("eave.projection"),
            speech.word("eave.gap"),
            speech.word("eave.heating"),
            speech.word("eave.hours"),
        ),
        rows=tuple(
            (
                Quantity(item.projection_m, "length").write(speech.system),
                Quantity(item.soffit_above_head_m, "length").write(speech.system),
                f"{speech.number(item.year.heating_kwh)} kWh",
                speech.number(item.year.hours_above_26_c),
            )
            for item in ranked[:_SHOWN]
        ),
    )


def eave_year_sentences(result: EaveYearResult) -> Iterator[Sentence]:
    """Yield the compromise of spring and autumn, the movable shade, and the assumption."""
    best = result.solutions[0]
    yield Sentence(
        "eave.compromise",
        {
            "projection": Quantity(best.projection_m, "length"),
            "gap": Quantity(best.soffit_above_head_m, "length"),
            "spring": round(result.spring_kwh),
            "autumn": round(result.autumn_hours),
            "heating": round(best.year.heating_kwh),
            "hours": round(best.year.hours_above_26_c),
            "bare_heating": round(result.without.heating_kwh),
            "bare_hours": round(result.without.hours_above_26_c),
        },
    )
    if result.movable is not None:
        yield _movable("eave.movable", result.movable)
    yield Sentence("eave.counts", {"kwh": result.hour_counts_kwh})


def awning_sentence(shade: MovableShade) -> Sentence:
    """Return when an awning is best put up and taken down, and what the year comes to."""
    return _movable("awning.dates", shade)


def _movable(key: str, shade: MovableShade) -> Sentence:
    return Sentence(
        key,
        {
            "put_up": shade.put_up,
            "take_down": shade.take_down,
            "heating": round(shade.year.heating_kwh),
            "hours": round(shade.year.hours_above_26_c),
            "bare_heating": round(shade.without.heating_kwh),
            "bare_hours": round(shade.without.hours_above_26_c),
        },
    )
