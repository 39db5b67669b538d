"""Sun marks of a wall: dates, clock times and heights at which to check the finished eave."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import WallFace, find_window, wall_faces, wall_of
from noonmark.design.model import Building, Homestead, Window
from noonmark.errors import InputError, Problem
from noonmark.place.clock import time_zone
from noonmark.place.site import azimuth_name
from noonmark.shading.marks import ShadeEdge, shade_edge
from noonmark.shading.plates import Opening
from noonmark.shading.shade import sun_slopes
from noonmark.study.cut import GROUND, largest_sunny
from noonmark.study.layout import positions
from noonmark.study.moment import Moment, by_clock, moments, solar_noons
from noonmark.study.obstacles import EaveOver, Obstacles, obstacles_of
from noonmark.study.results.marks import MarksResult, NoMark, SunMark
from noonmark.sun.angles import sun_half_width

FORTNIGHT = timedelta(days=14)
FORTNIGHTS = 26
RAIN_DAYS = 3

_ASIDE_EVERY = 4
"""Every fourth fortnight has a mark in the morning and one in the afternoon too."""

_ASIDE_H = (3.0, 2.5, 2.0, 1.5, 1.0)
"""Hours from solar noon at which one is looked for, the best first: it tells most."""

_QUARTER_MIN = 15
_BESIDE = 0.2
_SPECK = 0.01
"""Distance of a mark from its window [m], and the size of the spot looked at."""


@dataclass(frozen=True)
class MarkedWall:
    """A wall under an eave, and the spot on it where marks are made.

    `along` [m] is the spot's place from the wall's left end.
    """

    key: str
    obstacles: Obstacles
    eave: EaveOver
    window: Window | None
    along: float

    @property
    def face(self) -> WallFace:
        """Return the wall."""
        return self.obstacles.face

    @property
    def edges(self) -> NDArray[np.float64]:
        """Return distance out and height of every edge of the eave [m], (m, 2)."""
        outline = np.array(self.eave.outline)
        return np.column_stack([-outline[:, 0], outline[:, 1]])

    @property
    def name(self) -> str | None:
        """Return the window's name, or its number in the file."""
        if self.window is None:
            return None
        return self.window.name or str(self.face.windows.index(self.window) + 1)

    def edge(self, suns: Sequence[Moment]) -> ShadeEdge:
        """Return the shade edge at some moments, (n,)."""
        return shade_edge(
            [sun.altitude for sun in suns],
            [sun.azimuth for sun in suns],
            wall_azimuth=self.face.azimuth,
            edges=self.edges,
            half_width=sun_half_width([sun.day + 1.0 for sun in suns]),
        )


def marked_wall(
    homestead: Homestead, *, building: str | None = None, window: str | None = None
) -> MarkedWall:
    """Return the wall of a window, or else the sunny one of a building, or of the first.

    Raises `InputError` when there is no such window, in the building if one is given, or
    no eave over its wall.
    """
    if window is not None:
        key, number = find_window(homestead, window, building)
        house = homestead.buildings[key]
        chosen: Window | None = house.window[number - 1]
    else:
        key = building or next(iter(homestead.buildings))
        house = homestead.buildings[key]
        chosen = largest_sunny(house)
    face = wall_of(house, chosen) if chosen is not None else _sunny(house)
    obstacles = obstacles_of(homestead, house, face)
    if obstacles.eave is None:
        values = {"building": key, "side": azimuth_name(face.azimuth)}
        raise InputError(Problem("marks.no_eave", values=values))
    return MarkedWall(key, obstacles, obstacles.eave, chosen, _spot(face, chosen))


def sun_marks(
    homestead: Homestead,
    wall: MarkedWall,
    days: Sequence[date],
    *,
    clock: time | None = None,
) -> MarksResult:
    """Return the marks of a wall at solar noon of some days, and at a `clock` time.

    Without a clock time, every fourth day has a mark in the morning and one in the
    afternoon, as early and as late as they fall on the wall: noon marks alone can not tell
    where the wall looks.
    """
    place = homestead.place
    found: list[SunMark | NoMark] = []
    noons = [_minute(noon) for noon in solar_noons(place, days)]
    found += _marks(wall, moments(place, noons), ["noon"] * len(noons))
    if clock is not None:
        clocks = [by_clock(place, day, clock) for day in days]
        found += _marks(wall, moments(place, clocks), ["clock"] * len(clocks))
    else:
        zone = time_zone(place.time_zone)
        for noon in noons[::_ASIDE_EVERY]:
            for sign, when in ((-1.0, "morning"), (1.0, "afternoon")):
                tried = [
                    _quarter(datetime.fromtimestamp(noon + sign * hours * 3600.0, zone))
                    for hours in _ASIDE_H
                ]
                marks = _marks(wall, moments(place, tried), [when] * len(tried))
                found += [mark for mark in marks if isinstance(mark, SunMark)][:1]
    found.sort(key=lambda mark: (mark.date, mark.clock_time))
    window = wall.window
    return MarksResult(
        building=wall.key,
        window=wall.name,
        faces_deg=wall.face.azimuth,
        projection_m=float(wall.edges[1, 0]),
        soffit_m=wall.eave.soffit,
        sill_m=None if window is None else window.sill,
        marks=tuple(mark for mark in found if isinstance(mark, SunMark)),
        no_marks=tuple(mark for mark in found if isinstance(mark, NoMark)),
    )


