"""What sweats and what dries, in tables and sentences."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.study.results.damp import BuildingDamp, DampResult, LayersDamp
from noonmark.units import Quantity

_RUNS_KG_M2 = 0.2
_ROOM_C = 20.0


def damp_tables(result: DampResult, speech: Speech) -> Iterator[Table]:
    """Yield for each building its windows, and the humidity that is safe."""
    for building in result.buildings:
        if building.windows:
            yield _windows(building, speech)
        yield _safe(building, speech)


def _windows(building: BuildingDamp, speech: Speech) -> Table:
    columns = ("window", "glass_factor", "edge_factor", "frame_factor", "glass_hours", "edge_hours")
    rows = []
    for item in building.windows:
        factors = (item.glass_factor, item.edge_factor, item.frame_factor)
        hours = (item.glass_hours, item.edge_hours)
        rows.append(
            (
                item.window,
                *("" if f is None else speech.number(f, 2) for f in factors),
                *(speech.say(Sentence("damp.hours", {"hours": speech.number(h)})) for h in hours),
            )
        )
    return Table(
        title=speech.say(Sentence("damp.windows", {"building": building.name})),
        heading=tuple(speech.word(f"damp.{column}") for column in columns),
        rows=tuple(rows),
    )


def _safe(building: BuildingDamp, speech: Speech) -> Table:
    kinds = ("outdoor", "glass", "edge", "corner")
    values = {"building": building.name, "room": Quantity(_ROOM_C, "temperature")}

    def percent(share: float | None) -> str:
        if share is None:
            return ""
        return speech.say(Sentence("damp.percent", {"percent": speech.number(100.0 * share)}))

    return Table(
        title=speech.say(Sentence("damp.safe", values)),
        heading=tuple(speech.word(f"damp.{kind}") for kind in kinds),
        rows=tuple(
            (
                speech.decimal(Quantity(row.outdoor_c, "temperature").write(speech.system)),
                *(percent(share) for share in (row.glass, row.edge, row.corner)),
            )
            for row in building.safe
        ),
    )


def damp_sentences(result: DampResult, speech: Speech) -> Iterator[Sentence]:
    """Yield what gathers in the layers, where mould grows, and what the air loses."""
    for building in result.buildings:
        for item in building.layers:
            yield from _layers(building.name, item, speech)
        for zone in building.zones:
            if zone.condensed_kg >= 1.0:
                water = speech.number(zone.condensed_kg)
                values = {"building": building.name, "zone": zone.name, "water": water}
                yield Sentence("damp.condensed", values)


def _layers(building: str, item: LayersDamp, speech: Speech) -> Iterator[Sentence]:
    values: dict[str, object] = {
        "building": building,
        "zone": item.zone,
        "part": speech.word(f"damp.{item.part}"),
        "construction": item.construction,
        "hours": item.mould_hours,
        "water": speech.number(1000.0 * item.most_kg_m2),
        "place": item.place,
        "month": "" if item.month is None else speech.word(f"month.{item.month}"),
        "dry_by": "" if item.dry_by is None else speech.word(f"month.{item.dry_by}"),
    }
    yield Sentence(f"damp.{item.verdict}", values)
    if item.most_kg_m2 > _RUNS_KG_M2:
        yield Sentence("damp.runs")
    yield Sentence("damp.mould" if item.mould_hours else "damp.no_mould", values)
