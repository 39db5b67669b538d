"""Mends small faults of a weather file and keeps count of each."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from noonmark.climate.year import HOURS, OPTIONAL, REQUIRED, Hourly, Repair
from noonmark.errors import Problem

LONGEST_GAP_H = 6
"""Longer gaps are not guessed at."""

Columns = dict[str, Hourly]


def mend(columns: Mapping[str, Hourly]) -> tuple[Columns, tuple[Repair, ...], tuple[Problem, ...]]:
    """Return the mended columns, what was mended, and what could not be.

    `columns` (8760,) hold nan where a value is missing. Short gaps of the
    required columns are bridged by straight lines; a dew point above the air
    temperature (fog read by two instruments) is brought down to it; an albedo of
    0 all year means that none was measured; missing optional columns become nan.
    """
    mended: Columns = {name: np.asarray(values, float).copy() for name, values in columns.items()}
    mended |= {name: np.full(HOURS, np.nan) for name in OPTIONAL if name not in mended}
    problems = tuple(
        problem for name in REQUIRED for problem in _long_gaps(name, np.isnan(mended[name]))
    )
    if problems:
        return mended, (), problems
    repairs = [repair for name in REQUIRED for repair in _fill_gaps(name, mended)]
    repairs += _cap_dew_point(mended)
    repairs += _drop_zero_albedo(mended)
    return mended, tuple(repairs), ()


def _long_gaps(name: str, missing: np.ndarray) -> list[Problem]:
    return [
        Problem("climate.gap", path=name, values={"column": name, "row": first, "hours": hours})
        for first, hours in _runs(missing)
        if hours > LONGEST_GAP_H
    ]


def _runs(flags: np.ndarray) -> list[tuple[int, int]]:
    """Return (first row, length) of each run of true flags."""
    edges = np.diff(np.concatenate(([0], flags.astype(int), [0])))
    first, after = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return [(int(start), int(stop - start)) for start, stop in zip(first, after, strict=True)]


def _fill_gaps(name: str, columns: Columns) -> list[Repair]:
    values = columns[name]
    missing = np.isnan(values)
    if not missing.any():
        return []
    known = np.flatnonzero(~missing)
    turning = name == "wind_direction"
    heights = np.unwrap(values[known], period=360.0) if turning else values[known]
    filled = np.interp(np.flatnonzero(missing), known, heights)
    values[missing] = filled % 360.0 if turning else filled
    return [_repair("climate.gap_filled", name, missing)]


def _cap_dew_point(columns: Columns) -> list[Repair]:
    above = columns["dew_point"] > columns["temp_air"]
    columns["dew_point"][above] = columns["temp_air"][above]
    return [_repair("climate.dew_point_capped", "dew_point", above)] if above.any() else []


def _drop_zero_albedo(columns: Columns) -> list[Repair]:
    unmeasured = np.nan_to_num(columns["albedo"]) == 0.0
    if not unmeasured.all() or np.isnan(columns["albedo"]).all():
        return []
    columns["albedo"][:] = np.nan
    return [_repair("climate.albedo_missing", "albedo", unmeasured)]


def _repair(code: str, column: str, flags: np.ndarray) -> Repair:
    rows = tuple(int(row) for row in np.flatnonzero(flags))
    return Repair(code, column, rows, len(rows))
