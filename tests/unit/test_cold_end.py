"""The cold end of a year, against pandas on a calendar and against nights told by hand."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from numpy.typing import NDArray

from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.outcome.cold import bright_days, coldest_months, night_hours

CALENDAR = pd.date_range("2022-01-01", periods=8760, freq="h")
Floats = NDArray[np.float64]


@pytest.mark.parametrize("warmest", [0.0, 15.0, 100.0, 182.5, 300.0])
def test_coldest_months_are_those_of_a_rolling_calendar(warmest: float) -> None:
    day = np.arange(8760) / 24.0
    noise = np.random.default_rng(3).normal(0.0, 3.0, 8760)
    temperature = 10.0 * np.cos(2.0 * np.pi * (day - warmest) / 365.0) + noise
    twice = pd.Series(
        np.tile(temperature, 2), pd.date_range("2021-01-01", periods=2 * 8760, freq="h")
    )
    months = twice.resample("MS").agg(["sum", "count"]).rolling(3).sum().iloc[2:14]
    means = (months["sum"] / months["count"]).to_numpy()
    last = int(np.argmin(means)) + 2  # the rows are months from March of the first year on
    wanted = [(last - back) % 12 for back in (2, 1, 0)]
    assert coldest_months(temperature, MONTH_OF_HOUR).tolist() == wanted


def sun(rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Return some sun on the ground and above the air."""
    above = 1000.0 * np.maximum(np.sin(np.arange(8760) * 2.0 * np.pi / 24.0 - np.pi / 2.0), 0.0)
    clear = np.repeat(rng.uniform(0.1, 0.8, 365), 24)
    return clear * above, above


def test_bright_days_have_the_largest_clearness() -> None:
    ground, above = sun(np.random.default_rng(5))
    days = np.r_[0:59, 334:365]
    table = pd.DataFrame({"ground": ground, "above": above}, index=CALENDAR).resample("D").sum()
    clear = (table["ground"] / table["above"]).to_numpy()
    found = days[np.argsort(clear[days])[-9:]]
    assert bright_days(ground, above, days).tolist() == sorted(found)


def test_days_without_sun_are_no_bright_days() -> None:
    ground, above = sun(np.random.default_rng(5))
    dark = np.arange(8760) < 24 * 55
    ground, above = np.where(dark, 0.0, ground), np.where(dark, 0.0, above)
    assert bright_days(ground, above, np.arange(59)).tolist() == [55, 56, 57, 58]
    assert bright_days(ground, above, np.arange(50)).size == 0


# --- the night ----------------------------------------------------------------------------------


def days(hour: float) -> Floats:
    return np.full(365, hour)


RISE, SET = days(7.3), days(16.9)


@pytest.mark.parametrize("hour", [10 * 24 + 17, 10 * 24 + 23, 11 * 24, 11 * 24 + 6])
def test_night_goes_from_the_hour_near_sunset_to_the_hour_of_sunrise(hour: int) -> None:
    found = night_hours(hour, RISE, SET)
    assert found.tolist() == list(range(10 * 24 + 17, 11 * 24 + 8))


def test_first_hour_begins_nearest_to_the_sunset() -> None:
    assert night_hours(250, RISE, days(16.4))[0] % 24 == 16


@pytest.mark.parametrize(("hour", "first"), [(8, 17), (11, 17), (13, 41), (15, 41)])
def test_hour_of_daylight_takes_the_night_nearest(hour: int, first: int) -> None:
    """The middle of this day is 12:06; the night before it began at 17 of the day before."""
    assert night_hours(24 + hour, RISE, SET)[0] == first


@pytest.mark.parametrize("hour", [8757, 8759, 0, 7])
def test_night_goes_over_the_turn_of_the_year(hour: int) -> None:
    assert night_hours(hour, RISE, SET).tolist() == [*range(8753, 8760), *range(8)]


def test_sunset_after_midnight_belongs_to_the_night_it_begins() -> None:
    """Standard time far from the sun's: the sun sets at 24.5 h and rises at 4.2 h."""
    assert night_hours(48 + 2, days(4.2), days(24.5)).tolist() == [48, 49, 50, 51, 52]


def polar(first: int, last: int) -> tuple[Floats, Floats]:
    rise, set_ = RISE.copy(), SET.copy()
    rise[first:last] = set_[first:last] = np.nan
    return rise, set_


def test_polar_night_is_twelve_hours_either_way() -> None:
    rise, set_ = polar(20, 60)
    assert night_hours(40 * 24 + 3, rise, set_).tolist() == list(range(951, 976))
    assert night_hours(10 * 24 + 3, rise, set_)[-1] == 10 * 24 + 7
    rise, set_ = polar(0, 365)
    assert night_hours(3, rise, set_).tolist() == [*range(8751, 8760), *range(16)]


def test_midnight_sun_does_not_matter_in_winter() -> None:
    rise, set_ = polar(150, 200)
    assert night_hours(300, rise, set_).tolist() == night_hours(300, RISE, SET).tolist()
