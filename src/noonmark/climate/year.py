"""The weather of one year at one place.

Row i covers the hour from i to i + 1 after 1 January 00:00 of standard time; there is no leap day.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

HOURS = 8760
Hourly = NDArray[np.float64]

REQUIRED = (
    "temp_air",
    "dew_point",
    "pressure",
    "ghi",
    "dni",
    "dhi",
    "wind_speed",
    "wind_direction",
)
"""Columns that every year must have, without a gap."""

OPTIONAL = ("albedo", "cloud_cover")
"""Columns that may be missing, as a whole or by the hour: nan."""

_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_OF_HOUR: NDArray[np.int64] = np.repeat(np.arange(12), np.array(_MONTH_DAYS) * 24)
"""Month 0 to 11 of each hour, (8760,)."""


@dataclass(frozen=True)
class Repair:
    """What was mended in a weather file: `count` values of `column`, in `rows` (from 0)."""

    code: str
    column: str
    rows: tuple[int, ...]
    count: int


@dataclass(frozen=True)
class WeatherYear:
    """A year of weather, hourly arrays of shape (8760,).

    `source` names the station or data set, `trust` is the key of how far it can
    be trusted ("typical_year"). `latitude`, `longitude` [deg], `altitude_m`
    [m], `utc_offset_h` [h] standard time less UTC, `wind_height_m` [m].
    `temp_air`, `dew_point` [degC], `pressure` [Pa], `ghi`, `dni`, `dhi` [W/m2]
    hourly means, `wind_speed` [m/s], `wind_direction` [deg], the side it comes
    from; `albedo` and `cloud_cover` (share of the sky that cloud hides) 0 to 1,
    nan where missing. `repairs` tells what was mended.
    """

    source: str
    trust: str
    latitude: float
    longitude: float
    altitude_m: float
    utc_offset_h: float
    wind_height_m: float
    temp_air: Hourly
    dew_point: Hourly
    pressure: Hourly
    ghi: Hourly
    dni: Hourly
    dhi: Hourly
    wind_speed: Hourly
    wind_direction: Hourly
    albedo: Hourly
    cloud_cover: Hourly
    repairs: tuple[Repair, ...] = ()
