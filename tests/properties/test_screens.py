"""Convex things that let a share of the light pass, against polygons; their limits and mirrors."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from noonmark.errors import PhysicsError
from noonmark.shading.lit import highest_lit, lit_areas
from noonmark.shading.plates import Opening, Plate, level_plate
from noonmark.shading.screens import Screen, Slats, before_wall
from noonmark.shading.shadows import shade_outline, shadows
from noonmark.shape.polygon import area

WINDOW = Opening(2.0, 3.0, 0.2, 2.0)
ways = st.floats(-4.0, 4.0, allow_subnormal=False)
rises = st.floats(0.02, 8.0)
places = st.floats(-3.0, 8.0, allow_subnormal=False)
heights = st.floats(-1.0, 5.0, allow_subnormal=False)
depths = st.floats(-6.0, -0.01)


@st.composite
def screens(draw: st.DrawFn, passes: tuple[float, ...] = (0.0, 0.2, 0.6)) -> Screen:
    corners = draw(st.lists(st.tuples(places, heights, depths), min_size=3, max_size=9))
    return Screen(tuple(corners), draw(st.sampled_from(passes)))


def patch(screen: Screen, tx: float, ty: float) -> shapely.Geometry:
    thrown = [(x + w * tx, y + w * ty) for x, y, w in screen.points]
    return shapely.MultiPoint(thrown).convex_hull


def by_polygons(tx: float, ty: float, opening: Opening, things: list[Screen]) -> float:
    """Cut the opening into what each set of things covers, and weigh the pieces."""
    edges = (opening.left, opening.bottom)
    frame = box(*edges, edges[0] + opening.width, edges[1] + opening.height)
    lit = 0.0
    patches = [patch(thing, tx, ty) for thing in things]
    for size in range(len(things) + 1):
        for chosen in combinations(range(len(things)), size):
            piece = frame
            for index, shade in enumerate(patches):
                if shade.area == 0.0:
                    continue
                piece = piece & shade if index in chosen else piece - shade
            if any(patches[index].area == 0.0 for index in chosen):
                continue
            lit += piece.area * np.prod([things[index].passes for index in chosen])
    return float(lit)


@settings(deadline=None, max_examples=300)
@given(ways, rises, st.lists(screens(), min_size=1, max_size=4))
def test_light_past_things_is_that_of_polygons(tx: float, ty: float, things: list[Screen]) -> None:
    got = lit_areas(np.array([tx]), np.array([ty]), WINDOW, [], screens=things)[0, 0]
    assert got == pytest.approx(by_polygons(tx, ty, WINDOW, things), abs=1e-6)


@settings(deadline=None)
@given(ways, rises, places, heights, st.floats(0.1, 3.0), st.floats(0.1, 3.0))
def test_a_level_board_is_the_same_as_plate_and_as_screen(
    tx: float, ty: float, left: float, height: float, width: float, out: float
) -> None:
    plate = level_plate(height=height, projection=out, left=left, right=left + width)
    board = Screen(tuple((x, height, w) for x in plate.x for w in plate.w))
    by_plate = lit_areas(np.array([tx]), np.array([ty]), WINDOW, [plate])
    by_screen = lit_areas(np.array([tx]), np.array([ty]), WINDOW, [], screens=[board])
    assert by_screen[0, 0] == pytest.approx(by_plate[0, 0], abs=1e-9)


@settings(deadline=None)
@given(ways, rises, st.lists(screens(), min_size=1, max_size=3))
def test_mirrored_about_the_window_it_is_the_same(
    tx: float, ty: float, things: list[Screen]
) -> None:
    middle = WINDOW.left + WINDOW.width / 2.0
    mirrored = [
        replace(s, points=tuple((2.0 * middle - x, y, w) for x, y, w in s.points)) for s in things
    ]
    one = lit_areas(np.array([tx]), np.array([ty]), WINDOW, [], screens=things)
    other = lit_areas(np.array([-tx]), np.array([ty]), WINDOW, [], screens=mirrored)
    assert one[0, 0] == pytest.approx(other[0, 0], abs=1e-9)


@settings(deadline=None)
@given(ways, rises, screens(passes=(0.0,)))
def test_where_it_lets_all_pass_it_is_not_there(tx: float, ty: float, thing: Screen) -> None:
    clear = replace(thing, passes=1.0)
    got = lit_areas(np.array([tx]), np.array([ty]), WINDOW, [], screens=[clear])
    assert got[0, 0] == pytest.approx(WINDOW.area)
    half = replace(thing, passes=0.5)
    dark, dim = (
        lit_areas(np.array([tx]), np.array([ty]), WINDOW, [], screens=[s])[0, 0]
        for s in (thing, half)
    )
    assert dim == pytest.approx(0.5 * (WINDOW.area + dark), abs=1e-9)


def test_behind_two_trees_the_shares_multiply_and_the_light_on_the_floor_too() -> None:
    far = tuple((x, y, -3.0) for x in (-50.0, 50.0) for y in (-50.0, 50.0))
    two = [Screen(far, 0.6), Screen(far, 0.2)]
    floor = Plate((-90.0, 90.0), (-1.0, -1.0), (0.0, 90.0))
    way = np.array([0.3]), np.array([0.5])
    lit, floored = lit_areas(*way, WINDOW, [], [(floor, None)], two)[0]
    assert lit == pytest.approx(0.12 * WINDOW.area)
    assert floored == pytest.approx(lit)


def test_the_highest_lit_row_lies_at_the_eaves_edge_of_shade() -> None:
    eave = level_plate(height=2.6, projection=1.0, left=-np.inf, right=np.inf)
    rise = np.array([0.2, 0.4, 1.0, 3.0])
    got = highest_lit(np.zeros(4), rise, WINDOW, [eave])
    np.testing.assert_allclose(got, [2.2, 2.2, 1.6, -np.inf])


def test_what_crosses_the_wall_is_cut_at_its_face() -> None:
    got = before_wall([(0.0, 0.0, -1.0), (0.0, 2.0, 1.0), (1.0, 0.0, 3.0)])
    assert set(got) == {(0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (0.25, 0.0, 0.0)}
    assert before_wall([(0.0, 0.0, 1.0), (0.0, 2.0, 1.0), (1.0, 0.0, 0.0)]) == ()


@pytest.mark.parametrize("corners", [((0.0, 0.0, -1.0),) * 2, ((0.0, 0.0, 1.0),) * 3])
def test_a_screen_has_corners_before_the_wall(corners: tuple[tuple[float, float, float]]) -> None:
    with pytest.raises(PhysicsError):
        Screen(corners)


# --- slats --------------------------------------------------------------------------------------


def by_boards(slats: Slats, tx: float, ty: float) -> float:
    """Ray by ray past many boards: the inner edges in one plane, the sun's way to each ray."""
    way = tx if slats.upright else ty
    tilt = np.radians(slats.tilt)
    out, down = slats.depth * np.cos(tilt), slats.depth * np.sin(tilt)
    ray = (np.arange(20_000) + 0.5) / 20_000 * slats.spacing
    free = np.ones_like(ray, dtype=bool)
    for board in range(-60, 61):
        inner = board * slats.spacing
        ends = sorted((inner, inner - down - out * way))
        free &= ~((ray > ends[0]) & (ray < ends[1]))
    return float(free.mean())


