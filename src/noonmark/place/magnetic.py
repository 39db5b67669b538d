"""Where a compass needle points: the field of the earth at a place on a day.

Source: A. Chulliat, W. Brown, P. Alken et al., The US/UK World Magnetic Model
for 2025-2030, NOAA/NCEI 2024, doi:10.25923/agv3-5w78 (doi from memory), by the
coefficients that `pygeomag` carries. It knows the field of the earth's core;
ore, steel and storms of the sun add to it, which its error counts on average.
"""

from __future__ import annotations

import math
from calendar import isleap
from dataclasses import dataclass
from datetime import date
from typing import Literal

Zone = Literal["good", "caution", "blackout"]

_CAUTION_NT, _BLACKOUT_NT = 6000.0, 2000.0
"""Level field [nT] below which a compass is not trusted, and can not be used (same report)."""

_ERROR_DEG, _ERROR_NT = 0.26, 5417.0
"""The model's declination error: the root of the sum of squares of both, the second over H."""


@dataclass(frozen=True)
class MagneticField:
    """The needle at a place: `declination` [deg] is how far east of true north it points.

    `uncertainty` [deg] is one standard deviation of the model, `yearly_change`
    [deg a year], `level_nt` [nT] the strength that turns the needle, `zone` what
    a compass is worth there. `day` is the one that counts and `years_off` [years] how
    far the day asked for lies outside the years of the model, 0 inside.
    """

    declination: float
    uncertainty: float
    yearly_change: float
    level_nt: float
    zone: Zone
    day: date
    years_off: float


def magnetic_field(
    day: date, *, latitude: float, longitude: float, altitude_m: float
) -> MagneticField:
    """Return the needle on a day at `latitude` and `longitude` [deg], `altitude_m` [m].

    A day outside the years of the model gets its nearest one.
    """
    from pygeomag import GeoMag

    model = GeoMag()
    first, end = model.life_span
    asked = _years(day)
    time = min(max(asked, first), end)

    def declination(moment: float) -> tuple[float, float]:
        found = model.calculate(glat=latitude, glon=longitude, alt=altitude_m / 1e3, time=moment)
        return float(found.d), float(found.h)

    here, level = declination(time)
    start = min(max(time - 0.5, first), end - 1.0)
    change = declination(start + 1.0)[0] - declination(start)[0]
    used = day
    if time != asked:
        used = date(int(first), 1, 1) if time == first else date(int(end) - 1, 12, 31)
    return MagneticField(
        declination=here,
        uncertainty=math.hypot(_ERROR_DEG, _ERROR_NT / max(level, 1.0)),
        yearly_change=(change + 180.0) % 360.0 - 180.0,
        level_nt=level,
        zone=_zone(level),
        day=used,
        years_off=abs(asked - time),
    )


def compass_reading(azimuth: float, declination: float) -> float:
    """Return what a compass reads [deg] along a true `azimuth` [deg].

    `declination` [deg] is how far east of true north its needle points.
    """
    return (azimuth - declination) % 360.0


def _zone(level: float) -> Zone:
    if level < _BLACKOUT_NT:
        return "blackout"
    return "caution" if level < _CAUTION_NT else "good"


def _years(day: date) -> float:
    """Return noon of a day in years."""
    return day.year + (day.timetuple().tm_yday - 0.5) / (366 if isleap(day.year) else 365)
