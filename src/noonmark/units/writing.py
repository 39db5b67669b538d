"""Writes SI numbers for people; the only place where numbers are rounded."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from noonmark.errors import PhysicsError, Problem
from noonmark.units.kinds import Kind, System
from noonmark.units.table import INCH, UNITS

MINUS = "−"
_NOISE_DIGITS = 9
"""Digits after the point behind which two floats of one size differ."""

FINEST_INCH = Fraction(1, 4)
SIXTEENTH = Fraction(1, 16)


@dataclass(frozen=True)
class Style:
    """How a kind is written: `{}` stands for the number in `unit` of the table."""

    form: str
    unit: str
    digits: int


_METRIC: dict[Kind, Style] = {
    "length": Style("{} m", "m", 2),
    "area": Style("{} m²", "m2", 1),
    "volume": Style("{} m³", "m3", 2),
    "mass": Style("{} kg", "kg", 1),
    "temperature": Style("{} °C", "C", 1),
    "temperature_difference": Style("{} K", "K", 1),
    "thermal_resistance": Style("{} m²K/W", "m2K/W", 2),
    "u_value": Style("{} W/m²K", "W/m2K", 2),
    "conductivity": Style("{} W/mK", "W/mK", 3),
    "power": Style("{} W", "W", 0),
    "power_density": Style("{} W/m²", "W/m2", 1),
    "energy": Style("{} kWh", "kWh", 1),
    "angle": Style("{}°", "deg", 1),
    "air_change_rate": Style("{} /h", "/h", 2),
    "airflow": Style("{} m³/h", "m3/h", 1),
    "speed": Style("{} m/s", "m/s", 1),
    "pressure": Style("{} Pa", "Pa", 0),
    "density": Style("{} kg/m³", "kg/m3", 0),
    "specific_heat": Style("{} J/kgK", "J/kgK", 0),
    "ratio": Style("{} %", "%", 0),
}
_US: dict[Kind, Style] = {
    **_METRIC,
    "length": Style("{} ft", "ft", 2),
    "area": Style("{} sq ft", "sqft", 0),
    "volume": Style("{} cu ft", "cuft", 1),
    "mass": Style("{} lb", "lb", 1),
    "temperature": Style("{} °F", "F", 1),
    "temperature_difference": Style("{} °F", "F", 1),
    "thermal_resistance": Style("R-{}", "hft2F/Btu", 1),
    "u_value": Style("U-{}", "Btu/hft2F", 2),
    "conductivity": Style("{} Btu·in/h·ft²·°F", "Btuin/hft2F", 2),
    "power": Style("{} Btu/h", "Btu/h", 0),
    "power_density": Style("{} Btu/h·ft²", "Btu/hft2", 1),
    "energy": Style("{} kBtu", "kBtu", 0),
    "air_change_rate": Style("{} ach", "ach", 2),
    "airflow": Style("{} cfm", "cfm", 0),
    "speed": Style("{} mph", "mph", 1),
    "density": Style("{} lb/ft³", "lb/ft3", 1),
    "specific_heat": Style("{} Btu/lb·°F", "Btu/lbF", 3),
}
STYLES: dict[System, dict[Kind, Style]] = {"metric": _METRIC, "us": _US}


def write(value: float, kind: Kind, system: System, *, digits: int | None = None) -> str:
    """Return an SI `value` as text; `read` takes every such text back.

    `digits` after the point replaces the usual number of the kind. US lengths are
    feet and inches to a quarter inch, or decimal feet when `digits` is given;
    pitches are degrees (metric) or rise in twelve (US). Raises PhysicsError
    `units.not_finite` for nan and infinities.
    """
    if not math.isfinite(value):
        raise PhysicsError(Problem("units.not_finite", values={"kind": kind}))
    if kind == "count":
        return _decimal(value, digits or 0)
    if kind == "pitch":
        return _pitch(value, system, 1 if digits is None else digits)
    if kind == "length" and system == "us" and digits is None:
        return feet_and_inches(value)
    style = STYLES[system][kind]
    unit = UNITS[kind][style.unit]
    number = (value - unit.offset) / unit.factor
    return style.form.format(_decimal(number, style.digits if digits is None else digits))


def dimension(metres: float, system: System) -> str:
    """Return a length [m] to build by: to the millimetre, or to a quarter inch."""
    return write(metres, "length", system, digits=3 if system == "metric" else None)


def taped(metres: float, system: System) -> str:
    """Return a length [m] to lay out by: to the millimetre, or to a sixteenth of an inch."""
    return dimension(metres, system) if system == "metric" else feet_and_inches(metres, SIXTEENTH)


def blurred(metres: float, blur: float, system: System) -> str:
    """Return a length [m] that is known to a `blur` [m] alone: no digit finer than that.

    Steps of 1, 2 or 5 mm and their tens, or of a quarter, half or whole inches.
    """
    steps, unit = _STEPS[system]
    step = max((s for s in steps if s * unit <= blur), default=steps[0]) * unit
    rounded = round(metres / step) * step
    digits = None if system == "us" else 2 if step > 0.009 else 3
    return write(rounded, "length", system, digits=digits)


_STEPS: dict[System, tuple[tuple[float, ...], float]] = {
    "metric": ((1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0), 1e-3),
    "us": ((0.25, 0.5, 1.0, 2.0, 4.0), INCH),
}


def _pitch(value: float, system: System, digits: int) -> str:
    """Return degrees, or rise in twelve: for the US, and where degrees would round to upright."""
    degrees = math.degrees(math.atan(value))
    if system == "metric" and round(abs(degrees), digits) < 90:
        return f"{_decimal(degrees, digits)}°"
    rise = _decimal(12 * value, digits)
    return f"{rise.rstrip('0').rstrip('.') if '.' in rise else rise}/12"


def feet_and_inches(metres: float, finest: Fraction = FINEST_INCH) -> str:
    """Return a length in m as feet, inches and parts of one, `finest` if need be: 4' 6 1/2"."""
    parts = round(abs(metres) / INCH / finest)
    feet, rest = divmod(parts * finest, 12)
    whole, part = divmod(rest, 1)
    inches = " ".join([str(whole)] * bool(whole or not part) + [str(part)] * bool(part))
    sign = MINUS if metres < 0 and parts else ""
    return f"{sign}{feet}' {inches}\"" if feet else f'{sign}{inches}"'


def _decimal(number: float, digits: int) -> str:
    text = f"{round(number, _NOISE_DIGITS):.{digits}f}"
    return text.lstrip("-") if float(text) == 0 else text.replace("-", MINUS)


@dataclass(frozen=True)
class Quantity:
    """An SI number that knows what it measures, for sentences and labels."""

    value: float
    kind: Kind

    def write(self, system: System, *, digits: int | None = None) -> str:
        """Return the quantity as text, see `write`."""
        return write(self.value, self.kind, system, digits=digits)
