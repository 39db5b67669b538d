"""Do the three kinds of irradiance fit each other, and the stamps the sun?"""

from __future__ import annotations

import numpy as np

from noonmark.climate.year import WeatherYear
from noonmark.errors import Problem
from noonmark.sun.year import SunYear, middle_altitude

SHIFTS_H = (-1.0, -0.5, 0.0, 0.5, 1.0)

_CLEARLY_BETTER = 0.7


def radiation_closure(weather: WeatherYear, sun: SunYear) -> float:
    """Return the year's sum of `dni cos(zenith) + dhi` over that of `ghi`; 1 when they close."""
    upward = np.maximum(np.sin(np.radians(sun.altitude)), 0.0)
    beam = weather.dni * upward * (sun.up_fraction > 0.0)
    return float((beam + weather.dhi).sum() / weather.ghi.sum())


def stamp_residual(weather: WeatherYear, later_h: float) -> float:
    """Return the rms misfit [W/m2] of ghi, dni and dhi with a sun taken `later_h` [h] later."""
    altitude = middle_altitude(
        latitude=weather.latitude,
        longitude=weather.longitude,
        utc_offset_h=weather.utc_offset_h,
        later_h=later_h,
    )
    upward = np.maximum(np.sin(np.radians(altitude)), 0.0)
    misfit = weather.dni * upward + weather.dhi - weather.ghi
    lit = (weather.ghi > 0.0) & (weather.dni > 0.0)
    return float(np.sqrt(np.mean(misfit[lit] ** 2))) if lit.any() else 0.0


def stamp_shift(weather: WeatherYear) -> float:
    """Return which of `SHIFTS_H` [h] fits the file best; 0 when its stamps mean what they say."""
    return min(SHIFTS_H, key=lambda later: (stamp_residual(weather, later), abs(later)))


def check_stamps(weather: WeatherYear) -> tuple[Problem, ...]:
    """Return climate.stamps_shifted when a moved sun fits the file clearly better; else empty."""
    best = stamp_shift(weather)
    if stamp_residual(weather, best) >= _CLEARLY_BETTER * stamp_residual(weather, 0.0):
        return ()
    return (Problem("climate.stamps_shifted", path="ghi", values={"read": best, "right": 0.0}),)
