"""Noon by the clock, shadows of equal length and walls square to the sun, against other formulas.

The other sun of these tests is pvlib's `ephemeris` and the short series of J. Meeus
(Astronomical Algorithms, 2nd ed. 1998, ch. 25 and 28, as NOAA's solar calculator has
them, from memory): neither shares code with the algorithm of the program.
"""

from __future__ import annotations

import math
import warnings
from datetime import UTC, date, datetime, time, timedelta
from functools import cache

import numpy as np
import pandas as pd
import pytest
from pvlib.solarposition import ephemeris

from designs import design, put, together
from noonmark.design import Homestead
from noonmark.place.clock import standard_offset
from noonmark.study.results.stakeout import StakeoutResult
from noonmark.study.stakeout import stakeout
from noonmark.sun.position import declination

PLACES = {
    "Golden": (39.73, -105.18, "America/Denver"),
    "Christchurch": (-43.5, 172.6, "Pacific/Auckland"),
    "Nairobi": (-1.29, 36.82, "Africa/Nairobi"),
    "Dakar": (15.0, -15.0, "Africa/Dakar"),
    "Tromso": (69.65, 18.96, "Europe/Oslo"),
    "story": (41.0, -75.2, "America/New_York"),
}
DAYS = [date(2026, 3, 20), date(2026, 6, 21), date(2026, 9, 22), date(2026, 11, 4)]


def at(place: str, *, faces: float = 180.0) -> Homestead:
    latitude, longitude, zone = PLACES[place]
    where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
    return design(together(put("place", where), put("house.faces", faces))).homestead


@cache
def staked(place: str, day: date, *, faces: float = 180.0) -> StakeoutResult:
    return stakeout(at(place, faces=faces), day)


def other_sun(place: str, instants: list[datetime]) -> pd.DataFrame:
    latitude, longitude, _ = PLACES[place]
    times = pd.DatetimeIndex([instant.astimezone(UTC) for instant in instants])
    with warnings.catch_warnings():  # pandas inside pvlib
        warnings.simplefilter("ignore", DeprecationWarning)
        warnings.simplefilter("ignore", FutureWarning)
        return pd.DataFrame(ephemeris(times, latitude, longitude, pressure=101325.0))


def series(instant: datetime) -> tuple[float, float]:
    """Return declination [deg] and equation of time [min] of Meeus' short series."""
    t = (instant.timestamp() / 86400.0 + 2440587.5 - 2451545.0) / 36525.0
    long = math.radians(280.46646 + t * (36000.76983 + 0.0003032 * t))
    anomaly = math.radians(357.52911 + t * (35999.05029 - 0.0001537 * t))
    ecc = 0.016708634 - t * (0.000042037 + 0.0000001267 * t)
    centre = (1.914602 - 0.004817 * t) * math.sin(anomaly)
    centre += 0.019993 * math.sin(2 * anomaly) + 0.000289 * math.sin(3 * anomaly)
    node = math.radians(125.04 - 1934.136 * t)
    seen = long + math.radians(centre - 0.00569 - 0.00478 * math.sin(node))
    tilt = math.radians(23.4392911 - 0.0130042 * t + 0.00256 * math.cos(node))
    y = math.tan(tilt / 2) ** 2
    equation = y * math.sin(2 * long) - 2 * ecc * math.sin(anomaly)
    equation += 4 * ecc * y * math.sin(anomaly) * math.cos(2 * long)
    equation -= 0.5 * y * y * math.sin(4 * long) + 1.25 * ecc * ecc * math.sin(2 * anomaly)
    lean = math.degrees(math.asin(math.sin(tilt) * math.sin(seen)))
    return lean, 4.0 * math.degrees(equation)


