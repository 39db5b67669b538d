"""Hourly arrays to the numbers a builder reads. Energy leaves here in kWh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


def yearly_kwh(power: FloatArray) -> float:
    """Return the energy of hourly mean powers (h,) [W] in kWh."""
    return float(power.sum() / 1000.0)


def monthly_kwh(power: FloatArray, month: IntArray) -> FloatArray:
    """Return twelve energies [kWh] of hourly mean powers (h,) [W]; `month` (h,) is 0 to 11."""
    return np.bincount(month, weights=power, minlength=12) / 1000.0


def monthly_mean(values: FloatArray, month: IntArray) -> FloatArray:
    """Return the mean of hourly values (h,) in each month, shape (12,)."""
    hours = np.bincount(month, minlength=12)
    return np.asarray(np.bincount(month, weights=values, minlength=12) / hours)


def hours_above(temperature: FloatArray, limit: float) -> float:
    """Return how many hours (h,) lie above `limit` [degC]."""
    return float(np.count_nonzero(temperature > limit))


def hours_below(temperature: FloatArray, limit: float) -> float:
    """Return how many hours (h,) lie below `limit` [degC]."""
    return float(np.count_nonzero(temperature < limit))


def heating_months(monthly: FloatArray) -> NDArray[np.bool_]:
    """Return which months (12,) hold at least 1 % of the year's heating `monthly` [kWh]."""
    total = monthly.sum()
    return monthly >= 0.01 * total if total > 0.0 else np.zeros(12, dtype=np.bool_)


@dataclass(frozen=True)
class FuelNeed:
    """Fuel to be bought: `amount` of its unit, `cords` of 128 cubic feet when it is wood."""

    delivered_kwh: float
    amount: float
    cords: float


def fuel_need(
    heat_kwh: float, *, efficiency: float, kwh_per_unit: float, cords_per_unit: float
) -> FuelNeed:
    """Return the fuel that gives `heat_kwh` at a yearly `efficiency` 0..1.

    `kwh_per_unit` must be on the same basis (net or gross) as the efficiency.
    """
    delivered = heat_kwh / efficiency
    amount = delivered / kwh_per_unit
    return FuelNeed(delivered_kwh=delivered, amount=amount, cords=amount * cords_per_unit)
