"""The sunlit share of an opening past plates: eaves, hoods, fins, and its own reveal."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.shading.lit import lit_areas
from noonmark.shading.plates import Opening, Plate

FloatArray = NDArray[np.float64]

_GRAZING = 1e-9


def sun_slopes(
    altitude: ArrayLike, azimuth: ArrayLike, wall_azimuth: float
) -> tuple[NDArray[np.bool_], FloatArray, FloatArray]:
    """Return where the sun (n,) stands before a wall, and there its way (d,) for a metre out.

    Angles [deg]; the two ways are to the right of somebody inside who looks
    out, and up.
    """
    alt = np.radians(np.asarray(altitude, float))
    turn = np.radians(np.asarray(azimuth, float) - wall_azimuth)
    alt, turn = np.broadcast_arrays(alt, turn)
    before = (alt > _GRAZING) & (np.cos(turn) > _GRAZING)
    out = np.cos(turn[before])
    return before, np.tan(turn[before]), np.tan(alt[before]) / out


def sunlit_fraction(
    altitude: ArrayLike,
    azimuth: ArrayLike,
    *,
    wall_azimuth: float,
    opening: Opening,
    plates: Sequence[Plate] = (),
) -> FloatArray:
    """Return the share 0 to 1 of an opening that the sun reaches past plates.

    `altitude` and `azimuth` [deg] of the sun broadcast to the result's shape;
    `wall_azimuth` [deg] is the wall's outward side. 0 with the sun below the
    horizon or behind the wall.
    """
    before, sideways, rise = sun_slopes(altitude, azimuth, wall_azimuth)
    share = np.zeros(before.shape)
    share[before] = lit_share(sideways, rise, opening, plates)
    return share


def lit_share(
    sideways: FloatArray, rise: FloatArray, opening: Opening, plates: Sequence[Plate]
) -> FloatArray:
    """Return the share 0 to 1 of an opening that is lit, (d,), for directions of `lit_areas`."""
    return np.minimum(1.0, lit_areas(sideways, rise, opening, plates)[:, 0] / opening.area)
