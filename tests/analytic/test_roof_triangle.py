"""The roof triangle, worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonmark.errors import PhysicsError
from noonmark.shape import RoofTriangle, heel_for_insulation, heel_for_soffit
from noonmark.shape.roof import LEAST_VENT_GAP, Truss
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


# The same roof cantilevered: at the fascia, 0.8 m out, the top chord is 0.8 * 0.75 = 0.60 lower
# than over the wall; a heel of 0.80 there leaves an end heel of 0.20.
CANTILEVER = replace(ROOF, truss="cantilever", heel=0.8)


def test_cantilevered_three_four_five_roof() -> None:
    assert CANTILEVER.end_heel == pytest.approx(0.20)
    assert CANTILEVER.soffit == 2.4  # level with the plate
    assert CANTILEVER.fascia_top == pytest.approx(2.4 + 0.20)
    assert CANTILEVER.ridge == pytest.approx(2.4 + 0.20 + 0.75 * (4.0 + 0.8))  # from the fascia up


def test_truss_that_bears_inside_the_wall() -> None:
    """Bearing 0.3 m inside: 0.8 + 0.3 past it, 8 - 2 * 0.3 between, 0.3 * 0.75 more heel."""
    inner = replace(ROOF, bearing=0.3)
    assert inner.overhang == pytest.approx(1.1)
    assert inner.bearing_span == pytest.approx(7.4)
    assert inner.heel_at(inner.bearing) == pytest.approx(0.5 + 0.225)
    assert (inner.soffit, inner.ridge) == (ROOF.soffit, ROOF.ridge)


def test_insulation_over_the_wall_by_hand() -> None:
    """IRC 2021, R806.3 (from memory): an inch between insulation and deck where it is vented.

    An inch of vent square to a 3-4-5 slope is 1 1/4 in plumb; 0.4 m in there is 0.3 m more.
    """
    assert pytest.approx(INCH) == LEAST_VENT_GAP
    assert ROOF.insulation_depth() == pytest.approx(0.5 - 1.25 * INCH)
    assert ROOF.insulation_depth(x=0.4) == pytest.approx(0.5 + 0.3 - 1.25 * INCH)
    assert replace(ROOF, heel=0.16).insulation_depth(0.2) == 0.0


@given(st.floats(0.12, 1.0), st.floats(0.0, 1.2), st.floats(0.0, 1.2))
def test_the_heel_that_insulation_asks_for_holds_it(
    depth: float, pitch: float, projection: float
) -> None:
    heel = heel_for_insulation(depth, pitch=pitch)
    roof = RoofTriangle(8.0, pitch, projection, heel, 2.4, 0.05)
    assert roof.insulation_depth() == pytest.approx(depth)


@given(
    truss=st.sampled_from(["tail", "cantilever"]),
    pitch=st.floats(0.0, 1.2),
    projection=st.floats(0.0, 1.5),
    over=st.floats(0.0, 0.5),
    bearing=st.floats(0.0, 0.6),
)
def test_every_chain_of_heights_adds_up(
    truss: Truss, pitch: float, projection: float, over: float, bearing: float
) -> None:
    """From the plate to the roof's edge by the wall and by the fascia, and so to the ridge."""
    chord = 0.09
    least = chord * math.hypot(1.0, pitch)
    heel = least + over + (projection * pitch if truss == "cantilever" else 0.0)
    roof = RoofTriangle(9.0, pitch, projection, heel, 2.6, chord, truss, bearing)
    down = roof.fascia_top - roof.soffit  # the face of the fascia
    if truss == "tail":
        assert down == pytest.approx(roof.chord_plumb)
        assert roof.plate + roof.heel - projection * pitch == pytest.approx(roof.soffit + down)
    else:
        assert roof.soffit == roof.plate
        assert down == pytest.approx(roof.end_heel)
        assert roof.plate + roof.end_heel + pitch * (projection + 4.5) == pytest.approx(roof.ridge)
    assert roof.plate + roof.heel + roof.rise == pytest.approx(roof.ridge)
    assert roof.bearing_span + 2 * roof.overhang == pytest.approx(9.0 + 2 * projection)
    assert roof.heel_at(bearing) - roof.heel == pytest.approx(pitch * bearing)


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


def test_end_heel_that_does_not_hold_the_chord() -> None:
    """0.15 m of chord cut plumb over the fascia, 0.60 m lower there than over the wall."""
    assert replace(CANTILEVER, heel=0.75).end_heel == pytest.approx(0.15)
    with pytest.raises(PhysicsError) as caught:
        replace(CANTILEVER, heel=0.70)
    (problem,) = caught.value.problems
    assert (problem.code, problem.path) == ("shape.end_heel_too_low", "end_heel")
    shown = problem.values["value"]
    assert isinstance(shown, Quantity)
    assert shown.value == pytest.approx(0.10)


@pytest.mark.parametrize(
    ("part", "value", "code"),
    [
        ("bearing", -0.1, "shape.negative"),
        ("bearing", 4.0, "shape.bearing_past_ridge"),
        ("bearing", math.nan, "shape.negative"),
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
        replace(ROOF, **{part: value})  # type: ignore[arg-type]
    assert caught.value.problems[0].code == code
