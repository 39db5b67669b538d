"""A stake-out in tables of words: noons, directions, stakes."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.stakewords import clock_second
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.results.stakeout import (
    BuildingStakes,
    Direction,
    Footprint,
    NoonShadow,
    StakeoutResult,
)
from noonmark.units import Quantity
from noonmark.units.writing import taped

SIDES = ("sunny", "left", "back", "right")


def noon_table(result: StakeoutResult, speech: Speech) -> Table:
    """Return solar noon by the clock of the day and the next ones."""
    rod = {"rod": Quantity(result.rod_m, "length")}
    return Table(
        title=speech.say(Sentence("stakeout.noons", rod)),
        heading=(
            speech.word("stakeout.day"),
            speech.word("stakeout.clock"),
            speech.word("stakeout.zone"),
            speech.word("stakeout.sun"),
            speech.word("stakeout.day_length"),
            speech.word("stakeout.shadow"),
            speech.word("stakeout.falls"),
            speech.word("stakeout.turns"),
        ),
        rows=tuple(_noon_row(noon, speech) for noon in result.noons),
    )


def _noon_row(noon: NoonShadow, speech: Speech) -> tuple[str, ...]:
    minutes = round(60.0 * noon.day_length_h)
    side = speech.word(f"stakeout.to_{noon.shadow_to}") if noon.shadow_to else ""
    dark = noon.use == "dark"
    return (
        speech.day(noon.day),
        clock_second(noon.noon),
        f"{noon.noon:%Z}",
        "" if dark else Quantity(noon.altitude_deg, "angle").write(speech.system),
        f"{minutes // 60}:{minutes % 60:02d}",
        "" if noon.shadow_m is None else Quantity(noon.shadow_m, "length").write(speech.system),
        side if noon.use == "good" else speech.word(f"stakeout.{noon.use}"),
        "" if dark else f"{speech.number(noon.turn_deg_per_min, 2)}°",
    )


def direction_table(building: BuildingStakes, result: StakeoutResult, speech: Speech) -> Table:
    """Return where walls and ridge lie by compass, and when the sun stands square to them."""
    values = {"building": building.name, "day": result.day}
    return Table(
        title=speech.say(Sentence("stakeout.directions", values)),
        heading=(
            "",
            speech.word("stakeout.true"),
            speech.word("stakeout.compass"),
            speech.word("stakeout.square"),
        ),
        rows=tuple(_direction_row(item, result, speech) for item in building.directions),
    )


def direction_name(item: Direction, speech: Speech) -> str:
    """Return what a direction is."""
    side = azimuth_name(item.azimuth_deg)
    if item.part == "wall":
        named = "" if item.wall in SIDES else "_named"
        wall = item.wall if named else speech.word(f"stakeout.wall_{item.wall}")
        return speech.say(Sentence(f"stakeout.wall{named}", {"wall": wall, "side": side}))
    return speech.say(Sentence(f"stakeout.{item.part}", {"side": side}))


def _direction_row(item: Direction, result: StakeoutResult, speech: Speech) -> tuple[str, ...]:
    blind = result.needle.zone == "blackout"
    sun = ", ".join(clock_second(instant) for instant in item.sun_square)
    if not sun and item.part != "ridge":
        sun = speech.word("stakeout.never")
    return (
        direction_name(item, speech),
        Quantity(item.azimuth_deg, "angle").write(speech.system),
        "" if blind else Quantity(item.compass_deg, "angle").write(speech.system),
        sun,
    )


def stake_tables(building: BuildingStakes, speech: Speech) -> Iterator[Table]:
    """Yield the stakes of each group of zones."""
    for part in building.footprints:
        yield _stakes(building, part, speech)


def _stakes(building: BuildingStakes, part: Footprint, speech: Speech) -> Table:
    alone = len(building.footprints) == 1
    values = {"building": building.name, "zones": list(part.zones)}
    return Table(
        title=speech.say(Sentence(f"stakeout.stakes{'' if alone else '_of'}", values)),
        heading=(
            speech.word("stakeout.stake"),
            speech.word("stakeout.east"),
            speech.word("stakeout.north"),
            speech.word("stakeout.from_a"),
            speech.word("stakeout.from_b"),
            speech.word("stakeout.next"),
        ),
        rows=tuple(
            (
                stake.name,
                *(
                    taped(metres, speech.system)
                    for metres in (
                        stake.east_m,
                        stake.north_m,
                        stake.from_a_m,
                        stake.from_b_m,
                        stake.next_m,
                    )
                ),
            )
            for stake in part.stakes
        ),
    )
