"""Where the shadows of all that stands before a wall lie on it, as polygons."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

import numpy as np

from noonmark.shading.plates import Opening, Plate
from noonmark.shading.screens import Screen
from noonmark.shape.polygon import Points, area, clip_convex, convex_hull, points, rectangle
from noonmark.shape.union import united

_FAR = 1e4
"""Where an endless plate ends for a picture [m]."""


def shadows(
    sideways: float,
    rise: float,
    opening: Opening,
    plates: Sequence[Plate],
    screens: Sequence[Screen],
) -> Iterator[tuple[Points, float]]:
    """Yield the shadow of each thing within an opening (n, 2) [m], and the share it lets pass.

    For one direction of the sun, see `noonmark.shading.lit.lit_areas`; the
    opening lies in the wall's face, whatever its depth.
    """
    right, top = opening.left + opening.width, opening.bottom + opening.height
    frame = rectangle(opening.left, opening.bottom, right, top)
    ends = np.array([sideways]), np.array([rise])
    things = [(_corners(plate), 0.0) for plate in plates]
    things += [(np.array(s.points), float(s.share_passed(*ends)[0])) for s in screens]
    for corners, passes in things:
        thrown = corners[:, :2] + np.outer(corners[:, 2], (sideways, rise))
        found = clip_convex(frame, hull) if len(hull := convex_hull(points(thrown))) > 2 else hull
        if abs(area(found)) > 1e-9:
            yield found, passes


def _corners(plate: Plate) -> Points:
    x = [min(max(end, -_FAR), _FAR) for end in plate.x]
    return np.array(list(product(x, plate.y, plate.w)))


def shade_outline(
    sideways: float,
    rise: float,
    opening: Opening,
    plates: Sequence[Plate],
    screens: Sequence[Screen],
) -> list[Points]:
    """Return the outline of the full shade in an opening as rings (n, 2) [m].

    Holes run clockwise. What lets light pass throws no full shade.
    """
    found = shadows(sideways, rise, opening, plates, screens)
    return united([polygon for polygon, passes in found if passes == 0.0])
