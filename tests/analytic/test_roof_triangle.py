"""The roof triangle, worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonmark.errors import PhysicsError
from noonmark.shape import RoofTriangle, heel_for_soffit
from noonmark.units import Quantity

INCH = 0.0254
FOOT = 0.3048

# Pitch 3/4: a metre level is 0.75 up and 1.25 along the slope (3-4-5).
ROOF = RoofTriangle(span=8.0, pitch=0.75, projection=0.8, heel=0.5, plate=2.4, chord_depth=0.12)


def test_three_four_five_roof() -> None:
    assert ROOF.run == pytest.approx(4.0)
    assert ROOF.rise == pytest.approx(0.75 * 4.0)
    assert ROOF.ridge == pytest.approx(2.4 + 0.5 + 3.0)
    assert ROOF.tail == pytest.approx(0.8 * 1.25)
    assert ROOF.chord_plumb == pytest.approx(0.12 * 1.25)
    assert ROOF.fascia_top == pytest.approx(2.4 + 0.5 - 0.8 * 0.75)  # 2.30
    assert ROOF.soffit == pytest.approx(2.30 - 0.15)
    assert ROOF.insulation_depth(0.04) == pytest.approx(0.5 - 0.04 * 1.25)
    assert ROOF.top_edge(4.0) == pytest.approx(ROOF.ridge)
    assert ROOF.top_edge(8.8) == pytest.approx(ROOF.fascia_top)


def test_two_by_four_truss_standing_on_its_plate() -> None:
    """A 2x4 chord (3 1/2 in) at 6/12 needs a heel of 3.5 * 1.1180 = 3.913 in (3 15/16)."""
    heel = 3.5 * INCH * math.sqrt(1.25)
    roof = RoofTriangle(
        span=24 * FOOT,
        pitch=0.5,
        projection=2 * FOOT,
        heel=heel,
        plate=8 * FOOT,
        chord_depth=3.5 * INCH,
    )
    assert roof.chord_plumb / INCH == pytest.approx(3.913, abs=0.001)
    assert roof.soffit == pytest.approx(7 * FOOT)  # 8 ft less 2 ft * 6/12, the chord hides the heel
    assert roof.ridge / FOOT == pytest.approx(8 + 3.913 / 12 + 12 * 0.5, abs=1e-4)


@given(
    soffit=st.floats(2.2, 3.0),
    pitch=st.floats(0.0, 1.2),
    projection=st.floats(0.0, 1.5),
    depth=st.floats(0.05, 0.25),
)
def test_heel_for_soffit_is_the_inverse(
    soffit: float, pitch: float, projection: float, depth: float
) -> None:
    heel = heel_for_soffit(soffit, pitch=pitch, projection=projection, plate=2.2, chord_depth=depth)
    roof = RoofTriangle(8.0, pitch, projection, heel, 2.2, depth)
    assert roof.soffit == pytest.approx(soffit)


def test_heel_that_does_not_hold_the_chord() -> None:
    with pytest.raises(PhysicsError) as caught:
        replace(ROOF, heel=0.10)
    (problem,) = caught.value.problems
    assert problem.code == "shape.heel_too_low"
    least = problem.values["least"]
    assert isinstance(least, Quantity)
    assert least.value == pytest.approx(0.15)


@pytest.mark.parametrize(
    ("part", "value", "code"),
    [
        ("span", 0.0, "shape.not_positive"),
        ("plate", math.nan, "shape.not_positive"),
        ("pitch", -0.1, "shape.negative"),
        ("projection", -0.1, "shape.negative"),
        ("heel", -0.1, "shape.heel_too_low"),
        ("projection", 4.0, "shape.soffit_below_floor"),
    ],
)
def test_parts_that_can_not_close(part: str, value: float, code: str) -> None:
    with pytest.raises(PhysicsError) as caught:
        replace(ROOF, **{part: value})
    assert caught.value.problems[0].code == code
