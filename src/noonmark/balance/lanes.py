"""Several designs at once in the lanes of the processor, for code written once.

A function compiled for floats works on one design. Given arrays whose last axis
holds `WIDTH` designs and seen through `as_lanes`, the same function works on all
of them with the processor's vector instructions: every element of such an array
is one `<WIDTH x double>`, and `+ - * /`, comparisons and the functions below know
it. Branches on values become `where`; nothing else changes.

Plain loops over a lane axis are not turned into vector instructions by the
compiler, hence a type of its own.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from typing import Any

import numpy as np
from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.core.datamodel import models
from numba.core.typeconv import Conversion
from numba.extending import intrinsic, lower_cast, overload, register_model
from numba.np import arrayobj

from noonmark.compiled import FAST, compiled

WIDTH = 8
"""Designs in one vector: the widest registers there are; narrower machines use two or four."""


def room(shape: tuple[int, ...], *, at_least: int = 0) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return room for numbers whose first begins a line of the processor's cache.

    Lanes that lie across two lines take twice as long. `at_least` so many numbers are
    asked of the system.
    """
    count = math.prod(shape)
    block = np.empty(max(count, at_least) + WIDTH)
    first = -block.ctypes.data // block.itemsize % WIDTH
    return block[first : first + count].reshape(shape)


_DOUBLES = ir.VectorType(ir.DoubleType(), WIDTH)
_LONGS = ir.VectorType(ir.IntType(64), WIDTH)
_TRUTHS = ir.VectorType(ir.IntType(1), WIDTH)
_PLACES = ir.VectorType(ir.IntType(32), WIDTH)


class _Lanes(types.Type):
    """The type of `WIDTH` numbers; a single number fits in by filling every lane."""

    def __init__(self) -> None:
        super().__init__(name=f"lanes{WIDTH}")
        self.bitwidth = 64 * WIDTH

    def can_convert_from(self, _context: Any, other: Any) -> Any:
        return Conversion.safe if isinstance(other, types.Number) else None

    def unify(self, _context: Any, other: Any) -> Any:
        return self if isinstance(other, types.Number) else None


class _Truths(types.Type):
    """The type of `WIDTH` truth values."""

    def __init__(self) -> None:
        super().__init__(name=f"truths{WIDTH}")


_lanes = _Lanes()
_truths = _Truths()


@register_model(_Lanes)
class _LanesModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, _DOUBLES)


@register_model(_Truths)
class _TruthsModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, _TRUTHS)


@lower_cast(types.Number, _Lanes)
def _fill(context: Any, builder: Any, kind: Any, _to: Any, value: Any) -> Any:
    number = context.cast(builder, value, kind, types.float64)
    nothing = ir.Constant(_DOUBLES, ir.Undefined)
    first = builder.insert_element(nothing, number, ir.Constant(ir.IntType(32), 0))
    return builder.shuffle_vector(first, nothing, ir.Constant(_PLACES, [0] * WIDTH))


def _overload(function: Any) -> Callable[[Callable[..., Any]], Any]:
    """Return numba's decorator; annotations of an overload need not be those of its lambdas."""
    decorator: Callable[[Callable[..., Any]], Any] = overload(function, strict=False)
    return decorator


def _is_lanes(*kinds: Any) -> bool:
    """Return whether lanes are among the arguments, and nothing but lanes and numbers."""
    known = all(isinstance(kind, _Lanes | types.Number) for kind in kinds)
    return known and any(isinstance(kind, _Lanes) for kind in kinds)


def _lane_operation(result: Any, count: int, build: Callable[..., Any]) -> Any:
    """Return an intrinsic from `count` lanes to `result`, made by `build(builder, *vectors)`."""

    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        return build(builder, *args)

    if count == 1:

        def one(_typing: Any, _a: Any) -> Any:
            return result(_lanes), generate

        return intrinsic(one)

    def two(_typing: Any, _a: Any, _b: Any) -> Any:
        return result(_lanes, _lanes), generate

    return intrinsic(two)


def _teach(function: Any, result: Any, build: Callable[..., Any]) -> None:
    """Teach a function of two numbers what it does to lanes."""
    operation = _lane_operation(result, 2, build)

    def typed(a: Any, b: Any) -> Any:
        return (lambda a, b: operation(a, b)) if _is_lanes(a, b) else None

    _overload(function)(typed)


def _arithmetic(instruction: str) -> Callable[..., Any]:
    return lambda builder, a, b: getattr(builder, instruction)(a, b, flags=FAST)


def _comparison(sign: str) -> Callable[..., Any]:
    return lambda builder, a, b: builder.fcmp_ordered(sign, a, b)


for _plain, _in_place, _instruction in (
    (operator.add, operator.iadd, "fadd"),
    (operator.sub, operator.isub, "fsub"),
    (operator.mul, operator.imul, "fmul"),
    (operator.truediv, operator.itruediv, "fdiv"),
):
    _teach(_plain, _lanes, _arithmetic(_instruction))
    _teach(_in_place, _lanes, _arithmetic(_instruction))
for _function, _sign in ((operator.lt, "<"), (operator.gt, ">")):
    _teach(_function, _truths, _comparison(_sign))
