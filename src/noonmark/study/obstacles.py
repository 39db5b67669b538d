"""What stands in the sun's way of one wall: its eave, and what its windows carry."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import WallFace, neighbour, thickness
from noonmark.design.model import Building, Homestead, Side, Window
from noonmark.shading.plates import Opening, Plate, level_plate, upright_plate
from noonmark.shading.shade import lit_share
from noonmark.shading.view import Seen, seen

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class EaveOver:
    """The eave above a wall: height of the soffit, projection, run past each end of the wall [m].

    Left and right are those of somebody inside who looks out.
    """

    soffit: float
    projection: float
    left_end: float
    right_end: float


@dataclass(frozen=True)
class Obstacles:
    """A wall and the eave over it, if any."""

    face: WallFace
    eave: EaveOver | None

    @cached_property
    def plates(self) -> tuple[Plate, ...]:
        """Return all that stands out of the wall: eave, hoods and fins."""
        found = [
            plate
            for window, lefts in positions(self.face)
            for left in lefts
            for plate in _plates_of(window, left)
        ]
        if self.eave is not None and self.eave.projection > 0.0:
            over = level_plate(
                height=self.eave.soffit,
                projection=self.eave.projection,
                left=-self.eave.left_end,
                right=self.face.length + self.eave.right_end,
            )
            found.append(over)
        return tuple(found)

    def lit(self, sideways: FloatArray, rise: FloatArray, opening: Opening) -> FloatArray:
        """Return the sunlit share of a rectangle of the wall, (d,), for directions of the sun."""
        if not self.plates and opening.depth == 0.0:
            return np.ones_like(rise)
        return lit_share(sideways, rise, opening, self.plates)

    def seen(self, opening: Opening) -> Seen:
        """Return what a rectangle of the wall sees of sky, skyline and ground."""
        return seen(opening, self.plates)


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


def positions(face: WallFace) -> Iterator[tuple[Window, list[float]]]:
    """Yield each entry with the left edges of its windows [m from the wall's left end].

    Those without a place of their own are spread evenly, in the order of the file.
    """
    counts = [max(1, math.ceil(window.count)) for window in face.windows]
    widths = sum(count * window.width for count, window in zip(counts, face.windows, strict=True))
    space = (face.length - widths) / (sum(counts) + 1)
    left = 0.0
    for count, window in zip(counts, face.windows, strict=True):
        if window.left is not None:
            yield window, [window.left]
            continue
        lefts = []
        for index in range(count):
            left += space
            middle = face.length * (index + 0.5) / count - window.width / 2.0
            lefts.append(left if space >= 0.0 else max(0.0, middle))
            left += window.width
        yield window, lefts


def eave_over(
    homestead: Homestead, building: Building, face: WallFace, soffit: float
) -> EaveOver | None:
    """Return the eave over a wall; it runs along the sunny or the back side.

    Past the inside of an end wall it goes on by that wall's thickness and the
    eave's own end; past a partition by the zones beside it first.
    """
    if face.side not in building.eave.sides:
        return None
    past = thickness(homestead, building.wall_construction) + building.eave.ends
    left = past + _zones_beside(building, face.zone, "left")
    right = past + _zones_beside(building, face.zone, "right")
    # who looks out at the back has the house's left at his right hand
    ends = (left, right) if face.side == "sunny" else (right, left)
    return EaveOver(soffit, building.eave.projection, *ends)


def _zones_beside(building: Building, zone: str, side: Side) -> float:
    """Return the length of all zones behind each other's partitions at a `side` [m]."""
    length = 0.0
    while (beside := neighbour(building, zone, side)) is not None:
        length += building.zone[beside].length
        zone = beside
    return length
