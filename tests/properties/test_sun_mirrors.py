"""What must hold for every sun, whatever the place."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from noonmark.sun.angles import hour_angle_position, incidence_cosine, profile_angle
from noonmark.sun.irradiance import clear_sky_ghi_haurwitz, plane_irradiance
from noonmark.sun.position import rise_set_noon, solar_position
from noonmark.sun.year import HOURS, SunYear, middle_altitude, sun_year, year_start_utc

latitudes = st.floats(-89.0, 89.0)
declinations = st.floats(-23.44, 23.44)
hour_angles = st.floats(-179.0, 179.0)


def vector(altitude: NDArray[np.float64], azimuth: NDArray[np.float64]) -> NDArray[np.float64]:
    alt, azi = np.radians(altitude), np.radians(azimuth)
    return np.asarray([np.cos(alt) * np.sin(azi), np.cos(alt) * np.cos(azi), np.sin(alt)])


@given(latitudes, declinations, hour_angles)
def test_east_and_west_mirror_about_noon(lat: float, dec: float, hour: float) -> None:
    east, north, up = vector(*hour_angle_position(lat, dec, hour))
    np.testing.assert_allclose(
        vector(*hour_angle_position(lat, dec, -hour)), [-east, north, up], atol=1e-9
    )


@given(latitudes, declinations, hour_angles)
def test_hemispheres_mirror(lat: float, dec: float, hour: float) -> None:
    east, north, up = vector(*hour_angle_position(lat, dec, hour))
    np.testing.assert_allclose(
        vector(*hour_angle_position(-lat, -dec, hour)), [east, -north, up], atol=1e-9
    )


@given(st.floats(0.1, 89.0), st.floats(0.0, 360.0), st.floats(0.0, 360.0))
def test_wall_facing_the_sun_squarely_sees_its_true_height(
    altitude: float, azimuth: float, wall: float
) -> None:
    assert float(profile_angle(altitude, azimuth, azimuth)) == pytest.approx(altitude)
    assert float(profile_angle(altitude, azimuth, wall)) >= altitude - 1e-9
    behind = float(incidence_cosine(altitude, azimuth, 90.0, wall)) < 0.0
    assert (float(profile_angle(altitude, azimuth, wall)) > 90.0) == behind


@pytest.fixture(
    scope="module",
    params=[
        (39.73, -105.18, -7.0),
        (-41.3, 174.8, 12.0),
        (69.65, 18.96, 1.0),
        (-18.1, 178.4, 12.0),
    ],
    ids=["golden", "wellington", "tromso", "suva"],
)
def year(request: pytest.FixtureRequest) -> SunYear:
    latitude, longitude, offset = request.param
    return sun_year(latitude=latitude, longitude=longitude, altitude_m=0.0, utc_offset_h=offset)


def test_every_day_has_its_own_noon(year: SunYear) -> None:
    assert np.all(np.abs(np.diff(year.solar_noon_h)) < 0.02)
    assert np.all((year.solar_noon_h > 10.0) & (year.solar_noon_h < 14.0))


def test_up_hours_fit_rise_and_set(year: SunYear) -> None:
    lit = year.up_fraction.reshape(365, 24).sum(axis=1)
    length = year.sunset_h - year.sunrise_h
    # the up part counts the true centre, rise and set the seen upper limb: 0.1 h at the
    # equator, more where the sun rises at a slant
    ordinary = (length > 4.0) & (length < 20.0)
    assert np.all((length - lit)[ordinary] > 0.05)
    assert np.all((length - lit)[ordinary] < 0.8)
    without = np.isnan(length)
    assert np.all((lit[without] == 0.0) | (lit[without] > 21.0))


def test_sun_of_an_hour_is_up_when_part_of_it_is(year: SunYear) -> None:
    assert np.all(year.altitude[year.up_fraction > 0.0] > 0.0)
    assert year.altitude.shape == year.extraterrestrial.shape == (HOURS,)


def test_middle_of_the_up_part_is_found() -> None:
    where = {"latitude": 39.73, "longitude": -105.18, "altitude_m": 1876.0}
    year = sun_year(**where, utc_offset_h=-7.0)
    hour = 7
    minutes = np.asarray(
        year_start_utc(-7.0) + hour * 3600.0 + (np.arange(60) + 0.5) * 60.0, np.float64
    )
    sun = solar_position(minutes, **where)
    up = sun.altitude > 0.0
    assert year.up_fraction[hour] == pytest.approx(up.mean(), abs=0.05)
    assert year.azimuth[hour] == pytest.approx(sun.azimuth[up].mean(), abs=0.3)


@pytest.mark.parametrize("latitude", [-41.3, 0.0, 39.7, 64.8])
def test_short_formulas_stay_close_to_the_full_algorithm(latitude: float) -> None:
    middles = np.asarray(year_start_utc(-7.0) + (np.arange(HOURS) + 0.5) * 3600.0, np.float64)
    full = solar_position(middles, latitude=latitude, longitude=-105.0, altitude_m=0.0)
    short = middle_altitude(latitude=latitude, longitude=-105.0, utc_offset_h=-7.0)
    np.testing.assert_allclose(short, full.altitude, atol=0.3)


@settings(deadline=None)  # the first example loads pvlib
@given(st.floats(-66.0, 66.0), st.floats(-180.0, 180.0), st.integers(0, 364))
def test_rise_and_set_stand_on_the_horizon(lat: float, lon: float, day: int) -> None:
    midnight = np.array([year_start_utc(0.0) + day * 86400.0])
    events = rise_set_noon(midnight, latitude=lat, longitude=lon)
    if np.isnan(events.sunrise[0]):
        assert abs(lat) > 65.0
        return
    instants = np.array([events.sunrise[0], events.sunset[0]])
    sun = solar_position(instants, latitude=lat, longitude=lon, altitude_m=0.0)
    np.testing.assert_allclose(sun.altitude, -0.8333, atol=0.004)
    assert events.sunrise[0] < events.noon[0] < events.sunset[0]


@settings(deadline=None)  # the first example loads pvlib
@given(st.floats(0.0, 600.0), st.floats(0.0, 1000.0), st.floats(-20.0, 89.9), st.floats(0.0, 360.0))
def test_horizontal_plane_gets_what_falls_on_it(
    dhi: float, dni: float, altitude: float, azimuth: float
) -> None:
    plane = plane_irradiance(
        dni=np.array([dni]),
        dhi=np.array([dhi]),
        ghi=np.array([500.0]),
        albedo=0.3,
        altitude=np.array([altitude]),
        azimuth=np.array([azimuth]),
        up_fraction=np.array([float(altitude > 0.0)]),
        extraterrestrial=np.array([1367.0]),
        tilt=0.0,
        surface_azimuth=180.0,
    )
    direct = dni * max(np.sin(np.radians(altitude)), 0.0)
    assert np.isfinite(plane.total[0])
    if altitude >= 5.0 or altitude <= 0.0:
        assert plane.total[0] == pytest.approx(direct + dhi, abs=1e-6)
    assert plane.ground[0] == pytest.approx(0.0, abs=1e-12)


def test_clear_sky_follows_the_printed_formula_and_ends_at_the_horizon() -> None:
    got = clear_sky_ghi_haurwitz([0.0, 60.0, 90.0, 120.0])
    np.testing.assert_allclose(got[:2], [1098.0 * np.exp(-0.059), 549.0 * np.exp(-0.118)])
    np.testing.assert_allclose(got[2:], 0.0, atol=1e-12)
