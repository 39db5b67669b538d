"""Eight designs in lanes: every operation gives in each lane what numpy gives."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np
import pytest

from noonmark.balance.lanes import (
    WIDTH,
    any_above,
    cube_root,
    filled,
    least,
    lowest,
    most,
    part,
    placed,
    put,
    take,
    together,
    where,
    width,
)
from noonmark.balance.views import as_lanes, in_lanes, lay, room
from noonmark.compiled import compiled

FloatArray = np.ndarray
ROOT = 1e-4
"""How exact a cube root must be, for films that are known to a tenth."""


class Values(NamedTuple):
    """Two columns of numbers and room for what is made of them."""

    a: FloatArray
    b: FloatArray
    made: FloatArray


@compiled(inlined=False)
def _operate(a: Any, b: Any, made: Any) -> None:
    made[0] = a + b
    made[1] = a - b
    made[2] = a * b
    made[3] = a / b
    made[4] = -a
    made[5] = math.sqrt(a * a)
    made[6] = least(a, b)
    made[7] = most(a, b)
    made[8] = where(a > b, a, b)
    made[9] = where(a < b, a, 2.0)
    made[10] = where((a >= b) & (a > 0.0), 1.0, b)
    made[11] = where((a <= b) | (b > 0.0), a, 3.0 * b)
    made[12] = 2.0 + a
    made[13] = 1.0 / a
    made[14] = a - 3
    made[15] = cube_root(most(a, -a))
    sum_up = 0.0 * a
    sum_up += a
    sum_up -= 2.0 * b
    sum_up *= a
    sum_up /= b
    made[16] = sum_up
    made[17] = 7.0
    turned = a
    for lane in range(width(a)):
        turned = put(turned, lane, take(a, width(a) - 1 - lane) + lane)
    made[18] = turned
    made[19] = least(a, 0.5)
    made[20] = most(0.5, b)


@compiled(inlined=False)
def _in_lanes(values: Values) -> None:
    lanes = as_lanes(values)
    _operate(lanes.a[0], lanes.b[0], lanes.made)


def wanted(a: FloatArray, b: FloatArray) -> dict[str, FloatArray]:
    """Return the same by numpy, in the order of `_operate`."""
    return {
        "sum": a + b,
        "difference": a - b,
        "product": a * b,
        "quotient": a / b,
        "negative": -a,
        "root": np.sqrt(a * a),
        "least": np.minimum(a, b),
        "most": np.maximum(a, b),
        "where greater": np.where(a > b, a, b),
        "where less": np.where(a < b, a, 2.0),
        "both hold": np.where((a >= b) & (a > 0.0), 1.0, b),
        "either holds": np.where((a <= b) | (b > 0.0), a, 3.0 * b),
        "number first": 2.0 + a,
        "inverse": 1.0 / a,
        "whole number": a - 3,
        "cube root": np.cbrt(np.abs(a)),
        "in place": (a - 2.0 * b) * a / b,
        "fill": np.full_like(a, 7.0),
        "turned": a[::-1] + np.arange(a.size),
        "least of a number": np.minimum(a, 0.5),
        "most of a number": np.maximum(0.5, b),
    }


@pytest.mark.parametrize("seed", range(20))
def test_lanes_do_what_numpy_does(seed: int) -> None:
    rng = np.random.default_rng(seed)
    values = Values(
        rng.normal(0.0, 10.0 ** rng.integers(-3, 4), (1, WIDTH)),
        rng.normal(0.0, 10.0 ** rng.integers(-3, 4), (1, WIDTH)),
        np.zeros((21, WIDTH)),
    )
    values.b[0, : seed % WIDTH] = values.a[0, : seed % WIDTH]  # equal numbers too
    _in_lanes(values)
    for got, (name, by_numpy) in zip(
        values.made, wanted(values.a[0], values.b[0]).items(), strict=True
    ):
        np.testing.assert_allclose(
            got, by_numpy, rtol=ROOT if name == "cube root" else 1e-13, atol=1e-300, err_msg=name
        )


def test_a_single_number_does_the_same() -> None:
    made = np.zeros((21,))
    _operate(1.7, -0.3, made)
    by_numpy = wanted(np.array([1.7]), np.array([-0.3]))
    for got, (name, value) in zip(made, by_numpy.items(), strict=True):
        assert got == pytest.approx(value[0], rel=ROOT), name


def test_cube_root_over_all_differences() -> None:
    values = Values(
        np.logspace(-6, 6, WIDTH * 500).reshape(-1, WIDTH), np.zeros((1, WIDTH)), np.zeros((1, 1))
    )
    roots = np.zeros_like(values.a)
    _roots(values._replace(made=roots))
    np.testing.assert_allclose(roots, np.cbrt(values.a), rtol=ROOT)


@compiled(inlined=False)
def _roots(values: Values) -> None:
    lanes = as_lanes(values)
    for i in range(lanes.a.shape[0]):
        lanes.made[i] = cube_root(lanes.a[i])


class Elements(NamedTuple):
    """Elements side by side, numbers of their zone, and a table of a column an element."""

    element: FloatArray
    zone: FloatArray
    table: FloatArray


@compiled(inlined=False)
def _with(values: Elements) -> None:
    element, zone, table = in_lanes(values, values.table)
    lay(table, 0, 0, element[0])
    lay(table, 0, table.shape[1] - 1, element[1])
    lay(table, 1, 0, element[1])
    zone[0] = part(element[0], 3, zone[0])
    zone[1] = together(element[0] * element[1], zone[1])
    zone[2] = 1.0 if any_above(element[0], 7.5) else 0.0
    zone[3] = 1.0 if any_above(element[0], 8.5) else 0.0
    zone[5] = lowest(2.0 - element[0], zone[0])
    element[0] = placed(element[0], 3, zone[4])
    element[1] = filled(zone[0])


def test_lanes_of_elements_meet_numbers_of_their_zone() -> None:
    """Rows are laid side by side, later ones over the ends of those before."""
    values = Elements(
        np.stack([np.arange(1.0, 1.0 + WIDTH), np.full(WIDTH, 2.0)]),
        np.array([0.0, 0.0, 0.0, 0.0, -5.0, 0.0]),
        np.zeros((3, WIDTH + 1)),
    )
    _with(values)
    rows = np.zeros((3, WIDTH + 1))
    rows[0, :WIDTH], rows[0, WIDTH], rows[1, :WIDTH] = np.arange(1.0, 1.0 + WIDTH), 2.0, 2.0
    np.testing.assert_array_equal(values.table, rows)
    zone = [4.0, WIDTH * (WIDTH + 1.0), 1.0, 0.0, -5.0, 2.0 - WIDTH]
    np.testing.assert_array_equal(values.zone, zone)
    changed = np.arange(1.0, 1.0 + WIDTH)
    changed[3] = -5.0
    np.testing.assert_array_equal(values.element, [changed, np.full(WIDTH, 4.0)])


def test_lanes_of_designs_stay_lanes() -> None:
    """The same source, where each lane is another design."""
    one, two = np.arange(1.0, 1.0 + WIDTH), np.full(WIDTH, 2.0)
    zone = np.zeros((6, WIDTH))
    zone[4] = -5.0
    values = Elements(np.stack([one, two]), zone, np.zeros((3, 2, WIDTH)))
    _with(values)
    np.testing.assert_array_equal(values.table[0], [one, two])
    made = [one, 2.0 * one, one**0, 0.0 * one, zone[4], 2.0 - one]
    np.testing.assert_array_equal(zone, made)
    np.testing.assert_array_equal(values.element, [zone[4], one])


@pytest.mark.parametrize("count", [1, 3, 64])
def test_room_begins_a_line_of_the_cache(count: int) -> None:
    for _ in range(20):
        assert room((count, 3)).ctypes.data % 64 == 0
