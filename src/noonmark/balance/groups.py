"""The elements of one design side by side, so that the processor takes many at once.

Elements that face the same zone stand in groups of up to `WIDTH`, one in each lane, and
all walls between zones do.
Lanes left over hold a part of no area. The rows of their hourly quantities stand side
by side in lines likewise, those of covers, passages and zones in the order they come.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.balance import block as b
from noonmark.balance.block import FloatArray, Layout, Numbers
from noonmark.balance.lanes import WIDTH, room

IntArray = NDArray[np.integer]


@dataclass(frozen=True)
class Groups:
    """How the elements of one design hang together in lanes.

    `layout` counts lines where that of the block counts rows. The others say which
    number of the block stands in each lane, one past the last where none does.
    """

    layout: Layout
    element: IntArray  # (g, WIDTH)
    mode: IntArray  # (m, WIDTH)
    steady: IntArray  # (r, WIDTH)
    coefficient: IntArray  # (t, WIDTH)
    covered: IntArray  # (c, WIDTH)

    def of(self, numbers: Numbers) -> Numbers:
        """Return the numbers of one design, all but those of zones and passages in lanes."""
        return numbers._replace(
            element=_table_in_lanes(numbers.element, _NO_ELEMENT, self.element),
            mode=_table_in_lanes(numbers.mode, _NO_MODE, self.mode),
            steady=_in_lanes(numbers.steady, self.steady),
            coefficient=_in_lanes(numbers.coefficient, self.coefficient),
            covered=_in_lanes(numbers.covered, self.covered),
        )


_NO_ELEMENT = np.zeros((1, b.ELEMENT_COLUMNS))
_NO_ELEMENT[0, [b.CONDUCT_II, b.CONDUCT_OO]] = 1.0
_NO_MODE = np.zeros((1, b.MODE_COLUMNS))
_NO_MODE[0, b.RATE] = 1.0


def _table_in_lanes(table: FloatArray, nothing: FloatArray, places: IntArray) -> FloatArray:
    """Return a table (n, c) as (g, c, WIDTH)."""
    lanes = room((len(places), table.shape[1], WIDTH))
    lanes[:] = np.concatenate([table, nothing])[places].swapaxes(1, 2)
    return lanes


def _in_lanes(values: FloatArray, places: IntArray) -> FloatArray:
    """Return values (n,) as (g, WIDTH)."""
    lanes = room(places.shape)
    np.append(values, 0.0).take(places, out=lanes)
    return lanes


def side_by_side(layout: Layout, beside: IntArray) -> Groups:
    """Return the groups of a block's elements.

    `beside` (e, 2) is alike for those that may stand side by side, which follow
    each other in the block.
    """
    count, walls = len(beside), layout.element_first[-2]
    starts = np.flatnonzero(np.append(True, (beside[1:] != beside[:-1]).any(axis=1)))
    lane = (np.arange(count) - np.repeat(starts, np.diff(np.append(starts, count)))) % WIDTH
    heads, group = np.flatnonzero(lane == 0), np.cumsum(lane == 0) - 1
    element = _spread(group, lane, heads.size)
    first, mode = _modes(layout, element)
    row_line, row_lane = _lines(layout, group, lane)
    owner = np.repeat(layout.changing, np.diff(layout.term_first))
    (line, signal), coefficient = _terms(row_line, row_lane, owner, layout.term_signal)
    changing, starts_of_terms = np.unique(line, return_index=True)
    (covered_line, covered_signal, covered_by), covered = _terms(
        row_line, row_lane, layout.covered_row, layout.covered_signal, layout.covered_by
    )

    def grouped(places: IntArray) -> IntArray:
        """Return the group that begins with the element at each place, or the end."""
        return _short(np.searchsorted(heads, places))

    return Groups(
        layout=layout._replace(
            first=first,
            facing_first=grouped(layout.facing_first),
            facing_middle=grouped(layout.facing_middle),
            begin=_short(np.append(heads, count)),
            group=_short(group),
            lane=_short(lane),
            wall_place=_short((group[walls:] - group[walls : walls + 1]) * WIDTH + lane[walls:]),
            changing=_short(changing),
            term_first=_short(np.append(starts_of_terms, line.size)),
            term_signal=_short(signal),
            covered_row=_short(covered_line),
            covered_signal=_short(covered_signal),
            covered_by=_short(covered_by),
        ),
        element=element,
        mode=mode,
        steady=_spread(row_line, row_lane, row_line.max() + 1),
        coefficient=coefficient,
        covered=covered,
    )


def _short(places: IntArray) -> IntArray:
    return places.astype(np.uint32)


def _spread(line: IntArray, lane: IntArray, count: int) -> IntArray:
    """Return which of what stands in `line` and `lane` (n,) does so where (count, WIDTH)."""
    table = np.full((count, WIDTH), line.size)
    table[line, lane] = np.arange(line.size)
    return table


def _modes(layout: Layout, element: IntArray) -> tuple[IntArray, IntArray]:
    """Return where the modes of each group start (g + 1,), and which they are (m, WIDTH)."""
    starts = layout.first.astype(int)
    counts = np.append(np.diff(starts), 0)[element]
    most = counts.max(axis=1)
    order = np.concatenate([np.arange(count) for count in most])[:, None]
    counts, begin = np.repeat(counts, most, axis=0), np.repeat(starts[element], most, axis=0)
    return _short(np.cumsum([0, *most])), np.where(order < counts, begin + order, starts[-1])


def _lines(layout: Layout, group: IntArray, lane: IntArray) -> tuple[IntArray, IntArray]:
    """Return line and lane (r,) of each row: those of covers, passages and zones come first."""
    before = (
        b.COVER_ROWS * layout.cover_zone.size
        + b.PASSAGE_ROWS * layout.passage_from.size
        + b.ZONE_ROWS * (layout.facing_middle.size - 1)
    )
    place, begin = np.arange(before), -(-before // WIDTH)
    of_elements = begin + b.ELEMENT_ROWS * group[:, None] + np.arange(b.ELEMENT_ROWS)
    return (
        np.concatenate([place // WIDTH, of_elements.ravel()]),
        np.concatenate([place % WIDTH, np.repeat(lane, b.ELEMENT_ROWS)]),
    )


def _terms(
    row_line: IntArray, row_lane: IntArray, row: IntArray, *what: IntArray
) -> tuple[IntArray, IntArray]:
    """Return terms of rows (t,) side by side in lines, n terms that all lanes share.

    Their lines and what else they are alike in (1 + len(what), n), and which of the terms
    given stands in each lane (n, WIDTH).
    """
    # a row may have the same signal twice: then those are two terms
    kind = _kinds(row, *what)
    order = np.argsort(kind, kind="stable")
    again = np.zeros(row.size, dtype=int)
    again[order] = np.arange(row.size) - np.searchsorted(kind[order], kind[order])
    line = row_line[row]
    _, first, place = np.unique(_kinds(line, *what, again), return_index=True, return_inverse=True)
    alike = np.stack([line, *what], axis=0)[:, first]
    return alike, _spread(place, row_lane[row], first.size)


def _kinds(*columns: IntArray) -> IntArray:
    """Return a number (t,) that is the same where all of `columns` (t,) are, ordered like them."""
    number = np.zeros(columns[0].size, dtype=int)
    for column in columns:
        number = number * (1 + int(column.max(initial=0))) + column
    return number
