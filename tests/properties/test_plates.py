"""Eave, hood, fins and reveal together against polygons; limits and mirrors."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from noonmark.shading.lit import lit_areas
from noonmark.shading.plates import Opening, Plate, level_plate, upright_plate
from noonmark.shading.shade import sun_slopes, sunlit_fraction
from noonmark.shading.view import Seen, seen

UP = np.array([0.0, 0.0, 1.0])
WINDOW = Opening(2.0, 3.0, 0.2, 2.0)
altitudes, turns = st.floats(1.0, 88.0), st.floats(-85.0, 85.0)
walls = st.floats(0.0, 360.0)
pieces = st.floats(
    0.05, 2.5
)  # no numbers below the smallest normal one: polygons lose area by them
signed = st.floats(-1.0, 2.0, allow_subnormal=False)


@st.composite
def openings(draw: st.DrawFn, deepest: float = 0.5) -> Opening:
    depth = draw(st.sampled_from((0.0, 0.1, deepest)))
    return Opening(draw(signed), draw(pieces), draw(signed), draw(pieces), depth)


@st.composite
def several_plates(draw: st.DrawFn) -> list[Plate]:
    level = st.builds(
        lambda height, out, left, width: level_plate(
            height=height, projection=out, left=left, right=left + width
        ),
        st.floats(0.0, 4.0), pieces, signed, st.floats(0.1, 6.0),
    )  # fmt: skip
    upright = st.builds(
        lambda place, out, bottom, tall: upright_plate(
            place=place, projection=out, bottom=bottom, top=bottom + tall
        ),
        st.floats(-2.0, 4.0), pieces, signed, st.floats(0.1, 4.0),
    )  # fmt: skip
    return draw(st.lists(st.one_of(level, upright), max_size=4))


def corners(plate: Plate) -> list[tuple[float, float, float]]:
    return [(x, y, w) for x in plate.x for y in plate.y for w in plate.w]


def by_polygons(
    altitude: float, azimuth: float, wall: float, opening: Opening, plates: list[Plate]
) -> float:
    """Throw corners along the sun's rays onto the wall's outer plane, in east, north, up."""
    alt, azi, facing = np.radians([altitude, azimuth, wall])
    to_sun = np.array([np.cos(alt) * np.sin(azi), np.cos(alt) * np.cos(azi), np.sin(alt)])
    out = np.array([np.sin(facing), np.cos(facing), 0.0])
    right = np.array([np.cos(facing), -np.sin(facing), 0.0])  # of somebody who looks out

    def thrown(x: float, y: float, w: float) -> tuple[float, float]:
        point = x * right + y * UP - w * out
        on_wall = point - to_sun * (point @ out) / (to_sun @ out)
        return float(on_wall @ right), float(on_wall @ UP)

    left, low = opening.left, opening.bottom
    edges = (left, low, left + opening.width, low + opening.height)
    glass = [(x, y, opening.depth) for x in edges[::2] for y in edges[1::2]]
    hole = box(*edges).intersection(shapely.MultiPoint([thrown(*c) for c in glass]).convex_hull)
    shades = [shapely.MultiPoint([thrown(*c) for c in corners(p)]).convex_hull for p in plates]
    return float(hole.difference(shapely.union_all(shades)).area) / opening.area


@settings(deadline=None, max_examples=300)
@given(altitudes, turns, walls, openings(), several_plates())
def test_lit_share_is_that_of_polygons(
    altitude: float, turn: float, wall: float, opening: Opening, plates: list[Plate]
) -> None:
    got = sunlit_fraction(altitude, wall + turn, wall_azimuth=wall, opening=opening, plates=plates)
    expected = by_polygons(altitude, wall + turn, wall, opening, plates)
    assert float(got) == pytest.approx(expected, abs=1e-6)


@settings(deadline=None)
@given(altitudes, turns, openings(), several_plates())
def test_east_and_west_mirror(
    altitude: float, turn: float, opening: Opening, plates: list[Plate]
) -> None:
    def lit(turn: float, opening: Opening, plates: list[Plate]) -> float:
        facing_north = sunlit_fraction(
            altitude, 360.0 + turn, wall_azimuth=0.0, opening=opening, plates=plates
        )
        facing_south = sunlit_fraction(
            altitude, 180.0 + turn, wall_azimuth=180.0, opening=opening, plates=plates
        )
        assert float(facing_north) == pytest.approx(float(facing_south), abs=1e-9)
        return float(facing_south)

    other = [replace(plate, x=(-plate.x[1], -plate.x[0])) for plate in plates]
    mirrored = replace(opening, left=-opening.left - opening.width)
    assert lit(turn, opening, plates) == pytest.approx(lit(-turn, mirrored, other), abs=1e-9)


def fins(projection: float, reach: float = 1000.0) -> list[Plate]:
    return [
        upright_plate(place=x, projection=projection, bottom=-reach, top=reach) for x in (2.0, 5.0)
    ]


def test_afternoon_sun_stands_right_of_who_looks_out_of_a_south_wall() -> None:
    lit = {
        name: float(sunlit_fraction(30.0, 225.0, wall_azimuth=180.0, opening=WINDOW, plates=[fin]))
        for name, fin in zip(("left", "right"), fins(1.0), strict=True)
    }
    # the western fin, a metre deep, throws a metre of shadow at 45 degrees on 3 m
    assert lit == pytest.approx({"left": 1.0, "right": 2.0 / 3.0})


@pytest.mark.parametrize("turn", [-70.0, -20.0, 35.0, 60.0])
def test_tall_fins_cut_the_width_by_depth_times_tangent(turn: float) -> None:
    got = sunlit_fraction(40.0, 180.0 + turn, wall_azimuth=180.0, opening=WINDOW, plates=fins(0.5))
    expected = max(0.0, 1.0 - 0.5 * abs(np.tan(np.radians(turn))) / 3.0)
    assert float(got) == pytest.approx(expected, abs=1e-12)


def test_a_reveal_is_a_frame_of_plates_around_the_glass() -> None:
    """Glass behind the face sees what glass in the face sees past four flush plates."""
    deep = replace(WINDOW, depth=0.3)
    frame = [
        *fins(0.3),
        level_plate(height=2.2, projection=0.3, left=2.0, right=5.0),
        level_plate(height=0.2, projection=0.3, left=2.0, right=5.0),
    ]
    rng = np.random.default_rng(3)
    altitude, azimuth = rng.uniform(1.0, 89.0, 200), rng.uniform(90.0, 270.0, 200)
    behind = sunlit_fraction(altitude, azimuth, wall_azimuth=180.0, opening=deep)
    framed = sunlit_fraction(altitude, azimuth, wall_azimuth=180.0, opening=WINDOW, plates=frame)
    np.testing.assert_allclose(behind, framed, atol=1e-12)
    assert behind.min() == 0.0
    assert behind.max() > 0.9


def test_nothing_in_the_way_is_all_the_light_and_all_the_view() -> None:
    assert float(sunlit_fraction(30.0, 200.0, wall_azimuth=180.0, opening=WINDOW)) == 1.0
    assert seen(WINDOW, []) == Seen(1.0, 1.0, 1.0)
    beside = upright_plate(place=2.0, projection=0.0, bottom=0.0, top=3.0)
    assert seen(WINDOW, [beside]) == pytest.approx(Seen(1.0, 1.0, 1.0))


def test_view_past_endless_fins_is_that_of_crossed_strings() -> None:
    """Two endless fins leave the front: 1 - 2 (w + d - sqrt(w2 + d2)) / 2w, up as down."""
    got = seen(WINDOW, fins(1.0, 1e6))
    open_front = 1.0 - (3.0 + 1.0 - np.hypot(3.0, 1.0)) / 3.0
    assert got.dome == pytest.approx(open_front, abs=0.002)
    assert got.ground == pytest.approx(open_front, abs=0.002)
    assert got.horizon == pytest.approx(open_front, abs=0.002)


def test_view_past_a_reveal_is_that_of_two_parallel_rectangles() -> None:
    """Howell's catalogue C-11: two equal rectangles 2 x 2 at a distance of 1: 0.41525."""
    got = seen(Opening(0.0, 2.0, 0.0, 2.0, 1.0), [])
    assert got.dome == pytest.approx(0.41525, abs=0.001)
    assert got.ground == pytest.approx(got.dome, abs=1e-9)


