"""The grid of the year map: its size, its colours, and boxes of like cells."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

LEFT = 150
DAY = 3  # px
HOUR = 16  # px
DAYS, HOURS = 365, 24
WIDTH = LEFT + DAYS * DAY + 36.0
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)

STEPS: tuple[float, ...] = (5.0, 10.0, 15.0, 18.0, 20.0, 23.0, 26.0, 29.0, 32.0)
"""Temperatures at which the colour changes [degC]; the strong break is at 26."""

COLOURS = (
    "#17264a",
    "#2c4a80",
    "#5178aa",
    "#86a8c6",
    "#bdd0d8",
    "#efead6",
    "#f8dd97",
    "#ee9438",
    "#cf4b27",
    "#85182c",
)
BREAK = 26.0

HEATED = "nm-heat"
HARD = "nm-hard"


def covering(where: NDArray[np.bool_]) -> str:
    """Return path data that covers the true cells of (24, 365), whole pixels throughout."""
    return "".join(
        f"M{x0 * DAY} {y0 * HOUR}h{(x1 - x0) * DAY}v{(y1 - y0) * HOUR}h{(x0 - x1) * DAY}z"
        for x0, y0, x1, y1 in _blocks(where)
    )


def _blocks(where: NDArray[np.bool_]) -> Iterator[tuple[int, int, int, int]]:
    """Yield boxes (x0, y0, x1, y1) of cells: runs of hours, merged while days are alike."""
    since: dict[tuple[int, int], int] = {}
    columns = [set(runs(column)) for column in where.T]
    for day, found in enumerate([*columns, set()]):
        for run in sorted(since.keys() - found):
            yield since.pop(run), run[0], day, run[1]
        since |= dict.fromkeys(sorted(found - since.keys()), day)


def runs(column: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Return the runs of true cells of (n,) as (first, one after the last)."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], column, [False]])))
    return [(int(a), int(b)) for a, b in edges.reshape(-1, 2)]
