"""Reads the csv in which somebody wrote down real sun marks.

Columns by their names in the first line: `date` (2026-12-21), `time` (13:05 or 1:05 pm, by the
clock), one height, and `cloudiness` (0 clear to 1 dull) if wanted; other columns are left alone.
The height is `below_soffit`, `above_sill` or `above_floor`, with the unit behind it, as in
`below_soffit_cm`, or in every cell. Comma, semicolon or tab between them; lines that start
with # are remarks.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path
from typing import Literal, TypeVar, cast

from noonmark.climate.textfile import read_text
from noonmark.errors import InputError, Problem
from noonmark.units import read
from noonmark.units.reading import LONGEST
from noonmark.units.table import unit_of

T = TypeVar("T")
Datum = Literal["below_soffit", "above_sill", "above_floor"]

_HEIGHT = re.compile(r"(below_soffit|above_sill|above_floor)(?:_([a-z]+))?")
_DAY = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?(?: ?([ap])\.?m\.?)?", re.IGNORECASE)
_NUMBER = re.compile(r"[-+−]?[0-9]*[.,]?[0-9]+")
_SEPARATORS = (";", "\t", ",")
_YEARS = range(1950, 2101)

_HIGHEST_M = 1e4
"""No wall is so high, not even in a column of metres with millimetres in it."""


@dataclass(frozen=True)
class PencilMark:
    """One mark as it was written: its line in the file, clock time, height [m], cloudiness 0..1."""

    row: int
    day: date
    clock: time
    height: float
    cloudiness: float = 0.0


@dataclass(frozen=True)
class MarkFile:
    """The marks of a file, what their heights count from, and the unit of the column, if any."""

    name: str
    datum: Datum
    column: str
    unit: str | None
    marks: tuple[PencilMark, ...]


def read_marks(path: Path) -> MarkFile:
    """Return the marks of a csv file.

    Raises `InputError` with every field that can not be read, by line and column.
    """
    lines = read_text(path, "markfile").split("\n")
    numbered = [
        (number, line)
        for number, line in enumerate(lines, start=1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if len(numbered) < 2:
        raise InputError(Problem("markfile.no_rows", file=path.name))
    head = numbered[0][1]
    separator = next((sign for sign in _SEPARATORS if sign in head), ",")
    names = [cell.casefold() for cell in _cells(head, separator)]
    datum, column, unit = _height_column(names, path.name, numbered[0][0])
    marks: list[PencilMark] = []
    problems: list[Problem] = []
    for number, line in numbered[1:]:
        cells = _cells(line, separator)
        if any(cells[len(names) :]):
            problems.append(Problem("markfile.cells", file=path.name, line=number))
            continue
        try:
            marks.append(_mark(number, dict(zip(names, cells, strict=False)), column, unit))
        except InputError as error:
            problems += [problem.at(file=path.name, line=number) for problem in error.problems]
    if problems:
        raise InputError(problems)
    return MarkFile(path.name, datum, column, unit, tuple(marks))


def _cells(line: str, separator: str) -> list[str]:
    """Return the cells of a line, one if they can not be told apart."""
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=separator))]
    except csv.Error:
        return [line]


def _height_column(names: list[str], file: str, line: int) -> tuple[Datum, str, str | None]:
    found = [(name, match) for name in names if (match := _HEIGHT.fullmatch(name))]
    missing = [name for name in ("date", "time") if name not in names]
    if missing or len(found) != 1:
        code = "markfile.columns" if missing or not found else "markfile.two_heights"
        values = {"missing": missing or ["below_soffit_m"], "known": names}
        raise InputError(Problem(code, file=file, line=line, values=values))
    for single in ("date", "time", "cloudiness"):
        if names.count(single) > 1:
            raise InputError(Problem("markfile.twice", file=file, line=line, path=single))
    name, match = found[0]
    unit = match[2]
    if unit is not None and unit_of(unit, "length") is None:
        raise InputError(Problem("markfile.unit", file=file, line=line, values={"read": name}))
    return cast("Datum", match[1]), name, unit


def _mark(row: int, cells: Mapping[str, str], column: str, unit: str | None) -> PencilMark:
    problems: list[Problem] = []

    def field(name: str, reader: Callable[[str], T], otherwise: T) -> T:
        try:
            return reader(cells.get(name, ""))
        except InputError as error:
            problems.extend(problem.at(path=name) for problem in error.problems)
            return otherwise

    mark = PencilMark(
        row,
        field("date", _day, date.min),
        field("time", _clock, time()),
        field(column, lambda text: _height(text, column, unit), math.nan),
        field("cloudiness", _share, 0.0),
    )
    if problems:
        raise InputError(problems)
    return mark


def _day(text: str) -> date:
    found = _DAY.fullmatch(text)
    try:
        if found and int(found[1]) in _YEARS:
            return date(*(int(part) for part in found.groups()))
    except ValueError:
        pass
    raise InputError(Problem("markfile.date", values={"read": text[:LONGEST]}))


def _clock(text: str) -> time:
    found = _CLOCK.fullmatch(text)
    try:
        if found:
            return time(_hour(int(found[1]), found[4]), int(found[2]), int(found[3] or 0))
    except ValueError:
        pass
    raise InputError(Problem("markfile.time", values={"read": text[:LONGEST]}))


def _hour(hour: int, half: str | None) -> int:
    """Return an hour of the day, from one of a half day where `half` says a or p."""
    if half is None:
        return hour
    if not 1 <= hour <= 12:
        raise ValueError(hour)
    return hour % 12 + (12 if half in "pP" else 0)


def _height(text: str, column: str, unit: str | None) -> float:
    """Return a height [m]; a bare number has the unit of its column, a written unit goes first."""
    if _NUMBER.fullmatch(text):
        if unit is None:
            raise InputError(Problem("markfile.no_unit", values={"read": text[:LONGEST]}))
        height = read(f"{text.replace(',', '.')} {unit}", "length")
    else:
        height = read(text, "length")
    if abs(height) > _HIGHEST_M:
        raise InputError(Problem("markfile.absurd", values={"read": text[:LONGEST]}))
    if height < 0.0 and column.startswith("below_soffit"):
        raise InputError(Problem("markfile.above_soffit", values={"read": text[:LONGEST]}))
    return height


def _share(text: str) -> float:
    try:
        share = float(text.replace(",", ".") or 0.0)
    except ValueError:
        share = math.nan
    if not 0.0 <= share <= 1.0:
        raise InputError(Problem("markfile.cloudiness", values={"read": text[:LONGEST]}))
    return share
