"""Plane polygons as arrays of corners, shape (n, 2), the last joined to the first."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Points = NDArray[np.float64]


def points(corners: ArrayLike) -> Points:
    """Return corners as an array of shape (n, 2); no corners give shape (0, 2)."""
    return np.asarray(corners, dtype=np.float64).reshape(-1, 2)


def _crosses(polygon: Points) -> NDArray[np.float64]:
    following = np.roll(polygon, -1, axis=0)
    cross: NDArray[np.float64] = polygon[:, 0] * following[:, 1] - following[:, 0] * polygon[:, 1]
    return cross


def area(polygon: Points) -> float:
    """Return the signed area of a polygon (n, 2), positive counter-clockwise [unit2].

    Fewer than three corners have no area. Source: Gauss's area formula.
    """
    if len(polygon) < 3:
        return 0.0
    return float(_crosses(polygon - polygon[0]).sum() / 2)


def clip_half_plane(polygon: Points, a: float, b: float, c: float) -> Points:
    """Return the part of a polygon (n, 2) where a x + b y <= c, shape (m, 2).

    A convex polygon stays convex; a concave one may come back with edges lying
    on each other along the cut. Source: Sutherland & Hodgman 1974, Reentrant
    polygon clipping, Communications of the ACM 17(1).
    """
    if len(polygon) == 0:
        return polygon
    over = polygon @ np.array([a, b]) - c
    kept: list[Points] = []
    for i in range(len(polygon)):
        before = i - 1
        if (over[before] > 0) != (over[i] > 0):
            part = over[before] / (over[before] - over[i])
            kept.append(polygon[before] + part * (polygon[i] - polygon[before]))
        if over[i] <= 0:
            kept.append(polygon[i])
    return points(kept)


def clip_convex(polygon: Points, window: Points) -> Points:
    """Return the part of a polygon (n, 2) inside a convex window (k, 2), shape (m, 2).

    The window may run either way round. Source: Sutherland & Hodgman 1974.
    """
    turn = 1.0 if area(window) >= 0 else -1.0
    following = np.roll(window, -1, axis=0)
    for (x0, y0), (x1, y1) in zip(window, following, strict=True):
        a, b = turn * (y1 - y0), turn * (x0 - x1)
        polygon = clip_half_plane(polygon, a, b, a * x0 + b * y0)
    return polygon


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Points:
    """Return a rectangle between two corners, counter-clockwise when x1 > x0, y1 > y0."""
    return points([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def convex_hull(corners: Points) -> Points:
    """Return the corners of the hull of points (n, 2), counter-clockwise, shape (m, 2).

    Fewer than three when they lie on a line. Source: A. M. Andrew, Information
    Processing Letters 9 (1979) 216-219.
    """
    ordered = sorted({(float(x), float(y)) for x, y in corners})
    half: list[list[tuple[float, float]]] = []
    for row in (ordered, ordered[::-1]):
        chain: list[tuple[float, float]] = []
        for spot in row:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], spot) <= 0.0:
                chain.pop()
            chain.append(spot)
        half.append(chain[:-1])
    return points([*half[0], *half[1]])


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Return twice the area of a triangle, positive counter-clockwise."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
