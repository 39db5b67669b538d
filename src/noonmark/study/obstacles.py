"""What stands in the sun's way of one wall: its eave, and what its windows carry."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import WallFace, neighbour, roof_triangle, thickness
from noonmark.design.model import Building, Homestead, Side, Window
from noonmark.shading.lit import Receiver, highest_lit, lit_areas
from noonmark.shading.plates import Opening, Plate, level_plate, upright_plate
from noonmark.shading.screens import Screen
from noonmark.shading.skyline import Skyline
from noonmark.shading.view import Seen, seen, summed
from noonmark.shape.eave import eave_outline
from noonmark.study.layout import positions
from noonmark.study.surroundings import DAYS, Thing, things_at, things_before

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]


@dataclass(frozen=True)
class EaveOver:
    """The eave above a wall: its outline (x, y) in the section, and its run past both ends [m].

    x is 0 at the wall's outside face and negative outdoors. Left and right are
    those of somebody inside who looks out.
    """

    outline: tuple[tuple[float, float], ...]
    left_end: float
    right_end: float

    @property
    def soffit(self) -> float:
        """Return the height at which it meets the wall [m]."""
        return self.outline[0][1]

    def parts(self, length: float) -> Iterator[Plate | Screen]:
        """Yield its edges, each drawn out along a wall of a `length` [m]."""
        left, right = -self.left_end, length + self.right_end
        for (x, y), (further, below) in pairwise(self.outline):
            if y == below:
                yield Plate((left, right), (y, y), (min(x, further), max(x, further)))
            elif x == further:
                yield Plate((left, right), (min(y, below), max(y, below)), (x, x))
            else:
                ends = ((x, y), (further, below))
                yield Screen(tuple((along, h, w) for along in (left, right) for w, h in ends))


@dataclass(frozen=True)
class Obstacles:
    """A wall, the eave over it, if any, and what else stands in its sun.

    `skyline` counts its azimuths from the wall's.
    """

    face: WallFace
    eave: EaveOver | None
    things: tuple[Thing, ...] = ()
    skyline: Skyline | None = None

    @cached_property
    def plates(self) -> tuple[Plate, ...]:
        """Return all that stands square out of the wall: eave, hoods and fins."""
        found = [
            plate
            for window, lefts in positions(self.face)
            for left in lefts
            for plate in _plates_of(window, left)
        ]
        return (*found, *(part for part in self._eave_parts if isinstance(part, Plate)))

    @cached_property
    def _eave_parts(self) -> tuple[Plate | Screen, ...]:
        return () if self.eave is None else tuple(self.eave.parts(self.face.length))

    @cached_property
    def states(self) -> list[tuple[NDArray[np.bool_], tuple[Screen, ...]]]:
        """Return which screens stand on which days (365,) of an ordinary year."""
        changing = [thing.days for thing in self.things if thing.days is not None]
        which = np.array(changing, dtype=bool).reshape(len(changing), DAYS)
        kinds, kind_of = np.unique(which, axis=1, return_inverse=True)
        return [
            (kind_of.ravel() == index, tuple(self._standing(list(kinds[:, index]))))
            for index in range(kinds.shape[1])
        ]

    def _standing(self, flags: list[bool]) -> Iterator[Screen]:
        """Yield what stands while the changing things are there or not, by `flags`."""
        yield from (part for part in self._eave_parts if isinstance(part, Screen))
        left = iter(flags)
        for thing in self.things:
            screen = thing.screen if thing.days is None or next(left) else thing.other
            if screen is not None:
                yield screen

    def light(
        self,
        sideways: FloatArray,
        rise: FloatArray,
        day: IntArray,
        opening: Opening,
        receivers: Sequence[Receiver] = (),
    ) -> FloatArray:
        """Return the lit area of a rectangle of the wall and what ends on receivers [m2].

        As `noonmark.shading.lit.lit_areas` does, for directions of the sun on
        days 0 to 364 (d,).
        """
        found = np.zeros((rise.size, 1 + len(receivers)))
        for days, screens in self.states:
            now = days[day]
            found[now] = lit_areas(
                sideways[now], rise[now], opening, self.plates, receivers, screens
            )
        if self.skyline is not None:
            found[self.skyline.hides(sideways, rise)] = 0.0
        return found

    def highest_lit(
        self, sideways: FloatArray, rise: FloatArray, day: IntArray, opening: Opening
    ) -> FloatArray:
        """Return how high on the wall's face light passes that reaches a rectangle (d,) [m].

        -inf where none does, as `noonmark.shading.lit.highest_lit`.
        """
        found = np.empty(rise.size)
        for days, screens in self.states:
            now = days[day]
            found[now] = highest_lit(sideways[now], rise[now], opening, self.plates, screens)
        if self.skyline is not None:
            found[self.skyline.hides(sideways, rise)] = -np.inf
        return found

    def lit(
        self, sideways: FloatArray, rise: FloatArray, day: IntArray, opening: Opening
    ) -> FloatArray:
        """Return the sunlit share (d,) of a rectangle of the wall."""
        if not (self.eave or self.plates or self.things or self.skyline or opening.depth):
            return np.ones_like(rise)
        lit = self.light(sideways, rise, day, opening)[:, 0]
        return np.asarray(np.minimum(1.0, lit / opening.area))

    def seen(self, opening: Opening) -> Seen:
        """Return what a rectangle of the wall sees of sky, horizon and ground, through the year."""
        views = [(d, seen(opening, self.plates, s, self.skyline)) for d, s in self.states]
        if len(views) == 1:
            return views[0][1]
        return summed((np.repeat(days.astype(float), 24), view) for days, view in views)


def obstacles_of(homestead: Homestead, building: Building, face: WallFace) -> Obstacles:
    """Return all that stands in the sun of an outside wall.

    Raises `InputError` when the roof can not close.
    """
    things = [
        *things_before(homestead, building, face),
        *(
            thing
            for window, lefts in positions(face)
            for left in lefts
            for thing in things_at(window, left)
        ),
    ]
    skyline = None
    if homestead.place.skyline:
        azimuths, altitudes = zip(*homestead.place.skyline, strict=True)
        skyline = Skyline(azimuths, altitudes).turned(face.azimuth)
    return Obstacles(face, eave_over(homestead, building, face), tuple(things), skyline)


def _plates_of(window: Window, left: float) -> Iterator[Plate]:
    """Yield hood and fins of a window whose left edge lies at `left` [m]."""
    right = left + window.width
    if hood := window.hood:
        yield level_plate(
            height=window.head + hood.gap,
            projection=hood.projection,
            left=left - hood.left,
            right=right + hood.right,
        )
    if fins := window.fins:
        for place in (left - fins.gap, right + fins.gap):
            yield upright_plate(
                place=place,
                projection=fins.projection,
                bottom=window.sill - fins.bottom,
                top=window.head + fins.top,
            )


def eave_over(homestead: Homestead, building: Building, face: WallFace) -> EaveOver | None:
    """Return the eave over a wall; it runs along the sunny or the back side.

    Past the inside of an end wall it goes on by that wall's thickness and the
    eave's own end; past a partition by the zones beside it first.
    """
    outline = eave_outline(roof_triangle(homestead, building))
    if face.side not in building.eave.sides or len(outline) < 2:
        return None
    past = thickness(homestead, building.wall_construction) + building.eave.ends
    left = past + _zones_beside(building, face.zone, "left")
    right = past + _zones_beside(building, face.zone, "right")
    # who looks out at the back has the house's left at his right hand
    ends = (left, right) if face.side == "sunny" else (right, left)
    return EaveOver(tuple((float(x), float(y)) for x, y in outline), *ends)


def _zones_beside(building: Building, zone: str, side: Side) -> float:
    """Return the length of all zones behind each other's partitions at a `side` [m]."""
    length = 0.0
    while (beside := neighbour(building, zone, side)) is not None:
        length += building.zone[beside].length
        zone = beside
    return length
