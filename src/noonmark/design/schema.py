"""Writes the keys of a design file down from the model: `python -m noonmark.design.schema FILE`."""

from __future__ import annotations

import json
import sys
import types
from collections.abc import Mapping
from inspect import cleandoc
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin

import annotated_types
from pydantic.fields import FieldInfo

from noonmark.design import model, outdoors, services
from noonmark.design.meanings import MEANINGS
from noonmark.design.part import Part
from noonmark.design.quantities import day_of_year, measure_of, parts_of
from noonmark.units import write
from noonmark.units.table import EXAMPLES

_HEAD = """# Every key of a design file

<!-- Written from the model in src/noonmark/design and meanings.py there, by `make docs`. -->

A design is one TOML file. Its first line is `schema = 1`; unknown keys are refused. Measures are
written as a builder writes them (`"4 ft 6 in"`, `"R-40"`, `"20 C"`); a bare number counts in the SI
unit of its kind. Heights are above the finished floor, azimuths clockwise from true north, sizes of
zones inside dimensions. Sides are named from inside looking out of the sunny side: `sunny`, `left`,
`back`, `right`.
"""

SECTIONS: Mapping[type[Part], str] = {
    model.Homestead: "The top of the file",
    model.Place: "[place]",
    model.Climate: "[climate]",
    model.OwnMaterial: "[material.NAME]",
    model.Construction: "[construction.NAME]",
    model.LayerPart: "[[construction.NAME.layers]]",
    model.GlazingUnit: "[glazing.NAME]",
    model.Building: "[NAME], such as [house]",
    model.Zone: "[house.zone.NAME]",
    model.Wall: "[[house.wall]]",
    model.Window: "[[house.window]]",
    model.Hood: "[house.window.hood]",
    model.Fins: "[house.window.fins]",
    outdoors.Awning: "[house.window.awning]",
    outdoors.Slats: "[house.window.slats]",
    outdoors.Canopy: "[[house.canopy]]",
    outdoors.Tree: "[[house.tree]]",
    outdoors.Neighbour: "[[house.neighbour]]",
    model.Eave: "[house.eave]",
    model.Gutter: "[house.eave.gutter]",
    model.Roof: "[house.roof]",
    model.Floor: "[house.floor]",
    model.EdgeStrip: "[house.floor.edge]",
    services.FloorHeating: "[house.floor.heating]",
    services.Air: "[house.air]",
    services.Fan: "[house.air.fan]",
    services.Passage: "[[house.passage]]",
    services.Cover: "[house.cover.NAME]",
    model.Inside: "[house.inside]",
    services.Use: "[house.use]",
    services.Heating: "[house.heating]",
    services.Stove: "[house.heating.stove]",
    services.SetBack: "[[house.heating.setback]]",
    services.Cooling: "[house.cooling]",
    model.Goals: "[house.goals]",
}


def design_file_markdown() -> str:
    """Return the page that describes every key of a design file."""
    return _HEAD + "".join(_section(part, title) for part, title in SECTIONS.items())


def _section(part: type[Part], title: str) -> str:
    heading = f"`{title}`" if title.startswith("[") else title
    rows = []
    for name, field in part.model_fields.items():
        key = field.alias or name
        cells = [f"`{key}`", _kind(field), _default(field), _limits(field), MEANINGS[part][key]]
        rows.append("| " + " | ".join(cells) + " |")
    table = ["| key | value | default | limits | meaning |", "|---|---|---|---|---|", *rows]
    about = cleandoc(part.__doc__ or "")
    return f"\n## {heading}\n\n{about}\n\n" + "\n".join(table) + "\n"


def _kind(field: FieldInfo) -> str:
    pieces = [p for p in parts_of(field) if p not in (None, types.NoneType, Union, types.UnionType)]
    many = "list of " if list in pieces else "tables of " if dict in pieces else ""
    if kind := measure_of(field):
        return f"{many}{kind.replace('_', ' ')}, such as `{EXAMPLES[kind][-1]}`"
    for item in pieces:
        if get_origin(item) is Literal:
            return many + " or ".join(_toml(value) for value in get_args(item))
        if item in SECTIONS:
            return f"{many}`{SECTIONS[item].partition(',')[0]}`"
    if day_of_year in pieces:
        return "day of the year, such as `5-15`"
    plain = {bool: "true or false", int: "whole number", float: "number", str: "text"}
    return many + next(word for item, word in plain.items() if item in pieces)


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "needed"
    value = field.default
    if value is None or value in ([], {}):
        return "none"
    if isinstance(value, Part):
        return "as below"
    kind = measure_of(field)
    if kind is None or kind in ("ratio", "pitch"):
        return _toml(value)
    return f'`"{write(value, kind, "metric", digits=_digits(value))}"`'


def _digits(value: float) -> int:
    """Return how many digits after the point a default needs."""
    return len(f"{value:g}".partition(".")[2])


def _toml(value: object) -> str:
    if isinstance(value, str):
        return f'`"{value}"`'
    if isinstance(value, list):
        return f"`{json.dumps(value)}`"
    return f"`{value:g}`" if isinstance(value, float) else f"`{str(value).lower()}`"


_LOW = (annotated_types.Gt, annotated_types.Ge, annotated_types.MinLen)
_HIGH = (annotated_types.Lt, annotated_types.Le, annotated_types.MaxLen)
_WORDS: Mapping[type, str] = dict(
    zip(
        (*_LOW, *_HIGH),
        ("more than", "at least", "at least", "less than", "at most", "at most"),
        strict=True,
    )
)


def _limits(field: FieldInfo) -> str:
    """Return the narrowest limits; "more than" before "at least" where both are the same."""
    pieces = parts_of(field)
    low = [(_limit(item), item) for item in pieces if isinstance(item, _LOW)]
    high = [(_limit(item), item) for item in pieces if isinstance(item, _HIGH)]
    found: list[tuple[float, Any]] = []
    if low:
        found.append(max(low, key=lambda pair: (pair[0], isinstance(pair[1], annotated_types.Gt))))
    if high:
        found.append(
            min(high, key=lambda pair: (pair[0], not isinstance(pair[1], annotated_types.Lt)))
        )
    return ", ".join(f"{_WORDS[type(item)]} {_figure(limit, field)}" for limit, item in found)


def _limit(item: Any) -> float:
    """Return the one number a limit holds."""
    value = getattr(item, item.__slots__[0])
    return float(value)


def _figure(limit: float, field: FieldInfo) -> str:
    kind = measure_of(field)
    if kind is None or kind in ("ratio", "pitch"):
        return f"{limit:g}"
    return write(limit, kind, "metric", digits=_digits(limit))


def main(words: list[str]) -> None:
    """Write the page to the file named."""
    (name,) = words
    Path(name).write_text(design_file_markdown(), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
