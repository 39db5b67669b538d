"""Trees, neighbours, skylines, own parts, canopies, awnings and slats before the sample's walls."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPoint

from designs import design, put, together
from noonmark.design.derived import thickness, wall_faces
from noonmark.design.model import Homestead
from noonmark.shading.plates import Opening
from noonmark.shading.screens import crown
from noonmark.shading.shade import sun_slopes
from noonmark.shading.skyline import Skyline
from noonmark.shading.view import seen
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.season import seasons
from noonmark.study.twin import unshaped_twin

SOUTH, NORTH = 40.0, -33.0
JUNE, JANUARY = 165, 10


def at(latitude: float, *edits: object) -> Homestead:
    """The sample without eave, at a latitude, its sunny side to the equator."""
    south = latitude < 0.0
    return design(
        together(
            put("place.latitude", latitude),
            put("place.longitude", -70.0 if south else -105.0),
            put("place.time_zone", "America/Santiago" if south else "America/Denver"),
            put("house.faces", 0.0 if south else 180.0),
            put("house.eave.projection", 0.0),
            *edits,  # type: ignore[arg-type]
        )
    ).homestead


def before(home: Homestead, side: str = "sunny", zone: str = "rooms") -> Obstacles:
    building = home.buildings["house"]
    face = next(
        f for f in wall_faces(building) if (f.side, f.zone, f.next_to) == (side, zone, None)
    )
    return obstacles_of(home, building, face)


def lit(
    obstacles: Obstacles, altitude: float, azimuth: float, opening: Opening, day: int = JUNE
) -> float:
    there, sideways, rise = sun_slopes(altitude, azimuth, obstacles.face.azimuth)
    if not there.all():
        return 0.0
    return float(obstacles.lit(sideways.ravel(), rise.ravel(), np.array([day]), opening)[0])


WINDOW = Opening(5.75, 1.0, 0.5, 1.5)  # in the middle of the sample's 12.5 m
BLOCK = {"distance": 10.0, "width": 400.0, "depth": 5.0, "top": 6.0}


@pytest.mark.parametrize(("latitude", "front"), [(SOUTH, 180.0), (NORTH, 0.0)])
def test_a_long_neighbour_in_front_shades_as_high_as_the_sun_is_low(
    latitude: float, front: float
) -> None:
    """Plane geometry: its top throws the shade to 6 m less 10 m times the tangent."""
    obstacles = before(at(latitude, put("house.neighbour", [{"azimuth": front, **BLOCK}])))
    for altitude in (20.0, 23.0, 25.0, 27.0, 30.0):
        edge = 6.0 - 10.0 * np.tan(np.radians(altitude))
        expected = np.clip((2.0 - edge) / 1.5, 0.0, 1.0)
        assert lit(obstacles, altitude, front, WINDOW) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("latitude", "front"), [(SOUTH, 180.0), (NORTH, 0.0)])
def test_what_stands_in_the_east_takes_the_morning(latitude: float, front: float) -> None:
    block = {"azimuth": 90.0 + (30.0 if front == 180.0 else -30.0), **BLOCK, "width": 8.0}
    obstacles = before(at(latitude, put("house.neighbour", [block])))
    morning, evening = front - np.array([60.0, -60.0]) * (1.0 if front == 180.0 else -1.0)
    assert lit(obstacles, 15.0, morning, WINDOW) == 0.0
    assert lit(obstacles, 15.0, evening, WINDOW) == 1.0


def test_a_neighbour_with_a_ridge_shades_higher_in_its_middle() -> None:
    flat = {"azimuth": 180.0, **BLOCK}
    low, high = (
        before(at(SOUTH, put("house.neighbour", [block])))
        for block in (flat, {**flat, "ridge": 9.0})
    )
    # the ridge stands 2.5 m behind the near side: 9 m less 12.5 m times the tangent
    edge = 9.0 - 12.5 * np.tan(np.radians(30.0))
    assert lit(low, 30.0, 180.0, WINDOW) == 1.0
    assert lit(high, 30.0, 180.0, WINDOW) == pytest.approx((2.0 - edge) / 1.5, abs=1e-9)


TREE = {
    "azimuth": 180.0, "distance": 8.0, "top": 20.0, "crown_bottom": -20.0, "crown_width": 15.0,
}  # fmt: skip


def test_a_tree_passes_more_bare_than_in_leaf_and_leaves_come_half_a_year_later_in_the_south() -> (
    None
):
    for latitude, warm in ((SOUTH, JUNE), (NORTH, JANUARY)):
        front = 180.0 if latitude > 0.0 else 0.0
        obstacles = before(at(latitude, put("house.tree", [{**TREE, "azimuth": front}])))
        cold = JANUARY if warm == JUNE else JUNE
        assert lit(obstacles, 20.0, front, WINDOW, warm) == pytest.approx(0.2)
        assert lit(obstacles, 20.0, front, WINDOW, cold) == pytest.approx(0.6)
    evergreen = {**TREE, "leaf_months": list(range(1, 13))}
    obstacles = before(at(SOUTH, put("house.tree", [evergreen])))
    assert lit(obstacles, 20.0, 180.0, WINDOW, JANUARY) == pytest.approx(0.2)


@pytest.mark.parametrize("altitude", [5.0, 30.0, 60.0, 85.0])
def test_a_crown_throws_the_shadow_of_a_spheroid(altitude: float) -> None:
    """The shadow, square to the sun, of a spheroid of half-axes a and b: pi a sqrt(...)."""
    radius, tall = 3.0, 4.0
    points = np.array(crown(10.0, 2.0, 6.0))
    alt = np.radians(altitude)
    half = np.hypot(tall * np.cos(alt), radius * np.sin(alt))
    areas = []
    for turn in np.radians(np.arange(0.0, 30.0, 2.5)):
        across = np.array([np.cos(turn), 0.0, -np.sin(turn)])
        up = np.array([-np.sin(alt) * np.sin(turn), np.cos(alt), -np.sin(alt) * np.cos(turn)])
        areas.append(MultiPoint(np.column_stack([points @ across, points @ up])).convex_hull.area)
    assert np.mean(areas) == pytest.approx(np.pi * radius * half, rel=0.04)


def wall_seen_above(degrees: float) -> float:
    """Share of a wall's even sky above a level skyline: the cosine's integral from there up."""
    h = np.radians(degrees)
    return float(1.0 - 2.0 * (h + np.sin(h) * np.cos(h)) / np.pi)


@pytest.mark.parametrize("height", [5.0, 20.0, 50.0])
def test_sky_above_a_level_skyline(height: float) -> None:
    got = seen(WINDOW, [], skyline=Skyline((0.0,), (height,)))
    assert got.dome == pytest.approx(wall_seen_above(height), abs=0.004)
    assert got.horizon == 0.0
    assert got.ground == 1.0


@settings(deadline=None)
@given(st.floats(0.0, 359.9), st.floats(0.0, 359.9), st.floats(1.0, 60.0))
def test_skyline_is_read_between_its_points_and_over_north(
    first: float, turn: float, high: float
) -> None:
    skyline = Skyline((first, (first + 90.0) % 360.0), (0.0, high))
    assert float(skyline.altitude(first + 45.0)) == pytest.approx(high / 2.0)
    assert float(skyline.altitude(first - 135.0)) == pytest.approx(high / 2.0)
    turned = skyline.turned(turn)
    probe = np.arange(0.0, 360.0, 17.0)
    np.testing.assert_allclose(turned.altitude(probe - turn), skyline.altitude(probe), atol=1e-9)


def test_sun_behind_the_skyline_is_gone_and_above_it_whole() -> None:
    pairs = [[90.0, 20.0], [180.0, 5.0], [270.0, 20.0]]
    obstacles = before(at(SOUTH, put("place.skyline", pairs)))
    assert lit(obstacles, 11.0, 140.0, WINDOW) == 0.0  # 20 - 15 * 50 / 90 = 11.7
    assert lit(obstacles, 12.5, 140.0, WINDOW) == 1.0
    assert lit(obstacles, 6.0, 180.0, WINDOW) == 1.0


# --- the building's own parts --------------------------------------------------------------------


@cache
def stepped(latitude: float = SOUTH) -> Homestead:
    """A porch, half as long, before the middle of the sample's sunny wall."""
    return at(
        latitude,
        put("house.zone.porch", {"length": "6 m", "width": "4 m", "height": "9 ft"}),
        put("house.wall", [{"side": "sunny", "next_to": "porch"}]),
        put("house.window", []),
    )


