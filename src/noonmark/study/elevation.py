"""A wall as somebody outdoors sees it, with the shade on it hour by hour of one day.

Corners are (u, y) [m]: u from the wall's end at the left hand of somebody outdoors, y up
from the floor. The frame of `noonmark.shading.plates` runs the other way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np

from noonmark.design.derived import (
    WallFace,
    neighbour,
    roof_triangle,
    thickness,
    wall_faces,
    zone_corners,
)
from noonmark.design.model import Building, Homestead
from noonmark.shading.patches import Sunlit, past_reveal
from noonmark.shading.plates import Plate
from noonmark.shading.screens import Screen
from noonmark.shape.polygon import Points, clip_convex, convex_hull, points, rectangle
from noonmark.study.cut import GROUND
from noonmark.study.floorsun import openings_of
from noonmark.study.moment import HOUR, Moment, moments, solar_noon
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.sunlit import hole, standing, sunlit_part
from noonmark.study.surroundings import rakes
from noonmark.study.wallrun import sides_beside, wall_run

MOST_HOURS = 9
"""Hours of the day that one sheet shows."""

_LOW, _GRAZING = 0.5, 0.02
"""Altitude [deg] and cosine to the wall below which the sun is not shown before it."""

_NEAR = 0.6
"""What comes this close to the wall is drawn before it [m]."""


@dataclass(frozen=True, eq=False)
class Pane:
    """A window: the name of its entry, else its number in the file; its hole (4, 2)."""

    name: str
    hole: Points


@dataclass(frozen=True, eq=False)
class Hour:
    """The wall at an hour by the sun, 12 when it stands highest.

    `wall` is each stretch of it, `panes` the glass of each window and `shares` how
    much of it is lit, 0 to 1.
    """

    hour: int
    moment: Moment
    wall: tuple[Sunlit, ...]
    panes: tuple[Sunlit, ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, eq=False)
class Elevation:
    """A wall with windows and the hours of a day.

    `walls` are its stretches; `meets` where another zone stands against it; `slopes` the
    roof above, `boards` fascia and rakes, `gutter` a gutter; `before` the outline of what stands
    close before it, and `plates` hoods and fins, seen from outdoors. `levels` are heights
    to write, by their words. `hours` is empty when no sun comes on it that day.
    """

    face: WallFace
    ground: float
    walls: tuple[Points, ...]
    meets: tuple[Points, ...]
    slopes: tuple[Points, ...]
    boards: tuple[Points, ...]
    gutter: tuple[Points, ...]
    before: tuple[Points, ...]
    plates: tuple[Points, ...]
    panes: tuple[Pane, ...]
    levels: dict[str, float]
    hours: tuple[Hour, ...]

    @property
    def fullest(self) -> Hour | None:
        """Return the hour at which the sun meets the wall most squarely."""
        return max(self.hours, key=lambda h: _squareness(h.moment, self.face), default=None)


def elevations(homestead: Homestead, name: str, day: date) -> list[Elevation]:
    """Return every outside wall of a building that has windows, on a day.

    Raises `InputError` when the roof can not close.
    """
    building = homestead.buildings[name]
    sun = _hours_of(homestead, day)
    return [
        _Drawn(homestead, building, face).elevation(sun)
        for face in wall_faces(building)
        if face.windows and face.next_to is None
    ]


def _hours_of(homestead: Homestead, day: date) -> list[tuple[int, Moment]]:
    noon = solar_noon(homestead.place, day)
    hours = range(24)
    found = moments(homestead.place, [noon + (hour - 12) * HOUR for hour in hours])
    return [pair for pair in zip(hours, found, strict=True) if pair[1].altitude > _LOW]


def _squareness(moment: Moment, face: WallFace) -> float:
    """Return the cosine between the sun and straight out of a wall."""
    turn = np.radians(moment.azimuth - face.azimuth)
    return float(np.cos(np.radians(moment.altitude)) * np.cos(turn))


class _Drawn:
    """One wall on its way into a drawing."""

    def __init__(self, homestead: Homestead, building: Building, face: WallFace) -> None:
        self.homestead, self.building, self.face = homestead, building, face
        self.obstacles: Obstacles = obstacles_of(homestead, building, face)
        self.roof = roof_triangle(homestead, building)
        self.run = wall_run(homestead, building, face)
        self.openings = list(openings_of(building, face))
        over = self.obstacles.eave
        self.overhangs: list[Plate | Screen] = [
            *(() if over is None else over.parts(face.length)),
            *(thing.screen for thing in rakes(homestead, building, face)),
        ]

    # --- frames -----------------------------------------------------------------------------

    def outdoors(self, corners: Points, shift: float = 0.0) -> Points:
        """Return corners of the wall's frame as seen from outdoors."""
        return points(corners * [-1.0, 1.0] + [self.run.length - shift, 0.0])

    def across(self, x: float) -> float:
        """Return the place in the roof's section over a place along an end wall."""
        zone = self.building.zone[self.face.zone]
        corners = zone_corners(self.building)
        back = corners[self.face.zone][1] - min(w for _, w in corners.values())
        sunny = thickness(self.homestead, self.building.wall_construction)
        return back + sunny + (x if self.face.side == "right" else zone.width - x)

    # --- wall and roof ----------------------------------------------------------------------

    @property
    def gabled(self) -> bool:
        return self.face.side in ("left", "right")

    @property
    def top(self) -> float:
        """The height at which a wall without gable ends below its roof [m]."""
        if self.face.side is None:
            return self.face.height
        return (
            self.roof.top_edge(0.0) if self.obstacles.eave is None else self.obstacles.eave.soffit
        )

    def outline(self, first: float, last: float, shift: float) -> Points:
        """Return a stretch of the wall in its own frame, convex."""
        if not self.gabled:
            return rectangle(first, GROUND, last, self.top)
        places = self._bent(first + shift, last + shift)
        tops = [(x - shift, self._under(x)) for x in places[::-1]]
        return points([(first, GROUND), (last, GROUND), *tops])

    def _bent(self, first: float, last: float) -> list[float]:
        """Return both ends along an end wall, and where the ridge lies between them."""
        zero = self.across(0.0)
        ridge = self.roof.run - zero if self.face.side == "right" else zero - self.roof.run
        return [first, *([ridge] if first < ridge < last else []), last]

    def _under(self, x: float) -> float:
        return self.roof.top_edge(self.across(x)) - self.roof.chord_plumb

    def _roof_ends(self) -> tuple[float, float]:
        """Return from where to where along the whole wall its roof is drawn [m]."""
        assert self.face.side is not None
        past = []
        for side, end in zip(sides_beside(self.face.side), self.run.ends, strict=True):
            if neighbour(self.building, self.face.zone, side) is not None:
                past.append(0.0)
            elif self.gabled:
                eave = self.roof.projection if side in self.building.eave.sides else 0.0
                past.append(end + eave)
            else:
                past.append(end + self.building.eave.ends)
        return -past[0], self.run.length + past[1]

    def roof_parts(self) -> tuple[list[Points], list[Points], list[Points]]:
        """Return slopes, boards and gutters as seen from outdoors."""
        if self.face.side is None:
            return [], [], []
        first, last = self._roof_ends()
        roof = self.roof
        if self.gabled:
            places = self._bent(first, last)
            upper = [(x, roof.top_edge(self.across(x))) for x in places]
            lower = [(x, y - roof.chord_plumb) for x, y in upper[::-1]]
            return [], [self.outdoors(points([*upper, *lower]))], []
        eave = self.obstacles.eave is not None
        edge = roof.fascia_top if eave else roof.top_edge(0.0)
        slope = [rectangle(first, edge, last, roof.ridge)] if roof.ridge > edge + 1e-6 else []
        board = [rectangle(first, roof.fascia_foot, last, edge)] if eave else []
        gutter = []
        if eave and (hung := roof.trim.gutter):
            lip = edge - hung.drop
            gutter = [rectangle(first, lip - hung.depth, last, lip)]
        slopes, boards, gutters = (
            [self.outdoors(part) for part in parts] for parts in (slope, board, gutter)
        )
        return slopes, boards, gutters

    # --- what stands before it --------------------------------------------------------------

    def near(self, screens: tuple[Screen, ...]) -> list[Points]:
        """Return the outlines of what stands close before the wall, as seen from outdoors."""
        ends = -self.run.ends[0] - 1.0, self.face.length + self.run.ends[1] + 1.0
        frame = rectangle(ends[0], GROUND, ends[1], self.top)
        found = []
        for screen in screens:
            corners = np.array(screen.points)
            if screen in self.overhangs or corners[:, 2].max() < -_NEAR:
                continue
            seen = clip_convex(convex_hull(points(corners[:, :2])), frame)
            if len(seen) > 1:
                found.append(self.outdoors(seen, self.run.shift(float(seen[:, 0].mean()))))
        return found

    def own_plates(self) -> list[Points]:
        """Return hoods and fins as seen from outdoors: lines."""
        return [
            self.outdoors(points(list(zip(p.x, p.y, strict=True))), self.run.shift(sum(p.x) / 2))
            for p in self.obstacles.plates
            if p not in self.overhangs
        ]

    # --- the day ----------------------------------------------------------------------------

    def elevation(self, sun: list[tuple[int, Moment]]) -> Elevation:
        """Return the wall with its hours."""
        facing = [
            (hour, moment) for hour, moment in sun if _squareness(moment, self.face) > _GRAZING
        ]
        facing = sorted(facing, key=lambda pair: -pair[1].altitude)[:MOST_HOURS]
        slopes, boards, gutter = self.roof_parts()
        day = facing[0][1].day if facing else sun[0][1].day if sun else 0
        return Elevation(
            face=self.face,
            ground=GROUND,
            walls=tuple(self.outdoors(self.outline(*s), s[2]) for s in self.run.stretches()),
            meets=self._meets(),
            slopes=tuple(slopes),
            boards=tuple(boards),
            gutter=tuple(gutter),
            before=tuple(self.near(standing(self.obstacles, day))),
            plates=tuple(self.own_plates()),
            panes=tuple(self.panes()),
            levels=self._levels(),
            hours=tuple(self.hour(hour, moment) for hour, moment in sorted(facing, key=_first)),
        )

    def _meets(self) -> tuple[Points, ...]:
        if self.run.shared <= 0.0:
            return ()
        behind = rectangle(
            self.run.start, GROUND, self.run.start + self.run.shared, self.roof.plate
        )
        return (self.outdoors(behind),)

    def _levels(self) -> dict[str, float]:
        largest = max(self.face.windows, key=lambda w: w.count * w.width * (w.head - w.sill))
        if self.face.side is None:
            above = {}
        elif self.gabled:
            above = {"ridge": self.roof.ridge, "plate": self.roof.plate}
        else:
            above = {"ridge": self.roof.ridge, "soffit": self.roof.soffit}
        return {**above, "head": largest.head, "sill": largest.sill, "floor": 0.0}

    def panes(self) -> Iterator[Pane]:
        """Yield every window as seen from outdoors."""
        for placed in self.openings:
            shift = self.run.shift(placed.opening.left)
            yield Pane(placed.name, self.outdoors(hole(placed.opening), shift))

    def hour(self, hour: int, moment: Moment) -> Hour:
        """Return the wall at a moment with the sun before it."""
        way = moment.before(self.face.azimuth)
        assert way is not None
        wall = tuple(
            self._seen(
                sunlit_part(self.obstacles, self.outline(*stretch), way, moment.day), stretch[2]
            )
            for stretch in self.run.stretches()
        )
        panes, shares = [], []
        for opening in (placed.opening for placed in self.openings):
            whole = past_reveal(hole(opening), *way, opening.depth)
            back = -opening.depth * np.array(way)
            glass = sunlit_part(self.obstacles, whole, way, moment.day).mapped(np.eye(2), back)
            panes.append(self._seen(glass, self.run.shift(opening.left)))
            sideways, rise = (np.array([slope]) for slope in way)
            day = np.array([moment.day])
            shares.append(float(self.obstacles.lit(sideways, rise, day, opening)[0]))
        return Hour(hour, moment, wall, tuple(panes), tuple(shares))

    def _seen(self, lit: Sunlit, shift: float) -> Sunlit:
        return lit.mapped([[-1.0, 0.0], [0.0, 1.0]], [self.run.length - shift, 0.0])


def _first(pair: tuple[int, Moment]) -> int:
    return pair[0]
