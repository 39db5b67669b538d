"""What an eye behind a wall's face sees of things before it: outlines among the slopes of the sun.

A direction is its way to the right and up for a metre out of the wall, as in
`noonmark.shading.lit`. Seen so, what is convex stays convex and straight edges stay
straight (gnomonic projection): the sun is hidden where its slopes lie in an outline.
"""

from __future__ import annotations

from itertools import product

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.shading.plates import Plate
from noonmark.shading.screens import Point, Screen
from noonmark.shape.polygon import Points, clip_half_plane, convex_hull, points

Flags = NDArray[np.bool_]

_FAR = 1e4
"""Where an endless plate ends for an eye [m]."""

_ARC = np.radians(1.0)


def silhouette(corners: ArrayLike, eye: Point) -> Points:
    """Return the outline of a convex thing in slopes (n, 2), above the level of the eye.

    `corners` (k, 3) and `eye` [m] are (x, y, w) in the frame of `plates`, the eye further
    in than all of them. Empty when nothing stands above its level.
    """
    away = np.asarray(corners, float) - np.asarray(eye, float)
    hull = convex_hull(points(away[:, :2] / -away[:, 2:]))
    return clip_half_plane(hull, 0.0, -1.0, 0.0) if len(hull) > 2 else points([])


def corners_of(part: Plate | Screen) -> Points:
    """Return the corners (k, 3) [m] of what stands before a wall."""
    if isinstance(part, Screen):
        return np.array(part.points)
    x = [min(max(end, -_FAR), _FAR) for end in part.x]
    return np.array(list(product(x, part.y, part.w)))


def covers(outline: Points, sideways: ArrayLike, rise: ArrayLike) -> Flags:
    """Return which directions (d,) lie in a convex, counter-clockwise outline of slopes (n, 2)."""
    right, up = np.asarray(sideways, float), np.asarray(rise, float)
    if len(outline) < 3:
        return np.zeros(right.shape, dtype=bool)
    inside = np.ones(right.shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        inside &= (x1 - x0) * (up - y0) - (y1 - y0) * (right - x0) >= 0.0
    return inside


def on_the_sky(outline: Points) -> Points:
    """Return an outline of slopes (n, 2) as it stands in the sky (m, 2) [deg].

    Turn to the right of straight out, and altitude; edges are bent as they are seen.
    """
    if len(outline) == 0:
        return outline
    ways = np.column_stack([outline, np.ones(len(outline))])
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    bent = [_arc(start, end) for start, end in zip(ways, np.roll(ways, -1, axis=0), strict=True)]
    right, up, out = np.concatenate(bent).T
    turn = np.degrees(np.arctan2(right, out))
    return points(np.column_stack([turn, np.degrees(np.arcsin(np.clip(up, -1.0, 1.0)))]))


def _arc(start: Points, end: Points) -> Points:
    """Return directions from one to another, without the last, about a degree apart."""
    angle = float(np.arccos(np.clip(start @ end, -1.0, 1.0)))
    if angle < 1e-9:
        return start[None]
    part = np.linspace(0.0, 1.0, max(1, int(np.ceil(angle / _ARC))), endpoint=False)[:, None]
    way = np.sin((1.0 - part) * angle) * start + np.sin(part * angle) * end
    return np.asarray(way / np.sin(angle))
