"""Conversion factors: NIST Special Publication 811 (2008), appendix B.8."""

from __future__ import annotations

import pytest

from noonmark.units import Kind, read

# text, kind, SI value printed in B.8 (seven figures)
FACTORS: list[tuple[str, Kind, float]] = [
    ("1 ft", "length", 3.048e-1),
    ("1 in", "length", 2.54e-2),
    ("1 yd", "length", 9.144e-1),
    ("1 mile", "length", 1.609344e3),
    ("1 sq ft", "area", 9.290304e-2),
    ("1 sq in", "area", 6.4516e-4),
    ("1 cu ft", "volume", 2.831685e-2),
    ("1 cu yd", "volume", 7.645549e-1),
    ("1 gal", "volume", 3.785412e-3),
    ("1 cord", "volume", 3.624556e0),
    ("1 lb", "mass", 4.535924e-1),
    ("1 oz", "mass", 2.834952e-2),
    ("1 F", "temperature_difference", 5.555556e-1),
    ("1 h ft2 F/Btu", "thermal_resistance", 1.761102e-1),
    ("1 Btu/(h·ft²·°F)", "u_value", 5.678263e0),
    ("1 Btu in/(h ft2 F)", "conductivity", 1.442279e-1),
    ("1 Btu/(h ft F)", "conductivity", 1.730735e0),
    ("1 Btu/h", "power", 2.930711e-1),
    ("1 Btu/(h ft2)", "power_density", 3.154591e0),
    ("1 Btu", "energy", 1.055056e3),
    ("1 therm", "energy", 1.054804e8),
    ("1 kWh", "energy", 3.6e6),
    ("1 cfm", "airflow", 4.719474e-4),
    ("1 mph", "speed", 4.4704e-1),
    ("1 kn", "speed", 5.144444e-1),
    ("1 psi", "pressure", 6.894757e3),
    ("1 mbar", "pressure", 1.0e2),
    ("1 lb/ft3", "density", 1.601846e1),
    ("1 Btu/(lb F)", "specific_heat", 4.1868e3),
]


@pytest.mark.parametrize(("text", "kind", "factor"), FACTORS)
def test_factor(text: str, kind: Kind, factor: float) -> None:
    assert read(text, kind) == pytest.approx(factor, rel=4e-7)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [(-40, -40), (32, 0), (212, 100), (-459.67, -273.15)]
)
def test_fahrenheit(fahrenheit: float, celsius: float) -> None:
    """B.8: t(C) = (t(F) - 32) / 1.8."""
    assert read(f"{fahrenheit} F", "temperature") == pytest.approx(celsius)