def test_a_hood_hides_sky_but_no_ground() -> None:
    hood = level_plate(height=2.3, projection=0.8, left=1.8, right=5.2)
    got = seen(WINDOW, [hood])
    assert 0.5 < got.dome < 0.8
    assert (got.horizon, got.ground) == pytest.approx((1.0, 1.0))


@settings(deadline=None)
@given(altitudes, turns, openings(0.2), several_plates())
def test_light_ends_on_the_rooms_surfaces_as_polygons_say(
    altitude: float, turn: float, opening: Opening, plates: list[Plate]
) -> None:
    """Floor and a hatch in it, a room 9 x 8 m behind the opening, the floor 1.5 m below zero."""
    _, sideways, rise = sun_slopes(altitude, turn, 0.0)
    x, y, w = (-4.0, 5.0), (-1.5, 5.0), (opening.depth, 8.0)
    room = [
        Plate(x, (y[0], y[0]), w),
        Plate(x, y, (w[1], w[1])),
        Plate((x[0], x[0]), y, w),
        Plate((x[1], x[1]), y, w),
    ]
    hatch = Plate((-1.0, 1.0), (y[0], y[0]), (1.0, 2.5))
    receivers: list[tuple[Plate, Plate | None]] = [(p, None) for p in [*room, hatch]]
    lit, *ends = lit_areas(sideways, rise, opening, plates, receivers)[0]
    assert sum(ends[:4]) == pytest.approx(lit, abs=1e-9)
    tx, ty = float(sideways[0]), float(rise[0])
    thrown = [(px + pw * tx, py + pw * ty) for px, py, pw in corners(hatch)]
    inside = [(px + pw * tx, py + pw * ty) for px, py, pw in corners(room[0])]
    for got, patch in ((ends[4], thrown), (ends[0], inside)):
        hull = shapely.MultiPoint(patch).convex_hull
        expected = _lit_polygon(tx, ty, opening, plates).intersection(hull).area
        assert got == pytest.approx(float(expected), abs=1e-6)


def _lit_polygon(tx: float, ty: float, opening: Opening, plates: list[Plate]) -> Polygon:
    left, low = opening.left, opening.bottom
    edges = (left, low, left + opening.width, low + opening.height)
    behind = shapely.affinity.translate(box(*edges), opening.depth * tx, opening.depth * ty)
    shades = [
        shapely.MultiPoint([(x + w * tx, y + w * ty) for x, y, w in corners(plate)]).convex_hull
        for plate in plates
    ]
    shades = [shade for shade in shades if shade.area > 0.0]  # edge-on a plate throws a line
    return box(*edges).intersection(behind).difference(shapely.union_all(shades))
