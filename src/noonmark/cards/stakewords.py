"""A stake-out in words: the compass, the shadows, the square corners."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name, equator_azimuth
from noonmark.study.results.stakeout import BuildingStakes, Footprint, StakeoutResult
from noonmark.units import Quantity, System
from noonmark.units.writing import taped

TROPIC_DEG = 23.44
"""Latitude up to which the noon sun can stand overhead."""

_NEGLIGIBLE_DEG = 0.005


def clock_second(instant: datetime) -> str:
    """Return an instant of the clock to the nearest second."""
    return f"{instant + timedelta(seconds=0.5):%H:%M:%S}"


def clock_minute(instant: datetime) -> str:
    """Return an instant of the clock to the nearest minute."""
    return f"{instant + timedelta(seconds=30):%H:%M}"


def needle_sentences(result: StakeoutResult) -> Iterator[Sentence]:
    """Yield where the needle points and what it is worth."""
    needle = result.needle
    equator = equator_azimuth(result.latitude)
    reading = (equator - needle.declination_deg) % 360.0
    values: dict[str, object] = {
        "declination": Quantity(abs(needle.declination_deg), "angle"),
        "side": azimuth_name(equator),
        "reading": Quantity(reading, "angle"),
    }
    east = needle.declination_deg >= 0.0
    if needle.zone == "blackout":
        yield Sentence("stakeout.needle_blackout", values)
        return
    yield Sentence("stakeout.needle_east" if east else "stakeout.needle_west", values)
    yield Sentence("stakeout.set_east" if east else "stakeout.set_west", values)
    changes = {
        "error": Quantity(needle.uncertainty_deg, "angle"),
        "change": f"{abs(needle.yearly_change_deg):.2f}",
    }
    later = needle.yearly_change_deg >= 0.0
    yield Sentence("stakeout.error_east" if later else "stakeout.error_west", changes)
    if needle.zone == "caution":
        yield Sentence("stakeout.needle_caution")
    if needle.years_off > 0.0:
        off = abs(needle.yearly_change_deg) * needle.years_off
        values = {
            "asked": result.day,
            "year": result.day.year,
            "used": needle.date_used,
            "used_year": needle.date_used.year,
            "off": Quantity(off, "angle"),
        }
        yield Sentence("stakeout.needle_outside", values)
    yield Sentence("stakeout.needle_keep")


def noon_sentences(result: StakeoutResult) -> Iterator[Sentence]:
    """Yield how the noon shadow of the day is used, and how exact it is."""
    noon = result.noons[0]
    when = {
        "day": noon.day,
        "clock": clock_second(noon.noon),
        "zone": f"{noon.noon:%Z}",
        "side": {"north": "N", "south": "S"}.get(noon.shadow_to, ""),
        "altitude": Quantity(noon.altitude_deg, "angle"),
    }
    yield Sentence(f"stakeout.noon_{noon.use}", when)
    if noon.use == "good" and noon.blur_m is not None:
        values = {
            "turn": f"{noon.turn_deg_per_min:.2f}",
            "blur": Quantity(noon.blur_m, "length"),
            "rod": Quantity(result.rod_m, "length"),
        }
        yield Sentence("stakeout.noon_exact", values)
    if abs(result.latitude) < TROPIC_DEG:
        yield Sentence("stakeout.noon_tropics")


def circle_sentences(result: StakeoutResult) -> Iterator[Sentence]:
    """Yield how shadows of equal length give true north, and how true."""
    circle = result.circle
    if circle is None:
        yield Sentence("stakeout.circle_none", {"day": result.day})
        return
    values = {
        "day": result.day,
        "rod": Quantity(result.rod_m, "length"),
        "radius": Quantity(circle.radius_m, "length"),
        "morning": clock_minute(circle.morning),
        "afternoon": clock_minute(circle.afternoon),
        "blur": Quantity(circle.blur_m, "length"),
    }
    yield Sentence("stakeout.circle_how", values)
    off = circle.off_deg
    if abs(off) < _NEGLIGIBLE_DEG:
        yield Sentence("stakeout.circle_true")
    else:
        way = {"off": f"{abs(off):.2f}"}
        # what lies clockwise of the truth is turned back
        yield Sentence("stakeout.circle_left" if off > 0.0 else "stakeout.circle_right", way)


def square_sentences(part: Footprint, system: System) -> Iterator[Sentence]:
    """Yield how the corners of a building are set square."""
    sizes = {
        "length": part.length_m,
        "width": part.width_m,
        "diagonal": part.diagonal_m,
        "three": part.three_m,
        "four": part.four_m,
        "five": part.five_m,
    }
    values = {key: taped(size, system) for key, size in sizes.items()}
    fits = part.four_m <= max(part.length_m, part.width_m) + 1e-9
    yield Sentence("stakeout.square_corner" if fits else "stakeout.square_small", values)
    corners = len(part.stakes) == 4
    yield Sentence("stakeout.square_diagonal" if corners else "stakeout.square_around", values)


def aside_sentences(
    result: StakeoutResult, building: BuildingStakes, system: System
) -> Iterator[Sentence]:
    """Yield what a minute's error at noon does to the longer side, where noon draws a line."""
    if result.noons[0].use == "good":
        values = {"building": building.name, "aside": taped(building.off_the_line_m, system)}
        yield Sentence("stakeout.aside", values)
