"""The tables and their loader: text files with their source in the header.

A file opens with `# source:`, `# edition:`, `# licence:` and `# units:` lines,
then one comma-separated heading row, then the rows. Columns are the fields of
the row's dataclass.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, TypeVar

from noonmark.errors import InputError, Problem


@dataclass(frozen=True)
class Material:
    """Design values: conductivity [W/mK], density [kg/m3], specific heat [J/kgK].

    `vapour` is how many times still air it holds vapour back (mu of EN ISO 10456), nan where
    nobody says.
    """

    name: str
    conductivity: float
    density: float
    specific_heat: float
    vapour: float


@dataclass(frozen=True)
class Pane:
    """One uncoated pane: thickness [m], solar and visible transmittance, emissivity 0..1."""

    name: str
    thickness: float
    transmittance: float
    visible: float
    emissivity: float


@dataclass(frozen=True)
class ReadyGlazing:
    """A sealed unit, centre of glass at right angles.

    panes and gap_mm, gas and coated faces in words; u_value [W/m2K] by EN 673;
    shgc, solar transmittance and visible transmittance 0..1.
    """

    name: str
    panes: int
    build_up: str
    u_value: float
    shgc: float
    transmittance: float
    visible: float


@dataclass(frozen=True)
class Frame:
    """A frame: U-value [W/m2K], visible width [m], spacer edge [W/mK], solar absorptance."""

    name: str
    u_value: float
    width: float
    edge: float
    absorptance: float


@dataclass(frozen=True)
class Soil:
    """Undisturbed ground: conductivity [W/mK], volumetric heat capacity [J/m3K]."""

    name: str
    conductivity: float
    volumetric_heat_capacity: float


@dataclass(frozen=True)
class Fuel:
    """A fuel and how it is bought.

    unit: what is counted; kwh_net and kwh_gross per unit: net leaves the heat
    of condensing flue steam out (Europe's habit), gross counts it (North
    America's); cords: full cords (128 ft3 stacked) per unit, 0 when not wood.
    """

    name: str
    unit: str
    kwh_net: float
    kwh_gross: float
    cords: float


_TRADE_WORDS = (
    ("glass wool", "mineral wool"),
    ("rock wool", "mineral wool"),
    ("fiberglass", "mineral wool"),
    ("fibreglass", "mineral wool"),
    ("batt", "mineral wool"),
    ("drywall", "plasterboard"),
    ("sheetrock", "plasterboard"),
    ("gypsum", "plasterboard"),
    ("lumber", "softwood"),
    ("spruce", "softwood"),
    ("fir", "softwood"),
    ("pine", "softwood"),
    ("wood", "softwood"),
    ("polyiso", "polyurethane"),
    ("spray foam", "polyurethane"),
    ("styrofoam", "xps"),
    ("cement", "concrete"),
    ("low-e", "double high gain"),
    ("low-e", "double low gain"),
    ("wood", "spruce"),
    ("wood", "oak"),
    ("gas", "natural gas"),
    ("gas", "propane"),
    ("oil", "heating oil"),
)
"""What the trade calls some rows, for the nearest names after a miss (common practice)."""

Row = TypeVar("Row", Material, Pane, ReadyGlazing, Frame, Soil, Fuel)

_FILES: Mapping[type, str] = {
    Material: "materials",
    Pane: "panes",
    ReadyGlazing: "glazings",
    Frame: "frames",
    Soil: "soils",
    Fuel: "fuels",
}


def table(kind: type[Row]) -> Mapping[str, Row]:
    """Return all rows of one kind by name."""
    rows: Mapping[str, Row] = _rows(_FILES[kind])
    return rows


@cache
def _rows(name: str) -> Mapping[str, Any]:
    kind = next(kind for kind, file in _FILES.items() if file == name)
    text = files("noonmark.catalog").joinpath(f"data/{name}.csv").read_text("utf-8")
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    rows = [kind(**_values(kind, row)) for row in csv.DictReader(lines)]
    return MappingProxyType({row.name: row for row in rows})


def find(kind: type[Row], name: str) -> Row:
    """Return the row called `name`; the error names the nearest spellings."""
    rows = table(kind)
    if name in rows:
        return rows[name]
    meant = [row for word, row in _TRADE_WORDS if word in name.casefold() and row in rows]
    near = list(dict.fromkeys(meant)) or get_close_matches(name, rows, n=3, cutoff=0.5)
    values = {"read": name, "kind": _FILES[kind], "near": near or sorted(rows)}
    raise InputError(Problem("catalog.unknown", values=values))


def _values(kind: type[Any], row: Mapping[str, str]) -> dict[str, Any]:
    casts = {"str": str, "int": int, "float": float}
    return {field.name: casts[str(field.type)](row[field.name].strip()) for field in fields(kind)}