def test_a_zone_before_the_wall_shades_it_from_the_side_it_stands_on() -> None:
    """What is left of the wall lies in two halves; east of the porch lies left, looking out."""
    obstacles = before(stepped())
    length = obstacles.face.length
    assert length == pytest.approx(6.5)
    east, west = Opening(1.5, 1.0, 0.5, 1.5), Opening(4.0, 1.0, 0.5, 1.5)
    for turn in (50.0, -50.0):
        # the sun in the west throws the porch's shade on the eastern half
        shaded, free = (east, west) if turn > 0.0 else (west, east)
        assert lit(obstacles, 20.0, 180.0 + turn, shaded) == 0.0
        assert lit(obstacles, 20.0, 180.0 + turn, free) == 1.0
    mirrored = [lit(obstacles, 35.0, 180.0 + t, o) for t, o in ((40.0, east), (-40.0, west))]
    assert mirrored[0] == pytest.approx(mirrored[1])
    assert 0.0 < mirrored[0] < 1.0


def test_the_wall_behind_shades_the_sides_of_the_zone_before_it() -> None:
    """The eastern side of the porch has the house at its back end, in the north-east."""
    obstacles = before(stepped(), side="left", zone="porch")
    near_house = Opening(0.2, 0.5, 0.5, 1.5)
    assert lit(obstacles, 20.0, 40.0, near_house) == 0.0
    assert lit(obstacles, 20.0, 140.0, near_house) == pytest.approx(1.0)


