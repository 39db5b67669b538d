"""Sun marks: where the shade edge of an eave stands on the wall below it, and how blurred.

An endless eave is a set of edges, each a distance out from the wall's face and a height.
The sun's disc is half a degree wide: seen from a point of the wall, an edge covers none of
it at the lower end of the blur, half at the mark, all at its upper end. Source: plane geometry.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class ShadeEdge:
    """Heights [m] on the wall's face, each (n,): the mark and the ends of its blur.

    nan where the sun is down or behind the wall. `lowest` is -inf where part of the disc is
    behind the wall, `highest` the height of the edge where part of it is below the edge.
    `aside` [m] is how far to the right of the mark, for somebody inside who looks out,
    that part of the eave is that throws it.
    """

    height: FloatArray
    lowest: FloatArray
    highest: FloatArray
    aside: FloatArray

    @property
    def blur(self) -> FloatArray:
        """Return how far it is from full sun to full shade [m], (n,)."""
        return self.highest - self.lowest


def shade_edge(
    altitude: ArrayLike,
    azimuth: ArrayLike,
    *,
    wall_azimuth: float,
    edges: ArrayLike,
    half_width: ArrayLike,
) -> ShadeEdge:
    """Return the shade edge that an endless eave throws on its wall.

    `altitude`, `azimuth` [deg] of the sun and `half_width` [deg] of its disc
    broadcast to (n,); `edges` (m, 2) are the distance out from the wall's face and the
    height of each [m]; the lowest shade of them counts.
    """
    alt, turn, half = np.broadcast_arrays(
        np.radians(np.asarray(altitude, float)),
        np.radians(np.asarray(azimuth, float) - wall_azimuth),
        np.radians(np.asarray(half_width, float)),
    )
    up, out = np.sin(alt), np.cos(alt) * np.cos(turn)
    before = (up > 0.0) & (out > 0.0)
    profile = np.where(before, np.arctan2(up, out), np.nan)
    spread = np.arcsin(np.minimum(1.0, np.sin(half) / np.hypot(up, out)))
    corners = np.asarray(edges, float).reshape(-1, 2)
    height, which = _lowest(profile, corners)
    steep = profile + spread
    lowest = np.where(steep < np.pi / 2.0, _lowest(steep, corners)[0], -np.inf)
    lowest = np.where(before, lowest, np.nan)
    highest = _lowest(np.maximum(profile - spread, 0.0), corners)[0]
    aside = corners[which, 0] * np.where(before, np.tan(turn), np.nan)
    return ShadeEdge(height, lowest, highest, aside)


def _lowest(profile: FloatArray, corners: FloatArray) -> tuple[FloatArray, NDArray[np.intp]]:
    """Return the lowest shade (n,) of all corners at profile angles [rad], and whose it is."""
    found = corners[:, 1] - np.multiply.outer(np.tan(profile), corners[:, 0])
    return found.min(axis=-1), found.argmin(axis=-1)
