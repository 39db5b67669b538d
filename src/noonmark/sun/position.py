"""Where the sun stands at given instants, to a thousandth of a degree.

Instants are seconds since 1970-01-01 00:00 UTC.

Source: I. Reda, A. Andreas, Solar position algorithm for solar radiation
applications, NREL/TP-560-34302, revised 2008, doi:10.2172/15003974.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.sun.angles import half_day_arc

Instants = NDArray[np.float64]

DELTA_T_S = 69.3
"""Terrestrial time less universal time [s] as observed 2020-2026; 10 s turn the sun 0.0001 deg."""

RISE_SET_ALTITUDE = -0.8333
"""Altitude [deg] of the sun's centre at rise and set: refraction plus half its disc."""

_REFRACTION_AT_HORIZON = 0.5667
_DAY_S = 86400.0
_SECONDS_PER_DEGREE = 240.0


@dataclass(frozen=True)
class SunPosition:
    """The sun at n instants, as arrays of shape (n,).

    `altitude` [deg] is the true one, `apparent_altitude` [deg] the one seen
    through the air, `azimuth` [deg] clockwise from north, `equation_of_time_min`
    [min] solar less mean time.
    """

    altitude: Instants
    apparent_altitude: Instants
    azimuth: Instants
    equation_of_time_min: Instants


@dataclass(frozen=True)
class RiseSet:
    """Sunrise, solar noon, sunset in UTC seconds, (n,); a rise or set that never comes is nan."""

    sunrise: Instants
    noon: Instants
    sunset: Instants


def standard_pressure(altitude_m: float) -> float:
    """Return the usual air pressure [Pa] at a height above the sea [m].

    Source: ICAO standard atmosphere (ISO 2533:1975), below 11 km.
    """
    return float(101325.0 * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def solar_position(
    utc_seconds: Instants,
    *,
    latitude: float,
    longitude: float,
    altitude_m: float,
    pressure_pa: float | None = None,
    temperature_c: float = 12.0,
    delta_t_s: float = DELTA_T_S,
) -> SunPosition:
    """Return the sun's place in the sky at `utc_seconds`, shape (n,).

    `latitude` and `longitude` [deg], east and north positive; `altitude_m` [m];
    `pressure_pa` [Pa] (standard for the height when not given) and
    `temperature_c` [degC] only bend the light. Good to 0.0003 deg.
    """
    from pvlib import spa

    pressure = standard_pressure(altitude_m) if pressure_pa is None else pressure_pa
    _, _, apparent, true, azimuth, equation_of_time = spa.solar_position_numpy(
        np.asarray(utc_seconds, float),
        latitude,
        longitude,
        altitude_m,
        pressure / 100.0,
        temperature_c,
        delta_t_s,
        _REFRACTION_AT_HORIZON,
        1,
    )
    return SunPosition(true, apparent, azimuth, equation_of_time)


def declination(utc_seconds: Instants, *, delta_t_s: float = DELTA_T_S) -> Instants:
    """Return the sun's geocentric declination [deg] at `utc_seconds`, shape (n,)."""
    return _hour_angle_and_declination(utc_seconds, 0.0, delta_t_s)[1]


def days_ahead(utc_offset_h: float, longitude: float) -> int:
    """Return how many days the date of a clock is ahead of that of the place's own mean sun.

    Not 0 where the date line bends around a place: Samoa keeps the date of New Zealand
    under the sun of Alaska. `utc_offset_h` [h] is the clock less UTC, `longitude` [deg].
    """
    return round((utc_offset_h - longitude / 15.0) / 24.0)


def rise_set_noon(
    midnights_utc: Instants, *, latitude: float, longitude: float, delta_t_s: float = DELTA_T_S
) -> RiseSet:
    """Return sunrise, noon and sunset of calendar dates at a place.

    `midnights_utc` (n,) are the dates, as UTC seconds of their 00:00 UTC; the
    events are those around the noon that the place itself has on that date, in
    UTC seconds. `latitude`, `longitude` [deg]. Good to a second away from the
    polar circles' first and last sun.
    """
    noon = np.asarray(midnights_utc, float) + _DAY_S / 2.0 - longitude * _SECONDS_PER_DEGREE
    for _ in range(2):
        hour_angle, dec = _hour_angle_and_declination(noon, longitude, delta_t_s)
        noon = noon - hour_angle * _SECONDS_PER_DEGREE
    arc = half_day_arc(latitude, dec, horizon=RISE_SET_ALTITUDE)
    events = [_crossing(noon, side * arc, latitude, longitude, delta_t_s) for side in (-1.0, 1.0)]
    return RiseSet(events[0], noon, events[1])


def _crossing(
    noon: Instants, arc: Instants, latitude: float, longitude: float, delta_t_s: float
) -> Instants:
    instant = noon + arc * _SECONDS_PER_DEGREE
    for _ in range(3):
        hour_angle, dec = _hour_angle_and_declination(instant, longitude, delta_t_s)
        wanted = np.sign(arc) * half_day_arc(latitude, dec, horizon=RISE_SET_ALTITUDE)
        instant = instant + _turned(wanted - hour_angle) * _SECONDS_PER_DEGREE
    return instant


def _hour_angle_and_declination(
    utc_seconds: Instants, longitude: float, delta_t_s: float
) -> tuple[Instants, Instants]:
    from pvlib import spa

    sidereal, right_ascension, dec = spa.solar_position_numpy(
        np.asarray(utc_seconds, float), 0, 0, 0, 0, 0, delta_t_s, 0, 1, sst=True
    )
    return _turned(sidereal + longitude - right_ascension), dec


def _turned(angle: Instants) -> Instants:
    return (angle + 180.0) % 360.0 - 180.0
