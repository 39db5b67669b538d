"""The plan of a building with the sun of one day: its rooms, walls, windows, and where sun lies.

Corners are (right, up) on the sheet [m], as a map has them: east lies at the right hand of
north. The sunny side is at the foot of the sheet, or at its head where north
would point down otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, time

import numpy as np

from noonmark.design.derived import WallFace, rows_of_zones, thickness, wall_faces
from noonmark.design.model import Building, Homestead
from noonmark.shape.polygon import Points, points, rectangle
from noonmark.shape.union import united
from noonmark.study.floorsun import FloorSun, Patch, openings_of
from noonmark.study.layout import boxes_of
from noonmark.study.moment import HOUR, Moment, by_clock, moments, sun_day
from noonmark.study.wallrun import wall_run

CLOCKS = (9, 15)
"""Hours of the clock at which the sun is shown besides solar noon."""

_APART = 2.0
"""Air drawn between zones of which nobody knows how they stand to each other [m]."""

_STEPS = 289
"""Points of the sun's way: one every five minutes of the longest day."""


@dataclass(frozen=True, eq=False)
class Room:
    """A zone and its inside outline (4, 2)."""

    name: str
    floor: Points


@dataclass(frozen=True, eq=False)
class Hole:
    """A window cut level: its hole (4, 2) and the line of its glass (2, 2).

    `out` (2,) points out of the wall, or into the other room; `middle` (2,) lies
    in the outer face. `number` is that of its entry in the file; `inner` tells that
    it lies between two zones.
    """

    number: int
    hole: Points
    glass: Points
    middle: Points
    out: Points
    inner: bool


@dataclass(frozen=True)
class Ray:
    """The sun at one of the hours shown: `hour` is sunrise, sunset, noon, clock_9 or clock_15."""

    hour: str
    moment: Moment


@dataclass(frozen=True, eq=False)
class Shot:
    """The sun on the floors at one of the hours."""

    ray: Ray
    patches: tuple[Patch, ...]

    @property
    def area(self) -> float:
        """Return the sunlit floor [m2]."""
        return sum(patch.area for patch in self.patches)


@dataclass(frozen=True, eq=False)
class Plan:
    """A building seen from above, cut through its windows.

    `up` is the azimuth of the head of the sheet [deg]; `walls` are the rings of what is
    cut; `loose` are windows in walls that have no place in it. `path` are the
    azimuths of the sun from rise to set [deg].
    """

    up: float
    rooms: tuple[Room, ...]
    walls: tuple[Points, ...]
    holes: tuple[Hole, ...]
    loose: tuple[str, ...]
    rays: tuple[Ray, ...]
    path: tuple[float, ...]
    shots: tuple[Shot, ...]

    def direction(self, azimuth: float) -> tuple[float, float]:
        """Return the step (right, up) on the sheet of length 1 towards an azimuth [deg]."""
        turn = np.radians(azimuth - self.up)
        return float(np.sin(turn)), float(np.cos(turn))


def plan_of(homestead: Homestead, name: str, day: date) -> Plan:
    """Return the plan of a building with the sun of a day.

    Raises `InputError` when the roof can not close.
    """
    building = homestead.buildings[name]
    sheet = _Sheet(homestead, building)
    rays, path = _sun_of(homestead, day)
    floors = FloorSun(homestead, building)
    shots = [
        Shot(ray, tuple(sheet.moved(patch) for patch in floors.patches(ray.moment)))
        for ray in sorted(rays, key=lambda ray: ray.hour != "noon")
        if ray.hour in _SHOTS
    ]
    return Plan(
        up=sheet.up,
        rooms=tuple(sheet.rooms()),
        walls=tuple(united([part for face in sheet.faces for part in sheet.walls(face)])),
        holes=tuple(item for face in sheet.faces for item in sheet.holes(face)),
        loose=tuple(
            name
            for face in wall_faces(building)
            if face.side is None
            for name in dict.fromkeys(placed.name for placed in openings_of(building, face))
        ),
        rays=tuple(rays),
        path=tuple(path),
        shots=tuple(shots),
    )


_SHOTS = ("noon", *(f"clock_{hour}" for hour in CLOCKS))


def _sun_of(homestead: Homestead, day: date) -> tuple[list[Ray], list[float]]:
    """Return the sun above the horizon at the hours shown, in their order, and its way."""
    place = homestead.place
    events = sun_day(place, day)
    rise, noon, end = (float(item[0]) for item in (events.sunrise, events.noon, events.sunset))
    wanted = {"sunrise": rise, "noon": noon, "sunset": end}
    wanted |= {f"clock_{hour}": by_clock(place, day, time(hour)) for hour in CLOCKS}
    hours = sorted((utc, hour) for hour, utc in wanted.items() if np.isfinite(utc))
    found = moments(place, [utc for utc, _ in hours])
    rays = [
        Ray(hour, moment)
        for (_, hour), moment in zip(hours, found, strict=True)
        if moment.altitude > 0.0 or hour in ("sunrise", "sunset")
    ]
    if not rays:
        return [], []
    first, last = (rise, end) if np.isfinite(rise) else (noon - 12 * HOUR, noon + 12 * HOUR)
    way = moments(place, [float(utc) for utc in np.linspace(first, last, _STEPS)])
    return rays, [moment.azimuth for moment in way]


