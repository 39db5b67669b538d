"""Sky, cloud, wind and the yearly wave in cases that can be worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from noonmark.climate.ambient import (
    OPEN,
    annual_wave,
    cloud_cover_from_radiation,
    filled_albedo,
    sky_temperature,
    wind_at_height,
)
from noonmark.errors import InputError

HOUR = np.arange(8760) + 0.5


def test_low_cloud_warms_the_sky_towards_the_air() -> None:
    clear, half, full = sky_temperature(0.0, -5.0, [0.0, 0.5, 1.0], 100_000.0)
    assert clear < half < full < 0.0
    emissivity = 1.0 - (1.0 - 0.684825) * (1.0 - np.exp(-2.0 / 8.2))
    assert full == pytest.approx(273.15 * emissivity**0.25 - 273.15, abs=1e-6)


def test_thin_air_cools_the_sky() -> None:
    sea, mountain = sky_temperature(0.0, -5.0, 0.0, [100_000.0, 80_000.0])
    assert mountain - sea == pytest.approx(-0.024 / 4.0 / 0.684825 * 248.5, abs=0.1)


@pytest.mark.parametrize("cover", [0.0, 0.25, 0.5, 1.0])
def test_cloud_cover_comes_back(cover: float) -> None:
    clear = np.full(24, 600.0)
    ghi = clear * (1.0 - 0.75 * cover**3.4)
    np.testing.assert_allclose(cloud_cover_from_radiation(ghi, clear), cover, atol=1e-9)


def test_night_takes_the_cover_between_dusk_and_dawn() -> None:
    clear = np.array([500.0, 0.0, 0.0, 0.0, 500.0, 500.0])
    ghi = clear * np.array([1.0, 0.0, 0.0, 0.0, 0.25, 0.25])
    np.testing.assert_allclose(
        cloud_cover_from_radiation(ghi, clear), [0.0, 0.25, 0.5, 0.75, 1.0, 1.0]
    )


def test_more_sun_than_clear_is_a_clear_sky() -> None:
    np.testing.assert_array_equal(
        cloud_cover_from_radiation(np.full(3, 900.0), np.full(3, 800.0)), 0.0
    )


def test_no_sun_at_all_is_said() -> None:
    with pytest.raises(InputError, match="no_sun"):
        cloud_cover_from_radiation(np.zeros(24), np.zeros(24))


def test_wind_on_an_open_site_at_the_mast_is_the_masts() -> None:
    same = wind_at_height([0.0, 5.0], measured_height=10.0, height=10.0, site=OPEN)
    np.testing.assert_allclose(same, [0.0, 5.0])


def test_wind_among_houses() -> None:
    got = wind_at_height(4.0, measured_height=10.0, height=3.0)
    assert float(got) == pytest.approx(4.0 * (270 / 10) ** 0.14 * (3 / 370) ** 0.22)
    assert float(wind_at_height(4.0, measured_height=2.0, height=3.0)) > float(got)


@pytest.mark.parametrize("coldest", [20.0, 200.0, 364.5])
def test_wave_comes_back_in_both_hemispheres(coldest: float) -> None:
    days = HOUR / 24.0 + 1.0
    daily_swing = 5.0 * np.sin(2.0 * np.pi * HOUR / 24.0)
    temperature = 9.0 - 12.0 * np.cos(2.0 * np.pi * (days - coldest) / 365.0) + daily_swing
    wave = annual_wave(temperature)
    assert wave == pytest.approx((9.0, 12.0, coldest), abs=1e-6)


def test_albedo_is_filled_only_where_missing() -> None:
    np.testing.assert_array_equal(filled_albedo(np.array([0.7, np.nan])), [0.7, 0.2])
    np.testing.assert_array_equal(filled_albedo(np.array([np.nan]), default=0.3), [0.3])
