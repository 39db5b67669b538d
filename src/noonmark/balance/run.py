"""One design through the year, or a batch of them on all cores."""

from __future__ import annotations

import math
import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from noonmark.balance import block as b
from noonmark.balance import memory as mem
from noonmark.balance.block import NEVER, Hours, Layout, Numbers, Weather
from noonmark.balance.enclosure import (
    RUN_IN_HOURS,
    STEPS_PER_HOUR,
    Air,
    Cover,
    Element,
    Passage,
    Year,
    Zone,
)
from noonmark.balance.lanes import WIDTH, as_lanes, least, most, room, where
from noonmark.balance.march import march
from noonmark.balance.memory import Memory, Scratch
from noonmark.balance.packing import Packed, pack
from noonmark.compiled import compiled
from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

_MEAN_HOURS = 28 * 24
"""The running in begins as if the mean of so many hours before it had always lasted."""

_HUGE = 1 << 20
"""Numbers in a block that the system may give in huge pages (8 MiB)."""


def run_year(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    air: Air,
    *,
    covers: Sequence[Cover] = (),
    passages: Sequence[Passage] = (),
    steps_per_hour: int = STEPS_PER_HOUR,
    run_in_hours: int = RUN_IN_HOURS,
) -> Year:
    """March the zones through the hours of `air`.

    Raises `PhysicsError` naming the part when a number is not finite, an area or
    capacity is not positive, a place is not there, or a zone touches nothing;
    and when the year comes to no finite state.
    """
    packed = pack(zones, elements, air, covers, passages)
    return march_packed(packed, steps_per_hour=steps_per_hour, run_in_hours=run_in_hours)


def march_packed(
    packed: Packed,
    *,
    steps_per_hour: int = STEPS_PER_HOUR,
    run_in_hours: int = RUN_IN_HOURS,
) -> Year:
    """March one design that is packed already."""
    layout, numbers = packed.groups.layout, packed.groups.of(packed.numbers)
    shape = _Shape.of(layout, numbers, packed.weather.outdoor_air.size)
    hours = shape.hours(everything=True)
    march(
        layout,
        numbers,
        packed.weather,
        _mean_before(packed.weather, run_in_hours),
        shape.memory(),
        shape.scratch(),
        hours,
        run_in_hours,
        steps_per_hour,
    )
    _require_answer(hours)
    back = np.argsort(packed.order)
    if (np.diff(back) < 0).any():
        for table in (hours.flow_inside, hours.flow_outside, hours.surface):
            _put_in_order(table, back, np.empty(back.size))
    return Year(**{**hours._asdict(), "stored": hours.stored[:, 0]})


@compiled(inlined=False)
def _put_in_order(table: FloatArray, places: IntArray, row: FloatArray) -> None:
    """Put the numbers of each row of a table (h, e) in the order of their `places` (e,)."""
    for h in range(table.shape[0]):
        for e in range(places.size):
            row[e] = table[h, places[e]]
        for e in range(places.size):
            table[h, e] = row[e]


def _mean_before(weather: Weather, run_in_hours: int) -> Weather:
    """Return one hour: the mean of the weeks before the running in, the year going round."""
    hours = np.arange(-run_in_hours - _MEAN_HOURS, -run_in_hours)
    return weather._replace(
        **{
            name: getattr(weather, name)
            .take(hours, axis=0, mode="wrap")
            .mean(axis=0, keepdims=True)
            for name in ("signal", "outdoor_air", "outdoor_humidity")
        }
    )


def _require_answer(hours: Hours) -> None:
    """Raise when a state of the year is no number, which no result may hide."""
    if not np.isfinite(hours.stored).all():
        raise PhysicsError(Problem("balance.no_answer", values={"quantity": "stored heat"}))


