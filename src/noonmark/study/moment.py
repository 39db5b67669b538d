"""The sun over a place at single moments, and its way before a wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from noonmark.design.model import Place
from noonmark.place.clock import time_zone
from noonmark.shading.shade import sun_slopes
from noonmark.sun.position import RiseSet, days_ahead, rise_set_noon, solar_position
from noonmark.sun.year import NOMINAL_YEAR

HOUR = 3600.0


@dataclass(frozen=True)
class Moment:
    """The sun at an instant: seen altitude and azimuth [deg]; the instant by the place's clock."""

    instant: datetime
    altitude: float
    azimuth: float

    @property
    def day(self) -> int:
        """Return the day of an ordinary year, from 0; 29 February is 1 March."""
        here = self.instant
        leap = (here.month, here.day) == (2, 29)
        day = date(NOMINAL_YEAR, 3, 1) if leap else date(NOMINAL_YEAR, here.month, here.day)
        return day.timetuple().tm_yday - 1

    def before(self, wall_azimuth: float) -> tuple[float, float] | None:
        """Return the sun's way to the right and up for a metre out of a wall, None behind it."""
        before, sideways, rise = sun_slopes([self.altitude], [self.azimuth], wall_azimuth)
        return (float(sideways[0]), float(rise[0])) if before[0] else None


def moments(place: Place, utc_seconds: Sequence[float]) -> list[Moment]:
    """Return the sun at instants, in UTC seconds."""
    sun = solar_position(
        np.array(utc_seconds, dtype=float),
        latitude=place.latitude,
        longitude=place.longitude,
        altitude_m=place.altitude,
    )
    zone = time_zone(place.time_zone)
    found = zip(utc_seconds, sun.apparent_altitude, sun.azimuth, strict=True)
    return [Moment(datetime.fromtimestamp(utc, zone), float(h), float(a)) for utc, h, a in found]


def sun_day(place: Place, day: date) -> RiseSet:
    """Return rise, noon and set of a day at a place; rise and set are nan where there is none."""
    return sun_days(place, [day])


def by_clock(place: Place, day: date, clock: time) -> float:
    """Return an hour of the place's clock in UTC seconds."""
    return datetime.combine(day, clock, tzinfo=time_zone(place.time_zone)).timestamp()


def solar_noon(place: Place, day: date) -> float:
    """Return solar noon of a day in UTC seconds."""
    return solar_noons(place, [day])[0]


def solar_noons(place: Place, days: Sequence[date]) -> list[float]:
    """Return solar noon of each day in UTC seconds."""
    return [float(noon) for noon in sun_days(place, days).noon]


def sun_days(place: Place, days: Sequence[date]) -> RiseSet:
    """Return rise, noon and set of days of the place's calendar, each (n,), as `sun_day`."""
    zone = time_zone(place.time_zone)
    midnights = [
        datetime.combine(_solar_date(day, zone, place.longitude), time(), UTC).timestamp()
        for day in days
    ]
    return rise_set_noon(np.array(midnights), latitude=place.latitude, longitude=place.longitude)


def _solar_date(day: date, zone: ZoneInfo, longitude: float) -> date:
    offset = datetime.combine(day, time(12), zone).utcoffset() or timedelta()
    return day - timedelta(days=days_ahead(offset / timedelta(hours=1), longitude))
