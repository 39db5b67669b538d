"""The noon sun of a year before a wall."""

from __future__ import annotations

from datetime import date

import numpy as np
from numpy.typing import NDArray

from noonmark.design.model import Place
from noonmark.shading.shade import sun_slopes
from noonmark.study.sundates import SunDates, SunOnWall

FloatArray = NDArray[np.float64]


class Noons:
    """The noons of a year, by the tangent of the sun's profile angle before a wall.

    `slope` (days,) is nan and `aside` (days,), its way to the right, is 0 with
    the sun behind the wall. Between midwinter and midsummer the sun rises.
    """

    def __init__(self, place: Place, azimuth: float, year: int) -> None:
        """Find the noons of a year before a wall that looks to `azimuth` [deg]."""
        self.sky = SunDates(place, year)
        before, aside, rise = sun_slopes(self.sky.altitude[0], self.sky.azimuth[0], azimuth)
        self.slope: FloatArray = np.full(before.size, np.nan)
        self.slope[before] = rise
        self.aside: FloatArray = np.zeros(before.size)
        self.aside[before] = aside
        half = (self.sky.midsummer - self.sky.midwinter) % before.size
        self.rising = (self.sky.midwinter + np.arange(half + 1)) % before.size

    def index(self, day: date) -> int:
        """Return the number of a day, from 0."""
        return (day - self.sky.dates[0]).days

    def rises(self, day: date) -> bool:
        """Return whether the sun rises from this day to the next and from the one before."""
        return self.index(day) in self.rising[1:-1]

    def until(self, day: date) -> float:
        """Return the slope half-way to the next noon."""
        index = self.index(day)
        return float(self.slope[[index, (index + 1) % self.slope.size]].mean())

    def since(self, day: date) -> float:
        """Return the slope half-way from the noon before."""
        index = self.index(day)
        return float(self.slope[[index - 1, index]].mean())

    def last(self, holds: NDArray[np.bool_]) -> date | None:
        """Return the last of the `rising` days on which something holds (rising,)."""
        return self.sky.dates[int(self.rising[holds][-1])] if holds.any() else None

    def first(self, holds: NDArray[np.bool_]) -> date | None:
        """Return the first of the `rising` days on which something holds (rising,)."""
        return self.sky.dates[int(self.rising[holds][0])] if holds.any() else None

    def strongest(self, azimuth: float) -> tuple[float, float]:
        """Return the way, right and up, of midsummer's strongest beam on a wall; 0, 0 if none."""
        seen = SunOnWall(self.sky, azimuth)
        power = seen.power[self.sky.midsummer]
        if power.max() <= 0.0:
            return 0.0, 0.0
        peak = int(np.argmax(power))
        at = self.sky.midsummer, peak
        _, sideways, rise = sun_slopes(self.sky.day_altitude[at], self.sky.day_azimuth[at], azimuth)
        return float(sideways[0]), float(rise[0])