@dataclass(frozen=True)
class _Shape:
    """How large a march's memory is; `lanes` is empty for one design."""

    elements: int
    groups: int
    walls: int
    modes: int
    zones: int
    covers: int
    passages: int
    rows: int
    changing: int
    hour_count: int
    lanes: tuple[int, ...]

    @classmethod
    def of(cls, layout: Layout, numbers: Numbers, hour_count: int) -> _Shape:
        return cls(
            elements=layout.group.size,
            groups=layout.begin.size - 1,
            walls=int(layout.facing_first[-1] - layout.facing_first[-2]),
            modes=numbers.mode.shape[0],
            zones=numbers.zone.shape[0],
            covers=layout.cover_zone.size,
            passages=layout.passage_from.size,
            rows=numbers.steady.shape[0],
            changing=layout.changing.size,
            hour_count=hour_count,
            lanes=numbers.zone.shape[2:],
        )

    def memory(self) -> Memory:
        """Return room for a march to write to."""
        z = self.zones
        now = _zeros((self.rows, WIDTH))
        beside = _zeros((mem.BESIDE_ROWS, self.walls, WIDTH))
        shapes: dict[str, tuple[int, ...]] = {
            "closed": (self.covers,),
            "between": (self.passages,),
            "zone": (z, mem.ZONE_COLUMNS),
            **dict.fromkeys(("lasting", "right", "node"), (2 * z,)),
            **dict.fromkeys(("response", "holding", "lever", "star", "wet"), (z * z,)),
            "damp": (z,),
        }
        return Memory(
            now=now.reshape(-1, *self.lanes),
            lines=now,
            ahead=_zeros((self.changing, mem.AHEAD, WIDTH)),
            beside=beside.reshape(mem.BESIDE_ROWS, -1, *self.lanes),
            beside_lines=beside,
            drive=now[-self.groups * b.ELEMENT_ROWS :].reshape(self.groups, b.ELEMENT_ROWS, WIDTH),
            element=_zeros((self.groups, mem.ELEMENT_COLUMNS, WIDTH)),
            mode=_zeros((self.modes, mem.MODE_COLUMNS, WIDTH)),
            **{name: _zeros((*shape, *self.lanes)) for name, shape in shapes.items()},
        )

    def scratch(self) -> Scratch:
        """Return room for the plant of one design."""
        z = self.zones
        shapes = ((z,), (z * z,), (z, 5), (z,), (z * z,))
        return Scratch(*(np.zeros(shape) for shape in shapes))

    def hours(self, *, everything: bool) -> Hours:
        """Return room for what a march writes, or only for air, star and plant."""
        h = self.hour_count
        by_element = dict.fromkeys(("flow_inside", "flow_outside", "surface"), self.elements)
        columns = by_element | {"closed": self.covers, "stored": 1}
        rows = dict.fromkeys(("air", "star", "plant"), h) | {"stored": 2}
        few = h if everything else 1
        shapes = [
            (rows.get(name, few), columns.get(name, self.zones), *self.lanes)
            for name in Hours._fields
        ]
        # one block: memory comes in fewer and larger pages; and lanes go beyond a last row
        sizes = [math.prod(shape) for shape in shapes]
        ends = np.cumsum([(size // WIDTH + 2) * WIDTH for size in sizes])
        block = room((int(ends[-1]),), at_least=_HUGE)
        begins = [0, *ends[:-1]]
        return Hours(
            *(
                block[begin : begin + size].reshape(shape)
                for begin, size, shape in zip(begins, sizes, shapes, strict=True)
            )
        )


def _zeros(shape: tuple[int, ...]) -> FloatArray:
    array = room(shape)
    array.fill(0.0)
    return array


def spread(packed: Packed, count: int) -> Packed:
    """Return a batch of `count` equal designs, whose numbers (..., count) may then be changed."""
    numbers = Numbers(*(np.repeat(array[..., None], count, axis=-1) for array in packed.numbers))
    return replace(packed, numbers=numbers)


class BatchYear(NamedTuple):
    """The year of n designs: z zones, energies in kWh, powers in W, temperatures in degC.

    temp_min and temp_max are of operative temperatures, hours_above those above
    the limit asked for.
    """

    heating_kwh: FloatArray  # (z, n)
    cooling_kwh: FloatArray  # (z, n)
    peak_heating_w: FloatArray  # (z, n)
    peak_cooling_w: FloatArray  # (z, n)
    temp_min_c: FloatArray  # (z, n)
    temp_max_c: FloatArray  # (z, n)
    hours_above: FloatArray  # (z, n)


def run_batch(
    packed: Packed,
    *,
    limit: float = 26.0,
    workers: int | None = None,
    steps_per_hour: int = STEPS_PER_HOUR,
    run_in_hours: int = RUN_IN_HOURS,
) -> BatchYear:
    """March every design of a batch, `WIDTH` at a time on each of `workers` cores.

    `limit` [degC] is what hours_above counts. A design gives what it gives alone.
    """
    count = packed.numbers.element.shape[-1]
    zones = packed.numbers.zone.shape[0]
    workers = workers or os.cpu_count() or 1
    mean = _mean_before(packed.weather, run_in_hours)
    result = BatchYear(*(np.empty((zones, count)) for _ in BatchYear._fields))

    def some_groups(first: int) -> None:
        """March every `workers`-th group; the last group is filled up with its last design."""
        mine: tuple[Memory, Scratch, Hours] | None = None
        reduced = BatchYear(*(room((zones, WIDTH)) for _ in BatchYear._fields))
        for start in range(first * WIDTH, count, workers * WIDTH):
            places = np.minimum(np.arange(start, start + WIDTH), count - 1)
            numbers = Numbers(*(room((*a.shape[:-1], WIDTH)) for a in packed.numbers))
            for chosen, array in zip(numbers, packed.numbers, strict=True):
                chosen[:] = array[..., places]
            if mine is None:
                shape = _Shape.of(packed.layout, numbers, packed.weather.outdoor_air.size)
                mine = shape.memory(), shape.scratch(), shape.hours(everything=False)
            march(packed.layout, numbers, packed.weather, mean, *mine, run_in_hours, steps_per_hour)
            _require_answer(mine[2])
            _reduce_lanes(mine[2], reduced, limit)
            for name, values in reduced._asdict().items():
                getattr(result, name)[:, places] = values

    with ThreadPoolExecutor(workers) as pool:
        list(pool.map(some_groups, range(workers)))
    return result


@compiled(inlined=False)
def _reduce_lanes(hours: Hours, result: BatchYear, limit: float) -> None:
    lanes, year = as_lanes(hours), as_lanes(result)
    for z in range(lanes.air.shape[1]):
        nothing = 0.0 * lanes.air[0, z]
        heat, cool, heat_most, cool_most, above = nothing, nothing, nothing, nothing, nothing
        lowest, highest = nothing + NEVER, nothing - NEVER
        for h in range(lanes.air.shape[0]):
            heating, cooling = most(lanes.plant[h, z], 0.0), most(-lanes.plant[h, z], 0.0)
            felt = 0.5 * (lanes.air[h, z] + lanes.star[h, z])
            heat += heating
            cool += cooling
            heat_most, cool_most = most(heat_most, heating), most(cool_most, cooling)
            lowest, highest = least(lowest, felt), most(highest, felt)
            above += where(felt > limit, 1.0, 0.0)
        year.heating_kwh[z] = heat * 1e-3
        year.cooling_kwh[z] = cool * 1e-3
        year.peak_heating_w[z] = heat_most
        year.peak_cooling_w[z] = cool_most
        year.temp_min_c[z] = lowest
        year.temp_max_c[z] = highest
        year.hours_above[z] = above
