"""Where the sun through the windows of a building lies on its floors, exactly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from noonmark.design.derived import WallFace, thickness, wall_faces
from noonmark.design.model import Building, Homestead, Side
from noonmark.inside.box import Box
from noonmark.shading.patches import Sunlit, enters_for, landed, past_reveal
from noonmark.shading.plates import Opening, Plate
from noonmark.shape.polygon import clip_convex
from noonmark.study.layout import boxes_of, positions
from noonmark.study.moment import Moment
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.sunlit import hole, sunlit_part
from noonmark.study.wallrun import WallRun, wall_run


@dataclass(frozen=True, eq=False)
class Patch:
    """Sun on the floor of a zone through one window, in (x, w) of the building's frame [m].

    `area` [m2] counts what lies behind things that let light through by the share
    they let pass.
    """

    zone: str
    window: str
    lit: Sunlit
    area: float


@dataclass(frozen=True)
class InnerPane:
    """A window between two zones, in the building's frame."""

    zones: tuple[str, str]
    plate: Plate

    def other(self, zone: str) -> str:
        """Return the zone on its other side."""
        return self.zones[self.zones[0] == zone]


@dataclass(frozen=True)
class Placed:
    """A window where it stands: the number of its entry in the file, its name, its hole.

    One without a name goes by its number.
    """

    number: int
    name: str
    opening: Opening


@dataclass(frozen=True)
class SunnyWall:
    """An outside wall with windows and all that shades it; `depth` is its thickness [m]."""

    run: WallRun
    side: Side
    obstacles: Obstacles
    depth: float
    openings: tuple[Placed, ...]


class FloorSun:
    """The floors of a building and the walls that let sun onto them.

    Raises `InputError` when the roof can not close.
    """

    def __init__(self, homestead: Homestead, building: Building) -> None:
        """Gather walls, zones and the windows between these."""
        self.boxes = dict(zip(building.zone, boxes_of(building), strict=True))
        faces = [face for face in wall_faces(building) if face.windows and face.side]
        self.walls = [
            _sunny_wall(homestead, building, face) for face in faces if face.next_to is None
        ]
        self.panes = [pane for face in faces for pane in inner_panes(self.boxes, face)]

    def patches(self, moment: Moment) -> list[Patch]:
        """Return all sun on the floors at a moment, past windows between zones too."""
        return [
            patch
            for wall in self.walls
            if (way := moment.before(wall.run.face.azimuth)) is not None
            for placed in wall.openings
            for patch in self._through(wall, placed, way, moment.day)
        ]

    def _through(
        self, wall: SunnyWall, placed: Placed, way: tuple[float, float], day: int
    ) -> Iterator[Patch]:
        zone, opening = wall.run.face.zone, placed.opening
        depth = max(wall.depth, opening.depth)
        into = past_reveal(hole(opening), *way, depth)
        step = -wall.run.shift(opening.left)
        for target, gate in self._targets(zone):
            box = self.boxes[zone]
            floor = _aside(
                box.seen_from(wall.side, self.boxes[target].surface("floor"), depth), step
            )
            whole = clip_convex(into, enters_for(floor, *way))
            pane = None
            if gate is not None:
                pane = _aside(box.seen_from(wall.side, gate.plate, depth), step)
                seen = enters_for(pane, *way)
                whole = clip_convex(whole, seen) if len(seen) > 2 else whole[:0]
            lit = sunlit_part(wall.obstacles, whole, way, day)
            area = _weighted(wall.obstacles, replace(opening, depth=depth), floor, pane, way, day)
            if lit.area > 1e-6 and area > 1e-6:
                turn, corner = box.frame_of(wall.side, depth)
                here = landed(lit, *way).mapped(np.eye(2), [-step, 0.0])
                yield Patch(target, placed.name, here.mapped(turn, corner), area)

    def _targets(self, zone: str) -> Iterator[tuple[str, InnerPane | None]]:
        """Yield the floors that sun in a zone can meet, and the window it must pass before."""
        yield zone, None
        for pane in self.panes:
            if zone in pane.zones:
                yield pane.other(zone), pane


def inner_panes(boxes: dict[str, Box], face: WallFace) -> list[InnerPane]:
    """Return the windows of a wall between two zones."""
    if face.next_to is None or face.side is None:
        return []
    box = boxes[face.zone]
    start = box.shared_from(face.side, boxes[face.next_to])
    return [
        InnerPane((face.zone, face.next_to), box.window(face.side, opening))
        for window, lefts in positions(face)
        for left in lefts
        for opening in [Opening(start + left, window.width, window.sill, window.head - window.sill)]
    ]


def _sunny_wall(homestead: Homestead, building: Building, face: WallFace) -> SunnyWall:
    assert face.side is not None
    return SunnyWall(
        wall_run(homestead, building, face),
        face.side,
        obstacles_of(homestead, building, face),
        thickness(homestead, face.construction),
        tuple(openings_of(building, face)),
    )


def openings_of(building: Building, face: WallFace) -> Iterator[Placed]:
    """Yield every window of a wall, from its left end to the right."""
    for window, lefts in positions(face):
        number = next(i for i, w in enumerate(building.window, start=1) if w is window)
        for left in lefts:
            tall = window.head - window.sill
            opening = Opening(left, window.width, window.sill, tall, window.reveal)
            yield Placed(number, window.name or str(number), opening)


def _aside(plate: Plate, step: float) -> Plate:
    return replace(plate, x=(plate.x[0] + step, plate.x[1] + step))


def _weighted(
    obstacles: Obstacles,
    opening: Opening,
    floor: Plate,
    pane: Plate | None,
    way: tuple[float, float],
    day: int,
) -> float:
    """Return the sunlit area of a floor through an opening [m2], by what things let pass."""
    sideways, rise = (np.array([slope]) for slope in way)
    found = obstacles.light(sideways, rise, np.array([day]), opening, [(floor, pane)])
    return float(found[0, 1]) / way[1]
