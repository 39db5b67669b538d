"""A wall from corner to corner of the building, with what its inside length leaves out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from noonmark.design.derived import WallFace, neighbour, thickness, wall_faces
from noonmark.design.model import SIDE_TURN, Building, Homestead, Side
from noonmark.study.layout import stretch_behind

_LEAST = 1e-6


@dataclass(frozen=True)
class WallRun:
    """An outside wall of a zone: lengths [m] from its inner left end to the right.

    Left and right are those of somebody inside who looks out. Places along the wall's
    face leave out the `shared` metres from `start` on, where another zone meets it;
    `ends` are the thicknesses of the walls around its corners.
    """

    face: WallFace
    start: float
    shared: float
    ends: tuple[float, float]

    @property
    def length(self) -> float:
        """Return the inside length, shared stretch and all [m]."""
        return self.face.length + self.shared

    def stretches(self) -> Iterator[tuple[float, float, float]]:
        """Yield each outdoor stretch: from and to along the face, and how far right it lies."""
        first, last = -self.ends[0], self.face.length + self.ends[1]
        if self.shared <= 0.0:
            yield first, last, 0.0
            return
        if self.start > _LEAST:
            yield first, self.start, 0.0
        if self.face.length - self.start > _LEAST:
            yield self.start, last, self.shared

    def shift(self, x: float) -> float:
        """Return how far to the right a place along the face lies for what meets the wall [m]."""
        return self.shared if self.shared > 0.0 and x >= self.start - _LEAST else 0.0


def wall_run(homestead: Homestead, building: Building, face: WallFace) -> WallRun:
    """Return an outside wall with its corners; without any for an azimuth of its own."""
    start, shared = stretch_behind(building, face)
    if face.side is None:
        return WallRun(face, start, shared, (0.0, 0.0))
    left, right = (
        _thickness_at(homestead, building, face.zone, side) for side in sides_beside(face.side)
    )
    return WallRun(face, start, shared, (left, right))


def sides_beside(side: Side) -> tuple[Side, Side]:
    """Return the sides at the left and the right hand of somebody who looks out at a side."""
    order: list[Side] = sorted(SIDE_TURN, key=lambda name: SIDE_TURN[name] % 360.0)
    here = order.index(side)
    return order[here - 1], order[(here + 1) % len(order)]


def _thickness_at(homestead: Homestead, building: Building, zone: str, side: Side) -> float:
    """Return the thickness of a zone's outside wall at a side; none where another zone stands."""
    if neighbour(building, zone, side) is not None:
        return 0.0
    walls = (face for face in wall_faces(building) if (face.zone, face.side) == (zone, side))
    return thickness(homestead, next(walls).construction)
