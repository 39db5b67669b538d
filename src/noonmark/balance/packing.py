"""Zones and elements packed into the block of numbers that a march reads."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields, is_dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.air.films import Film
from noonmark.air.moist import humidity_ratio, saturation_pressure
from noonmark.balance import block as b
from noonmark.balance.block import Layout, Numbers, Weather
from noonmark.balance.drive import Drive, Hourly, as_drive
from noonmark.balance.enclosure import OUTDOORS, Air, Cover, Element, Passage, Zone
from noonmark.balance.groups import Groups, side_by_side
from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]


_MOST_VAPOUR = 0.9
"""Share of the air's pressure that vapour is let reach in the saturation table."""


@dataclass(frozen=True)
class Packed:
    """One design, or a batch, ready to march.

    `order` (e,) holds the place in the elements given of each element of the
    block: by their zone, then the walls between zones; those first that store heat.
    `rows` names part and quantity of each row. `groups` says how the elements
    stand side by side when one design marches alone.
    """

    layout: Layout
    groups: Groups
    numbers: Numbers
    weather: Weather
    order: IntArray
    rows: tuple[tuple[str, str], ...]

    def place(self, element: int) -> int:
        """Return where the block holds an element given."""
        return int(np.flatnonzero(self.order == element)[0])

    def terms(self, part: str, quantity: str) -> list[int]:
        """Return where `numbers.coefficient` holds the terms of a part's hourly quantity."""
        row = self.rows.index((part, quantity))
        owners = np.repeat(self.layout.changing, np.diff(self.layout.term_first))
        return [int(place) for place in np.flatnonzero(owners == row)]


@dataclass(frozen=True)
class _Term:
    row: int
    signal: int
    coefficient: float


@dataclass
class _Rows:
    """Collects the rows, their terms, and each hourly array once."""

    hours: int
    names: list[tuple[str, str]] = field(default_factory=list)
    steady: list[float] = field(default_factory=list)
    signals: list[FloatArray] = field(default_factory=list)
    found: dict[int, int] = field(default_factory=dict)
    terms: list[_Term] = field(default_factory=list)
    covered: list[tuple[int, _Term]] = field(default_factory=list)

    def add(self, part: str, name: str, value: Hourly, *, most: float = np.inf) -> None:
        """Add the next row: `value`, numbers beyond `most` counting as that much."""
        drive = as_drive(value)
        constants = [number for number, array in drive.terms if array is None]
        hourly = [(number, array) for number, array in drive.terms if array is not None]
        steady = min(max(sum(constants), -most), most)
        row = len(self.names)
        self.names.append((part, name))
        _require_finite(part, name, steady + sum(number for number, _ in hourly))
        self.steady.append(steady)
        if drive.covered and not hourly:  # whatever the covers change begins anew every hour
            hourly = [(0.0, drive.covered[0][2])]
        self.terms += [_Term(row, self._signal(part, name, a, most), n) for n, a in hourly]
        for cover, number, array in drive.covered:
            self.covered.append((cover, _Term(row, self._signal(part, name, array, most), number)))

    def _signal(self, part: str, name: str, values: FloatArray, most: float) -> int:
        key = id(values)
        if key not in self.found:
            if values.shape != (self.hours,):
                raise _broken("balance.hours", part, name)
            if math.isfinite(most):
                values = np.clip(values, -most, most)
            _require_finite(part, name, float(values.sum()))
            self.found[key] = len(self.signals)
            self.signals.append(values)
        return self.found[key]


