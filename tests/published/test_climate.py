"""Weather years against what was counted independently from the same files."""

from __future__ import annotations

import csv
from collections.abc import Callable

import numpy as np
import pytest

from noonmark.climate.ambient import sky_temperature
from noonmark.climate.closure import radiation_closure, stamp_shift
from noonmark.climate.shipped import read_shipped
from noonmark.climate.tmy3 import read_tmy3
from noonmark.climate.year import REQUIRED, WeatherYear
from noonmark.sun.irradiance import plane_irradiance
from noonmark.sun.year import SunYear, sun_year
from weather_samples import denver_file, shared_file

pytestmark = pytest.mark.validation

Record = Callable[..., None]
TOPIC = "climate"
OURS = {*REQUIRED, "albedo"}
DENVER = "TMY3 725650 (Denver International), counted from the hourly rows"


def sun_of(weather: WeatherYear) -> SunYear:
    return sun_year(
        latitude=weather.latitude,
        longitude=weather.longitude,
        altitude_m=weather.altitude_m,
        utc_offset_h=weather.utc_offset_h,
    )


@pytest.fixture(scope="module")
def denver() -> WeatherYear:
    return read_tmy3(denver_file())


def test_shipped_year_closes(record: Record) -> None:
    golden = read_shipped("golden")
    record(
        "radiation_closure.golden",
        TOPIC,
        "NSRDB PSM v4 for Golden; dni cos z + dhi over ghi",
        "computed",
        expected=0.99994,
        got=radiation_closure(golden, sun_of(golden)),
        tol=0.001,
    )
    assert stamp_shift(golden) == 0.0


def test_shipped_year_is_the_providers_table() -> None:
    with shared_file("climate/psm4_golden.csv", "satellite year of Golden").open() as file:
        rows = list(csv.DictReader(file))
    theirs = {
        name: np.array([float(row[name]) for row in rows]) for name in rows[0] if name in OURS
    }
    golden = read_shipped("golden")
    np.testing.assert_allclose(golden.pressure, theirs["pressure"] * 100.0, atol=1e-6)
    for name in OURS - {"pressure"}:
        np.testing.assert_allclose(getattr(golden, name), theirs[name], atol=1e-6, err_msg=name)


def test_denver_closes(record: Record, denver: WeatherYear) -> None:
    record(
        "radiation_closure.denver",
        TOPIC,
        DENVER,
        "computed",
        expected=1.0010,
        got=radiation_closure(denver, sun_of(denver)),
        tol=0.001,
    )


def test_denver_sums_and_means(record: Record, denver: WeatherYear) -> None:
    rows = {
        "mean_dry_bulb_C": (10.88, denver.temp_air.mean(), 0.01),
        "min_dry_bulb_C": (-19.4, denver.temp_air.min(), 0.05),
        "max_dry_bulb_C": (40.0, denver.temp_air.max(), 0.05),
        "ghi_kWh_m2": (1670.2, denver.ghi.sum() / 1e3, 0.1),
        "dni_kWh_m2": (1977.6, denver.dni.sum() / 1e3, 0.1),
        "dhi_kWh_m2": (556.5, denver.dhi.sum() / 1e3, 0.1),
        "mean_wind_m_s": (3.92, denver.wind_speed.mean(), 0.01),
    }
    for name, (expected, got, tol) in rows.items():
        record(
            f"weather_2020.{name}",
            TOPIC,
            DENVER,
            "verified-in-text",
            expected=expected,
            got=float(got),
            tol=tol,
        )


@pytest.mark.parametrize(
    ("side", "tilt", "azimuth", "expected"),
    [
        ("horizontal", 0.0, 180.0, 1672.0),
        ("south", 90.0, 180.0, 1369.0),
        ("north", 90.0, 0.0, 435.0),
        ("east", 90.0, 90.0, 1060.0),
        ("west", 90.0, 270.0, 968.0),
    ],
)
def test_incident_radiation(
    record: Record, denver: WeatherYear, side: str, tilt: float, azimuth: float, expected: float
) -> None:
    sun = sun_of(denver)
    plane = plane_irradiance(
        dni=denver.dni,
        dhi=denver.dhi,
        ghi=denver.ghi,
        albedo=0.2,
        altitude=sun.altitude,
        azimuth=sun.azimuth,
        up_fraction=sun.up_fraction,
        extraterrestrial=sun.extraterrestrial,
        tilt=tilt,
        surface_azimuth=azimuth,
    )
    record(
        f"incident_{side}",
        TOPIC,
        "independent trial, Perez sky, albedo 0.2, kWh/m2 a year",
        "computed",
        expected=expected,
        got=float(plane.total.sum()) / 1e3,
        tol=0.015 * expected,
    )


def test_sky_temperature(record: Record) -> None:
    record(
        "misc_physics.sky_T_berdahl_martin_0C_dew_m5",
        TOPIC,
        "Berdahl & Martin 1984, doi:10.1016/0038-092X(84)90144-0",
        "computed",
        expected=-24.67,
        got=float(sky_temperature(0.0, -5.0, 0.0, 100_000.0)),
        tol=0.01,
    )