@settings(deadline=None, max_examples=60)
@given(
    st.floats(0.02, 0.3), st.floats(0.02, 0.4), st.floats(-80.0, 80.0), ways, rises, st.booleans()
)
def test_slats_pass_what_rays_pass(
    depth: float, spacing: float, tilt: float, tx: float, ty: float, upright: bool
) -> None:
    slats = Slats(depth, spacing, tilt, upright)
    got = slats.share_passed(np.array([tx]), np.array([ty]))
    assert float(got[0]) == pytest.approx(by_boards(slats, tx, ty), abs=1e-3)


def test_level_slats_as_deep_as_their_spacing_close_at_45_degrees() -> None:
    slats = Slats(0.1, 0.1, 0.0)
    rise = np.tan(np.radians([0.01, 26.565, 45.0, 60.0]))
    np.testing.assert_allclose(
        slats.share_passed(np.zeros(4), rise), [1.0, 0.5, 0.0, 0.0], atol=1e-3
    )


# --- outlines -----------------------------------------------------------------------------------


@settings(deadline=None)
@given(ways, rises, st.lists(screens(passes=(0.0,)), min_size=1, max_size=4))
def test_the_outline_of_the_shade_bounds_what_is_not_lit(
    tx: float, ty: float, things: list[Screen]
) -> None:
    lit = lit_areas(np.array([tx]), np.array([ty]), WINDOW, [], screens=things)[0, 0]
    rings = shade_outline(tx, ty, WINDOW, [], things)
    assert sum(area(ring) for ring in rings) == pytest.approx(WINDOW.area - lit, abs=1e-6)


def test_an_endless_eave_throws_a_band_and_a_thin_tree_no_full_shade() -> None:
    eave = level_plate(height=2.6, projection=1.0, left=-np.inf, right=np.inf)
    tree = Screen(((2.0, 0.0, -3.0), (4.0, 0.0, -3.0), (3.0, 9.0, -3.0)), 0.2)
    (band,) = shade_outline(0.3, 1.0, WINDOW, [eave], [tree])
    assert area(band) == pytest.approx(3.0 * (2.2 - 1.6))
    assert [passes for _, passes in shadows(0.0, 0.2, WINDOW, [eave], [tree])] == [0.2]
