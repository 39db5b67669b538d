"""What stands in the sun of a wall but its own eave, hoods and fins, in the wall's frame."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from noonmark.design.derived import (
    WallFace,
    building_length,
    neighbour,
    roof_triangle,
    thickness,
    zone_corners,
)
from noonmark.design.model import Building, Homestead, Window
from noonmark.design.outdoors import Awning, Canopy, Neighbour, Season, Slats, Tree
from noonmark.design.quantities import days_of_months
from noonmark.inside.box import Box
from noonmark.shading import screens
from noonmark.shading.screens import Point, Screen, before_wall
from noonmark.study.cut import GROUND
from noonmark.study.layout import boxes_of, stretch_behind

DAYS = 365
_WARM_NORTH, _WARM_SOUTH = (5, 6, 7, 8, 9, 10), (11, 12, 1, 2, 3, 4)
"""Months with leaves (common practice, no source)."""


@dataclass(frozen=True)
class Thing:
    """A screen that stands before a wall, and what stands there on other days.

    `days` (365,) tells on which days of an ordinary year it is the one; always
    if None.
    """

    screen: Screen
    other: Screen | None = None
    days: tuple[bool, ...] | None = None


def things_before(homestead: Homestead, building: Building, face: WallFace) -> Iterator[Thing]:
    """Yield all that stands before a wall, but eaves, hoods and fins."""
    frame = _Frame(homestead, building, face)
    leaves = _WARM_NORTH if homestead.place.latitude >= 0.0 else _WARM_SOUTH
    for part in building.canopy:
        if _is_on(part, building, face):
            yield from _canopy(part, leaves)
    for tree in building.tree:
        yield from _tree(tree, frame, leaves)
    for block in building.neighbour:
        yield from _standing(map(frame.seen, _block(block, frame)), block.passes)
    yield from _own_parts(homestead, building, face, frame)
    yield from rakes(homestead, building, face)


def things_at(window: Window, left: float) -> Iterator[Thing]:
    """Yield what stands before one window whose left edge lies at `left` [m]."""
    right = left + window.width
    if awning := window.awning:
        yield _seasonal(awning, _cloth(awning, window.head, left, right))
    if slats := window.slats:
        yield _seasonal(slats, _boards(slats, window, left, right))


class _Frame:
    """The way from the building's frame, and from bearings, to the frame of a wall.

    Bearings count from the middle of the sunny wall's outside face; a wall at an
    azimuth of its own has its middle there too.
    """

    def __init__(self, homestead: Homestead, building: Building, face: WallFace) -> None:
        self.face, self.faces = face, building.faces
        boxes = boxes_of(building)
        self.box: Box = boxes[list(building.zone).index(face.zone)]
        self.depth = thickness(homestead, face.construction)
        sunny_wall = thickness(homestead, building.wall_construction)
        corners = zone_corners(building).values()
        self.middle = (
            min(x for x, _ in corners) + building_length(building) / 2.0,
            min(w for _, w in corners) - sunny_wall,
        )

    def at_bearing(self, azimuth: float, distance: float) -> tuple[float, float]:
        """Return how far right and back of the building's frame a bearing leads [m]."""
        turn = np.radians(azimuth - self.faces)
        return (
            self.middle[0] + distance * float(np.sin(turn)),
            self.middle[1] - distance * float(np.cos(turn)),
        )

    def seen(self, point: Point) -> Point:
        """Return a point of the building's frame in that of the wall."""
        if self.face.side is not None:
            return self.box.point_from(self.face.side, point, self.depth)
        x, y, w = point
        right, back = x - self.middle[0], w - self.middle[1]
        turn = np.radians(self.face.azimuth - self.faces)
        along = right * np.cos(turn) + back * np.sin(turn)
        out = right * np.sin(turn) - back * np.cos(turn)
        return (float(along) + self.face.length / 2.0, y, float(-out))


def _is_on(part: Canopy, building: Building, face: WallFace) -> bool:
    zone = part.zone or next(iter(building.zone))
    return zone == face.zone and (part.wall or part.side) in (face.name, face.side)


def _canopy(part: Canopy, leaves: tuple[int, ...]) -> Iterator[Thing]:
    """Yield the canopy and its railing."""
    ends, outer = (part.left, part.left + part.width), -part.projection
    corners = [(x, part.height + part.rise, 0.0) for x in ends]
    corners += [(x, part.height, outer) for x in ends]
    bare = Screen(tuple(corners), part.passes)
    if part.leafed is None:
        yield Thing(bare)
    else:
        yield Thing(
            replace(bare, passes=part.leafed), bare, days_of_months(part.leaf_months or leaves)
        )
    if part.railing > 0.0:
        rail = product(ends, (part.height, part.height + part.railing), (outer,))
        yield Thing(Screen(tuple(rail), part.railing_passes))