@pytest.mark.parametrize("year", range(2025, 2030))
def test_noon_of_the_story(year: int) -> None:
    """Story test: at 75.2 W on 4 November solar noon is at 11:44:30 standard time."""
    noon = staked("story", date(year, 11, 4)).noons[0].noon
    standard = noon.replace(tzinfo=None) - (noon.dst() or timedelta(0))
    assert abs(standard - datetime(year, 11, 4, 11, 44, 30)) < timedelta(seconds=15)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("day", DAYS)
def test_noon_by_the_short_series(place: str, day: date) -> None:
    longitude, zone = PLACES[place][1:]
    for shadow in staked(place, day).noons:
        equation = series(shadow.noon)[1]
        hours = 12.0 - longitude / 15.0 - equation / 60.0
        expected = datetime.combine(shadow.day, time(), UTC) + timedelta(hours=hours)
        assert abs(shadow.noon - expected) < timedelta(seconds=6)
        offset = shadow.noon.utcoffset()
        assert offset is not None
        summer = shadow.noon.dst() or timedelta(0)
        assert offset - summer == timedelta(hours=standard_offset(zone, year=day.year))


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("day", DAYS)
def test_noon_shadow_is_that_of_another_sun(place: str, day: date) -> None:
    result = staked(place, day)
    for shadow in result.noons:
        steps = [shadow.noon + timedelta(minutes=m) for m in (-0.5, 0.0, 0.5)]
        sun = other_sun(place, steps)
        altitude = float(sun["apparent_elevation"].iloc[1])
        if altitude < 3.0:
            continue  # refraction there is anybody's guess
        assert shadow.altitude_deg == pytest.approx(altitude, abs=0.03)
        assert shadow.shadow_m == pytest.approx(
            1 / math.tan(math.radians(altitude)), rel=0.02, abs=1e-3
        )
        south = abs(float(sun["azimuth"].iloc[1]) - 180.0) < 90.0
        assert shadow.shadow_to == ("north" if south else "south")
        # dA/dt = 15 deg/h cos(dec) / sin(zenith angle), at transit: plane trigonometry
        zenith = abs(PLACES[place][0] - series(shadow.noon)[0])
        rate = (
            0.25 * math.cos(math.radians(series(shadow.noon)[0])) / math.sin(math.radians(zenith))
        )
        if zenith > 2.0:
            assert shadow.turn_deg_per_min == pytest.approx(rate, rel=0.01)


@pytest.mark.parametrize("place", ["Golden", "Christchurch", "Nairobi", "story"])
@pytest.mark.parametrize("day", DAYS)
def test_shadows_of_equal_length(place: str, day: date) -> None:
    latitude = PLACES[place][0]
    result = staked(place, day)
    circle = result.circle
    assert circle is not None
    assert circle.radius_m * math.tan(math.radians(circle.altitude_deg)) == pytest.approx(1.0)
    sun = other_sun(place, [circle.morning, circle.afternoon])
    assert sun["apparent_elevation"].to_numpy() == pytest.approx(circle.altitude_deg, abs=0.03)
    ways = (sun["azimuth"].to_numpy() + 180.0) % 360.0
    assert ways == pytest.approx([circle.morning_to_deg, circle.afternoon_to_deg], abs=0.04)
    # half the change of the declination over cos(latitude) sin(hour angle): the surveyors'
    # correction of equal altitudes, from dA = d(dec) / (cos(lat) sin(t)) at a fixed altitude
    marks = np.array([circle.morning.timestamp(), circle.afternoon.timestamp()])
    change = float(np.diff(declination(marks))[0])
    turn = math.radians(float(np.diff(marks)[0]) / 480.0)
    expected = 0.5 * change / (math.cos(math.radians(latitude)) * math.sin(turn))
    # as the sun goes north the afternoon's lies further north: counter-clockwise of west
    assert circle.off_deg == pytest.approx(expected, abs=0.002)


