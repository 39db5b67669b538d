"""A rectangle under one eave, by its measures from the rectangle's edges [m]."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.shading import shade
from noonmark.shading.plates import Opening, Plate, level_plate
from noonmark.shading.view import seen


def under_eave(
    *,
    width: float,
    height: float,
    gap: float,
    eave_projection: float,
    left_extension: float = np.inf,
    right_extension: float = np.inf,
) -> tuple[Opening, list[Plate]]:
    eave = level_plate(
        height=gap,
        projection=eave_projection,
        left=-left_extension,
        right=width + right_extension,
    )
    return Opening(0.0, width, -height, height), [eave]


def sunlit_fraction(
    altitude: ArrayLike, azimuth: ArrayLike, *, wall_azimuth: float, **lengths: float
) -> NDArray[np.float64]:
    opening, plates = under_eave(**lengths)
    return shade.sunlit_fraction(
        altitude, azimuth, wall_azimuth=wall_azimuth, opening=opening, plates=plates
    )


def dome_view_factor(**lengths: float) -> float:
    """Return the view factor to the even sky, 0.5 without an eave."""
    return 0.5 * float(seen(*under_eave(**lengths)).dome)
