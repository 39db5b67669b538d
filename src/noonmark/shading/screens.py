"""Things that stand in the sun and let a share of it pass: convex, of any shape and slope."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]
Point = tuple[float, float, float]

_RINGS, _ROUND = (-50.0, 0.0, 50.0), 10
_OUT = 1.055
"""How far the corners of a crown lie outside it, so that its flat faces cut in as much."""


@dataclass(frozen=True)
class Slats:
    """Rows of equal boards in a screen.

    `depth` of a board and `spacing` from board to board [m]; `tilt` [deg] is how
    far the outer edge of a level board hangs below its inner one, or that of an
    upright board lies to the left.
    """

    depth: float
    spacing: float
    tilt: float
    upright: bool = False

    def share_passed(self, sideways: FloatArray, rise: FloatArray) -> FloatArray:
        """Return the share of the beam (d,) that passes between the boards, of no thickness.

        Source: plane geometry. A board that reaches out by D and down by V throws
        a shadow of V + D tan p on the plane of the inner edges.
        """
        tilt = np.radians(self.tilt)
        out, down = self.depth * np.cos(tilt), self.depth * np.sin(tilt)
        way = sideways if self.upright else rise
        return np.asarray(np.clip(1.0 - np.abs(down + out * way) / self.spacing, 0.0, 1.0))


@dataclass(frozen=True)
class Screen:
    """A convex thing before a wall: its corners (x, y, w) [m] in the frame of `plates`.

    `passes` is the share of light it lets through, 0 to 1, less what `slats` in
    it take by direction. Raises `PhysicsError` shading.screen unless w <= 0.
    """

    points: tuple[Point, ...]
    passes: float = 0.0
    slats: Slats | None = None

    def __post_init__(self) -> None:
        """Refuse what lies behind the wall's face or has no extent."""
        corners = np.array(self.points)
        if len(self.points) < 3 or not np.isfinite(corners).all() or corners[:, 2].max() > 1e-9:
            raise PhysicsError(Problem("shading.screen"))

    def share_passed(self, sideways: FloatArray, rise: FloatArray) -> FloatArray:
        """Return the share of the beam (d,) that passes where the thing is met."""
        if self.slats is None:
            return np.full(rise.shape, self.passes)
        return self.passes * self.slats.share_passed(sideways, rise)


def before_wall(points: Iterable[Point]) -> tuple[Point, ...]:
    """Return the corners of the part of a convex thing that lies before a wall's face.

    Edges that cross the face are cut at it; empty when all lies behind.
    """
    corners = list(points)
    front = [p for p in corners if p[2] <= 0.0]
    back = [p for p in corners if p[2] > 0.0]
    if not any(p[2] < 0.0 for p in front):
        return ()
    cut = [_at_face(p, q) for p, q in product(front, back)]
    return tuple(dict.fromkeys([*front, *cut]))


def _at_face(front: Point, back: Point) -> Point:
    part = front[2] / (front[2] - back[2])
    x, y = (front[i] + part * (back[i] - front[i]) for i in range(2))
    return (x, y, 0.0)


def crown(top: float, bottom: float, width: float) -> tuple[Point, ...]:
    """Return the corners of a rounded crown about the axis x = w = 0 [m].

    A spheroid of `width` between `bottom` and `top`, drawn by rings of ten
    corners whose hull throws, on average over the directions, the spheroid's
    own shadow to 4 %.
    """
    middle, tall = 0.5 * (bottom + top), 0.5 * (top - bottom)
    found: list[Point] = [(0.0, middle - _OUT * tall, 0.0), (0.0, middle + _OUT * tall, 0.0)]
    for latitude in np.radians(_RINGS):
        for turn in 2.0 * np.pi * np.arange(_ROUND) / _ROUND:
            out = _OUT * 0.5 * width * np.cos(latitude)
            y = middle + _OUT * tall * np.sin(latitude)
            found.append((float(out * np.cos(turn)), float(y), float(out * np.sin(turn))))
    return tuple(found)
