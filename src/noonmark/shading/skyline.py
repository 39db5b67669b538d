"""The skyline of a place: how high it stands in each direction."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Skyline:
    """Heights `altitudes` [deg] at `azimuths` [deg], once round and straight in between.

    Hills, woods and towns far enough away to stand equally high before every
    wall. Azimuths are clockwise, from north or from whatever the user turned it to.
    """

    azimuths: tuple[float, ...]
    altitudes: tuple[float, ...]

    def altitude(self, azimuth: ArrayLike) -> FloatArray:
        """Return its height [deg] at `azimuth` [deg], of the same shape."""
        read = np.asarray(azimuth, float)
        return np.asarray(np.interp(read, self.azimuths, self.altitudes, period=360.0))

    def turned(self, azimuth: float) -> Skyline:
        """Return it with azimuths counted from another one [deg]."""
        return Skyline(tuple((a - azimuth) % 360.0 for a in self.azimuths), self.altitudes)

    def hides(self, sideways: FloatArray, rise: FloatArray) -> NDArray[np.bool_]:
        """Return which directions (d,) before a wall it hides.

        `sideways` and `rise` are the way to the right and up for each metre out;
        its azimuths count from the wall's.
        """
        altitude = np.degrees(np.arctan2(rise, np.hypot(1.0, sideways)))
        return np.asarray(altitude < self.altitude(np.degrees(np.arctan(sideways))))