def test_zones_beside_each_other_do_not_shade_their_sunny_walls() -> None:
    home = at(
        SOUTH,
        put("house.zone.shed", {"length": "6 m", "width": "8 m", "height": "9 ft"}),
        put("house.wall", [{"side": "right", "next_to": "shed"}]),
        put("house.window", []),
    )
    assert before(home).things == ()


# --- what windows and walls carry ---------------------------------------------------------------


def test_a_canopy_shades_as_an_eave_of_its_size_does() -> None:
    canopy = {"side": "sunny", "left": -20.0, "width": 60.0, "height": 2.4, "projection": 1.0}
    roofed = before(at(SOUTH, put("house.canopy", [canopy])))
    for altitude in (10.0, 30.0, 45.0, 70.0):
        edge = 2.4 - np.tan(np.radians(altitude))
        expected = np.clip((edge - 0.5) / 1.5, 0.0, 1.0)
        assert lit(roofed, altitude, 180.0, WINDOW) == pytest.approx(expected, abs=1e-9)
    railed = before(at(SOUTH, put("house.canopy", [{**canopy, "height": 0.0, "railing": 1.0}])))
    # a railing a metre out and a metre high: the sill at 0.5 m is free above 26.6 degrees
    assert lit(railed, 27.0, 180.0, WINDOW) == 1.0
    assert lit(railed, 20.0, 180.0, WINDOW) < 1.0


def test_a_trellis_passes_less_in_leaf() -> None:
    trellis = {
        "side": "sunny", "left": -20.0, "width": 60.0, "height": 2.0, "projection": 9.0,
        "passes": 0.8, "leafed": 0.3,
    }  # fmt: skip
    obstacles = before(at(SOUTH, put("house.canopy", [trellis])))
    assert lit(obstacles, 60.0, 180.0, WINDOW, JUNE) == pytest.approx(0.3)
    assert lit(obstacles, 60.0, 180.0, WINDOW, JANUARY) == pytest.approx(0.8)


def test_an_awning_shades_between_its_days_only() -> None:
    awning = {
        "projection": "1 m", "drop": "0.5 m", "left": "9 m", "right": "9 m", "passes": 0.1,
        "put_up": "5-15", "take_down": "9-10",
    }  # fmt: skip
    home = at(SOUTH, put("house.window.3.awning", awning), put("house.faces", 270.0))
    obstacles = before(home, side="right")
    window = home.buildings["house"].window[3]
    opening = Opening(3.5, window.width, window.sill, window.head - window.sill)
    # the edge hangs half a metre below the head, a metre out
    tall = window.head - window.sill
    expected = 1.0 - 0.9 * min(1.0, (0.5 + np.tan(np.radians(20.0))) / tall)
    facing = obstacles.face.azimuth
    for day, share in ((133, 1.0), (134, expected), (252, expected), (253, 1.0)):
        got = lit(obstacles, 20.0, facing, opening, day)
        assert got == pytest.approx(share, abs=1e-9), day


