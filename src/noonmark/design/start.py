"""A design to start from, made of a handful of answers."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from importlib.resources import files

from noonmark.errors import InputError, Problem
from noonmark.place.site import equator_azimuth
from noonmark.units import Kind, read
from noonmark.units.table import INCH

LONG_TO_WIDE = 1.6
"""Length along the sunny side over width (common practice: long side to the sun)."""

SUNNY_GLASS_SHARE = 0.09
"""Sunny-side window area over floor area to start from (common practice: 7 to 12 %)."""

MOST_GLASS_LENGTH = 0.7
"""Most of the sunny wall's length that is windows to start from (common practice)."""

STOVE_EFFICIENCY = 0.7
"""Yearly efficiency of a wood stove to start from (common practice: 0.6 to 0.8)."""

_EFFICIENCY = {
    "electricity": 1.0,
    "pellets": 0.85,
    "heating oil": 0.85,
    "propane": 0.9,
    "natural gas": 0.9,
}
"""Yearly efficiency by fuel to start from (common practice); all others are wood."""

_BASIS = {"us": "gross", "metric": "net"}
_EITHER = re.compile(r"<([^<>|]+)\|([^<>|]+)>")
_WINDOW_HEIGHT = 1.5
_WIDEST_WINDOW = 1.8
_TEXT_ANSWERS = ("title", "altitude", "time_zone", "setpoint", "fuel", "weather", "units")
_KINDS: Mapping[str, Kind] = {
    "latitude": "angle",
    "longitude": "angle",
    "altitude": "length",
    "floor_area": "area",
    "setpoint": "temperature",
}


def starting_design(answers: Mapping[str, str]) -> str:
    """Return the text of a commented design file.

    `answers` holds title, latitude, longitude, altitude, time_zone, floor_area,
    setpoint, fuel, weather (a file or empty) and units, each as written by the
    builder. Raises `InputError` naming the answer that can not be read.
    """
    numbers = {name: _number(name, answers[name], kind) for name, kind in _KINDS.items()}
    area = numbers["floor_area"]
    if not 10.0 <= area <= 2000.0:
        values = {"read": answers["floor_area"], "low": "10 m2", "high": "2000 m2"}
        raise InputError(Problem("place.out_of_range", path="--floor-area", values=values))
    width = math.sqrt(area / LONG_TO_WIDE)
    length = area / width
    glass = min(SUNNY_GLASS_SHARE * area, MOST_GLASS_LENGTH * length * _WINDOW_HEIGHT)
    count = math.ceil(glass / (_WINDOW_HEIGHT * _WIDEST_WINDOW))
    units = answers["units"]
    filled = {
        "latitude": f"{numbers['latitude']:g}",
        "longitude": f"{numbers['longitude']:g}",
        "faces": f"{equator_azimuth(numbers['latitude']):g}",
        "length": _length(length, units),
        "width": _length(width, units),
        "count": str(count),
        "share": f"{100 * glass / area:.0f}",
        "window_width": _length(glass / count / _WINDOW_HEIGHT, units),
        "efficiency": f"{_EFFICIENCY.get(answers['fuel'], STOVE_EFFICIENCY)}",
        "basis": _BASIS[units],
        **{name: _quoted(answers[name]) for name in _TEXT_ANSWERS if name != "weather"},
        "climate": f"file = {_quoted(answers['weather'])}"
        if answers["weather"]
        else 'year = "golden"',
    }
    template = _template(units)
    for name, value in filled.items():
        template = template.replace(f"<{name}>", value)
    return template


def _number(name: str, text: str, kind: Kind) -> float:
    try:
        return read(text, kind)
    except InputError as error:
        option = f"--{name.replace('_', '-')}"
        raise InputError([problem.at(path=option) for problem in error.problems]) from error


def _template(units: str) -> str:
    """Return the file with round measures of the builder's own: `<metric|us>` is either."""
    text = files("noonmark.design").joinpath("data/start.toml").read_text("utf-8")
    return _EITHER.sub(lambda found: found[2 if units == "us" else 1], text)


def _length(metres: float, units: str) -> str:
    feet, inches = divmod(round(metres / INCH), 12)
    return f"{feet} ft {inches} in" if units == "us" else f"{metres:.2f} m"


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(sign if sign.isprintable() else " " for sign in escaped) + '"'
