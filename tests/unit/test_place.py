"""Coordinates, compass names and clocks."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonmark.errors import InputError
from noonmark.place.clock import civil_time, standard_offset
from noonmark.place.site import COMPASS, azimuth_name, check_coordinates, equator_azimuth


def codes(
    latitude: float, longitude: float, offset: float, altitude_m: float = 0.0
) -> list[tuple[str, str]]:
    problems = check_coordinates(
        latitude=latitude, longitude=longitude, altitude_m=altitude_m, utc_offset_h=offset
    )
    return [(problem.code, problem.path) for problem in problems]


@pytest.mark.parametrize(
    ("latitude", "longitude", "offset"),
    [
        (39.73, -105.18, -7.0),
        (-41.29, 174.78, 12.0),
        (39.47, 75.99, 8.0),  # Kashgar keeps Peking time
        (1.87, -157.4, 14.0),  # Kiritimati, beyond the date line
        (-17.8, -178.8, 12.0),  # Fiji's eastern islands
        (42.9, -8.5, 1.0),  # Santiago de Compostela
    ],
)
def test_real_places_pass(latitude: float, longitude: float, offset: float) -> None:
    assert codes(latitude, longitude, offset) == []


def test_longitude_with_the_wrong_sign_is_told_and_mended() -> None:
    (problem,) = check_coordinates(
        latitude=39.73, longitude=105.18, altitude_m=1876.0, utc_offset_h=-7.0
    )
    assert problem.code == "place.longitude_sign"
    assert problem.values["right"] == -105.18


def test_a_clock_from_elsewhere_is_not_called_a_wrong_sign() -> None:
    assert codes(39.73, -105.18, 1.0) == [("place.longitude_clock", "longitude")]


@pytest.mark.parametrize(
    ("where", "path"),
    [
        ((91.0, 0.0, 0.0, 0.0), "latitude"),
        ((0.0, 181.0, 0.0, 0.0), "longitude"),
        ((0.0, 0.0, 15.0, 0.0), "utc_offset"),
        ((0.0, 0.0, 0.0, 9000.0), "altitude"),
        ((float("nan"), 0.0, 0.0, 0.0), "latitude"),
    ],
)
def test_impossible_numbers_are_named(where: tuple[float, float, float, float], path: str) -> None:
    assert codes(*where) == [("place.out_of_range", path)]


@pytest.mark.parametrize(
    ("azimuth", "name"),
    [(0, "N"), (180, "S"), (157.5, "SSE"), (202, "SSW"), (349, "N"), (348, "NNW"), (-90, "W")],
)
def test_sixteen_names(azimuth: float, name: str) -> None:
    assert azimuth_name(azimuth) == name


@given(st.floats(-720.0, 720.0))
def test_opposite_sides_have_opposite_names(azimuth: float) -> None:
    step = COMPASS.index(azimuth_name(azimuth + 180.0)) - COMPASS.index(azimuth_name(azimuth))
    assert step % 16 in {7, 8, 9}
    centre = COMPASS.index(azimuth_name(azimuth)) * 22.5
    assert abs((azimuth - centre + 180.0) % 360.0 - 180.0) <= 11.25 + 1e-6


def test_equator_lies_south_in_the_north_and_north_in_the_south() -> None:
    assert equator_azimuth(39.7) == 180.0
    assert equator_azimuth(-41.3) == 0.0


@pytest.mark.parametrize(
    ("zone", "hours"),
    [
        ("America/Denver", -7.0),
        ("Europe/Zurich", 1.0),
        ("Europe/Dublin", 0.0),
        ("Pacific/Auckland", 12.0),
        ("Australia/Adelaide", 9.5),
        ("America/Phoenix", -7.0),
    ],
)
def test_standard_offset(zone: str, hours: float) -> None:
    assert standard_offset(zone, year=2026) == hours


@pytest.mark.parametrize(
    ("day", "zone", "offset", "clock"),
    [
        (date(2026, 12, 21), "America/Denver", -7.0, "2026-12-21 12:00"),
        (date(2026, 6, 21), "America/Denver", -7.0, "2026-06-21 13:00"),
        (date(2026, 12, 21), "Pacific/Auckland", 12.0, "2026-12-21 13:00"),
        (date(2026, 6, 21), "Pacific/Auckland", 12.0, "2026-06-21 12:00"),
    ],
)
def test_noon_of_standard_time_on_the_clock(
    day: date, zone: str, offset: float, clock: str
) -> None:
    got = civil_time(day, 12.0, zone=zone, utc_offset_h=offset)
    assert got.strftime("%Y-%m-%d %H:%M") == clock


def test_last_hour_of_the_day_in_summer_is_tomorrow_on_the_clock() -> None:
    got = civil_time(date(2026, 6, 21), 23.5, zone="America/Denver", utc_offset_h=-7.0)
    assert got.strftime("%m-%d %H:%M") == "06-22 00:30"


@pytest.mark.parametrize("name", ["America/Denvr", "", "../etc", "America", "Nowhere/\x00"])
def test_unknown_zone_is_an_input_error(name: str) -> None:
    with pytest.raises(InputError) as caught:
        standard_offset(name, year=2026)
    assert caught.value.problems[0].code == "place.unknown_zone"


def test_unknown_zone_offers_the_nearest_spelling() -> None:
    with pytest.raises(InputError) as caught:
        standard_offset("America/Denvr", year=2026)
    near = caught.value.problems[0].values["near"]
    assert isinstance(near, list)
    assert "America/Denver" in near
