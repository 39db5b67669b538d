"""Weather that tests make up or find, and files they write of it."""

from __future__ import annotations

import os
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from noonmark.climate.shipped import read_shipped
from noonmark.climate.tmy3 import COLUMNS, DATE, TIME
from noonmark.climate.year import WeatherYear

DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]


def shared_file(name: str, what: str) -> Path:
    """Return a file of the data kept beside the project, or skip the test."""
    folder = os.environ.get("NOONMARK_SHARED")
    if not folder:
        pytest.skip(f"no {what}, NOONMARK_SHARED names no folder that holds it")
    return Path(folder) / name


def denver_file() -> Path:
    return shared_file("climate/us-typical-years/725650TYA.CSV.gz", "Denver year")


@cache
def tmy3_text() -> str:
    """Return the shipped year as a TMY3 file holding just the columns that are read."""
    year = read_shipped("golden")
    stamps = [
        f"{month}/{day}/1999,{hour}:00"
        for month, days in enumerate(DAYS, 1)
        for day in range(1, days + 1)
        for hour in range(1, 25)
    ]
    values = {name: getattr(year, name) / factor for name, (_, factor) in COLUMNS.items()}
    values["cloud_cover"] = np.full(8760, 5.0)
    table = np.column_stack(list(values.values())).round(2)
    rows = [f"{stamp},{','.join(map(str, row))}" for stamp, row in zip(stamps, table, strict=True)]
    labels = ",".join([DATE, TIME, *(label for label, _ in COLUMNS.values())])
    station = f"000000,GOLDEN TABLE,CO,-7,{year.latitude},{year.longitude},{year.altitude_m}"
    return "\n".join([station, labels, *rows]) + "\n"


def write(folder: Path, text: str, name: str = "year.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def with_moved_sun(year: WeatherYear, hours: int) -> WeatherYear:
    """Return the year with the rows of its radiation moved by whole hours."""
    moved = {name: np.roll(getattr(year, name), hours) for name in ("ghi", "dni", "dhi")}
    return replace(year, ghi=moved["ghi"], dni=moved["dni"], dhi=moved["dhi"])
