"""Hourly arrays to the numbers a builder reads."""

from __future__ import annotations

import numpy as np
import pytest

from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.outcome.reduce import (
    fuel_need,
    heating_months,
    hours_above,
    hours_below,
    monthly_kwh,
    monthly_mean,
    yearly_kwh,
)


def test_one_kilowatt_all_year() -> None:
    power = np.full(8760, 1000.0)
    assert yearly_kwh(power) == pytest.approx(8760.0)
    months = monthly_kwh(power, MONTH_OF_HOUR)
    assert months[:3] == pytest.approx([744.0, 672.0, 744.0])
    assert months.sum() == pytest.approx(8760.0)


def test_power_falls_into_its_month() -> None:
    power = np.zeros(8760)
    power[31 * 24 - 1] = 500.0  # last hour of January
    power[31 * 24] = 2000.0  # first hour of February
    months = monthly_kwh(power, MONTH_OF_HOUR)
    assert months[:3] == pytest.approx([0.5, 2.0, 0.0])


def test_monthly_mean_is_by_month() -> None:
    values = MONTH_OF_HOUR.astype(float) ** 2
    assert monthly_mean(values, MONTH_OF_HOUR) == pytest.approx(np.arange(12.0) ** 2)


def test_hours_beyond_a_limit_leave_the_limit_out() -> None:
    values = np.array([25.9, 26.0, 26.1, 30.0, 17.0])
    assert hours_above(values, 26.0) == 2.0
    assert hours_below(values, 18.0) == 1.0
    assert hours_below(values, 26.0) == 2.0


def test_heating_months_hold_one_percent() -> None:
    monthly = np.array([50.0, 30.0, 10.0, 8.0, 1.0, 0.5, 0, 0, 0, 0, 0, 0.5])
    assert heating_months(monthly).tolist() == [True] * 5 + [False] * 7
    assert not heating_months(np.zeros(12)).any()


def test_fuel_by_hand() -> None:
    # 7200 kWh of heat at 72 % are 10,000 kWh of wood, two cords of 5,000
    need = fuel_need(7200.0, efficiency=0.72, kwh_per_unit=5000.0, cords_per_unit=1.0)
    assert need.delivered_kwh == pytest.approx(10_000.0)
    assert need.amount == pytest.approx(2.0)
    assert need.cords == pytest.approx(2.0)
    oil = fuel_need(900.0, efficiency=0.9, kwh_per_unit=10.0, cords_per_unit=0.0)
    assert (oil.amount, oil.cords) == pytest.approx((100.0, 0.0))
