from __future__ import annotations

import math

import pytest

from noonmark.errors import PhysicsError
from noonmark.units import Kind, Quantity, System, read, write

WRITTEN: list[tuple[float, Kind, System, str]] = [
    (2.1, "length", "metric", "2.10 m"),
    (1.3843, "length", "us", "4' 6 1/2\""),
    (-1.3716, "length", "us", "−4' 6\""),
    (0.0127, "length", "us", '1/2"'),
    (0.1651, "length", "us", '6 1/2"'),
    (0.0, "length", "us", '0"'),
    (1.2192, "length", "us", "4' 0\""),
    (3.6575, "length", "us", "12' 0\""),
    (-0.001, "length", "us", '0"'),
    (0.25, "u_value", "metric", "0.25 W/m²K"),
    (1.5899, "u_value", "us", "U-0.28"),
    (7.0444, "thermal_resistance", "us", "R-40.0"),
    (-31.0, "temperature", "metric", "−31.0 °C"),
    (-35.0, "temperature", "us", "−31.0 °F"),
    (-0.04, "temperature", "metric", "0.0 °C"),
    (5.0, "temperature_difference", "us", "9.0 °F"),
    (3.6e6, "energy", "metric", "1.0 kWh"),
    (3.6e6, "energy", "us", "3 kBtu"),
    (0.5, "pitch", "us", "6/12"),
    (0.375, "pitch", "us", "4.5/12"),
    (1.0, "pitch", "metric", "45.0°"),
    (2000.0, "pitch", "metric", "24000/12"),
    (0.3, "ratio", "metric", "30 %"),
    (14.0, "count", "us", "14"),
]


@pytest.mark.parametrize(("value", "kind", "system", "text"), WRITTEN)
def test_written(value: float, kind: Kind, system: System, text: str) -> None:
    assert write(value, kind, system) == text
    assert Quantity(value, kind).write(system) == text


def test_digits() -> None:
    assert write(26.04, "temperature", "metric", digits=0) == "26 °C"
    assert write(1.3843, "length", "us", digits=2) == "4.54 ft"
    assert read("4.54 ft", "length") == pytest.approx(1.3838, abs=1e-4)


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_is_not_finite_is_not_written(value: float) -> None:
    with pytest.raises(PhysicsError, match=r"units\.not_finite"):
        write(value, "length", "metric")


def test_sizes_that_differ_by_noise_are_written_alike() -> None:
    """Two walls of 264.5 mm, as sums of floats have them."""
    assert write(0.26450000000000007, "length", "metric", digits=3) == "0.265 m"
    assert write(0.26449999999999996, "length", "metric", digits=3) == "0.265 m"
