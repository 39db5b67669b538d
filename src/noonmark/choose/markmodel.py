"""What marks are expected of a wall whose azimuth, eave and clock are not quite as drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from noonmark.choose.markfile import Datum, PencilMark
from noonmark.design.model import Place
from noonmark.place.clock import time_zone
from noonmark.shading.marks import shade_edge
from noonmark.study.marks import MarkedWall
from noonmark.sun.angles import sun_half_width
from noonmark.sun.position import solar_position

if TYPE_CHECKING:
    from scipy.interpolate import CubicSpline

FloatArray = NDArray[np.float64]

FACES, PROJECTION, SOFFIT, CLOCK = range(4)
"""The four unknowns in a vector of how far they are off the drawing: deg, m, m, min."""

_PENCIL_M = 0.003
_BLUR_SHARE = 0.1
_CLOUD_FACTOR = 3.0
"""A careful mark lies within 3 mm and a tenth of the blur (one standard deviation); full haze
makes it four times worse (common practice, no source)."""

_BLURS = (0.005, 0.3)
_GRID_MIN = np.arange(-150.0, 151.0, 10.0)
_GRAZING = 0.02


@dataclass(frozen=True)
class Reading:
    """Marks of a wall in one way of taking them.

    `heights` (n,) [m] from what `datum` names; `spreads` (n,) [m] is how far a careful mark lies
    off; `later_min` (n,) [min] is how much later than its clock each was made; `ways` (g, n, 3)
    are the directions to the sun, east, north and up, around that time; `azimuth` [deg] is
    where the wall would look.
    """

    marks: tuple[PencilMark, ...]
    datum: Datum
    heights: FloatArray
    spreads: FloatArray
    later_min: FloatArray
    ways: FloatArray
    azimuth: float

    @cached_property
    def _spline(self) -> CubicSpline:
        from scipy.interpolate import CubicSpline

        return CubicSpline(_GRID_MIN, self.ways)

    def suns(self, fast_min: float) -> FloatArray:
        """Return the directions (n, 3) when the clock that was read is fast by minutes."""
        later = np.clip(-fast_min, _GRID_MIN[0], _GRID_MIN[-1])
        return np.asarray(self._spline(later))


def taken(
    place: Place,
    wall: MarkedWall,
    datum: Datum,
    marks: Sequence[PencilMark],
    *,
    later_min: FloatArray | float = 0.0,
    azimuth: float | None = None,
) -> Reading:
    """Return marks as they stand, with clock times that are `later_min` (n,) in truth."""
    looks = wall.face.azimuth if azimuth is None else azimuth
    zone = time_zone(place.time_zone)
    later = np.broadcast_to(later_min, len(marks))
    read = np.array([datetime.combine(m.day, m.clock, zone).timestamp() for m in marks])
    instants = (read + 60.0 * later)[None, :] + 60.0 * _GRID_MIN[:, None]
    sun = solar_position(
        instants.ravel(),
        latitude=place.latitude,
        longitude=place.longitude,
        altitude_m=place.altitude,
    )
    altitude, turn = np.radians(sun.apparent_altitude), np.radians(sun.azimuth)
    level = np.cos(altitude)
    ways = np.stack([level * np.sin(turn), level * np.cos(turn), np.sin(altitude)], axis=-1)
    now = slice(len(_GRID_MIN) // 2 * len(read), (len(_GRID_MIN) // 2 + 1) * len(read))
    edge = shade_edge(
        sun.apparent_altitude[now],
        sun.azimuth[now],
        wall_azimuth=looks,
        edges=wall.edges,
        half_width=sun_half_width([m.day.timetuple().tm_yday for m in marks]),
    )
    blur = np.clip(np.nan_to_num(edge.blur, nan=_BLURS[1]), *_BLURS)
    haze = 1.0 + _CLOUD_FACTOR * np.array([m.cloudiness for m in marks])
    return Reading(
        tuple(marks),
        datum,
        np.array([m.height for m in marks]),
        np.hypot(_PENCIL_M, _BLUR_SHARE * blur) * haze,
        later,
        ways.reshape(*instants.shape, 3),
        looks,
    )


def sun_up(reading: Reading) -> NDArray[np.bool_]:
    """Return at which marks (n,) the sun is up, or is within an hour and a half."""
    near = np.abs(_GRID_MIN) <= 90.0
    return np.asarray((reading.ways[near, :, 2] > 0.0).any(axis=0))


def expected(wall: MarkedWall, reading: Reading, off: FloatArray) -> FloatArray:
    """Return the heights (n,) [m] that marks would have with the four unknowns `off` the drawing.

    They count from what the file counts from. A sun behind the wall counts as one that
    grazes it, for a fit goes that way now and then.
    """
    looks = np.radians(reading.azimuth + off[FACES])
    ways = reading.suns(float(off[CLOCK]))
    out = np.maximum(_GRAZING, ways[:, 0] * np.sin(looks) + ways[:, 1] * np.cos(looks))
    slope = np.maximum(0.0, ways[:, 2]) / out
    edges = wall.edges
    outer = edges[:, 0] > 0.0
    reach = np.where(outer, np.maximum(0.0, edges[:, 0] + off[PROJECTION]), 0.0)
    lowest = np.min(edges[:, 1] - np.multiply.outer(slope, reach), axis=1)
    drop: FloatArray = wall.eave.soffit - lowest
    if reading.datum == "below_soffit":
        return drop
    floor: FloatArray = wall.eave.soffit + off[SOFFIT] - drop
    if reading.datum == "above_sill" and wall.window is not None:
        floor = floor - wall.window.sill
    return floor
