"""The real years that come inside the package."""

from __future__ import annotations

from difflib import get_close_matches
from importlib.resources import files
from importlib.resources.abc import Traversable

import numpy as np

from noonmark.climate.check import assemble
from noonmark.climate.year import WeatherYear
from noonmark.errors import InputError, Problem

_PA_PER_MBAR = 100.0
_PLACE = ("latitude", "longitude", "altitude_m", "utc_offset_h", "wind_height_m")


def shipped_names() -> tuple[str, ...]:
    """Return the names that `read_shipped` knows."""
    names = (file.name for file in _data().iterdir())
    return tuple(sorted(name.removesuffix(".csv") for name in names if name.endswith(".csv")))


def read_shipped(name: str) -> WeatherYear:
    """Return a shipped weather year by its name ("golden").

    Raises `InputError` climate.unknown_year with the nearest spelling.
    """
    if name not in shipped_names():
        near = get_close_matches(name.lower(), shipped_names(), n=1)
        values = {"read": name, "near": near, "known": shipped_names()}
        raise InputError(Problem("climate.unknown_year", path="weather", values=values))
    file = f"{name}.csv"
    facts, names, table = _read_table(_data().joinpath(file).read_text(encoding="utf-8"))
    columns = dict(zip(names, table.T, strict=True))
    columns["pressure"] = columns["pressure"] * _PA_PER_MBAR
    return assemble(
        columns,
        source=facts["name"],
        trust="typical_year",
        file=file,
        first_line=len(facts) + 2,
        **{fact: float(facts[fact]) for fact in _PLACE},
    )


def _read_table(text: str) -> tuple[dict[str, str], list[str], np.ndarray]:
    """Return the `# key: value` lines, the column names and the rows of a table."""
    facts = {}
    rest = text
    while rest.startswith("#"):
        line, rest = rest.split("\n", 1)
        key, value = line.removeprefix("#").split(":", 1)
        facts[key.strip()] = value.strip()
    header, body = rest.split("\n", 1)
    names = header.split(",")
    numbers = np.fromstring(body.replace("\n", ","), sep=",")
    return facts, names, numbers.reshape(-1, len(names))


def _data() -> Traversable:
    return files("noonmark.climate") / "data"
