"""Sun angles against the worked examples of the solar position algorithm and of a textbook."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from noonmark.sun.angles import (
    extraterrestrial_normal,
    half_day_arc,
    hour_angle_position,
    incidence_cosine,
    profile_angle,
    spencer_declination,
    spencer_equation_of_time,
)
from noonmark.sun.irradiance import plane_irradiance
from noonmark.sun.position import declination, rise_set_noon, solar_position

pytestmark = pytest.mark.validation

Record = Callable[..., None]
TOPIC = "sun"
SPA = "Reda & Andreas, NREL/TP-560-34302, appendix A.5"
NOAA = "NOAA solar-calculation spreadsheet, its own example"
BOOK = "Duffie & Beckman, Solar Engineering of Thermal Processes"


def incidence_deg(altitude: Any, azimuth: Any, tilt: float, facing: float) -> Any:
    return np.degrees(np.arccos(incidence_cosine(altitude, azimuth, tilt, facing)))


def utc(year: int, month: int, day: int, hour: int = 0, minute: int = 0, second: int = 0) -> Any:
    return np.array([datetime(year, month, day, hour, minute, second, tzinfo=UTC).timestamp()])


def clock(text: str) -> float:
    hours, minutes, seconds = (int(part) for part in text.split(":"))
    return hours * 3600.0 + minutes * 60.0 + seconds


GOLDEN = {"latitude": 39.742476, "longitude": -105.1786}


@pytest.mark.parametrize(
    ("name", "expected", "tol"),
    [
        ("zenith_deg", 50.11162, 0.0003),
        ("azimuth_deg_from_north", 194.34024, 0.0003),
        ("incidence_deg", 25.18700, 0.0003),
        ("elevation_unrefracted_deg", 39.872046, 0.0003),
        ("declination_geocentric_deg", -9.31434, 0.0003),
        ("equation_of_time_min", 14.6415, 0.001),
    ],
)
def test_spa_worked_example(record: Record, name: str, expected: float, tol: float) -> None:
    when = utc(2003, 10, 17, 19, 30, 30)
    sun = solar_position(
        when, **GOLDEN, altitude_m=1830.14, pressure_pa=82000.0, temperature_c=11.0, delta_t_s=67.0
    )
    got = {
        "zenith_deg": 90.0 - sun.apparent_altitude,
        "azimuth_deg_from_north": sun.azimuth,
        "incidence_deg": incidence_deg(sun.apparent_altitude, sun.azimuth, 30.0, 180.0 - 10.0),
        "elevation_unrefracted_deg": sun.altitude,
        "declination_geocentric_deg": declination(when, delta_t_s=67.0),
        "equation_of_time_min": sun.equation_of_time_min,
    }[name]
    record(
        f"SPA_worked_example.{name}",
        TOPIC,
        SPA,
        "verified-in-text",
        expected=expected,
        got=float(got[0]),
        tol=tol,
    )


# The algorithm takes its events from one UTC day. West of Greenwich the sunset of 17 October UTC
# (00:20) is the evening of the 16th at the place; the printed clock time belongs to that evening.


@pytest.mark.parametrize(
    ("name", "day", "expected"),
    [("sunrise", 17, "06:12:43"), ("sunset", 16, "17:20:19"), ("noon", 17, "11:46:05")],
)
def test_spa_rise_set(record: Record, name: str, day: int, expected: str) -> None:
    events = rise_set_noon(utc(2003, 10, day), **GOLDEN, delta_t_s=67.0)
    got = float(getattr(events, name)[0] - utc(2003, 10, day, 7)[0])
    record(
        f"SPA_worked_example.{name}_s",
        TOPIC,
        SPA,
        "verified-in-text",
        expected=clock(expected),
        got=got,
        tol=1.0,
    )


@pytest.mark.parametrize(
    ("name", "day", "expected"),
    [("noon", 21, "13:01:50"), ("sunrise", 21, "05:31:19"), ("sunset", 20, "20:32:07")],
)
def test_noaa_day(record: Record, name: str, day: int, expected: str) -> None:
    # by the full algorithm; the sheet's short formulas differ by up to 11 s
    events = rise_set_noon(utc(2010, 6, day), latitude=40.0, longitude=-105.0)
    got = float(getattr(events, name)[0] - utc(2010, 6, day, 6)[0])
    record(
        f"NOAA_day.{name}_s", TOPIC, NOAA, "computed", expected=clock(expected), got=got, tol=1.0
    )


def test_noaa_declination_and_equation_of_time(record: Record) -> None:
    when = utc(2010, 6, 21, 6, 6)
    sun = solar_position(when, latitude=40.0, longitude=-105.0, altitude_m=0.0)
    for name, expected, got, tol in (
        ("declination_deg", 23.43837, declination(when), 0.001),
        ("equation_of_time_min", -1.7154, sun.equation_of_time_min, 0.05),
        (
            "hour_angle_sunrise_deg",
            112.6104,
            half_day_arc(40.0, declination(when), horizon=-0.833),
            0.002,
        ),
    ):
        record(
            f"NOAA_day.{name}",
            TOPIC,
            NOAA,
            "computed",
            expected=expected,
            got=float(got[0]),
            tol=tol,
        )


@pytest.mark.parametrize(
    ("lat", "dec", "geometric", "refracted"),
    [
        (40, -23.44, 9.155, 9.324),
        (40, 23.44, 14.845, 15.015),
        (47, -23.44, 8.306, 8.505),
        (47, 23.44, 15.694, 15.896),
        (60, -23.44, 5.510, 5.867),
        (60, 23.44, 18.490, 18.867),
    ],
)
def test_day_length(
    record: Record, lat: float, dec: float, geometric: float, refracted: float
) -> None:
    for name, expected, horizon in (
        ("geometric", geometric, 0.0),
        ("refracted", refracted, -0.833),
    ):
        got = float(half_day_arc(lat, dec, horizon=horizon)) * 2.0 / 15.0
        record(
            f"day_length_h.{lat}N_{dec}.{name}",
            TOPIC,
            "sunset hour angle, horizon at 0 and -0.833 deg",
            "computed",
            expected=expected,
            got=got,
            tol=0.002,
        )


@pytest.mark.parametrize(
    ("lat", "lon", "zone", "day", "rise", "noon", "set_"),
    [
        (46.5, 11.35, "Europe/Rome", "2026-12-21", "07:55:23", "12:12:39", "16:29:54"),
        (47.37, 8.54, "Europe/Zurich", "2026-06-21", "05:29:04", "13:27:39", "21:26:14"),
        (39.74, -105.18, "America/Denver", "2026-12-21", "07:18:17", "11:58:56", "16:39:34"),
    ],
)
def test_rise_set_more(
    record: Record, lat: float, lon: float, zone: str, day: str, rise: str, noon: str, set_: str
) -> None:
    when = date.fromisoformat(day)
    events = rise_set_noon(utc(when.year, when.month, when.day), latitude=lat, longitude=lon)
    midnight = datetime(when.year, when.month, when.day, tzinfo=ZoneInfo(zone)).timestamp()
    for name, expected in (("sunrise", rise), ("noon", noon), ("sunset", set_)):
        record(
            f"rise_set_more.{zone}.{day}.{name}_s",
            TOPIC,
            "pvlib, full algorithm",
            "computed",
            expected=clock(expected),
            got=float(getattr(events, name)[0]) - midnight,
            tol=30.0,
        )


MEAN_DAYS = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344]
SPENCER_DEG = [-20.90, -12.61, -2.04, 9.48, 18.67, 23.04, 21.35, 13.99, 3.34, -8.22, -18.04, -22.84]
SPENCER_MIN = [-9.33, -14.24, -9.36, -0.24, 3.94, 0.81, -6.01, -4.69, 4.64, 14.41, 15.33, 7.14]


@pytest.mark.parametrize(
    ("day", "degrees", "minutes"), list(zip(MEAN_DAYS, SPENCER_DEG, SPENCER_MIN, strict=True))
)
def test_spencer_on_mean_days(record: Record, day: int, degrees: float, minutes: float) -> None:
    for name, expected, got in (
        ("spencer_deg", degrees, spencer_declination(day)),
        ("spencer_eot_min", minutes, spencer_equation_of_time(day)),
    ):
        record(
            f"declination_mean_days.{day}.{name}",
            TOPIC,
            "Spencer 1971, as printed in Duffie & Beckman 1.5.3 and 1.6.1b",
            "computed",
            expected=expected,
            got=float(got),
            tol=0.01,
        )


def test_solar_time_in_madison(record: Record) -> None:
    # 3 February, 10:30 standard time on the meridian 90 W, longitude 89.4 W
    ahead = float(spencer_equation_of_time(34))
    solar_minutes = 10.0 * 60.0 + 30.0 + 4.0 * (90.0 - 89.4) + ahead
    for name, expected, got in (
        ("E_min", -13.49, ahead),
        ("solar_time_min", 10.0 * 60.0 + 18.9, solar_minutes),
    ):
        record(
            f"DB_solar_time.{name}",
            TOPIC,
            f"{BOOK}, example 1.5.1",
            "computed",
            expected=expected,
            got=got,
            tol=0.05,
        )


def test_incidence(record: Record) -> None:
    for id_, latitude, theta, tol in (
        ("DB_incidence", 43.0, 35.18, 0.01),
        ("DB_incidence_variant", 38.54, 33.696, 0.001),
    ):
        sun = hour_angle_position(latitude, -14.0, -22.5)
        record(
            f"{id_}.theta_deg",
            TOPIC,
            f"{BOOK}, example 1.6.1",
            "computed",
            expected=theta,
            got=float(incidence_deg(*sun, 45.0, 180.0 + 15.0)),
            tol=tol,
        )


@pytest.mark.parametrize(
    ("id_", "lat", "dec", "omega", "tilt", "azimuth", "expected"),
    [
        ("DB_incidence.Rb", 43.0, -14.0, -22.5, 45.0, 195.0, 1.666),
        ("DB_Rb_hour.Rb", 40.0, -13.0, -37.5, 30.0, 180.0, 1.614),
    ],
)
def test_beam_ratio(
    record: Record,
    id_: str,
    lat: float,
    dec: float,
    omega: float,
    tilt: float,
    azimuth: float,
    expected: float,
) -> None:
    altitude, sun_azimuth = hour_angle_position(lat, dec, omega)
    got = incidence_cosine(altitude, sun_azimuth, tilt, azimuth) / np.sin(np.radians(altitude))
    record(
        id_,
        TOPIC,
        f"{BOOK}, examples 1.8.1 and 1.8.2",
        "computed",
        expected=expected,
        got=float(got),
        tol=0.001,
    )


@pytest.mark.parametrize(
    ("dec", "omega", "zenith", "from_south"),
    [(-14.0, -37.5, 66.547, -40.081), (23.1, 97.5, 79.644, 112.020)],
)
def test_sun_position(
    record: Record, dec: float, omega: float, zenith: float, from_south: float
) -> None:
    altitude, azimuth = hour_angle_position(43.0, dec, omega)
    for name, expected, got in (
        ("zenith", zenith, 90.0 - altitude),
        ("azimuth", from_south, azimuth - 180.0),
    ):
        record(
            f"DB_sun_position.{omega}.{name}",
            TOPIC,
            f"{BOOK}, example 1.6.2",
            "computed",
            expected=expected,
            got=float(got),
            tol=0.001,
        )


def test_profile_angle(record: Record) -> None:
    altitude, azimuth = hour_angle_position(43.0, -2.4, 60.0)
    for name, expected, got, tol in (
        ("sunset_hour_angle_deg", 87.8, half_day_arc(43.0, -2.4), 0.05),
        ("altitude_deg", 19.68, altitude, 0.01),
        ("azimuth_deg", 66.77, azimuth - 180.0, 0.01),
        ("profile_angle_deg", 25.6, profile_angle(altitude, azimuth, 180.0 + 25.0), 0.1),
    ):
        record(
            f"DB_profile_angle.{name}",
            TOPIC,
            f"{BOOK}, chapter 1.7",
            "computed",
            expected=expected,
            got=float(got),
            tol=tol,
        )


def horizontal_MJ(  # noqa: N802
    latitude: float, dec: float, day: int, start_h: float, stop_h: float
) -> float:
    edges = np.linspace(start_h, stop_h, 2001)
    hours = (edges[:-1] + edges[1:]) / 2.0
    altitude, _ = hour_angle_position(latitude, dec, (hours - 12.0) * 15.0)
    up = np.maximum(np.sin(np.radians(altitude)), 0.0)
    return float(extraterrestrial_normal(day) * up.mean() * (stop_h - start_h) * 3600.0 / 1e6)


def test_above_the_air(record: Record) -> None:
    # declination 9.41 deg as in the book; its simpler distance formula differs by 0.3 %
    for name, expected, got in (
        ("H0", 33.775, horizontal_MJ(43.0, 9.41, 105, 0.0, 24.0)),
        ("I0_10_11", 3.790, horizontal_MJ(43.0, 9.41, 105, 10.0, 11.0)),
    ):
        record(
            f"DB_H0_I0.{name}_MJ_m2",
            TOPIC,
            f"{BOOK}, examples 1.10.1 and 1.10.3",
            "computed",
            expected=expected,
            got=got,
            tol=0.004 * expected,
        )


COOPER_DEG = [-20.92, -12.95, -2.42, 9.41, 18.79, 23.09, 21.18, 13.45, 2.22, -9.60, -18.91, -23.05]
H0_40 = [15.2, 20.5, 27.4, 34.6, 39.7, 41.8, 40.7, 36.5, 30.0, 22.5, 16.4, 13.8]
H0_60 = [3.4, 8.5, 16.8, 27.5, 36.6, 41.0, 38.9, 31.0, 20.6, 10.9, 4.5, 2.3]


@pytest.mark.parametrize(("latitude", "row"), [(40.0, H0_40), (60.0, H0_60)])
def test_daily_table_above_the_air(record: Record, latitude: float, row: list[float]) -> None:
    for day, dec, expected in zip(MEAN_DAYS, COOPER_DEG, row, strict=True):
        record(
            f"H0_table_MJ_m2.{latitude:.0f}N.{day}",
            TOPIC,
            f"{BOOK}, table 1.10.1",
            "computed",
            expected=expected,
            got=horizontal_MJ(latitude, dec, day, 0.0, 24.0),
            tol=0.2,
        )


MJ_PER_HOUR = 1e6 / 3600.0


def test_tilted_hour(record: Record) -> None:
    # 40 N, 9-10 h on 20 February, I 1.04 MJ/m2, of it 0.796 diffuse; slope 60 south, albedo 0.60
    dec = 23.45 * np.sin(np.radians(360.0 * (284 + 51) / 365.0))
    altitude, azimuth = (
        np.atleast_1d(angle) for angle in hour_angle_position(40.0, float(dec), -37.5)
    )
    ghi, dhi = np.array([1.04 * MJ_PER_HOUR]), np.array([0.796 * MJ_PER_HOUR])
    plane = plane_irradiance(
        dni=(ghi - dhi) / np.sin(np.radians(altitude)),
        dhi=dhi,
        ghi=ghi,
        albedo=0.60,
        altitude=altitude,
        azimuth=azimuth,
        up_fraction=np.ones(1),
        extraterrestrial=extraterrestrial_normal(np.array([51])),
        tilt=60.0,
        surface_azimuth=180.0,
    )
    rows = {
        "tilted_hour_isotropic.beam": (0.418, plane.beam),
        "tilted_hour_isotropic.diffuse": (0.597, dhi * (1.0 + np.cos(np.radians(60.0))) / 2.0),
        "tilted_hour_isotropic.ground": (0.156, plane.ground),
        "tilted_hour_Perez1990.isotropic": (0.4445, plane.dome),
        "tilted_hour_Perez1990.circumsolar": (0.3485, plane.circumsolar),
        "tilted_hour_Perez1990.sky_diffuse": (
            0.7965,
            plane.dome + plane.circumsolar + plane.horizon,
        ),
        "tilted_hour_Perez1990.total": (1.370, plane.total),
    }
    for id_, (expected, got) in rows.items():
        record(
            id_,
            TOPIC,
            f"{BOOK}, examples 2.15.1 and 2.16.2",
            "computed",
            expected=expected,
            got=float(got[0]) / MJ_PER_HOUR,
            tol=0.005 * expected,
        )


PEREZ_LIMITS = [1.000, 1.065, 1.230, 1.500, 1.950, 2.800, 4.500, 6.200]
PEREZ_F1 = [
    (-0.008, 0.588, -0.062),
    (0.130, 0.683, -0.151),
    (0.330, 0.487, -0.221),
    (0.568, 0.187, -0.295),
    (0.873, -0.392, -0.362),
    (1.132, -1.237, -0.412),
    (1.060, -1.600, -0.359),
    (0.678, -0.327, -0.250),
]
PEREZ_F2 = [
    (-0.060, 0.072, -0.022),
    (-0.019, 0.066, -0.029),
    (0.055, -0.064, -0.026),
    (0.109, -0.152, -0.014),
    (0.226, -0.462, 0.001),
    (0.288, -0.823, 0.056),
    (0.264, -1.127, 0.131),
    (0.156, -1.377, 0.251),
]


@pytest.mark.parametrize("row", range(8))
def test_perez_1990_coefficients(record: Record, row: int) -> None:
    """Rebuild circumsolar and horizon light on a wall from the printed table."""
    zenith, dhi, io = 50.0, 120.0, 1367.0
    cubed = 1.041 * np.radians(zenith) ** 3
    clearness = PEREZ_LIMITS[row] + 0.03
    dni = dhi * (clearness * (1.0 + cubed) - cubed - 1.0)
    airmass = 1.0 / (
        np.cos(np.radians(zenith)) + 0.50572 * (96.07995 - zenith) ** -1.6364
    )  # Kasten & Young 1989
    terms = np.array([1.0, dhi * airmass / io, np.radians(zenith)])
    plane = plane_irradiance(
        dni=np.array([dni]),
        dhi=np.array([dhi]),
        ghi=np.array([0.0]),
        albedo=0.0,
        altitude=np.array([90.0 - zenith]),
        azimuth=np.array([180.0]),
        up_fraction=np.ones(1),
        extraterrestrial=np.array([io]),
        tilt=90.0,
        surface_azimuth=180.0,
    )
    bright = max(float(terms @ PEREZ_F1[row]), 0.0)
    for name, expected, got in (
        ("F1", bright, plane.circumsolar / dhi / np.tan(np.radians(zenith))),
        ("F2", float(terms @ PEREZ_F2[row]), plane.horizon / dhi),
    ):
        record(
            f"Perez_1990_coefficients.{PEREZ_LIMITS[row]:.3f}.{name}",
            TOPIC,
            "Perez et al. 1990, doi:10.1016/0038-092X(90)90055-H, table 1",
            "verified-in-text",
            expected=expected,
            got=float(got[0]),
            tol=1e-3,
        )
