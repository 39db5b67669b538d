"""The sun over a place through the dates of a year, and before a wall."""

from __future__ import annotations

from calendar import isleap
from datetime import date, datetime, time, timedelta

import numpy as np
from numpy.typing import NDArray

from noonmark.design.model import Place
from noonmark.place.clock import time_zone
from noonmark.shading.shade import sun_slopes
from noonmark.study.moment import solar_noons
from noonmark.sun.angles import half_day_arc, hour_angle_position, incidence_cosine
from noonmark.sun.irradiance import clear_sky_dni
from noonmark.sun.position import declination, solar_position, standard_pressure

FloatArray = NDArray[np.float64]

CLOCKS = (9, 12, 15)
"""Hours by the clock at which a window is looked at."""

_SLICES = 96


class SunDates:
    """The sun over a place through the dates of a year: at noon, at clock times, and all day.

    `altitude` and `azimuth` [deg] are (4, days) at noon and at the `CLOCKS`;
    `day_altitude`, `day_azimuth` (days, slices) in the middle of equal parts of
    each day, `slice_h` (days,) [h] long.
    """

    def __init__(self, place: Place, year: int) -> None:
        """Find the sun of every date of `year`."""
        self.first = date(year, 1, 1)
        count = (date(year + 1, 1, 1) - self.first).days
        self.dates = [self.first + timedelta(days=i) for i in range(count)]
        noon = np.array(solar_noons(place, self.dates))
        zone = time_zone(place.time_zone)
        clocks = [
            [datetime.combine(d, time(hour), zone).timestamp() for d in self.dates]
            for hour in CLOCKS
        ]
        sun = solar_position(
            np.concatenate([noon, np.ravel(clocks)]),
            latitude=place.latitude,
            longitude=place.longitude,
            altitude_m=place.altitude,
        )
        self.altitude = sun.apparent_altitude.reshape(-1, count)
        self.azimuth = sun.azimuth.reshape(-1, count)
        tilt = declination(noon)
        north = place.latitude >= 0.0
        self.midwinter = int(np.argmin(tilt) if north else np.argmax(tilt))
        self.midsummer = int(np.argmax(tilt) if north else np.argmin(tilt))
        arc = half_day_arc(place.latitude, tilt)
        endless = np.where(self.altitude[0] > 0.0, 180.0, 0.0)  # polar day and night
        arc = np.where(np.isnan(arc), endless, arc)
        part = 2.0 * (np.arange(_SLICES) + 0.5) / _SLICES - 1.0
        turn = arc[:, None] * part
        drift = np.gradient(tilt)[:, None] * turn / 360.0
        self.day_altitude, self.day_azimuth = hour_angle_position(
            place.latitude, tilt[:, None] + drift, turn
        )
        self.slice_h = 2.0 * arc / 15.0 / _SLICES
        self.beam = clear_sky_dni(self.day_altitude, standard_pressure(place.altitude))


def _ordinary_day(day: date) -> int:
    """Return the number, from 0, of a day in a year without 29 February, which becomes the 28th."""
    number = (day - date(day.year, 1, 1)).days
    return number - 1 if number >= 59 and isleap(day.year) else number


class SunOnWall:
    """The sun of `SunDates` before one wall.

    `before` (n,) tells when, `sideways` and `rise` its way in those, `day` on
    which day of an ordinary year; first noon and clocks, then the days' slices.
    """

    def __init__(self, sky: SunDates, azimuth: float) -> None:
        """Turn to a wall that looks to `azimuth` [deg]."""
        self.sky, self.azimuth = sky, azimuth
        altitudes = np.concatenate([sky.altitude.ravel(), sky.day_altitude.ravel()])
        azimuths = np.concatenate([sky.azimuth.ravel(), sky.day_azimuth.ravel()])
        self.before, self.sideways, self.rise = sun_slopes(altitudes, azimuths, azimuth)
        ordinary = np.array([_ordinary_day(d) for d in sky.dates])
        days = np.concatenate([np.tile(ordinary, len(sky.altitude)), np.repeat(ordinary, _SLICES)])
        self.day = days[self.before]
        facing = incidence_cosine(sky.day_altitude, sky.day_azimuth, 90.0, azimuth)
        self.power = sky.beam * np.maximum(facing, 0.0) * sky.slice_h[:, None]