def pack(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    air: Air,
    covers: Sequence[Cover] = (),
    passages: Sequence[Passage] = (),
) -> Packed:
    """Return the block of a design.

    Raises `PhysicsError` naming the part when a number is not finite, an area or
    capacity is not positive, or a zone touches nothing.
    """
    _check(zones, elements, covers, passages)
    beside = np.array([_beside(element, len(zones)) for element in elements])
    order = np.lexsort(beside.T[::-1])
    sorted_elements = [elements[place] for place in order]
    rows = _rows(zones, sorted_elements, air, covers, passages)
    _require_finite("weather", "temperature", float(air.temperature.sum()))
    _require_finite("weather", "humidity", float(air.humidity.sum()))
    films = [film for element in elements for film in _films(element)]
    beside = beside[order]
    each = np.arange(len(zones) + 2)
    facing_first = np.searchsorted(beside[:, 0], each)
    walls = sorted_elements[facing_first[-2] :]
    with_cover = [
        (place, item.cover) for place, item in enumerate(sorted_elements) if item.cover is not None
    ]
    changing, starts = np.unique([term.row for term in rows.terms], return_index=True)
    layout = Layout(
        natural=int(any(film.warm_cube or film.cool_cube for film in films)),
        leaves=int(any(zone.leaves for zone in zones)),
        heated=int(any(zone.slab for zone in zones)),
        first=_ints(np.cumsum([0, *(element.modes.rates.size for element in sorted_elements)])),
        facing_first=_ints(facing_first),
        facing_middle=_ints(np.searchsorted(2 * beside[:, 0] + beside[:, 1], 2 * each[:-1] + 1)),
        begin=_ints(range(len(elements) + 1)),
        group=_ints(range(len(elements))),
        lane=_ints([0] * len(elements)),
        element_first=_ints(facing_first),
        wall_inside=_ints(wall.zone_inside for wall in walls),
        wall_outside=_ints(wall.zone_outside for wall in walls),
        wall_place=_ints(range(len(walls))),
        with_cover=_ints(place for place, _ in with_cover),
        its_cover=_ints(cover for _, cover in with_cover),
        cover_zone=_ints(cover.zone for cover in covers),
        passage_from=_ints(passage.zone_from for passage in passages),
        passage_to=_ints(passage.zone_to for passage in passages),
        changing=_ints(changing),
        term_first=_ints([*starts, len(rows.terms)]),
        term_signal=_ints(term.signal for term in rows.terms),
        covered_row=_ints(term.row for _, term in rows.covered),
        covered_signal=_ints(term.signal for _, term in rows.covered),
        covered_by=_ints(cover for cover, _ in rows.covered),
    )
    numbers = Numbers(
        element=_table(
            [_element(element, covers) for element in sorted_elements], b.ELEMENT_COLUMNS
        ),
        mode=_modes(sorted_elements),
        zone=_table([_zone(zone) for zone in zones], b.ZONE_COLUMNS),
        cover=_table([(cover.above,) for cover in covers], 1),
        passage=_table([_passage(passage) for passage in passages], b.PASSAGE_COLUMNS),
        curve=_curves(zones),
        steady=np.array(rows.steady),
        coefficient=np.array([term.coefficient for term in rows.terms]),
        covered=np.array([term.coefficient for _, term in rows.covered]),
    )
    points = b.SATURATION_FROM + b.SATURATION_STEP * np.arange(b.SATURATION_COUNT, dtype=float)
    weather = Weather(
        signal=np.stack(rows.signals, axis=1) if rows.signals else np.zeros((rows.hours, 0)),
        outdoor_air=np.array(air.temperature),
        outdoor_humidity=np.array(air.humidity),
        # near the boiling point air holds all there is; the table ends before
        saturation=humidity_ratio(
            np.minimum(saturation_pressure(points), _MOST_VAPOUR * air.pressure), air.pressure
        ),
        air_heat=float(air.specific_heat),
    )
    groups = side_by_side(layout, beside)
    return Packed(layout, groups, numbers, weather, order, tuple(rows.names))


def _beside(element: Element, zones: int) -> tuple[int, bool]:
    """Return what elements must share to stand side by side, in the order of the block."""
    outdoors = element.zone_outside == OUTDOORS
    return element.zone_inside if outdoors else zones, not element.modes.stores_heat


