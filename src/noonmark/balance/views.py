"""Arrays of numbers seen as arrays of lanes, and lanes laid back into tables of numbers."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic
from numba.np import arrayobj

from noonmark.balance.lanes import DOUBLES, LANES, WIDTH, taught


def room(shape: tuple[int, ...], *, at_least: int = 0) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return room for numbers whose first begins a line of the processor's cache.

    Lanes that lie across two lines take twice as long. `at_least` so many numbers are
    asked of the system.
    """
    count = math.prod(shape)
    block = np.empty(max(count, at_least) + WIDTH)
    first = -block.ctypes.data // block.itemsize % WIDTH
    return block[first : first + count].reshape(shape)


@intrinsic
def _lay(_typing: Any, table: Any, _row: Any, _column: Any, _x: Any) -> Any:
    def generate(context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        array = arrayobj.make_array(table)(context, builder, args[0])
        width_of_row = cgutils.unpack_tuple(builder, array.shape)[1]
        place = builder.add(builder.mul(args[1], width_of_row), args[2])
        start = builder.gep(array.data, [place])
        builder.store(args[3], builder.bitcast(start, DOUBLES.as_pointer()), align=8)
        return context.get_dummy_value()

    return types.void(table, types.int64, types.int64, LANES), generate


def lay(table: Any, row: int, column: int, x: Any) -> None:
    """Write lanes to a row of a table: side by side from `column` on, or in one column of lanes.

    Lanes beyond the end of the row fall into the next one, which is to be written later.
    """
    raise NotImplementedError


@taught(lay)
def _typed_lay(table: Any, row: Any, column: Any, x: Any) -> Any:
    if table.dtype is not LANES:
        return lambda table, row, column, x: _lay(table, row, column, x)

    def write(table: Any, row: Any, column: Any, x: Any) -> None:
        table[row, column] = x

    return write


def _seen(kind: Any) -> Any:
    return types.Array(LANES, kind.ndim - 1, "C", aligned=False)


def _view(context: Any, builder: Any, kind: Any, value: Any) -> Any:
    seen = _seen(kind)
    source = arrayobj.make_array(kind)(context, builder, value)
    view = arrayobj.make_array(seen)(context, builder)
    arrayobj.populate_array(
        view,
        data=builder.bitcast(source.data, DOUBLES.as_pointer()),
        shape=cgutils.unpack_tuple(builder, source.shape)[: seen.ndim],
        strides=cgutils.unpack_tuple(builder, source.strides)[: seen.ndim],
        itemsize=context.get_constant(types.intp, 8 * WIDTH),
        meminfo=source.meminfo,
        parent=source.parent,
    )
    return view._getvalue()


def _viewed(arrays: Any, in_lanes: list[bool], *like: Any) -> Any:
    """Return signature and code of a view of a named tuple, whose arrays `in_lanes` are lanes."""
    kinds = [_seen(kind) if wide else kind for kind, wide in zip(arrays, in_lanes, strict=True)]
    seen = types.BaseTuple.from_types(kinds, arrays.instance_class)

    def generate(context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        parts = [builder.extract_value(args[0], place) for place in range(len(kinds))]
        parts = [
            _view(context, builder, kind, value) if wide else value
            for kind, value, wide in zip(arrays, parts, in_lanes, strict=True)
        ]
        return context.make_tuple(builder, seen, parts)

    return seen(arrays, *like), generate


def _all_in_lanes(_typing: Any, arrays: Any) -> Any:
    return _viewed(arrays, [True for _ in arrays])


as_lanes: Any = intrinsic(_all_in_lanes)
"""View a named tuple of float arrays (..., WIDTH) as arrays (...) of lanes (compiled code).

No reference is counted: the arrays must outlive the view."""

_OF_ELEMENTS = {"element", "mode", "steady", "coefficient", "covered"}
_OF_ELEMENTS |= {"lines", "ahead", "drive", "beside_lines"}
"""What stands side by side in lanes when one design marches alone."""


def _some_in_lanes(_typing: Any, arrays: Any, hours: Any) -> Any:
    batch = hours.ndim == 3
    return _viewed(arrays, [batch or name in _OF_ELEMENTS for name in arrays.fields], hours)


in_lanes: Any = intrinsic(_some_in_lanes)
"""The same for the arrays of a batch, whose tables of hours are (h, n, WIDTH); of one design,
whose tables are (h, n), for those of its elements alone: they stand side by side."""
