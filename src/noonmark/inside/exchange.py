"""What upright and level rectangles see of each other: closed forms.

Sources: J. R. Ehlert, T. F. Smith, View factors for perpendicular and parallel
rectangular plates, Journal of Thermophysics and Heat Transfer 7 (1993) 173-175,
doi:10.2514/3.11587 (from memory); J. R. Howell, A catalog of radiation heat transfer
configuration factors, C-13 and C-15.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import NDArray

from noonmark.shading.plates import Plate

FloatArray = NDArray[np.float64]

_SMALL = 1e-12
_CORNERS = list(product((0, 1), repeat=4))


def exchange_areas(rectangles: Sequence[Plate]) -> FloatArray:
    """Return area times view factor (n, n) [m2] between rectangles square to the axes.

    Each sees the other's whole face or nothing of it: they bound one convex
    room. Rectangles in one plane see nothing of each other. Divide a row by
    its rectangle's area for view factors.
    """
    axis = np.array([item.axis for item in rectangles])
    spans = np.array([(item.x, item.y, item.w) for item in rectangles])
    first, second = np.triu_indices(len(rectangles), 1)
    seen = np.zeros((len(rectangles),) * 2)
    same = axis[first] == axis[second]
    for pairs, form in ((same, _parallel), (~same, _perpendicular)):
        i, j = first[pairs], second[pairs]
        seen[i, j] = form(spans[i], spans[j], axis[i], axis[j])
    return np.maximum(0.0, seen + seen.T)


def _parallel(one: FloatArray, other: FloatArray, axis: NDArray[np.intp], _: object) -> FloatArray:
    rows = np.arange(axis.size)
    apart = other[rows, axis, 0] - one[rows, axis, 0]
    u, v = (axis + 1) % 3, (axis + 2) % 3
    total = np.zeros(axis.size)
    for i, j, k, m in _CORNERS:
        x = one[rows, u, i] - other[rows, u, k]
        y = one[rows, v, j] - other[rows, v, m]
        total += (-1.0) ** (i + j + k + m) * _parallel_corner(x, y, apart)
    return np.where(apart == 0.0, 0.0, total)


def _parallel_corner(x: FloatArray, y: FloatArray, z: FloatArray) -> FloatArray:
    a, b = np.hypot(x, z), np.hypot(y, z)
    rest = 0.5 * z**2 * np.log(np.maximum(x**2 + y**2 + z**2, _SMALL))
    return np.asarray((y * a * _arc(y, a) + x * b * _arc(x, b) - rest) / (2.0 * np.pi))


def _perpendicular(
    one: FloatArray, other: FloatArray, axis: NDArray[np.intp], crossing: NDArray[np.intp]
) -> FloatArray:
    rows = np.arange(axis.size)
    along = 3 - axis - crossing
    total = np.zeros(axis.size)
    for i, j, k, m in _CORNERS:
        # away from the common edge, on either rectangle
        x = np.abs(one[rows, crossing, i] - other[rows, crossing, 0])
        z = np.abs(other[rows, axis, m] - one[rows, axis, 0])
        y = one[rows, along, j] - other[rows, along, k]
        total += (-1.0) ** (i + j + k + m) * _perpendicular_corner(x, y, z)
    # a span that falls away from the edge turns both its corners round
    turned = np.sign(
        (one[rows, crossing] - other[rows, crossing, :1]).sum(axis=1)
        * (other[rows, axis] - one[rows, axis, :1]).sum(axis=1)
    )
    return np.asarray(turned * total)


def _perpendicular_corner(x: FloatArray, y: FloatArray, z: FloatArray) -> FloatArray:
    edge = np.hypot(x, z)
    rest = 0.25 * (edge**2 - y**2) * np.log(np.maximum(edge**2 + y**2, _SMALL))
    return np.asarray((y * edge * _arc(y, edge) - rest) / (2.0 * np.pi))


def _arc(length: FloatArray, away: FloatArray) -> FloatArray:
    return np.asarray(np.arctan2(length, away))
