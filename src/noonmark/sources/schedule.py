"""Hours of the day at which something runs, and set-points that follow the clock.

An hour counts whole, with its mean. Profiles run in standard time.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_DAY = np.arange(24)


def hours_between(begin: int, end: int, *, days: int = 365) -> NDArray[np.bool_]:
    """Return which hours (h,) lie between two hours of the day, 0 to 24.

    An `end` not after `begin` is that of the next morning.
    """
    after, before = begin <= _DAY, end > _DAY
    return np.tile(after & before if begin < end else after | before, days)


def set_back(
    setpoint: float, low: float, *, begin: int, end: int, ramp: int = 0, days: int = 365
) -> FloatArray:
    """Return a set-point (h,) [degC] that is `low` between two hours of the day.

    From `end` on it climbs evenly back to `setpoint` through `ramp` hours, each
    of which counts with its mean.
    """
    day = np.full(24, setpoint)
    climb = np.arange(ramp)
    day[(end + climb) % 24] = low + (setpoint - low) * (climb + 0.5) / max(ramp, 1)
    day[hours_between(begin, end, days=1)] = low
    return np.tile(day, days)
