"""What is written can be read back; what can not be read says so and nothing else."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonmark.errors import InputError
from noonmark.units import KINDS, Kind, System, read, write
from noonmark.units.table import FOOT, INCH, UNITS
from noonmark.units.writing import STYLES

SYSTEMS: tuple[System, ...] = ("metric", "us")
MARKS = "0123456789 -+./,:'\"′″½¼⅛RSIUmftincKCF°²/%eE−()*"


def half_step(kind: Kind, system: System) -> float:
    """Half of the last written digit, in SI."""
    if kind == "count":
        return 0.5
    if kind == "length" and system == "us":
        return INCH / 8
    style = STYLES[system][kind]
    return float(UNITS[kind][style.unit].factor * 0.5 * 10.0**-style.digits)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "pitch"])
@given(value=st.floats(-1e6, 1e6))
def test_round_trip(kind: Kind, system: System, value: float) -> None:
    back = read(write(value, kind, system), kind)
    assert abs(back - value) <= half_step(kind, system) * 1.0001 + 1e-9 * abs(value)


@given(degrees=st.floats(-80, 80))
def test_pitch_round_trip(degrees: float) -> None:
    pitch = math.tan(math.radians(degrees))
    back = read(write(pitch, "pitch", "metric"), "pitch")
    assert math.degrees(math.atan(back)) == pytest.approx(degrees, abs=0.0501)
    assert read(write(pitch, "pitch", "us"), "pitch") == pytest.approx(pitch, abs=0.05 / 12 + 1e-9)


@pytest.mark.parametrize("system", SYSTEMS)
@given(value=st.floats(-1e6, 1e6), digits=st.integers(0, 6), kind=st.sampled_from(KINDS))
def test_any_number_of_digits_is_readable(
    system: System, value: float, digits: int, kind: Kind
) -> None:
    assert math.isfinite(read(write(value / 1e3, kind, system, digits=digits), kind))


@given(
    sign=st.sampled_from(["", "-", "−"]),
    feet=st.integers(0, 400),
    sixteenths=st.integers(0, 191),
    form=st.sampled_from(["{}' {}\"", "{}'-{}\"", "{} ft {} in", "{}′{}″", "{} feet {} inches"]),
)
def test_feet_and_inches_are_arithmetic(sign: str, feet: int, sixteenths: int, form: str) -> None:
    whole, rest = divmod(sixteenths, 16)
    inches = f"{whole} {rest}/16" if rest else f"{whole}"
    total = float(12 * feet + Fraction(sixteenths, 16)) * INCH
    expected = -total if sign else total
    assert read(sign + form.format(feet, inches), "length") == pytest.approx(expected, rel=1e-12)


@given(first=st.integers(1, 999), then=st.integers(0, 999))
def test_thousands_and_decimal_comma(first: int, then: int) -> None:
    text = f"{first},{then:03d}"
    assert read(f"{text} ft", "length") == pytest.approx((1000 * first + then) * FOOT)
    assert read(f"{text} m", "length") == pytest.approx(first + then / 1000)


@given(text=st.text() | st.text(alphabet=MARKS, max_size=12), kind=st.sampled_from(KINDS))
def test_garbage_raises_input_error_or_reads_a_finite_number(text: str, kind: Kind) -> None:
    try:
        number = read(text, kind)
    except InputError:
        number = 0.0
    assert math.isfinite(number)
