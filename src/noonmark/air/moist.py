"""Moist air: pressure, density, humidity."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

SPECIFIC_HEAT = 1006.0
"""Specific heat of dry air at constant pressure [J/kgK] (ISO 13788, from memory)."""

_GAS_CONSTANT_DRY = 287.05
_ICE_POINT = 273.15
_MASS_RATIO = 0.621945


def saturation_pressure(temperature: FloatArray | float) -> FloatArray:
    """Return the saturation pressure over water, below 0 degC over ice [Pa].

    `temperature` [degC], any shape. Source: EN ISO 13788, annex E.
    """
    t = np.asarray(temperature, dtype=float)
    with np.errstate(over="ignore"):
        water = 610.5 * np.exp(17.269 * t / (237.3 + np.maximum(t, 0.0)))
        ice = 610.5 * np.exp(21.875 * np.minimum(t, 0.0) / (265.5 + np.minimum(t, 0.0)))
    return np.asarray(np.where(t >= 0.0, water, ice))


def humidity_ratio(vapour_pressure: FloatArray | float, pressure: FloatArray | float) -> FloatArray:
    """Return kg of water per kg of dry air at a vapour and an air pressure [Pa]."""
    vapour = np.asarray(vapour_pressure, dtype=float)
    return np.asarray(_MASS_RATIO * vapour / (pressure - vapour))


def vapour_pressure(ratio: FloatArray, pressure: FloatArray | float) -> FloatArray:
    """Return the vapour pressure [Pa] in air with humidity `ratio` [kg/kg] at a `pressure` [Pa]."""
    return np.asarray(ratio * pressure / (_MASS_RATIO + ratio))


def relative_humidity(
    ratio: FloatArray, temperature: FloatArray, pressure: FloatArray | float
) -> FloatArray:
    """Return the relative humidity 0..1 of air with humidity `ratio` [kg/kg].

    `temperature` [degC]; `pressure` of the air [Pa].
    """
    vapour = vapour_pressure(ratio, pressure)
    return np.asarray(np.minimum(1.0, vapour / saturation_pressure(temperature)))


def air_density(pressure: float, temperature: float) -> float:
    """Return the density of dry air [kg/m3] at `pressure` [Pa] and `temperature` [degC]."""
    return pressure / (_GAS_CONSTANT_DRY * (temperature + _ICE_POINT))
