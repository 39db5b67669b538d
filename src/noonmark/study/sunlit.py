"""What the sun reaches of a part of a wall past all that stands before it, as polygons."""

from __future__ import annotations

import numpy as np

from noonmark.shading.patches import Sunlit, sunlit
from noonmark.shading.plates import Opening
from noonmark.shading.screens import Screen
from noonmark.shading.shadows import shadows
from noonmark.shape.polygon import Points, rectangle
from noonmark.study.obstacles import Obstacles

_LEAST = 1e-9
"""Breadth [m] below which a part of a wall is none."""


def standing(obstacles: Obstacles, day: int) -> tuple[Screen, ...]:
    """Return the screens that stand before a wall on a day, 0 to 364."""
    return next(screens for days, screens in obstacles.states if days[day])


def hole(opening: Opening) -> Points:
    """Return the corners of an opening in its wall's face."""
    right, top = opening.left + opening.width, opening.bottom + opening.height
    return rectangle(opening.left, opening.bottom, right, top)


def sunlit_part(obstacles: Obstacles, whole: Points, way: tuple[float, float], day: int) -> Sunlit:
    """Return a convex part (n, 2) [m] of a wall's face with what shades it.

    `way` is the sun's to the right and up for a metre out, `day` one of 0 to 364.
    """
    sideways, rise = way
    if len(whole) < 3 or np.ptp(whole, axis=0).min() < _LEAST:
        return Sunlit(whole[:0])
    skyline = obstacles.skyline
    if skyline is not None and skyline.hides(np.array([sideways]), np.array([rise]))[0]:
        return Sunlit(whole, (whole,))
    (left, bottom), (width, height) = whole.min(axis=0), np.ptp(whole, axis=0)
    around = Opening(float(left), float(width), float(bottom), float(height))
    screens = standing(obstacles, day)
    return sunlit(whole, shadows(sideways, rise, around, obstacles.plates, screens))