def _rows(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    air: Air,
    covers: Sequence[Cover],
    passages: Sequence[Passage],
) -> _Rows:
    """Return the rows in the order of `noonmark.balance.block`."""
    rows = _Rows(air.temperature.size)
    for cover in covers:
        rows.add(cover.name, "closed", cover.closed)
        rows.add(cover.name, "allowed", cover.allowed)
    for passage in passages:
        rows.add(passage.name, "open", passage.open)
        rows.add(passage.name, "blowing", passage.blowing)
    for zone in zones:
        name = zone.name
        rows.add(name, "supply", zone.supply)
        rows.add(name, "fan", zone.fan.flow if zone.fan else 0.0)
        rows.add(name, "leak_wind", zone.leak_wind)
        rows.add(name, "wind", zone.opened.wind)
        rows.add(name, "gain_air", zone.gain_air)
        rows.add(name, "gain_star", zone.gain_star)
        rows.add(name, "heat_set", zone.heat_set, most=b.NEVER)
        rows.add(name, "cool_set", zone.cool_set, most=b.NEVER)
        rows.add(name, "vapour_gain", zone.vapour_gain)
        rows.add(name, "bodies", zone.bodies.heat if zone.bodies else 0.0)
        rows.add(name, "leaves", zone.leaves.sun if zone.leaves else 0.0)
        rows.add(name, "stove", zone.stove.below if zone.stove else -b.NEVER, most=b.NEVER)
        rows.add(name, "slab", zone.slab.setpoint if zone.slab else -b.NEVER, most=b.NEVER)
    for element in elements:
        rows.add(element.name, "outside_film", element.outside_film)
        rows.add(element.name, "outside_drive", element.outside_drive)
        rows.add(element.name, "inside_source", element.inside_source)
    return rows


def _films(element: Element) -> list[Film]:
    return [film if isinstance(film, Film) else Film.steady(film) for film in element.convection]


def _element(element: Element, covers: Sequence[Cover]) -> tuple[float, ...]:
    modes = element.modes
    conduct, store = modes.conductance, modes.capacitance
    covered = 0.0
    if element.cover is not None:
        conductance = conduct[0, 0]
        covered = 1.0 / (1.0 / conductance + covers[element.cover].resistance) - conductance
    inner, outer = _films(element)
    return (
        element.area,
        *inner,
        *outer,
        *element.radiation,
        *conduct[[0, 0, 1], [0, 1, 1]],
        *store[[0, 0, 1], [0, 1, 1]],
        *modes.buried_shares,
        float(modes.buried.any() or modes.buried_shares.any()),
        covered,
    )


def _modes(elements: Sequence[Element]) -> FloatArray:
    return np.concatenate(
        [
            np.column_stack([m.rates, m.coupling, m.storage, m.buried]).reshape(-1, b.MODE_COLUMNS)
            for m in (element.modes for element in elements)
        ]
    )


def _zone(zone: Zone) -> tuple[float, ...]:
    opened, fan, bodies, slab = zone.opened, zone.fan, zone.bodies, zone.slab
    return (
        zone.air_capacity,
        zone.air_mass,
        zone.leak_scale,
        zone.leak_stack,
        zone.recovery,
        zone.bypass_above,
        fan.above if fan else -b.NEVER,
        fan.cooler if fan else -b.NEVER,
        opened.above,
        opened.base,
        opened.scale,
        opened.stack,
        zone.heat_most,
        zone.cool_most,
        bodies.latent if bodies else 0.0,
        bodies.latent_per_k if bodies else 0.0,
        bodies.radiant if bodies else 0.0,
        zone.leaves.flow if zone.leaves else 0.0,
        zone.stove.radiant if zone.stove else 0.0,
        float(len(zone.stove.curve)) if zone.stove else 0.0,
        slab.most if slab else 0.0,
        slab.band if slab else 1.0,
    )


def _passage(passage: Passage) -> tuple[float, ...]:
    return (
        passage.steady,
        passage.doorway,
        passage.blower,
        passage.difference,
        passage.below,
    )


def _curves(zones: Sequence[Zone]) -> FloatArray:
    """Return the charges of all stoves (z, c), burnt out ones with nothing to the longest's end."""
    curves = [zone.stove.curve if zone.stove else () for zone in zones]
    table = np.zeros((len(zones), max(map(len, curves))))
    for row, curve in zip(table, curves, strict=True):
        row[: len(curve)] = curve
    return table


def _table(rows: Sequence[Sequence[float]], columns: int) -> FloatArray:
    return np.array(rows, dtype=float).reshape(len(rows), columns)


def _ints(values: Iterable[int]) -> IntArray:
    """Return places; unsigned: compiled code then asks of none whether it counts from the end."""
    return np.fromiter(values, dtype=np.uint32)