def rain_marks(
    homestead: Homestead, wall: MarkedWall, marks: Sequence[SunMark], days: int = RAIN_DAYS
) -> list[tuple[SunMark, ...]]:
    """Return for each mark the same of the days after it, for when that day is dull."""
    place = homestead.place
    later = [[mark.date + timedelta(days=1 + ahead) for ahead in range(days)] for mark in marks]
    noons = iter(solar_noons(place, [day for group in later for day in group]))
    instants, when = [], []
    for mark, group in zip(marks, later, strict=True):
        for day in group:
            noon = _minute(next(noons))
            clock = time.fromisoformat(mark.clock_time)
            instants.append(noon if mark.when == "noon" else by_clock(place, day, clock))
            when.append(mark.when)
    made = list(_marks(wall, moments(place, instants), when))
    groups = [made[first : first + days] for first in range(0, len(made), days)]
    return [tuple(item for item in group if isinstance(item, SunMark)) for group in groups]


def fortnights(first: date, count: int = FORTNIGHTS) -> list[date]:
    """Return days a fortnight apart."""
    return [first + index * FORTNIGHT for index in range(count)]


def _sunny(building: Building) -> WallFace:
    return next(face for face in wall_faces(building) if face.side == "sunny")


def _spot(face: WallFace, window: Window | None) -> float:
    """Return a place for the marks: on the siding beside the window, else its middle [m]."""
    spans = [(left, left + w.width, w) for w, lefts in positions(face) for left in lefts]
    beside = [at for low, high, w in spans if w is window for at in (high + _BESIDE, low - _BESIDE)]
    for at in [*beside, face.length / 2.0]:
        if 0.0 < at < face.length and not any(low < at < high for low, high, _ in spans):
            return at
    return next(((low + high) / 2.0 for low, high, w in spans if w is window), face.length / 2.0)


def _marks(
    wall: MarkedWall, suns: Sequence[Moment], when: Sequence[str]
) -> Iterator[SunMark | NoMark]:
    edge = wall.edge(suns)
    sill = None if wall.window is None else wall.window.sill
    for index, (sun, kind) in enumerate(zip(suns, when, strict=True)):
        day, clock = sun.instant.date(), f"{sun.instant:%H:%M}"
        if why := _hindered(wall, sun, edge, index):
            yield NoMark(day, clock, kind, why)
            continue
        height = float(edge.height[index])
        yield SunMark(
            day,
            clock,
            kind,
            wall.eave.soffit - height,
            None if sill is None else height - sill,
            height,
            float(edge.blur[index]),
        )


def _hindered(wall: MarkedWall, sun: Moment, edge: ShadeEdge, index: int) -> str:
    """Return why there is no mark, nothing if there is one."""
    before, sideways, rise = sun_slopes([sun.altitude], [sun.azimuth], wall.face.azimuth)
    if not before[0]:
        return "no_sun" if sun.altitude <= 0.0 else "behind"
    if not edge.lowest[index] > GROUND:
        return "ground"
    if edge.highest[index] + _SPECK > wall.eave.soffit:
        return "soffit"
    at = wall.along + float(edge.aside[index])
    if not -wall.eave.left_end < at < wall.face.length + wall.eave.right_end:
        return "eave_end"
    day = np.array([sun.day])
    lit, dark = (
        float(wall.obstacles.lit(sideways, rise, day, _speck(wall.along, height))[0])
        for height in (edge.lowest[index] - _SPECK, edge.highest[index])
    )
    return "" if lit > 0.99 and dark < 0.01 else "other_shade"


def _speck(along: float, bottom: float) -> Opening:
    return Opening(along - _SPECK / 2.0, _SPECK, bottom, _SPECK)


def _minute(utc_seconds: float) -> float:
    return round(utc_seconds / 60.0) * 60.0


def _quarter(instant: datetime) -> float:
    """Return the quarter of an hour by the clock that has begun, in UTC seconds."""
    over = timedelta(
        minutes=instant.minute % _QUARTER_MIN,
        seconds=instant.second,
        microseconds=instant.microsecond,
    )
    return (instant - over).timestamp()
