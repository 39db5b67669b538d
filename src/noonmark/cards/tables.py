"""A year in tables of words, for any face that shows text."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from noonmark.cards.speech import Speech
from noonmark.errors import Sentence
from noonmark.study.results.year import BuildingYear, PartFlow, YearResult, ZoneYear
from noonmark.units import Quantity


@dataclass(frozen=True)
class Table:
    """Words in rows; the first column says what, the others how much."""

    title: str
    heading: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def year_tables(result: YearResult, speech: Speech) -> Iterator[Table]:
    """Yield the comparison with the twin, the heat balance and the months of every building."""
    for own, twin in zip(result.buildings, result.twin, strict=True):
        yield _comparison(own, twin, speech)
        for zone in own.zones:
            yield from _balance(zone, speech, named=len(own.zones) > 1)
        if own.covers:
            yield _covers(own, speech)
        yield _months(own, speech)


def verdict(result: YearResult, speech: Speech) -> str:
    """Return the one sentence that says what shaping to the sun is worth here."""
    if not any(building.heating_kwh for building in (*result.buildings, *result.twin)):
        coldest = [
            _degrees(min(building.temp_min_c for building in side), speech)
            for side in (result.buildings, result.twin)
        ]
        values = {"house": coldest[0], "twin": coldest[1]}
        return speech.say(Sentence("year.unheated", values))
    saving = round(100.0 * result.saving)
    key = "year.saving" if saving >= 0 else "year.costing"
    return speech.say(Sentence(key, {"percent": abs(saving)}))


def _comparison(own: BuildingYear, twin: BuildingYear, speech: Speech) -> Table:
    rows: Sequence[tuple[str, Callable[[BuildingYear], str]]] = (
        ("heating", lambda b: _energy(b.heating_kwh, speech)),
        ("fuel", lambda b: _fuel(b, speech)),
        ("peak", lambda b: _power(b.peak_heating_w, speech)),
        ("coldest", lambda b: _degrees(b.temp_min_c, speech)),
        ("warmest", lambda b: _degrees(b.temp_max_c, speech)),
        ("above", lambda b: speech.number(b.hours_above_26_c)),
        ("glass", lambda b: _glass(b, speech)),
    )
    return Table(
        title=own.name,
        heading=("", speech.word("year.house"), speech.word("year.twin")),
        rows=tuple((speech.word(f"year.{key}"), show(own), show(twin)) for key, show in rows),
    )


def _balance(zone: ZoneYear, speech: Speech, *, named: bool) -> Iterator[Table]:
    """Yield where a zone's heat goes and comes from, unless it never needs any."""
    losses, gains = speech.word("year.losses"), speech.word("year.gains")
    for title, flows in ((losses, zone.losses), (gains, zone.gains)):
        values = {"title": title, "zone": zone.name}
        whole = speech.say(Sentence("year.of_zone", values)) if named else title
        if any(flow.kwh for flow in flows):
            yield _flows(whole, flows, speech)


def _flows(title: str, flows: tuple[PartFlow, ...], speech: Speech) -> Table:
    total = sum(flow.kwh for flow in flows) or 1.0
    ranked = sorted(flows, key=lambda flow: -flow.kwh)
    return Table(
        title=title,
        heading=("", "kWh", "%"),
        rows=tuple(
            (
                speech.say(Sentence(f"year.part_{flow.part}", {"side": flow.side})),
                speech.number(flow.kwh),
                speech.number(100.0 * flow.kwh / total),
            )
            for flow in ranked
        ),
    )


def _covers(building: BuildingYear, speech: Speech) -> Table:
    """Return how long each cover is closed."""
    rows = []
    for item in building.covers:
        values = {"cover": item.cover, "window": item.window, "side": item.side}
        key = "year.cover_at" if item.window else "year.cover_side"
        rows.append((speech.say(Sentence(key, values)), speech.number(item.hours_closed)))
    heading = ("", speech.word("year.hours_closed"))
    return Table(speech.word("year.covers"), heading, tuple(rows))


def _months(building: BuildingYear, speech: Speech) -> Table:
    rows = []
    for index in range(12):
        months = [zone.months[index] for zone in building.zones]
        rooms = [zone for zone in building.zones if zone.lived_in]
        warmth = sum(zone.months[index].temp_mean_c * zone.floor_area_m2 for zone in rooms)
        inside = warmth / sum(zone.floor_area_m2 for zone in rooms)
        rows.append(
            (
                speech.word(f"month.{index + 1}"),
                _degrees(months[0].outdoor_mean_c, speech),
                _degrees(inside, speech),
                speech.number(sum(m.solar_kwh for m in months)),
                speech.number(sum(m.heating_kwh for m in months)),
            )
        )
    words = [speech.word(f"year.{key}") for key in ("month", "outdoors", "inside", "sun", "heater")]
    words[3:] = [f"{word}, kWh" for word in words[3:]]
    return Table(speech.word("year.months"), tuple(words), tuple(rows))


def _energy(kwh: float, speech: Speech) -> str:
    return f"{speech.number(kwh)} kWh"


def _power(watts: float, speech: Speech) -> str:
    number, unit = Quantity(watts, "power").write(speech.system).split(" ", 1)
    return f"{speech.number(float(number))} {unit}"


def _degrees(celsius: float, speech: Speech) -> str:
    return Quantity(celsius, "temperature").write(speech.system)


def _fuel(building: BuildingYear, speech: Speech) -> str:
    fuel = building.fuel
    if fuel is None:
        return speech.word("year.no_heater")
    if fuel.full_cords > 0.0:
        values = {"value": speech.number(fuel.full_cords, 2), "fuel": fuel.fuel}
        bought = speech.say(Sentence("year.cords", values))
    else:
        values = {"value": speech.number(fuel.amount), "unit": fuel.unit, "fuel": fuel.fuel}
        bought = speech.say(Sentence("year.amount", values))
    if fuel.charges == 0.0:
        return bought
    filled = {"fuel_bought": bought, "charges": speech.number(fuel.charges)}
    return speech.say(Sentence("year.charges", filled))


def _glass(building: BuildingYear, speech: Speech) -> str:
    return "\n".join(
        f"{side} {Quantity(area, 'area').write(speech.system)}"
        for side, area in sorted(building.glass_by_side_m2.items())
    )