_MAY_BE_INFINITE = {"heat_most", "cool_most", "heat_set", "cool_set", "modes", "name"}


def _check(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    covers: Sequence[Cover],
    passages: Sequence[Passage],
) -> None:
    parts: tuple[Zone | Element | Cover | Passage, ...]
    parts = (*zones, *elements, *covers, *passages)
    for part in parts:
        for name, value in _plain_numbers(part):
            if math.isnan(value) or (math.isinf(value) and name not in _MAY_BE_INFINITE):
                raise _broken("balance.not_finite", part.name, name)
    _check_places(zones, elements, covers, passages)
    for element in elements:
        _check_element(element)
    touched = {item.zone_inside for item in elements} | {item.zone_outside for item in elements}
    for index, zone in enumerate(zones):
        if not zone.air_capacity > 0.0:
            raise _broken("balance.no_capacity", zone.name, "air_capacity")
        if index not in touched:
            raise _broken("balance.zone_alone", zone.name, "zone")
        if zone.slab and not zone.slab.band > 0.0:
            raise _broken("balance.no_band", zone.name, "band")


def _check_places(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    covers: Sequence[Cover],
    passages: Sequence[Passage],
) -> None:
    """Refuse a place of a zone or cover that is not there: compiled code would not notice."""
    places = [(e.name, "zone_inside", e.zone_inside, len(zones)) for e in elements]
    places += [
        (e.name, "zone_outside", e.zone_outside, len(zones))
        for e in elements
        if e.zone_outside != OUTDOORS
    ]
    places += [(e.name, "cover", e.cover, len(covers)) for e in elements if e.cover is not None]
    places += [(c.name, "zone", c.zone, len(zones)) for c in covers]
    places += [(p.name, "zone_from", p.zone_from, len(zones)) for p in passages]
    places += [(p.name, "zone_to", p.zone_to, len(zones)) for p in passages]
    for element in elements:
        for drive in map(as_drive, (element.outside_drive, element.inside_source)):
            places += [(element.name, "cover", cover, len(covers)) for cover, *_ in drive.covered]
    for name, quantity, place, count in places:
        if not 0 <= place < count:
            raise _broken("balance.no_place", name, quantity)


def _check_element(element: Element) -> None:
    outdoors = element.zone_outside == OUTDOORS
    if not element.area > 0.0:
        raise _broken("balance.no_area", element.name, "area")
    for film in _films(element)[: 1 if outdoors else 2]:
        if not min(film.warm_base + film.warm_cube, film.cool_base + film.cool_cube) > 0.0:
            raise _broken("balance.no_film", element.name, "convection")
    if outdoors:
        least = _least(element.outside_film)
        _require_finite(element.name, "outside_film", least)
        if not least > 0.0:
            raise _broken("balance.no_film", element.name, "outside_film")
    if element.cover is not None and element.modes.stores_heat:
        raise _broken("balance.cover_on_mass", element.name, "cover")


def _plain_numbers(part: object) -> list[tuple[str, float]]:
    """Return the numbers of a part and of the parts in it, by name; arrays are checked later."""
    found: list[tuple[str, float]] = []
    for item in fields(part):  # type: ignore[arg-type]
        value = getattr(part, item.name)
        if is_dataclass(value) and not isinstance(value, Drive):
            if item.name != "modes":
                found += _plain_numbers(value)
        elif isinstance(value, float):
            found.append((item.name, value))
        elif isinstance(value, tuple):
            found += [(item.name, number) for number in value if isinstance(number, float)]
    return found


def _least(value: Hourly) -> float:
    """Return the smallest hourly value of a film."""
    if isinstance(value, np.ndarray):
        return float(value.min())
    return sum(
        number if array is None else number * float(array.min() if number > 0.0 else array.max())
        for number, array in as_drive(value).terms
    )


def _require_finite(part: str, name: str, total: float) -> None:
    """Raise when a sum tells of any nan or infinity among what was summed."""
    if not math.isfinite(total):
        raise _broken("balance.not_finite", part, name)


def _broken(code: str, name: str, quantity: str) -> PhysicsError:
    return PhysicsError(Problem(code, path=name, values={"quantity": quantity}))
