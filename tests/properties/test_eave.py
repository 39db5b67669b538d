"""Sun under an eave against polygons, and its mirrors."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from eaves import dome_view_factor, sunlit_fraction
from noonmark.errors import PhysicsError
from noonmark.shading.view import ground_view_factor, sky_view_factor

lengths = st.floats(0.1, 6.0)
ends = st.floats(0.0, 4.0)
turns = st.floats(-85.0, 85.0)
altitudes = st.floats(1.0, 88.0)
walls = st.floats(0.0, 360.0)
WINDOW = {"width": 3.0, "height": 2.0, "gap": 0.5, "eave_projection": 1.0}


def lit(altitude: float, turn: float, wall: float = 180.0, **geometry: float) -> float:
    return float(sunlit_fraction(altitude, wall + turn, wall_azimuth=wall, **geometry))


def lit_by_polygons(
    altitude: float,
    azimuth: float,
    wall: float,
    *,
    width: float,
    height: float,
    gap: float,
    eave_projection: float,
    left_extension: float,
    right_extension: float,
) -> float:
    """Throw the plate's corners along the sun's rays onto the wall plane.

    Worked in east, north, up, so that left and right come from the compass.
    """
    alt, azi, facing = np.radians([altitude, azimuth, wall])
    to_sun = np.array([np.cos(alt) * np.sin(azi), np.cos(alt) * np.cos(azi), np.sin(alt)])
    out = np.array([np.sin(facing), np.cos(facing), 0.0])
    right = np.array([np.cos(facing), -np.sin(facing), 0.0])  # of somebody who looks out
    up = np.array([0.0, 0.0, 1.0])
    plate = []
    for along, away in (
        (-left_extension, 0.0),
        (width + right_extension, 0.0),
        (width + right_extension, eave_projection),
        (-left_extension, eave_projection),
    ):
        corner = along * right + away * out
        on_wall = corner - to_sun * (corner @ out) / (to_sun @ out)
        plate.append((float(on_wall @ right), float(on_wall @ up)))
    window = box(0.0, -gap - height, width, -gap)
    return 1.0 - float(Polygon(plate).intersection(window).area / window.area)


@settings(deadline=None)  # the first call may compile
@given(altitudes, turns, walls, lengths, lengths, ends, st.floats(0.05, 3.0), ends, ends)
def test_sun_under_an_eave_is_that_of_polygons(
    altitude: float,
    turn: float,
    wall: float,
    width: float,
    height: float,
    gap: float,
    projection: float,
    left: float,
    right: float,
) -> None:
    geometry = {
        "width": width,
        "height": height,
        "gap": gap,
        "eave_projection": projection,
        "left_extension": left,
        "right_extension": right,
    }
    expected = lit_by_polygons(altitude, wall + turn, wall, **geometry)
    assert lit(altitude, turn, wall, **geometry) == pytest.approx(expected, abs=1e-6)


@given(altitudes, turns, lengths, lengths, ends, st.floats(0.0, 3.0), ends, ends)
def test_east_and_west_mirror(
    altitude: float,
    turn: float,
    width: float,
    height: float,
    gap: float,
    projection: float,
    left: float,
    right: float,
) -> None:
    same = {"width": width, "height": height, "gap": gap, "eave_projection": projection}
    afternoon = lit(altitude, turn, **same, left_extension=left, right_extension=right)
    morning = lit(altitude, -turn, **same, left_extension=right, right_extension=left)
    assert afternoon == pytest.approx(morning, abs=1e-9)


def test_afternoon_sun_feels_only_the_western_end() -> None:
    # looking out of a south wall, west is on the right
    none = lit(45.0, 45.0, **WINDOW, left_extension=0.0, right_extension=0.0)
    west = lit(45.0, 45.0, **WINDOW, left_extension=0.0, right_extension=2.0)
    east = lit(45.0, 45.0, **WINDOW, left_extension=2.0, right_extension=0.0)
    assert west < none
    assert east == none


@given(altitudes, turns, ends)
def test_a_longer_end_never_lets_in_more_sun(altitude: float, turn: float, end: float) -> None:
    short = lit(altitude, turn, **WINDOW, left_extension=end, right_extension=end)
    long = lit(altitude, turn, **WINDOW, left_extension=end + 1.0, right_extension=end + 1.0)
    endless = lit(altitude, turn, **WINDOW)
    assert endless - 1e-12 <= long <= short + 1e-12


def test_an_endless_end_is_the_limit_of_a_long_one() -> None:
    long = lit(45.0, 45.0, **WINDOW, left_extension=1e6, right_extension=1e6)
    assert lit(45.0, 45.0, **WINDOW) == pytest.approx(long, abs=1e-9)


@pytest.mark.parametrize(("altitude", "azimuth"), [(-5.0, 180.0), (30.0, 0.0), (30.0, 270.0)])
def test_no_sun_from_below_or_behind(altitude: float, azimuth: float) -> None:
    assert float(sunlit_fraction(altitude, azimuth, wall_azimuth=180.0, **WINDOW)) == 0.0


def test_no_eave_no_shade_and_shapes_broadcast() -> None:
    open_window = WINDOW | {"eave_projection": 0.0}
    got = sunlit_fraction(
        np.array([[10.0], [60.0]]), np.array([120.0, 180.0]), wall_azimuth=180.0, **open_window
    )
    np.testing.assert_array_equal(got, np.ones((2, 2)))


@given(lengths, lengths, ends, st.floats(0.05, 3.0))
def test_endless_eave_dome_is_that_of_crossed_strings(
    width: float, height: float, gap: float, projection: float
) -> None:
    head, sill = gap, gap + height
    crossed = np.hypot(projection, head) + sill
    uncrossed = np.hypot(projection, sill) + head
    by_strings = 0.5 - (crossed - uncrossed) / (2.0 * height)
    got = dome_view_factor(width=width, height=height, gap=gap, eave_projection=projection)
    assert got == pytest.approx(by_strings, abs=0.0002)


def test_shorter_ends_open_the_sky() -> None:
    endless = dome_view_factor(**WINDOW)
    short = dome_view_factor(**WINDOW, left_extension=0.0, right_extension=0.0)
    none = dome_view_factor(**(WINDOW | {"eave_projection": 0.0}))
    assert endless < short < none
    assert none == pytest.approx(0.5, abs=1e-12)


def test_one_sided_ends_weigh_the_same_in_an_even_sky() -> None:
    left = dome_view_factor(**WINDOW, left_extension=2.0, right_extension=0.0)
    right = dome_view_factor(**WINDOW, left_extension=0.0, right_extension=2.0)
    assert left == pytest.approx(right, abs=1e-9)


@pytest.mark.parametrize(("tilt", "sky"), [(0.0, 1.0), (60.0, 0.75), (90.0, 0.5), (180.0, 0.0)])
def test_open_sky_and_ground(tilt: float, sky: float) -> None:
    assert sky_view_factor(tilt) == pytest.approx(sky)
    assert sky_view_factor(tilt) + ground_view_factor(tilt) == 1.0


@pytest.mark.parametrize(
    ("name", "length"),
    [
        ("width", 0.0),
        ("height", -1.0),
        ("eave_projection", float("nan")),
        ("eave_projection", -0.1),
        ("height", float("inf")),
    ],
)
def test_lengths_that_can_not_be_are_refused(name: str, length: float) -> None:
    with pytest.raises(PhysicsError) as caught:
        sunlit_fraction(30.0, 180.0, wall_azimuth=180.0, **(WINDOW | {name: length}))
    assert caught.value.problems[0].code == "shading.geometry"