def test_slats_over_the_new_year_stand_on_both_sides_of_it() -> None:
    slats = {"depth": 0.1, "spacing": 0.1, "put_up": "12-1", "take_down": "2-1"}
    home = at(NORTH, put("house.window.0.slats", slats))
    obstacles = before(home)
    there = [
        bool(days[day])
        for day in (333, 334, 364, 0, 31, 32)
        for days, screens in obstacles.states
        if screens
    ]
    assert there == [False, True, True, True, True, False]


def test_the_season_of_a_window_knows_its_awning() -> None:
    awning = {
        "projection": "3 m", "drop": "1 m", "left": "9 m", "right": "9 m", "passes": 0,
        "put_up": "6-1", "take_down": "8-20",
    }  # fmt: skip
    home = at(SOUTH, put("house.window.0.awning", awning))
    noon = seasons(home).windows[0].noon
    assert str(noon.full_shade_from) == "2022-06-01"
    assert str(noon.full_shade_to) == "2022-08-20"
    leap = seasons(home, 2028).windows[0].noon
    assert str(leap.full_shade_from) == "2028-06-01"


def test_the_roof_past_an_end_wall_shades_it_under_its_slope() -> None:
    """A gable of 6 in 12 and 8.6 m or so: the western sun finds the ridge high over the wall."""
    home = at(SOUTH, put("house.eave.ends", "1 m"), put("house.eave.projection", "0 m"))
    obstacles = before(home, side="right")
    depth = home.buildings["house"].zone["rooms"].width
    low, middle = Opening(0.1, 0.2, 2.2, 0.4), Opening(depth / 2.0 - 0.1, 0.2, 2.2, 0.4)
    under = 2.7432  # the soffit of the sample, where the roof's underside meets the wall's outside
    for altitude in (15.0, 40.0, 60.0):
        drop = np.tan(np.radians(altitude))
        for opening in (low, middle):
            # the wall's outside lies the thickness of a wall before its inside corner
            run = min(opening.left + 0.1, depth - opening.left - 0.1) + thickness_of(home)
            edge = under + 0.5 * run - drop
            expected = np.clip((edge - 2.2) / 0.4, 0.0, 1.0)
            got = lit(obstacles, altitude, 270.0, opening)
            assert got == pytest.approx(expected, abs=0.13), (altitude, opening)
    assert lit(obstacles, 20.0, 270.0, middle) == pytest.approx(1.0)
    assert lit(obstacles, 60.0, 270.0, low) == 0.0


def thickness_of(home: Homestead) -> float:
    return thickness(home, home.buildings["house"].wall_construction)


def test_the_unshaped_twin_keeps_the_trees_and_drops_what_shapes() -> None:
    awning = {"projection": "1 m"}
    canopy = {"side": "sunny", "left": 0.0, "width": 3.0, "height": 2.4, "projection": 1.0}
    home = at(
        SOUTH,
        put("house.window.0.awning", awning),
        put("house.window.1.slats", {"depth": 0.1, "spacing": 0.1}),
        put("house.canopy", [canopy]),
        put("house.tree", [TREE]),
    )
    twin = unshaped_twin(home).buildings["house"]
    assert all(w.awning is None and w.slats is None for w in twin.window)
    assert twin.canopy == []
    assert twin.tree == home.buildings["house"].tree


@pytest.mark.parametrize("height", [2.0, 6.0, 20.0])
def test_sky_and_ground_past_a_long_neighbour(height: float) -> None:
    """In the section, a point sees the sky above the profile angle p of its top: 1 - sin p.

    And the level ground before its foot: 1 - sin q below the angle q of that.
    """
    block = {**BLOCK, "azimuth": 180.0, "top": height, "width": 2000.0}
    obstacles = before(at(SOUTH, put("house.neighbour", [block])))
    spot = Opening(6.2, 0.05, 1.0, 0.05)
    got = obstacles.seen(spot)
    top = np.arctan2(height - 1.025, 10.0)
    foot = np.arctan2(1.025 + 0.2, 10.0)
    assert got.dome == pytest.approx(1.0 - np.sin(top), abs=0.01)
    assert got.ground == pytest.approx(1.0 - np.sin(foot), abs=0.01)
