"""The cold end of a year: its three coldest months, their bright days, its coldest night.

A year of 365 days goes round: December is followed by January.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

DAY = 24
LEAST_SUN = 100.0
"""Sun above the air on a level metre below which a day has none to speak of [Wh/m2]."""

_LONGEST_NIGHT = 24.0


def coldest_months(temperature: FloatArray, month: IntArray) -> IntArray:
    """Return the three months (3,) in a row, 0 to 11, with the lowest mean temperature.

    `temperature` (h,) [degC] of the air outdoors; `month` (h,) is 0 to 11.
    """
    hours = np.bincount(month, minlength=12)
    sums = np.bincount(month, weights=temperature, minlength=12)
    three = np.arange(12)[:, None] + np.arange(3)
    rows = three % 12
    means = sums[rows].sum(axis=1) / hours[rows].sum(axis=1)
    return np.asarray(rows[int(np.argmin(means))])


def bright_days(global_sun: FloatArray, above: FloatArray, days: IntArray) -> IntArray:
    """Return the tenth of `days` with the most sun that reaches the ground of that above the air.

    Hourly (h,) [W/m2] on a level metre: `global_sun` and `above`, in daily sums (the
    clearness index of the day). Days without sun never count; none may be left.
    """
    reached = global_sun.reshape(-1, DAY).sum(axis=1)[days]
    there = above.reshape(-1, DAY).sum(axis=1)[days]
    lit = there >= LEAST_SUN
    clear = np.divide(reached, there, out=np.zeros(days.size), where=lit)
    wanted = min(max(1, round(days.size / 10)), int(lit.sum()))
    order = np.argsort(-np.where(lit, clear, -1.0), kind="stable")
    return np.sort(days[order[:wanted]])


def night_hours(hour: int, sunrise: FloatArray, sunset: FloatArray) -> IntArray:
    """Return the hours (n,) of the night that holds `hour`, from its sunset on.

    `sunrise` and `sunset` (d,) [h] are of each day, nan where there is none. The first
    hour begins nearest to the sunset, the last one holds the sunrise. An hour of
    daylight takes the night nearest to it; where no night is shorter than a day, or
    none ends, the hours from 12 before to 12 after it are taken.
    """
    count = sunrise.size * DAY
    starts = np.arange(sunrise.size) * float(DAY)
    rises, sets = (
        np.sort(np.concatenate([found + turn for turn in (-count, 0.0, count)]))
        for found in (_given(starts + sunrise), _given(starts + sunset))
    )
    middle = hour + 0.5
    after = np.searchsorted(rises, sets, side="right")
    ends = np.append(rises, np.inf)[after]
    short = ends - sets <= _LONGEST_NIGHT
    apart = np.maximum(np.maximum(sets - middle, middle - ends), 0.0)
    if not short.any() or (apart[~short] == 0.0).any():
        return np.arange(hour - 12, hour + 13) % count
    best = int(np.argmin(np.where(short, apart, np.inf)))
    first, last = round(float(sets[best])), math.floor(ends[best])
    return np.arange(first, last + 1) % count


def _given(instants: FloatArray) -> FloatArray:
    return instants[~np.isnan(instants)]
