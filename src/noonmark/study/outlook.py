"""The view out of a window: what stands in its sky, and where the sun goes on some days.

Seen from the middle of the sill in the plane of the glass. Places in the sky are the
turn to the right of straight out and the altitude [deg].
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import wall_faces
from noonmark.design.model import Homestead, Place
from noonmark.shading.plates import Opening, Plate
from noonmark.shading.screens import Point, Screen
from noonmark.shading.shade import sun_slopes
from noonmark.shading.sightlines import corners_of, covers, on_the_sky, silhouette
from noonmark.shading.skyline import Skyline
from noonmark.shape.polygon import Points, points, rectangle
from noonmark.study.floorsun import openings_of
from noonmark.study.moment import HOUR, Moment, moments, sun_day
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.sunlit import standing

FloatArray = NDArray[np.float64]
Kind = Literal["own", "solid", "thin"]
State = Literal["open", "dimmed", "hidden"]

_STEP_S = 60.0
_GRAZING = 0.02
"""Cosine to the wall up to which the sun does not count as before it."""

_BEHIND = 1e-3
"""An eye behind glass in the face of the wall stands back by this [m], from what is fixed there."""

_CLEAR, _DARK = 0.9995, 0.0005
"""Shares from and to which the sun counts as open and hidden."""


@dataclass(frozen=True, eq=False)
class Outline:
    """A thing in the sky (n, 2) [deg], and on which of the days shown it stands.

    `own` are eave, hoods and fins of the house, `solid` what else lets no light pass,
    `thin` what lets some.
    """

    kind: Kind
    corners: Points
    days: tuple[bool, ...]


@dataclass(frozen=True, eq=False)
class Run:
    """A stretch of the sun's way (n, 2) [deg], all open, dimmed or hidden."""

    state: State
    way: Points
    begin: datetime
    end: datetime


@dataclass(frozen=True)
class Tick:
    """The sun at a full hour of the clock: where it stands [deg], and whether it is seen."""

    hour: int
    turn: float
    altitude: float
    state: State


@dataclass(frozen=True, eq=False)
class Track:
    """The sun's way before the window on a day."""

    day: date
    runs: tuple[Run, ...]
    ticks: tuple[Tick, ...]


@dataclass(frozen=True, eq=False)
class Outlook:
    """The view out of a window.

    `azimuth` [deg] is straight out; `skyline` (n, 2) [deg] the hills, empty without;
    `frame` the part of the sky that the window's own hole leaves, empty for all of it.
    """

    window: str
    number: int
    azimuth: float
    skyline: Points
    frame: Points
    outlines: tuple[Outline, ...]
    tracks: tuple[Track, ...]


@dataclass(frozen=True)
class Eye:
    """An eye in the middle of a window's sill, in the plane of its glass, looking out."""

    obstacles: Obstacles
    opening: Opening

    @property
    def place(self) -> Point:
        """Return where it is in the frame of the wall [m]."""
        hole = self.opening
        return (hole.left + hole.width / 2.0, hole.bottom, max(hole.depth, _BEHIND))

    @cached_property
    def hole(self) -> Points:
        """Return the slopes (4, 2) that the window's own hole leaves free; none at its face."""
        hole = self.opening
        if hole.depth <= 0.0:
            return points([])
        aside = hole.width / 2.0 / hole.depth
        return rectangle(-aside, 0.0, aside, hole.height / hole.depth)

    def outline(self, part: Plate | Screen) -> Points:
        """Return the slopes (n, 2) that a thing takes."""
        return silhouette(corners_of(part), self.place)

    def share(self, sideways: FloatArray, rise: FloatArray, day: int) -> FloatArray:
        """Return which share (d,) of the sun in directions reaches the eye on a day, 0 to 364."""
        found = np.ones(rise.shape)
        for plate in self.obstacles.plates:
            found[covers(self.outline(plate), sideways, rise)] = 0.0
        for screen in standing(self.obstacles, day):
            met = covers(self.outline(screen), sideways, rise)
            found[met] *= screen.share_passed(sideways[met], rise[met])
        if len(self.hole):
            found[~covers(self.hole, sideways, rise)] = 0.0
        if self.obstacles.skyline is not None:
            found[self.obstacles.skyline.hides(sideways, rise)] = 0.0
        return found


