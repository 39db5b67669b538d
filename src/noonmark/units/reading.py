"""Reads what a builder writes into one SI number.

Commas: with a metric unit, or none, a single comma is the decimal comma
("2,1 m", "2,100 m" are both 2.1 m); with a US customary unit a comma before
exactly three digits parts thousands ("1,800 sq ft"). Several commas, or a comma
with a point behind it ("1,800.5"), always part thousands.
"""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

from noonmark.errors import InputError, Problem
from noonmark.units.kinds import KINDS, Kind
from noonmark.units.table import EXAMPLES, FOOT, INCH, Unit, unit_of

LONGEST = 60  # characters; nobody writes a longer measure

_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]+)*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?"
_NUMBER = rf"(?:[0-9]+[ -]+)?[0-9]+/[0-9]+|{_DECIMAL}"
_PLAIN = re.compile(rf"([-+]?) ?({_NUMBER})(?![0-9.,/]) ?(.*)")
_FEET_INCHES = re.compile(
    rf"([-+]?) ?([0-9]+) ?(?:'|ft\.?|feet|foot) ?-? ?({_NUMBER}) ?(?:\"|in\.?|inch|inches)"
)
_PITCH = re.compile(rf"([-+]?) ?({_NUMBER}) ?(?:/|:|in) ?({_DECIMAL})")
_NAMED = re.compile(r"(RSI|R|U)[ -]?(?=[-+.0-9])(.*)", re.IGNORECASE)
_NAMED_UNIT: dict[Kind, dict[str, str]] = {
    "thermal_resistance": {"R": "hft2F/Btu", "RSI": "m2K/W"},
    "u_value": {"U": "Btu/hft2F"},
}
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(\.[0-9]+)?")
_MARKS = str.maketrans(
    {
        **dict.fromkeys("′‘’ʹ`´", "'"),
        **dict.fromkeys("″“”ʺ", '"'),
        **dict.fromkeys("−–‐‑", "-"),
        **dict.fromkeys("·⋅×*^()", ""),
        "²": "2",
        "³": "3",
        "⁄": "/",
        "℃": "°C",
        "℉": "°F",
        "º": "°",
    }
)


def read(value: str | float, kind: Kind) -> float:
    """Return the SI number of a measure of `kind`.

    SI here: m, m2, m3, kg, degC, K, m2K/W, W/m2K, W/mK, W, W/m2, J, degrees, rise
    over run for a pitch, 1/h, m3/s, m/s, Pa, kg/m3, J/kgK, a plain ratio ("30 %" is
    0.3). A bare number counts as the SI unit of its kind. "R-40" and "U-0.28" are
    US customary, "RSI 7" is SI; a written unit overrides the letter.

    Raises InputError: `units.wrong_kind` for a good measure of something else,
    `units.unreadable` for anything else that is not a finite number.
    """
    if not isinstance(value, str):
        return _number_given(value, kind)
    text = _tidy(value)
    found = None if len(value) > LONGEST else _measure(text, kind)
    if found is None:
        raise InputError(
            _problem(value, kind, None if len(value) > LONGEST else _other(text, kind))
        )
    return found


def _number_given(value: object, kind: Kind) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if math.isfinite(number):
            return number
        value = number
    raise InputError(_problem(repr(value), kind, None))


def _problem(text: str, kind: Kind, got: Kind | None) -> Problem:
    values: dict[str, object] = {
        "read": text[:LONGEST],
        "kind": kind,
        "examples": list(EXAMPLES[kind]),
    }
    if got is None:
        return Problem("units.unreadable", values=values)
    return Problem("units.wrong_kind", values={**values, "got": got})


def _tidy(text: str) -> str:
    """Return the text in plain marks: one kind of prime, dash, space and fraction."""
    parts = [
        f" {unicodedata.normalize('NFKC', sign)}"
        if unicodedata.decomposition(sign).startswith("<fraction>")
        else sign
        for sign in text
    ]
    plain = "".join(parts).translate(_MARKS).replace("''", '"')
    return " ".join(plain.split())


def _other(text: str, kind: Kind) -> Kind | None:
    """Return the first other kind this text is a good measure of, unit and all."""
    if _measure(text, "count") is not None:
        return None
    return next((k for k in KINDS if k != kind and _measure(text, k) is not None), None)


def _measure(text: str, kind: Kind) -> float | None:
    """Return the finite SI number of tidied text, None when it can not be read."""
    try:
        found = _special(text, kind)
        number = _with_unit(text, kind) if found is None else found
    except (ZeroDivisionError, OverflowError):
        return None
    return number if number is not None and math.isfinite(number) else None


def _special(text: str, kind: Kind) -> float | None:
    """Return notations that are more than a number and a unit."""
    if kind == "length" and (match := _FEET_INCHES.fullmatch(text)):
        sign, feet, inches = match.groups()
        return _signed(sign, int(feet) * FOOT + _number(inches, us=True) * INCH)
    if kind == "pitch":
        return _pitch(text)
    named = _NAMED_UNIT.get(kind)
    if named and (match := _NAMED.fullmatch(text)):
        return _named(match.group(1).upper(), match.group(2), kind, named)
    return None


def _pitch(text: str) -> float | None:
    if match := _PITCH.fullmatch(text):
        sign, rise, run = match.groups()
        return _signed(sign, _number(rise, us=False) / _number(run, us=False))
    angle = _with_unit(text, "angle")
    if angle is None or _with_unit(text, "count") is not None or abs(angle) >= 90:
        return None
    return math.tan(math.radians(angle))


def _named(letter: str, rest: str, kind: Kind, units: dict[str, str]) -> float | None:
    """Return "R-40", or "R 7 m2K/W" where the written unit overrides the letter."""
    match = _PLAIN.fullmatch(rest)
    if match is None or letter not in units:
        return None
    return _with_unit(rest if match.group(3) else rest + units[letter], kind)


def _with_unit(text: str, kind: Kind) -> float | None:
    """Return a number followed by a unit of `kind`, or by nothing."""
    match = _PLAIN.fullmatch(text)
    if match is None:
        return None
    sign, digits, rest = match.groups()
    if not rest and "/" in digits:
        return None
    unit = unit_of(_squeezed(rest), kind) if rest else Unit(1.0)
    if unit is None:
        return None
    return _signed(sign, _number(digits, us=unit.us)) * unit.factor + unit.offset


def _squeezed(unit: str) -> str:
    return re.sub(r"°(?=[CFK])", "", unit.replace(" ", "").replace(".", ""))


def _signed(sign: str, number: float) -> float:
    return -number if sign == "-" else number


def _number(digits: str, *, us: bool) -> float:
    """Return an unsigned number: decimal, fraction or whole with fraction."""
    if "/" in digits:
        *whole, fraction = re.split(r"[ -]+", digits)
        return float(Fraction(fraction) + sum(int(part) for part in whole))
    thousands = _THOUSANDS.fullmatch(digits)
    if thousands and (us or thousands.group(1) or digits.count(",") > 1):
        return float(digits.replace(",", ""))
    plain = digits.replace(",", ".")
    return float(plain) if plain.count(".") <= 1 else math.nan