def test_equal_shadows_err_most_at_the_equinox_and_by_brute_force() -> None:
    off = {day: staked("Golden", day).circle for day in DAYS}
    sizes = {day: abs(circle.off_deg) for day, circle in off.items() if circle}
    assert max(sizes, key=lambda day: sizes[day]) in (DAYS[0], DAYS[2])
    assert sizes[DAYS[1]] < 0.003
    for day in DAYS:
        circle = off[day]
        assert circle is not None
        noon = staked("Golden", day).noons[0].noon
        seconds = np.arange(600, 5 * 3600)
        halves = []
        for sign in (-1, 1):
            stamps = [noon + timedelta(seconds=int(sign * s)) for s in seconds[::4]]
            sun = other_sun("Golden", stamps)
            halves.append(
                np.interp(-circle.altitude_deg, -sun["apparent_elevation"], sun["azimuth"])
            )
        mean = 0.5 * (halves[0] + halves[1]) - 180.0
        assert circle.off_deg == pytest.approx(mean, abs=0.006)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("faces", [20.0, 151.0, 180.0, 204.0, 290.0])
def test_sun_stands_square_to_walls_when_said(place: str, faces: float) -> None:
    found = 0
    for day in DAYS:
        result = staked(place, day, faces=faces)
        for item in result.buildings[0].directions:
            for instant in item.sun_square:
                sun = other_sun(place, [instant])
                aside = float(sun["azimuth"].iloc[0]) - item.azimuth_deg
                noon_near = abs(float(sun["elevation"].iloc[0])) > 80.0
                assert abs((aside + 180.0) % 360.0 - 180.0) < (0.5 if noon_near else 0.05)
                assert instant.date() == day
                found += 1
    assert found > 8


def test_walls_the_sun_never_stands_square_to() -> None:
    """At the equinox it passes no azimuth north of east and west, outside the tropics."""
    by_wall = {d.wall: d for d in staked("Golden", date(2026, 12, 21)).buildings[0].directions}
    assert not by_wall["back"].sun_square
    assert not by_wall["left"].sun_square
    assert by_wall["sunny"].sun_square
    south = staked("Christchurch", date(2026, 6, 21), faces=0.0).buildings[0].directions
    by_wall = {item.wall: item for item in south if item.part == "wall"}
    assert by_wall["sunny"].sun_square
    assert not by_wall["back"].sun_square
    # where it culminates past the zenith it turns back at sin(azimuth) = cos(dec) / cos(lat),
    # 72.3 deg here, after it rose at cos(azimuth) = sin(dec) / cos(lat), 65.7 deg
    for faces, times in ((60.0, 1), (70.0, 2), (74.0, 0)):
        turned = staked("Dakar", date(2026, 6, 21), faces=faces).buildings[0].directions
        assert [len(d.sun_square) for d in turned if d.wall == "sunny"] == [times]


def test_no_sun_above_the_circle_and_all_day_sun() -> None:
    dark = staked("Tromso", date(2026, 12, 10))
    assert dark.circle is None
    assert {noon.use for noon in dark.noons} == {"dark"}
    assert all(noon.shadow_m is None and noon.day_length_h == 0.0 for noon in dark.noons)
    assert not any(item.sun_square for item in dark.buildings[0].directions)
    light = staked("Tromso", date(2026, 6, 21))
    assert light.noons[0].day_length_h == 24.0
    assert all(
        len(item.sun_square) == 1 for item in light.buildings[0].directions if item.part == "wall"
    )


def test_tropics_say_whither_the_shadow_falls() -> None:
    assert staked("Nairobi", date(2026, 6, 21)).noons[0].shadow_to == "south"
    assert staked("Nairobi", date(2026, 12, 21)).noons[0].shadow_to == "north"
    assert staked("Nairobi", date(2026, 3, 20)).noons[0].use == "overhead"
    assert staked("Christchurch", date(2026, 6, 21)).noons[0].shadow_to == "south"
    assert staked("Golden", date(2026, 6, 21)).noons[0].shadow_to == "north"
