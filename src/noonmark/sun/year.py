"""The sun of every hour of a nominal year at one place.

Hour i runs from i to i + 1 hours after 1 January 00:00 of the place's standard
time. The sun of an hour is taken in the middle of the part in which it is up:
the hours that hold a sunrise or a sunset would otherwise lose their sun.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from noonmark.sun.angles import (
    extraterrestrial_normal,
    hour_angle_position,
    spencer_declination,
    spencer_equation_of_time,
)
from noonmark.sun.position import days_ahead, declination, rise_set_noon, solar_position

NOMINAL_YEAR = 2022
"""The year whose sun stands for every year: half-way between leap days and without one."""

HOURS = 8760
DAYS = 365
_HOUR_S = 3600.0
_DAY_S = 86400.0
_SERIES_LAG_DAYS = 1.0  # the short series' equinox comes a day later than today's
_SAMPLES = (np.arange(24) + 0.5) / 24.0


@dataclass(frozen=True)
class SunYear:
    """The sun of 8760 hours and 365 days.

    Hourly (8760,): `altitude` (as seen through the air) and `azimuth` [deg] in
    the middle of the sun-up part, `up_fraction` 0 to 1 of the hour with sun,
    `extraterrestrial` [W/m2] facing the sun above the air. Where `up_fraction`
    is 0 the position is that of the middle of the hour.
    Daily (365,): `sunrise_h`, `sunset_h` (nan when there is none) and
    `solar_noon_h` [h] of standard time.
    """

    altitude: NDArray[np.float64]
    azimuth: NDArray[np.float64]
    up_fraction: NDArray[np.float64]
    extraterrestrial: NDArray[np.float64]
    sunrise_h: NDArray[np.float64]
    sunset_h: NDArray[np.float64]
    solar_noon_h: NDArray[np.float64]


def year_start_utc(utc_offset_h: float) -> float:
    """Return the UTC seconds of 1 January 00:00 standard time in the nominal year."""
    return datetime(NOMINAL_YEAR, 1, 1, tzinfo=UTC).timestamp() - utc_offset_h * _HOUR_S


def sun_year(
    *, latitude: float, longitude: float, altitude_m: float, utc_offset_h: float
) -> SunYear:
    """Return the sun of each hour at a place (`latitude`, `longitude` [deg], `altitude_m` [m]).

    `utc_offset_h` [h] is the place's standard time less UTC.
    """
    start = year_start_utc(utc_offset_h)
    up = _is_up(latitude, longitude, start)
    share = up.mean(axis=1)
    shift = np.divide(up @ _SAMPLES, up.sum(axis=1), out=np.full(HOURS, 0.5), where=share > 0.0)
    sun = solar_position(
        start + (np.arange(HOURS) + shift) * _HOUR_S,
        latitude=latitude,
        longitude=longitude,
        altitude_m=altitude_m,
    )
    return SunYear(
        sun.apparent_altitude,
        sun.azimuth,
        share,
        extraterrestrial_normal(np.arange(HOURS) // 24 + 1.0),
        *_daily_hours(latitude, longitude, utc_offset_h),
    )


def _is_up(latitude: float, longitude: float, start: float) -> NDArray[np.bool_]:
    """Return for (8760 hours, 24 samples) whether the sun's centre is above the level horizon.

    Declination and equation of time go straight from noon to noon: 0.001 deg.
    """
    noons = start + (np.arange(-1.0, DAYS + 1.0, dtype=np.float64) + 0.5) * _DAY_S
    at_noon = solar_position(noons, latitude=latitude, longitude=longitude, altitude_m=0.0)
    instants = start + np.arange(HOURS, dtype=np.float64) * _HOUR_S
    ahead = np.interp(instants, noons, at_noon.equation_of_time_min) / 4.0
    first = instants % _DAY_S / 240.0 + longitude + ahead - 180.0
    hour_angle = np.radians(first[:, None] + 15.0 * _SAMPLES)
    tilt = np.tan(np.radians(np.interp(instants + _HOUR_S / 2.0, noons, declination(noons))))
    up: NDArray[np.bool_] = np.cos(hour_angle) > -np.tan(np.radians(latitude)) * tilt[:, None]
    return up


def _daily_hours(
    latitude: float, longitude: float, utc_offset_h: float
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    days = np.arange(DAYS, dtype=np.float64) * _DAY_S
    dates = year_start_utc(0.0) + days - days_ahead(utc_offset_h, longitude) * _DAY_S
    sun = rise_set_noon(dates, latitude=latitude, longitude=longitude)
    midnight = year_start_utc(utc_offset_h) + days

    def standard(instants: NDArray[np.float64]) -> NDArray[np.float64]:
        hours: NDArray[np.float64] = (instants - midnight) / _HOUR_S
        return hours

    return standard(sun.sunrise), standard(sun.sunset), standard(sun.noon)


def middle_altitude(
    *, latitude: float, longitude: float, utc_offset_h: float, later_h: float = 0.0
) -> NDArray[np.float64]:
    """Return the sun's true altitude [deg] in the middle of each hour, (8760,), to 0.3 deg.

    By short formulas, without the full algorithm: for checks of a weather file.
    `later_h` [h] moves every instant; the other arguments are those of `sun_year`.
    """
    hours = np.arange(HOURS) + 0.5 + later_h
    day = hours / 24.0 + 0.5 + _SERIES_LAG_DAYS
    solar_h = hours - utc_offset_h + longitude / 15.0 + spencer_equation_of_time(day) / 60.0
    return hour_angle_position(latitude, spencer_declination(day), (solar_h - 12.0) * 15.0)[0]
