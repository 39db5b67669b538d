"""Heat and moisture of people and appliances through the year."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

SENSIBLE_PER_PERSON = 70.0
"""Sensible heat of a seated adult [W] (ASHRAE Fundamentals, from memory)."""

VAPOUR_PER_PERSON = 50e-3 / 3600.0
"""Water breathed and sweated by a seated adult, 50 g/h [kg/s] (ISO 13788 annex, from memory)."""

VAPOUR_PER_HOUSEHOLD_PERSON = 1.5 / 86400.0
"""Cooking, washing and drying for each person, 1.5 kg a day [kg/s] (common practice, no source)."""

_RADIANT_PEOPLE = 0.6
_RADIANT_APPLIANCES = 0.5

_HOME = np.array([1.0] * 8 + [0.5] * 9 + [1.0] * 7)
_APPLIANCES = np.array(
    [0.5] * 6
    + [0.9, 1.3, 1.0, 0.8, 0.8, 1.0, 1.2, 0.9, 0.8, 0.8, 1.0, 1.5, 2.0, 2.0, 1.8, 1.6, 1.2, 0.7]
)


@dataclass(frozen=True)
class InternalGain:
    """Hourly heat to the air and to the surfaces [W] and vapour [kg/s], each (h,)."""

    air: FloatArray
    surfaces: FloatArray
    vapour: FloatArray


def household_gain(
    *,
    people: float,
    appliances: float,
    steady: float = 0.0,
    steady_radiant: float = 0.0,
    days: int = 365,
) -> InternalGain:
    """Return the gain of `people` and of appliances of a mean power `appliances` [W].

    People are all at home from 17 to 8 h and half of them in between;
    appliances follow a day with a morning and an evening peak (common
    practice, no source). `steady` [W] is there at every hour, its share
    `steady_radiant` 0..1 warms surfaces. Profiles run in standard time.
    """
    home = np.tile(_HOME, days)
    running = appliances * np.tile(_APPLIANCES / _APPLIANCES.mean(), days)
    bodies = people * SENSIBLE_PER_PERSON * home
    return InternalGain(
        air=(1.0 - _RADIANT_PEOPLE) * bodies
        + (1.0 - _RADIANT_APPLIANCES) * running
        + (1.0 - steady_radiant) * steady,
        surfaces=_RADIANT_PEOPLE * bodies + _RADIANT_APPLIANCES * running + steady_radiant * steady,
        vapour=people * (VAPOUR_PER_PERSON * home + VAPOUR_PER_HOUSEHOLD_PERSON),
    )
