"""Sunbeam and shade in a section, worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from noonmark.errors import PhysicsError
from noonmark.shape import (
    Opening,
    RoofTriangle,
    WallSection,
    beam_polygon,
    floor_reach,
    heel_for_soffit,
    shade_line,
    sunlit_glass,
)
from noonmark.shape.polygon import area

HALF = math.degrees(math.atan(0.5))  # the sun sinks one metre in two


def section(projection: float = 0.8, room_depth: float = 8.0, soffit: float = 2.5) -> WallSection:
    heel = heel_for_soffit(soffit, pitch=0.5, projection=projection, plate=2.45, chord_depth=0.09)
    return WallSection(
        roof=RoofTriangle(8.6, 0.5, projection, heel, 2.45, 0.09),
        wall_thickness=0.4,
        floor_thickness=0.1,
        ground=-0.2,
        ceiling=2.4,
        room_depth=room_depth,
        ceiling_insulation=0.4,
        window=Opening(sill=0.5, head=2.2),
    )


def test_shade_line() -> None:
    assert shade_line(section(), HALF) == pytest.approx(2.5 - 0.8 * 0.5)
    assert shade_line(section(), 45) == pytest.approx(2.5 - 0.8)


def test_lit_glass_under_the_eave() -> None:
    """The shade edge enters at 2.1 on the wall and sinks 0.2 / 2 more to the glass."""
    assert sunlit_glass(section(), HALF) == pytest.approx((0.5, 2.0))


def test_lit_glass_under_the_upper_reveal() -> None:
    """No eave: the head's outer corner cuts, 0.2 / 2 lower at the glass."""
    assert sunlit_glass(section(0.0), HALF) == pytest.approx((0.5, 2.1))


def test_beam_corners() -> None:
    """Upper ray 2.1 at the wall, on the floor at 4.2; sill's inner edge at 0.4, on at 1.4."""
    beam = beam_polygon(section(), HALF, outdoors=1.0)
    assert beam.tolist() == [
        pytest.approx(corner)
        for corner in [(-1, 2.6), (4.2, 0), (1.4, 0), (0.4, 0.5), (0.2, 0.5), (-1, 1.1)]
    ]
    assert floor_reach(section(), HALF) == pytest.approx(4.2 - 0.4)


def test_beam_climbs_the_back_wall() -> None:
    """Back wall at 3.4: the upper ray meets it at 2.1 - 1.7 = 0.4."""
    beam = beam_polygon(section(room_depth=3.0), HALF, outdoors=0.0)
    assert beam[1:4].tolist() == [
        pytest.approx(corner) for corner in [(3.4, 0.4), (3.4, 0.0), (1.4, 0.0)]
    ]
    assert floor_reach(section(room_depth=3.0), HALF) == 3.0


def test_whole_beam_on_the_back_wall() -> None:
    """Back wall at 1.0, before the sill's skimming ray reaches the floor: it hits at 0.2."""
    beam = beam_polygon(section(room_depth=0.6), HALF)
    assert beam[1:3].tolist() == [pytest.approx((1.0, 1.6)), pytest.approx((1.0, 0.2))]


def test_only_the_sill_is_lit() -> None:
    """tan p = 2.3: shade edge 2.5 - 0.8 * 2.3 = 0.66 at the wall misses the glass's foot 0.96.

    With 0.6 m of eave it is 1.12, so at the glass 0.66: lit, and lands on the sill at
    (1.12 - 0.5) / 2.3 = 0.2696, before the inner edge.
    """
    steep = math.degrees(math.atan(2.3))
    assert sunlit_glass(section(), steep) == (0.5, 0.5)
    assert beam_polygon(section(), steep).shape == (0, 2)
    shallow = section(0.6)
    assert beam_polygon(shallow, steep)[1:3].tolist() == [
        pytest.approx((0.62 / 2.3, 0.5)),
        pytest.approx((0.2, 0.5)),
    ]
    assert floor_reach(shallow, steep) == 0.0


@pytest.mark.parametrize("angle", [-10.0, 0.0, 90.0, 120.0])
def test_sun_behind_the_wall(angle: float) -> None:
    assert beam_polygon(section(), angle).shape == (0, 2)
    assert sunlit_glass(section(), angle) == (0.5, 0.5)
    with pytest.raises(PhysicsError, match=r"shape\.sun_not_on_wall"):
        shade_line(section(), angle)


def test_wall_without_window() -> None:
    blind = replace(section(), window=None)
    assert beam_polygon(blind, HALF).shape == (0, 2)
    assert sunlit_glass(blind, HALF) == (0.0, 0.0)
    assert floor_reach(blind, HALF) == 0.0


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"window": Opening(1.0, 0.9)}, "shape.out_of_order"),
        ({"window": Opening(-0.1, 2.0)}, "shape.out_of_order"),
        ({"window": Opening(0.5, 2.41)}, "shape.out_of_order"),
        ({"ceiling": 2.5}, "shape.out_of_order"),
        ({"room_depth": 0.0}, "shape.not_positive"),
        ({"wall_thickness": -0.1}, "shape.negative"),
    ],
)
def test_sizes_that_describe_no_wall(changes: dict[str, object], code: str) -> None:
    with pytest.raises(PhysicsError) as caught:
        replace(section(), **changes)  # type: ignore[arg-type]
    assert caught.value.problems[0].code == code


def test_head_above_the_soffit() -> None:
    with pytest.raises(PhysicsError) as caught:
        section(soffit=2.1)
    assert caught.value.problems[0].values["above"] == "soffit"


@given(
    angle=st.floats(2, 88),
    projection=st.floats(0, 1.4),
    depth=st.floats(0.5, 12),
    outdoors=st.floats(0, 3),
)
def test_beam_is_a_simple_polygon_inside_the_house(
    angle: float, projection: float, depth: float, outdoors: float
) -> None:
    here = section(projection, depth)
    beam = beam_polygon(here, angle, outdoors=outdoors)
    bottom, top = sunlit_glass(here, angle)
    if top <= bottom:
        assert len(beam) == 0
        return
    assert Polygon(beam).buffer(0).area == pytest.approx(abs(area(beam)), rel=1e-6)
    assert beam[:, 0].max() <= here.back_x + 1e-9
    assert beam[:, 1].min() >= -1e-9


@given(st.floats(2, 88), st.floats(0, 1.3))
def test_deeper_eave_never_lets_in_more(angle: float, projection: float) -> None:
    reach = floor_reach(section(projection), angle)
    assert floor_reach(section(projection + 0.1), angle) <= reach + 1e-9
