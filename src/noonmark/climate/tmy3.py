"""Reads the typical years that NREL publishes for stations in the United States.

Stamps name the END of an hour in local standard time: the row stamped 1:00 is
hour 0. Wind is measured at 10 m.

Source: S. Wilcox, W. Marion, Users Manual for TMY3 Data Sets,
NREL/TP-581-43156, 2008, doi:10.2172/928611.
"""

from __future__ import annotations

import math
from operator import itemgetter
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark.climate.check import assemble
from noonmark.climate.textfile import read_text
from noonmark.climate.year import HOURS, WeatherYear
from noonmark.errors import InputError, Problem

DATE, TIME = "Date (MM/DD/YYYY)", "Time (HH:MM)"

COLUMNS: dict[str, tuple[str, float]] = {
    "temp_air": ("Dry-bulb (C)", 1.0),
    "dew_point": ("Dew-point (C)", 1.0),
    "pressure": ("Pressure (mbar)", 100.0),
    "ghi": ("GHI (W/m^2)", 1.0),
    "dni": ("DNI (W/m^2)", 1.0),
    "dhi": ("DHI (W/m^2)", 1.0),
    "wind_speed": ("Wspd (m/s)", 1.0),
    "wind_direction": ("Wdir (degrees)", 1.0),
    "albedo": ("Alb (unitless)", 1.0),
    "cloud_cover": ("OpqCld (tenths)", 0.1),
}
"""Our column: the file's column and a factor. Opaque cloud is what hides the cold sky."""

MISSING = (-9900.0, -9999.0, 9999.0, 99999.0)
"""Numbers that stand for "not measured"; an empty field does too."""

WIND_HEIGHT_M = 10.0
_FIRST_LINE = 3
_DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)
_HEADER = {"utc_offset_h": 3, "latitude": 4, "longitude": 5, "altitude_m": 6}


def read_tmy3(path: Path) -> WeatherYear:
    """Return the typical year in a TMY3 csv file, plain or gzip.

    Raises `InputError` with file, line and column: climate.not_tmy3,
    bad_header, missing_column, short_row, bad_number, wrong_hours, wrong_stamp,
    what `read_text` refuses, and what `check_weather` finds.
    """
    lines = read_text(path).rstrip().split("\n")
    if len(lines) < 2 or not lines[1].replace('"', "").startswith(DATE):
        raise InputError(Problem("climate.not_tmy3", file=path.name, line=min(len(lines), 2)))
    station, names, *rows = (line.replace('"', "").split(",") for line in lines)
    facts = _station_facts(station, path.name)
    picked = _pick(names, rows, path.name)
    _check_stamps(picked, path.name)
    numbers = _numbers([cells[2:] for cells in picked], path.name)
    numbers[np.isin(numbers, MISSING)] = np.nan
    columns = {
        name: numbers[:, k] * factor for k, (name, (_, factor)) in enumerate(COLUMNS.items())
    }
    return assemble(
        columns,
        source=f"TMY3 {' '.join(cell.strip() for cell in station[:3])}",
        trust="typical_year",
        file=path.name,
        first_line=_FIRST_LINE,
        wind_height_m=WIND_HEIGHT_M,
        **facts,
    )


def _station_facts(station: list[str], file: str) -> dict[str, float]:
    facts = {}
    for name, place in _HEADER.items():
        read = station[place] if place < len(station) else ""
        value = _number(read)
        if math.isnan(value):
            values = {"read": read, "column": name}
            raise InputError(Problem("climate.bad_header", file=file, line=1, values=values))
        facts[name] = value
    return facts


def _pick(names: list[str], rows: list[list[str]], file: str) -> list[tuple[str, ...]]:
    """Return date, time and our columns of each row."""
    wanted = [DATE, TIME, *(label for label, _ in COLUMNS.values())]
    places = {name.strip(): k for k, name in enumerate(names)}
    lacking = [label for label in wanted if label not in places]
    if lacking:
        raise InputError(
            [
                Problem("climate.missing_column", file=file, line=2, values={"column": label})
                for label in lacking
            ]
        )
    cells = [places[label] for label in wanted]
    pick = itemgetter(*cells)
    picked: list[tuple[str, ...]] = []
    for row in rows:
        if len(row) <= max(cells):
            values = {"read": len(row), "right": max(cells) + 1}
            line = len(picked) + _FIRST_LINE
            raise InputError(Problem("climate.short_row", file=file, line=line, values=values))
        picked.append(pick(row))
    return picked


def _check_stamps(picked: list[tuple[str, ...]], file: str) -> None:
    """Refuse rows out of order, twice, left out or too many; name the first."""
    for row, (day, time, *_) in enumerate(picked):
        if _hour_of_year(day, time) != row:
            values = {"read": f"{day} {time}", "column": TIME, "right": _stamp(row)}
            code = "climate.wrong_stamp" if row < HOURS else "climate.wrong_hours"
            line = row + _FIRST_LINE
            raise InputError(Problem(code, file=file, line=line, values=values))
    if len(picked) != HOURS:
        values = {"read": str(len(picked)), "right": str(HOURS)}
        line = len(picked) + _FIRST_LINE - 1
        raise InputError(Problem("climate.wrong_hours", file=file, line=line, values=values))


def _hour_of_year(day: str, time: str) -> int | None:
    """Return the row that a stamp belongs to; midnight may be 24:00 or 0:00 of the next day."""
    try:
        month, date, _ = (int(part) for part in day.split("/"))
        hour, minute = (int(part) for part in time.split(":")[:2])
    except ValueError:
        return None
    if not (1 <= month <= 12 and 1 <= date <= 31 and 0 <= hour <= 24 and minute == 0):
        return None
    return ((_DAYS_BEFORE_MONTH[month - 1] + date - 1) * 24 + hour - 1) % HOURS


def _stamp(row: int) -> str:
    day, hour = divmod(row, 24)
    month = next(k for k in range(12) if day % 365 < _DAYS_BEFORE_MONTH[k + 1])
    return f"{month + 1}/{day % 365 - _DAYS_BEFORE_MONTH[month] + 1} {hour + 1}:00"


def _numbers(cells: list[tuple[str, ...]], file: str) -> NDArray[np.float64]:
    try:
        numbers = np.array(cells, dtype=np.float64)
    except ValueError:
        numbers = np.array([_row_numbers(row, k, file) for k, row in enumerate(cells)])
    if np.isinf(numbers).any():
        row, column = np.argwhere(np.isinf(numbers))[0]
        raise _bad_number(cells[row][column], int(column), int(row), file)
    return numbers


def _row_numbers(cells: tuple[str, ...], row: int, file: str) -> list[float]:
    numbers = [_number(cell) for cell in cells]
    for column, (number, cell) in enumerate(zip(numbers, cells, strict=True)):
        if math.isnan(number) and cell.strip():
            raise _bad_number(cell, column, row, file)
    return numbers


def _number(cell: str) -> float:
    try:
        return float(cell)
    except ValueError:
        return math.nan


def _bad_number(cell: str, column: int, row: int, file: str) -> InputError:
    label = list(COLUMNS.values())[column][0]
    values = {"read": cell, "column": label}
    line = row + _FIRST_LINE
    return InputError(Problem("climate.bad_number", file=file, line=line, values=values))
