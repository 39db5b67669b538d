"""The sunlit part of a convex piece of a wall, and where its light lands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import ArrayLike

from noonmark.shading.plates import Plate
from noonmark.shape.polygon import Points, area, clip_convex, convex_hull, points
from noonmark.shape.union import united

_LEAST = 1e-9
"""Area from which on a shadow counts [m2]."""


@dataclass(frozen=True, eq=False)
class Sunlit:
    """A convex polygon `whole` (n, 2) [m] that the sun would reach, and what shades it.

    `shade` are the rings of the full shade in it; `dimmed` the polygons of what lets
    through a share of the light, with that share; they may lie over each other.
    """

    whole: Points
    shade: tuple[Points, ...] = ()
    dimmed: tuple[tuple[Points, float], ...] = ()

    @property
    def area(self) -> float:
        """Return the area past full shade [m2]."""
        return abs(area(self.whole)) - abs(sum(area(ring) for ring in self.shade))

    @property
    def rings(self) -> list[Points]:
        """Return whole and shade: what lies in an odd number of them is past full shade."""
        return [self.whole, *self.shade]

    def dimmed_rings(self) -> list[tuple[list[Points], float]]:
        """Return each dimmed part in the same way, with the share it keeps."""
        parts = [
            ([polygon, *(clip_convex(ring, polygon) for ring in self.shade)], passes)
            for polygon, passes in self.dimmed
        ]
        return [([ring for ring in rings if len(ring) > 2], passes) for rings, passes in parts]

    def mapped(self, matrix: ArrayLike, shift: ArrayLike) -> Sunlit:
        """Return it with each corner p at `matrix` p + `shift`; `matrix` (2, 2), `shift` (2,)."""
        turn, step = np.asarray(matrix, float), np.asarray(shift, float)

        def at(corners: Points) -> Points:
            return points(corners @ turn.T + step)

        return Sunlit(
            at(self.whole),
            tuple(at(ring) for ring in self.shade),
            tuple((at(polygon), passes) for polygon, passes in self.dimmed),
        )


def sunlit(whole: Points, cast: Iterable[tuple[Points, float]]) -> Sunlit:
    """Return a convex polygon (n, 2) [m] of a wall with the shade that falls on it.

    `cast` are convex shadows with the share they let pass, as
    `noonmark.shading.shadows.shadows` gives them.
    """
    found = [(clip_convex(polygon, whole), passes) for polygon, passes in cast]
    found = [(polygon, passes) for polygon, passes in found if abs(area(polygon)) > _LEAST]
    return Sunlit(
        whole,
        tuple(united([polygon for polygon, passes in found if passes == 0.0])),
        tuple((polygon, passes) for polygon, passes in found if 0.0 < passes < 1.0),
    )


def past_reveal(hole: Points, sideways: float, rise: float, depth: float) -> Points:
    """Return where in the outer face of a wall light enters that passes a hole of `depth` [m].

    `hole` (n, 2) [m] is convex and the same at both ends; the light that comes
    through (x, y) of the face leaves at (x - depth sideways, y - depth rise).
    """
    return clip_convex(hole, hole + depth * np.array([sideways, rise]))


def enters_for(target: Plate, sideways: float, rise: float) -> Points:
    """Return where in the outer face of a wall light enters that would pass a plate behind it.

    `target` lies in the frame of the wall; the result is convex.
    """
    corners = np.array(list(product(target.x, target.y, target.w)))
    return convex_hull(points(corners[:, :2] + np.outer(corners[:, 2], (sideways, rise))))


def landed(lit: Sunlit, sideways: float, rise: float) -> Sunlit:
    """Return where the light ends on the floor: corners (x, w) [m] in the frame of the wall.

    What comes through (x, y) of the face is down at the depth w = y / rise, and
    moved aside by -w sideways.
    """
    return lit.mapped([[1.0, -sideways / rise], [0.0, 1.0 / rise]], [0.0, 0.0])