def outlooks(homestead: Homestead, name: str, days: Sequence[date]) -> Iterator[Outlook]:
    """Yield the view out of each window entry of a building that the sun can reach on the days.

    Of several windows of one entry the middle one. Raises `InputError` when the roof
    can not close.
    """
    building = homestead.buildings[name]
    suns = [_sun_of(homestead.place, day) for day in days]
    for face in wall_faces(building):
        if face.next_to is not None or not face.windows:
            continue
        if not any(_meets(sun, face.azimuth) for sun in suns):
            continue
        obstacles = obstacles_of(homestead, building, face)
        placed = list(openings_of(building, face))
        for number in sorted({item.number for item in placed}):
            row = [item for item in placed if item.number == number]
            middle = row[len(row) // 2]
            eye = Eye(obstacles, middle.opening)
            yield _outlook(eye, middle.name, number, list(zip(days, suns, strict=True)))


def _sun_of(place: Place, day: date) -> list[Moment]:
    """Return the sun of a day at each minute of the clock at which it is up."""
    events = sun_day(place, day)
    rise, noon, end = (float(item[0]) for item in (events.sunrise, events.noon, events.sunset))
    if not np.isfinite(rise + end):
        rise, end = noon - 12.0 * HOUR, noon + 12.0 * HOUR
    first = np.ceil(rise / _STEP_S) * _STEP_S
    found = moments(place, list(np.arange(first, end, _STEP_S)))
    return [moment for moment in found if moment.altitude > 0.0]


def _meets(sun: Sequence[Moment], azimuth: float) -> bool:
    """Return whether the sun of a day does more than graze a wall of an azimuth [deg]."""
    ways = np.array([(moment.altitude, moment.azimuth - azimuth) for moment in sun])
    return bool(len(ways)) and bool(np.prod(np.cos(np.radians(ways)), axis=1).max() > _GRAZING)


def _outlook(
    eye: Eye, window: str, number: int, suns: Sequence[tuple[date, list[Moment]]]
) -> Outlook:
    azimuth = eye.obstacles.face.azimuth
    return Outlook(
        window=window,
        number=number,
        azimuth=azimuth,
        skyline=_hills(eye.obstacles.skyline),
        frame=on_the_sky(eye.hole),
        outlines=tuple(_outlines(eye, [_ordinary(day) for day, _ in suns])),
        tracks=tuple(_track(eye, day, sun) for day, sun in suns),
    )


def _hills(skyline: Skyline | None) -> Points:
    """Return the hills before a wall from its left to its right (n, 2) [deg], corners and all."""
    if skyline is None:
        return points([])
    corners = (np.array(skyline.azimuths) + 180.0) % 360.0 - 180.0
    turns = np.unique(np.append(np.linspace(-90.0, 90.0, 181), corners[np.abs(corners) < 90.0]))
    return points(np.column_stack([turns, skyline.altitude(turns)]))


def _ordinary(day: date) -> int:
    """Return the number of a day in an ordinary year, from 0."""
    return Moment(datetime.combine(day, time(12)), 0.0, 0.0).day


def _outlines(eye: Eye, days: Sequence[int]) -> Iterator[Outline]:
    """Yield what stands in the sky on any of the days; a tree, leafed or bare, is one thing."""
    stands: dict[tuple[Point, ...], list[Screen | None]] = {}
    for index, day in enumerate(days):
        for screen in standing(eye.obstacles, day):
            stands.setdefault(screen.points, [None] * len(days))[index] = screen
    eave = () if eye.obstacles.eave is None else eye.obstacles.eave.parts(eye.obstacles.face.length)
    own = {part for part in eave if isinstance(part, Screen)}
    for when in stands.values():
        screens = [screen for screen in when if screen is not None]
        solid = all(screen.passes == 0.0 and screen.slats is None for screen in screens)
        kind: Kind = "own" if screens[0] in own else "solid" if solid else "thin"
        yield from _drawn(eye, kind, screens[0], tuple(screen is not None for screen in when))
    for plate in eye.obstacles.plates:
        yield from _drawn(eye, "own", plate, (True,) * len(days))


def _drawn(eye: Eye, kind: Kind, part: Plate | Screen, when: tuple[bool, ...]) -> Iterator[Outline]:
    corners = on_the_sky(eye.outline(part))
    if len(corners) > 2:
        yield Outline(kind, corners, when)


def _track(eye: Eye, day: date, sun: Sequence[Moment]) -> Track:
    azimuth = eye.obstacles.face.azimuth
    before, sideways, rise = sun_slopes(
        [moment.altitude for moment in sun], [moment.azimuth for moment in sun], azimuth
    )
    seen = [moment for moment, there in zip(sun, before, strict=True) if there]
    if not seen:
        return Track(day, (), ())
    shares = eye.share(sideways, rise, _ordinary(day))
    states = [_state(float(share)) for share in shares]
    turns = np.degrees(np.arctan(sideways))
    ticks = [
        Tick(moment.instant.hour, float(turn), moment.altitude, state)
        for moment, turn, state in zip(seen, turns, states, strict=True)
        if moment.instant.minute == 0 and moment.instant.second == 0
    ]
    way = points(np.column_stack([turns, [moment.altitude for moment in seen]]))
    return Track(day, tuple(_runs(seen, states, way)), tuple(ticks))


def _state(share: float) -> State:
    if share >= _CLEAR:
        return "open"
    return "hidden" if share <= _DARK else "dimmed"


def _runs(seen: Sequence[Moment], states: Sequence[State], way: Points) -> Iterator[Run]:
    """Yield the stretches of one state; each goes on to where the next begins."""
    gap = timedelta(seconds=1.5 * _STEP_S)
    breaks = [
        index
        for index, (one, other) in enumerate(pairwise(seen), start=1)
        if states[index] != states[index - 1] or other.instant - one.instant > gap
    ]
    for first, last in pairwise([0, *breaks, len(seen)]):
        joined = last < len(seen) and seen[last].instant - seen[last - 1].instant <= gap
        end = last + 1 if joined else last
        yield Run(states[first], way[first:end], seen[first].instant, seen[end - 1].instant)