def _tree(tree: Tree, frame: _Frame, leaves: tuple[int, ...]) -> Iterator[Thing]:
    right, back = frame.at_bearing(tree.azimuth, tree.distance)
    crown = screens.crown(tree.top, tree.crown_bottom, tree.crown_width)
    corners = before_wall(frame.seen((x + right, y, w + back)) for x, y, w in crown)
    if corners:
        bare = Screen(corners, tree.bare)
        in_leaf = days_of_months(leaves if tree.leaf_months is None else tree.leaf_months)
        yield Thing(replace(bare, passes=tree.leafed), bare, in_leaf)


def _block(block: Neighbour, frame: _Frame) -> Iterator[Point]:
    """Yield the corners of a neighbour in the building's frame."""
    right, back = frame.at_bearing(block.azimuth, block.distance)
    looks = block.azimuth + 180.0 if block.faces is None else block.faces
    turn = np.radians(looks - frame.faces)
    across = (float(np.cos(turn)), float(np.sin(turn)))
    away = (-float(np.sin(turn)), float(np.cos(turn)))
    spots = [(a, d, y) for a in (-0.5, 0.5) for d in (0.0, 1.0) for y in (GROUND, block.top)]
    if block.ridge is not None:
        spots += [(a, 0.5, block.ridge) for a in (-0.5, 0.5)]
    for a, d, y in spots:
        along, deep = a * block.width, d * block.depth
        yield (
            right + along * across[0] + deep * away[0],
            y,
            back + along * across[1] + deep * away[1],
        )


def _standing(corners: Iterable[Point], passes: float) -> Iterator[Thing]:
    """Yield what has its corners there, if any of it stands before the wall."""
    found = before_wall(corners)
    if found:
        yield Thing(Screen(found, passes))


def _own_parts(
    homestead: Homestead, building: Building, face: WallFace, frame: _Frame
) -> Iterator[Thing]:
    """Yield the other zones of the building as blocks as high as the roof over their walls."""
    if face.side is None:
        return
    heel = roof_triangle(homestead, building).heel
    boxes = dict(zip(building.zone, boxes_of(building), strict=True))
    start, shared = stretch_behind(building, face)
    for name, box in boxes.items():
        if name != face.zone:
            top = building.zone[name].height + heel
            x, w = (box.x, box.x + box.length), (box.w, box.w + box.width)
            seen = (frame.seen(point) for point in product(x, (GROUND, top), w))
            yield from _standing((_left_out(point, start, shared) for point in seen), 0.0)


def _left_out(point: Point, start: float, shared: float) -> Point:
    """Return a point along a wall of which a stretch is left out where another zone meets it."""
    x, y, w = point
    return (x - min(max(x - start, 0.0), shared), y, w)


def rakes(homestead: Homestead, building: Building, face: WallFace) -> Iterator[Thing]:
    """Yield the roof where it runs past an end wall, both slopes, by its underside."""
    out = building.eave.ends
    if (
        face.side not in ("left", "right")
        or neighbour(building, face.zone, face.side)
        or out <= 0.0
    ):
        return
    frame, roof = _Frame(homestead, building, face), roof_triangle(homestead, building)
    sunny, back = (roof.projection * (side in building.eave.sides) for side in ("sunny", "back"))
    for along in ((-sunny, roof.run), (roof.run, roof.span + back)):
        corners = []
        for x in along:
            at, y, _ = frame.seen((0.0, roof.top_edge(x) - roof.chord_plumb, frame.middle[1] + x))
            corners += [(at, y, 0.0), (at, y, -out)]
        yield Thing(Screen(tuple(corners)))


def days_up(season: Season) -> tuple[bool, ...] | None:
    """Return on which of the 365 days a shade is up; None if always.

    Over the turn of the year if it is put up later than it is taken down.
    """
    if season.put_up is None or season.take_down is None:
        return None
    first, last = season.put_up, season.take_down
    return tuple(first <= d <= last if first <= last else not last < d < first for d in range(DAYS))


def _seasonal(season: Season, screen: Screen) -> Thing:
    """Return a shade on the days it is up."""
    return Thing(screen, None, days_up(season))


def _cloth(awning: Awning, head: float, left: float, right: float) -> Screen:
    line = head + awning.gap
    ends = (left - awning.left, right + awning.right)
    corners = [(x, line, 0.0) for x in ends]
    corners += [(x, line - awning.drop, -awning.projection) for x in ends]
    return Screen(tuple(corners), awning.passes)


def _boards(slats: Slats, window: Window, left: float, right: float) -> Screen:
    """Return the plane of the inner edges of the boards."""
    plane = product(
        (left - slats.left, right + slats.right),
        (window.sill, window.head + slats.top),
        (-slats.stand_off,),
    )
    boards = screens.Slats(slats.depth, slats.spacing, slats.tilt, slats.upright)
    return Screen(tuple(plane), 1.0, boards)