_teach(operator.le, _truths, _comparison("<="))
_teach(operator.ge, _truths, _comparison(">="))


def _teach_truths(function: Any, instruction: str) -> None:
    @intrinsic
    def operation(_typing: Any, _a: Any, _b: Any) -> Any:
        def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
            return getattr(builder, instruction)(*args)

        return _truths(_truths, _truths), generate

    def typed(a: Any, b: Any) -> Any:
        return (lambda a, b: operation(a, b)) if a is _truths and b is _truths else None

    _overload(function)(typed)


_teach_truths(operator.and_, "and_")
_teach_truths(operator.or_, "or_")


@intrinsic
def _negative(_typing: Any, _a: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        return builder.fneg(args[0])

    return _lanes(_lanes), generate


@_overload(operator.neg)
def _typed_negative(a: Any) -> Any:
    return (lambda a: _negative(a)) if a is _lanes else None


@intrinsic
def _choose(_typing: Any, _c: Any, _a: Any, _b: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        return builder.select(*args)

    return _lanes(_truths, _lanes, _lanes), generate


def where(condition: Any, yes: Any, no: Any) -> Any:
    """Return `yes` where the condition holds and `no` elsewhere (in compiled code)."""
    raise NotImplementedError


@_overload(where)
def _typed_where(condition: Any, yes: Any, no: Any) -> Any:
    if condition is _truths:
        return lambda condition, yes, no: _choose(condition, yes, no)
    return lambda condition, yes, no: yes if condition else no


def least(a: Any, b: Any) -> Any:
    """Return the smaller of two numbers (in compiled code)."""
    raise NotImplementedError


@_overload(least)
def _typed_least(a: Any, b: Any) -> Any:
    return lambda a, b: where(a < b, a, b)


def most(a: Any, b: Any) -> Any:
    """Return the larger of two numbers (in compiled code)."""
    raise NotImplementedError


@_overload(most)
def _typed_most(a: Any, b: Any) -> Any:
    return lambda a, b: where(a > b, a, b)


@intrinsic
def _vector_root(_typing: Any, _a: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        kind = ir.FunctionType(_DOUBLES, [_DOUBLES])
        name = f"llvm.sqrt.v{WIDTH}f64"
        return builder.call(cgutils.get_or_insert_function(builder.module, kind, name), args)

    return _lanes(_lanes), generate


@_overload(math.sqrt)
def _typed_root(x: Any) -> Any:
    return (lambda x: _vector_root(x)) if x is _lanes else None


@intrinsic
def _near_inverse_cube_root(_typing: Any, a: Any) -> Any:
    """x^(-1/3) to 4 %: the exponent in the number's bits, divided by minus three."""
    vector = a is _lanes
    doubles = _DOUBLES if vector else ir.DoubleType()
    longs = _LONGS if vector else ir.IntType(64)

    def constant(value: int) -> Any:
        return ir.Constant(longs, [value] * WIDTH if vector else value)

    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        bits = builder.bitcast(args[0], longs)
        third = builder.lshr(bits, constant(2))
        for shift in (4, 6, 8, 10, 12, 14, 16):  # 1/3 = 1/4 + 1/16 + 1/64 + ...
            third = builder.add(third, builder.lshr(bits, constant(shift)))
        return builder.bitcast(builder.sub(constant(_CUBE_MAGIC), third), doubles)

    return a(a), generate


_CUBE_MAGIC = 0x553EF0FF289DD796
"""Bits of 1.0 times 4/3, less what makes the guess as often too high as too low."""


@compiled()
def cube_root(x: Any) -> Any:
    """Return x^(1/3) of a number or of lanes > 0 to a few parts in 100 000, without division."""
    z: Any = _near_inverse_cube_root(x)
    third = x * (1.0 / 3.0)
    for _ in range(2):
        z = z * (4.0 / 3.0 - third * z * z * z)
    return x * z * z


@intrinsic
def _take(_typing: Any, _a: Any, _lane: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        return builder.extract_element(*args)

    return types.float64(_lanes, types.int64), generate


@intrinsic
def _put(_typing: Any, _a: Any, _lane: Any, _value: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        vector, lane, value = args
        return builder.insert_element(vector, value, lane)

    return _lanes(_lanes, types.int64, types.float64), generate


def width(x: Any) -> int:
    """Return how many designs stand in a value (in compiled code)."""
    raise NotImplementedError


@_overload(width)
def _typed_width(x: Any) -> Any:
    return (lambda x: WIDTH) if x is _lanes else (lambda x: 1)


def take(x: Any, lane: int) -> float:
    """Return the number in one lane (in compiled code)."""
    raise NotImplementedError


@_overload(take)
def _typed_take(x: Any, lane: Any) -> Any:
    return (lambda x, lane: _take(x, lane)) if x is _lanes else (lambda x, lane: x)


def put(x: Any, lane: int, value: float) -> Any:
    """Return lanes with the number in one of them replaced (in compiled code)."""
    raise NotImplementedError


@_overload(put)
def _typed_put(x: Any, lane: Any, value: Any) -> Any:
    if x is _lanes:
        return lambda x, lane, value: _put(x, lane, value)
    return lambda x, lane, value: value


@intrinsic
def _any(_typing: Any, _a: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        bits = ir.IntType(WIDTH)
        return builder.icmp_unsigned("!=", builder.bitcast(args[0], bits), ir.Constant(bits, 0))

    return types.boolean(_truths), generate


def any_above(x: Any, limit: float) -> bool:
    """Return whether any design's number lies above a limit (in compiled code)."""
    raise NotImplementedError


@_overload(any_above)
def _typed_any_above(x: Any, limit: Any) -> Any:
    return (lambda x, limit: _any(x > limit)) if x is _lanes else (lambda x, limit: x > limit)


@intrinsic
def _filled(_typing: Any, _x: Any) -> Any:
    def generate(context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        return context.cast(builder, args[0], types.float64, _lanes)

    return _lanes(types.float64), generate


def filled(x: Any) -> Any:
    """Return lanes as they are, a number in every lane (in compiled code)."""
    raise NotImplementedError


@_overload(filled)
def _typed_filled(x: Any) -> Any:
    return (lambda x: x) if x is _lanes else (lambda x: _filled(x))


@intrinsic
def _sum(_typing: Any, _a: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        kind = ir.FunctionType(ir.DoubleType(), [ir.DoubleType(), _DOUBLES])
        name = f"llvm.vector.reduce.fadd.v{WIDTH}f64"
        function = cgutils.get_or_insert_function(builder.module, kind, name)
        return builder.call(function, [ir.Constant(ir.DoubleType(), 0.0), *args], fastmath=FAST)

    return types.float64(_lanes), generate


def part(x: Any, lane: int, like: Any) -> Any:
    """Return what lanes hold for an element: the number in its lane, or lanes for lanes `like`."""
    raise NotImplementedError


@_overload(part)
def _typed_part(x: Any, lane: Any, like: Any) -> Any:
    return (lambda x, lane, like: x) if like is _lanes else (lambda x, lane, like: _take(x, lane))


def placed(x: Any, lane: int, value: Any) -> Any:
    """Return lanes with what they hold for an element replaced: see `part`."""
    raise NotImplementedError


@_overload(placed)
def _typed_placed(x: Any, lane: Any, value: Any) -> Any:
    if value is _lanes:
        return lambda x, lane, value: value
    return lambda x, lane, value: _put(x, lane, value)


@intrinsic
def _lay(_typing: Any, table: Any, _row: Any, _column: Any, _x: Any) -> Any:
    def generate(context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        array = arrayobj.make_array(table)(context, builder, args[0])
        width_of_row = cgutils.unpack_tuple(builder, array.shape)[1]
        place = builder.add(builder.mul(args[1], width_of_row), args[2])
        start = builder.gep(array.data, [place])
        builder.store(args[3], builder.bitcast(start, _DOUBLES.as_pointer()), align=8)
        return context.get_dummy_value()

    return types.void(table, types.int64, types.int64, _lanes), generate


def lay(table: Any, row: int, column: int, x: Any) -> None:
    """Write lanes to a row of a table: side by side from `column` on, or in one column of lanes.

    Lanes beyond the end of the row fall into the next one, which is to be written later.
    """
    raise NotImplementedError


@_overload(lay)
def _typed_lay(table: Any, row: Any, column: Any, x: Any) -> Any:
    if table.dtype is not _lanes:
        return lambda table, row, column, x: _lay(table, row, column, x)

    def write(table: Any, row: Any, column: Any, x: Any) -> None:
        table[row, column] = x

    return write


def together(x: Any, like: Any) -> Any:
    """Return the sum over the elements that stand in lanes, as a number or lanes `like` another."""
    raise NotImplementedError


@_overload(together)
def _typed_together(x: Any, like: Any) -> Any:
    return (lambda x, like: x) if like is _lanes else (lambda x, like: _sum(x))


@intrinsic
def _smallest(_typing: Any, _a: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, args: Any) -> Any:
        kind = ir.FunctionType(ir.DoubleType(), [_DOUBLES])
        name = f"llvm.vector.reduce.fmin.v{WIDTH}f64"
        function = cgutils.get_or_insert_function(builder.module, kind, name)
        return builder.call(function, args, fastmath=("nnan",))

    return types.float64(_lanes), generate


def lowest(x: Any, like: Any) -> Any:
    """Return the least of the elements that stand in lanes: see `together`."""
    raise NotImplementedError


@_overload(lowest)
def _typed_lowest(x: Any, like: Any) -> Any:
    return (lambda x, like: x) if like is _lanes else (lambda x, like: _smallest(x))


def _seen(kind: Any) -> Any:
    return types.Array(_lanes, kind.ndim - 1, "C", aligned=False)


def _view(context: Any, builder: Any, kind: Any, value: Any) -> Any:
    seen = _seen(kind)
    source = arrayobj.make_array(kind)(context, builder, value)
    view = arrayobj.make_array(seen)(context, builder)
    arrayobj.populate_array(
        view,
        data=builder.bitcast(source.data, _DOUBLES.as_pointer()),
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