class _Sheet:
    """The way from the building's frame onto the sheet."""

    def __init__(self, homestead: Homestead, building: Building) -> None:
        self.homestead, self.building = homestead, building
        self.boxes = dict(zip(building.zone, boxes_of(building), strict=True))
        self.faces = [face for face in wall_faces(building) if face.side is not None]
        foot = np.cos(np.radians(building.faces - 180.0)) >= 0.0
        self.up = (building.faces - 180.0) % 360.0 if foot else building.faces
        self.turn = np.diag([-1.0, 1.0] if foot else [1.0, -1.0])
        self.asides = self._asides()

    def _asides(self) -> dict[str, float]:
        """Return how far to the right each zone is moved, so that groups stand apart [m]."""
        found: dict[str, float] = {}
        start = 0.0
        for group in rows_of_zones(self.building):
            boxes = [self.boxes[name] for name in group]
            step = start - min(box.x for box in boxes)
            found |= dict.fromkeys(group, step)
            start += max(box.x + box.length for box in boxes) + step - start + _APART
        return found

    def at(self, zone: str, corners: Points) -> Points:
        """Return corners (x, w) of a zone on the sheet."""
        return points((corners + np.array([self.asides[zone], 0.0])) @ self.turn)

    def moved(self, patch: Patch) -> Patch:
        """Return a patch on the sheet."""
        step = self.turn @ [self.asides[patch.zone], 0.0]
        return replace(patch, lit=patch.lit.mapped(self.turn, step))

    def rooms(self) -> Iterator[Room]:
        for name, box in self.boxes.items():
            floor = rectangle(box.x, box.w, box.x + box.length, box.w + box.width)
            yield Room(name, self.at(name, floor))

    def walls(self, face: WallFace) -> Iterator[Points]:
        """Yield the cut pieces of a wall between its windows."""
        thick = thickness(self.homestead, face.construction)
        holes = sorted(self._windows(face))
        inside = 0.5 * thick if face.next_to else 0.0
        for first, last in self._runs(face):
            begin = first
            for left, right in [*holes, (last, last)]:
                if first - 1e-6 <= left <= last and left - begin > 1e-6:
                    yield self._piece(face, rectangle(begin, 0.0, left, thick), thick - inside)
                if first <= right <= last:
                    begin = max(begin, right)

    def holes(self, face: WallFace) -> Iterator[Hole]:
        """Yield the windows of a wall."""
        thick = thickness(self.homestead, face.construction)
        inside = 0.5 * thick if face.next_to else 0.0
        for placed, (left, right) in zip(
            openings_of(self.building, face), self._windows(face), strict=True
        ):
            deep = min(placed.opening.depth or 0.5 * thick, thick)
            cut = rectangle(left, 0.0, right, thick)
            glass = points([(left, deep), (right, deep)])
            middle = points([(0.5 * (left + right), 0.0), (0.5 * (left + right), -1.0)])
            hole, line, ends = (self._piece(face, c, thick - inside) for c in (cut, glass, middle))
            yield Hole(
                placed.number, hole, line, ends[0], ends[1] - ends[0], face.next_to is not None
            )

    def _runs(self, face: WallFace) -> Iterator[tuple[float, float]]:
        """Yield the stretches of a wall from its left inner end on [m]."""
        box = self.boxes[face.zone]
        assert face.side is not None
        if face.next_to is not None:
            start = box.shared_from(face.side, self.boxes[face.next_to])
            yield start, start + face.length
            return
        for first, last, shift in wall_run(self.homestead, self.building, face).stretches():
            yield first + shift, last + shift

    def _windows(self, face: WallFace) -> Iterator[tuple[float, float]]:
        """Yield both edges of each window from the wall's left inner end on [m]."""
        assert face.side is not None
        box = self.boxes[face.zone]
        run = wall_run(self.homestead, self.building, face)
        start = box.shared_from(face.side, self.boxes[face.next_to]) if face.next_to else 0.0
        for opening in (placed.opening for placed in openings_of(self.building, face)):
            left = opening.left + (start if face.next_to else run.shift(opening.left))
            yield left, left + opening.width

    def _piece(self, face: WallFace, corners: Points, depth: float) -> Points:
        """Return corners of a wall's frame on the sheet; its inner face lies at `depth`."""
        assert face.side is not None
        turn, step = self.boxes[face.zone].frame_of(face.side, depth)
        return self.at(face.zone, points(corners @ turn.T + step))
