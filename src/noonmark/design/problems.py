"""Turns what the model refused into problems in the builder's terms."""

from __future__ import annotations

import math
import types
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from noonmark import units
from noonmark.design.lines import Place
from noonmark.design.model import SIDE_TURN, Homestead
from noonmark.design.quantities import PROBLEM, measure_of
from noonmark.errors import InputError, Problem
from noonmark.place.site import azimuth_name


def problems_of(error: ValidationError) -> Iterator[Problem]:
    """Yield each problem with its path in the file's own words (entries from 1)."""
    for item in error.errors(include_url=False):
        place = _in_file(item["loc"])
        problem = _problem(item["type"], item.get("ctx", {}), item.get("input"), item["loc"])
        yield problem.at(path=".".join(str(w + 1 if isinstance(w, int) else w) for w in place))


def _in_file(location: tuple[str | int, ...]) -> Place:
    return location[1:] if location[:1] == ("buildings",) and len(location) > 1 else location


def _problem(kind: str, context: Mapping[str, Any], read: object, location: Place) -> Problem:
    shown = _shown(read)
    if kind == PROBLEM:
        found: Problem = context["problem"]
        return found
    if kind == "missing":
        return Problem("design.missing", values={"key": location[-1]})
    if kind == "extra_forbidden":
        known = _known_keys(location[:-1])
        near = get_close_matches(str(location[-1]), known, n=2, cutoff=0.5)
        return Problem("design.unknown_key", values={"read": location[-1], "near": near or known})
    if kind == "literal_error":
        return Problem("design.not_one_of", values={"read": shown, "known": context["expected"]})
    if kind in _LIMITS:
        limit = _with_unit(context[_LIMITS[kind][1]], location)
        if kind == "less_than_equal" and _is_u_value(limit):
            return Problem("design.u_or_r", values={**_meant(read), "limit": limit})
        if kind == "less_than_equal" and isinstance(limit, units.Quantity) and _is_bare(read):
            counts = units.Quantity(float(str(read)), limit.kind)
            values = {"read": read, "counts": counts, "limit": limit}
            return Problem("design.above_bare", values=values)
        return Problem(f"design.{_LIMITS[kind][0]}", values={"read": read, "limit": limit})
    if kind in {"too_short", "too_long"}:
        limit = context.get("min_length", context.get("max_length"))
        return Problem(f"design.list_{kind}", values={"limit": limit})
    if kind == "string_too_long":
        return Problem("design.text_too_long", values={"limit": context["max_length"]})
    return Problem(
        "design.wrong_type",
        values={"read": shown, "wanted": _WANTED.get(kind.split("_")[0], "text")},
    )


def _is_u_value(limit: object) -> bool:
    return isinstance(limit, units.Quantity) and limit.kind == "u_value"


def _meant(read: object) -> dict[str, object]:
    """Return a U-value that is too large, and what it would be as an R-value of the same number."""
    text = str(read)
    number = units.read(text, "u_value")
    if not _is_bare(read) and "W" not in text:
        number /= units.read("U 1", "u_value")
    named = f"RSI {number}" if "W" in text else f"R {number}"
    resistance = units.read(named, "thermal_resistance")
    return {
        "read": _shown(read),
        "resistance": units.Quantity(resistance, "thermal_resistance"),
        "meant": units.Quantity(1.0 / resistance, "u_value"),
    }


_WANTED = {
    "string": "text",
    "bool": "truth",
    "int": "whole_number",
    "float": "number",
    "finite": "finite_number",
    "list": "list",
    "dict": "table",
    "model": "table",
}
"""What belongs there, by the first word of the model's own error types."""


def _is_bare(read: object) -> bool:
    """Return whether a measure was written without its unit."""
    try:
        return math.isfinite(float(str(read)))
    except ValueError:
        return False


def _with_unit(limit: float, location: Place) -> units.Quantity | float:
    """Return a limit as the measure it is."""
    owner = _part(location[:-1])
    fields: Mapping[str, FieldInfo] = getattr(owner, "model_fields", {})
    field = fields.get(str(location[-1]))
    kind = None if field is None else measure_of(field)
    return limit if kind is None else units.Quantity(limit, kind)


_LIMITS = {
    "greater_than": ("not_above", "gt"),
    "greater_than_equal": ("below", "ge"),
    "less_than": ("not_below", "lt"),
    "less_than_equal": ("above", "le"),
}


def _shown(value: object) -> str:
    text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def window_words(place: Place, data: Mapping[str, Any]) -> dict[str, object]:
    """Return side and number of the window a place lies in, as a builder would point at it."""
    if len(place) < 3 or place[1] != "window" or not isinstance(place[2], int):
        return {}
    building = data[str(place[0])]
    windows = building["window"]
    window = windows[place[2]]
    side = window.get("side") if isinstance(window, dict) else None
    faces = _angle(building.get("faces"))
    if not isinstance(side, str) or side not in SIDE_TURN or faces is None:
        return {"number": place[2] + 1}
    before = [item for item in windows[: place[2]] if isinstance(item, dict)]
    number = 1 + sum(1 for item in before if item.get("side") == side)
    return {"side": azimuth_name(faces + SIDE_TURN[side]), "number": number}


def _angle(value: Any) -> float | None:
    try:
        return units.read(value, "angle")
    except InputError:
        return None


def _known_keys(location: Place) -> list[str]:
    """Return the keys the model knows at a place."""
    fields: Mapping[str, FieldInfo] = getattr(_part(location), "model_fields", {})
    return [field.alias or name for name, field in fields.items()]


def _part(location: Place) -> Any:
    """Return the class of the model at a place."""
    annotation: Any = Homestead
    for word in location:
        annotation = _plain(annotation)
        if hasattr(annotation, "model_fields"):
            annotation = annotation.model_fields[str(word)].annotation
        else:
            annotation = get_args(annotation)[-1]
    return _plain(annotation)


def is_table(location: Place) -> bool:
    """Return whether the model has a table of one part at a place."""
    try:
        field = _part(location[:-1]).model_fields[str(location[-1])]
    except (AttributeError, IndexError, KeyError):
        return False
    return hasattr(_plain(field.annotation), "model_fields")


def _plain(annotation: Any) -> Any:
    """Strip Annotated and optional wrappers."""
    while get_origin(annotation) in (Annotated, Union, types.UnionType):
        annotation = next(item for item in get_args(annotation) if item is not type(None))
    return annotation
