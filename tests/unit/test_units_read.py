from __future__ import annotations

import math

import pytest

from noonmark.errors import InputError
from noonmark.units import Kind, read

FOOT = 0.3048
INCH = 0.0254

LENGTHS = {
    "4 ft": 4 * FOOT,
    "4'": 4 * FOOT,
    "4.5'": 4.5 * FOOT,
    "4' 6 1/2\"": 54.5 * INCH,
    "4'-6 1/2\"": 54.5 * INCH,
    "4'6-1/2\"": 54.5 * INCH,
    "4 ft 6 in": 54 * INCH,
    "4 ft. 6 in.": 54 * INCH,
    "4 feet 6.5 inches": 54.5 * INCH,
    "4′ 6½″": 54.5 * INCH,
    "4’ 6”": 54 * INCH,
    "4' 6''": 54 * INCH,
    '6 1/2"': 6.5 * INCH,
    '6-1/2"': 6.5 * INCH,
    "6½ in": 6.5 * INCH,
    "⅛ in": 0.125 * INCH,
    '5/8"': 0.625 * INCH,
    "-4' 6\"": -4.5 * FOOT,
    "−4' 6\"": -4.5 * FOOT,
    "2.1 m": 2.1,
    "2.1m": 2.1,
    "2,1 m": 2.1,
    "2,100 m": 2.1,
    "210 cm": 2.1,
    "2100 mm": 2.1,
    "2.1e3 mm": 2.1,
    "0,250 ft": 0.25 * FOOT,
    "1,800 ft": 1800 * FOOT,
    "2.1": 2.1,
    " 2,1 ": 2.1,
    ".5 m": 0.5,
    "+3 m": 3.0,
}

OTHERS: list[tuple[str, Kind, float]] = [
    ("1,800 sq ft", "area", 1800 * FOOT**2),
    ("1,800.5 sq. ft.", "area", 1800.5 * FOOT**2),
    ("1,800 m2", "area", 1.8),
    ("1,800,000 J", "energy", 1.8e6),
    ("9,5 m²", "area", 9.5),
    ("300 L", "volume", 0.3),
    ("1.1 m³", "volume", 1.1),
    ("2.3 kg", "mass", 2.3),
    ("−31 F", "temperature", -35.0),
    ("-31 F", "temperature", -35.0),
    ("-31 °F", "temperature", -35.0),
    ("-35 C", "temperature", -35.0),
    ("24 °C", "temperature", 24.0),
    ("24℃", "temperature", 24.0),
    ("300 K", "temperature", 26.85),
    ("24", "temperature", 24.0),
    ("9 F", "temperature_difference", 5.0),
    ("5 °C", "temperature_difference", 5.0),
    ("R-40", "thermal_resistance", 40 * 0.17611018),
    ("R40", "thermal_resistance", 40 * 0.17611018),
    ("r 40", "thermal_resistance", 40 * 0.17611018),
    ("RSI 7.0", "thermal_resistance", 7.0),
    ("RSI-7", "thermal_resistance", 7.0),
    ("R 7 m2K/W", "thermal_resistance", 7.0),
    ("7 m²·K/W", "thermal_resistance", 7.0),
    ("7", "thermal_resistance", 7.0),
    ("0.25 W/m2K", "u_value", 0.25),
    ("0,25 W/(m²·K)", "u_value", 0.25),
    ("U-0.25 W/m2K", "u_value", 0.25),
    ("U-0.28", "u_value", 0.28 * 5.678263),
    ("0.28 Btu/h ft2 F", "u_value", 0.28 * 5.678263),
    ("0.04 W/mK", "conductivity", 0.04),
    ("2.4 kW", "power", 2400.0),
    ("5 w/m2", "power_density", 5.0),
    ("1.2 GJ", "energy", 1.2e9),
    ("5 MJ", "energy", 5e6),
    ("1 MMBtu", "energy", 1055055852.62),
    ("15 deg", "angle", 15.0),
    ("15°", "angle", 15.0),
    ("15", "angle", 15.0),
    ("6/12", "pitch", 0.5),
    ("6:12", "pitch", 0.5),
    ("6 in 12", "pitch", 0.5),
    ("4 1/2 / 12", "pitch", 0.375),
    ("45 deg", "pitch", 1.0),
    ("45°", "pitch", 1.0),
    ("50 %", "pitch", 0.5),
    ("0.5", "pitch", 0.5),
    ("2.5 /h", "air_change_rate", 2.5),
    ("2.5 ACH", "air_change_rate", 2.5),
    ("36 m3/h", "airflow", 0.01),
    ("10 l/s", "airflow", 0.01),
    ("36 km/h", "speed", 10.0),
    ("840 hPa", "pressure", 84000.0),
    ("84 kPa", "pressure", 84000.0),
    ("2300 kg/m3", "density", 2300.0),
    ("0.84 kJ/kgK", "specific_heat", 840.0),
    ("30 %", "ratio", 0.3),
    ("0.3", "ratio", 0.3),
    ("14", "count", 14.0),
]


@pytest.mark.parametrize(("text", "metres"), LENGTHS.items())
def test_length(text: str, metres: float) -> None:
    assert read(text, "length") == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(("text", "kind", "si"), OTHERS)
def test_notation(text: str, kind: Kind, si: float) -> None:
    assert read(text, kind) == pytest.approx(si, rel=1e-6)


def test_bare_numbers_are_si() -> None:
    assert read(3, "length") == 3.0
    assert read(-2.5, "temperature") == -2.5


@pytest.mark.parametrize(
    "text",
    [
        "",
        "m",
        "4 foot long",
        "4-6 1/2",
        "2 1/2",
        "4' 6",
        "4.5' 6\"",
        "4' -6 ft",
        "1/0 in",
        "1e999 m",
        "nan",
        "inf m",
        "1.2.3 m",
        "__import__('os')",
        "2 * 3",
        "٤ m",
        "9" * 61,
        "4 ft" + " " * 60,
    ],
)
def test_unreadable_length(text: str) -> None:
    with pytest.raises(InputError) as caught:
        read(text, "length")
    (problem,) = caught.value.problems
    assert problem.code == "units.unreadable"
    assert problem.values["read"] == text[:60]
    assert problem.values["kind"] == "length"
    assert "4 ft" in str(problem.values["examples"])


@pytest.mark.parametrize(("text", "kind"), [("5 MBtu", "energy"), ("5 mJ", "energy")])
def test_units_that_mean_two_things_are_refused(text: str, kind: Kind) -> None:
    with pytest.raises(InputError, match=r"units\.unreadable"):
        read(text, kind)


@pytest.mark.parametrize("value", [True, False, math.nan, math.inf, -math.inf, 10**400, None, []])
def test_what_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(InputError, match=r"units\.unreadable"):
        read(value, "length")


@pytest.mark.parametrize(
    ("text", "kind", "got"),
    [
        ("R-40", "length", "thermal_resistance"),
        ("4 ft", "temperature", "length"),
        ("20 C", "length", "temperature"),
        ("R-40", "u_value", "thermal_resistance"),
        ("15°", "temperature", "angle"),
        ("6 in 12", "length", "pitch"),
        ("95°", "pitch", "angle"),
        ("3 kW", "count", "power"),
    ],
)
def test_measure_of_another_kind(text: str, kind: Kind, got: Kind) -> None:
    with pytest.raises(InputError) as caught:
        read(text, kind)
    (problem,) = caught.value.problems
    assert problem.code == "units.wrong_kind"
    assert problem.values["got"] == got
