"""What a march is fed: zones, elements and hourly drivers as plain arrays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.march import march_year
from noonmark.envelope.modes import WallModes
from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]

OUTDOORS = -1
STEPS_PER_HOUR = 1
RUN_IN_HOURS = 60 * 24
"""The last sixty days of the year are marched once more before its first hour."""


@dataclass(frozen=True)
class Element:
    """One plane part between a zone and outdoors, the ground or another zone.

    area [m2]; convection and radiation [W/m2K] at (inside, outside) surface,
    the outside pair only towards another zone; hourly arrays (h,): outside_film
    [W/m2K], outside_drive [W/m2] (film times its temperature plus what the
    outside surface absorbs), inside_source [W/m2] absorbed at the inside surface.
    """

    name: str
    area: float
    modes: WallModes
    zone_inside: int
    convection: tuple[float, float]
    radiation: tuple[float, float]
    outside_film: FloatArray
    outside_drive: FloatArray
    inside_source: FloatArray
    zone_outside: int = OUTDOORS


@dataclass(frozen=True)
class Zone:
    """The air of one zone and what drives it.

    air_capacity [J/K] (air and furniture), air_mass [kg dry air]; hourly arrays
    (h,): supply [W/K] and fresh_air [kg/s] of the ventilation, the first after
    heat recovery, leak_wind, gain_air and gain_star [W], heat_set and cool_set
    [degC], vapour_gain [kg/s]; vent_most [W/K] are windows opened
    to hold vent_above [degC]; leak_scale [W/K] times
    sqrt(leak_stack |dT| + leak_wind) is the leakage; heat_most, cool_most [W].
    """

    name: str
    air_capacity: float
    air_mass: float
    supply: FloatArray
    fresh_air: FloatArray
    vent_most: float
    vent_above: float
    leak_scale: float
    leak_stack: float
    leak_wind: FloatArray
    gain_air: FloatArray
    gain_star: FloatArray
    heat_set: FloatArray
    cool_set: FloatArray
    heat_most: float
    cool_most: float
    vapour_gain: FloatArray


@dataclass(frozen=True)
class Year:
    """Hourly means of a marched year: h hours, z zones, e elements.

    air, star (h, z) degC; plant (h, z) W, cooling negative; flow_inside and
    flow_outside (h, e) W into the element at its two surfaces; air_loss (h, z)
    W carried out by air; humidity (h, z) kg/kg at the hour's end; stored (2,) J.
    """

    air: FloatArray
    star: FloatArray
    plant: FloatArray
    flow_inside: FloatArray
    flow_outside: FloatArray
    air_loss: FloatArray
    humidity: FloatArray
    stored: FloatArray

    @property
    def operative(self) -> FloatArray:
        """Return the operative temperature (h, z): the mean of air and star [degC]."""
        return 0.5 * (self.air + self.star)


def run_year(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    *,
    outdoor_air: FloatArray,
    outdoor_humidity: FloatArray,
    air_heat: float,
    exchange: FloatArray | None = None,
    steps_per_hour: int = STEPS_PER_HOUR,
    run_in_hours: int = RUN_IN_HOURS,
) -> Year:
    """March the zones through the hours of `outdoor_air` (h,) [degC].

    outdoor_humidity (h,) [kg/kg]; air_heat is the specific heat of air
    [J/kgK]; exchange (z, z) [W/K] symmetric air exchange between zones. Raises
    `PhysicsError` naming the part when a number is not finite, an area or
    capacity is not positive, or a zone touches nothing.
    """
    _check(zones, elements)
    # those that store heat first; flows are put back in the order given
    order = np.argsort([not element.modes.stores_heat for element in elements], kind="stable")
    elements = [elements[index] for index in order]
    modes = [element.modes for element in elements]
    count = len(zones)
    result = march_year(
        run_in_hours,
        steps_per_hour,
        sum(item.stores_heat for item in modes),
        np.array([item.area for item in elements]),
        np.array([item.zone_inside for item in elements], dtype=np.int64),
        np.array([item.zone_outside for item in elements], dtype=np.int64),
        np.array([item.convection for item in elements]),
        np.array([item.radiation for item in elements]),
        _upper([item.conductance for item in modes]),
        _upper([item.capacitance for item in modes]),
        np.cumsum([0, *(item.rates.size for item in modes)], dtype=np.int64),
        np.concatenate([item.rates for item in modes]),
        np.concatenate([item.coupling for item in modes]),
        np.concatenate([item.storage for item in modes]),
        np.stack([item.outside_film for item in elements]),
        np.stack([item.outside_drive for item in elements]),
        np.stack([item.inside_source for item in elements]),
        np.array([zone.air_capacity for zone in zones]),
        outdoor_air,
        _hourly([zone.supply for zone in zones]),
        _hourly([zone.fresh_air for zone in zones]),
        np.array([zone.vent_most for zone in zones]),
        np.array([zone.vent_above for zone in zones]),
        np.array([zone.leak_scale for zone in zones]),
        np.array([zone.leak_stack for zone in zones]),
        _hourly([zone.leak_wind for zone in zones]),
        np.zeros((count, count)) if exchange is None else exchange,
        _hourly([zone.gain_air for zone in zones]),
        _hourly([zone.gain_star for zone in zones]),
        _hourly([zone.heat_set for zone in zones]),
        _hourly([zone.cool_set for zone in zones]),
        np.array([zone.heat_most for zone in zones]),
        np.array([zone.cool_most for zone in zones]),
        np.array([zone.air_mass for zone in zones]),
        outdoor_humidity,
        _hourly([zone.vapour_gain for zone in zones]),
        air_heat,
    )
    year = Year(*result)
    back = np.argsort(order)
    return replace(
        year, flow_inside=year.flow_inside[:, back], flow_outside=year.flow_outside[:, back]
    )


def _hourly(columns: Sequence[FloatArray]) -> FloatArray:
    return np.ascontiguousarray(np.stack(columns, axis=1))


def _upper(matrices: Sequence[FloatArray]) -> FloatArray:
    """Return (inside-inside, inside-outside, outside-outside) of symmetric 2 x 2 matrices."""
    return np.stack(matrices)[:, [0, 0, 1], [0, 1, 1]]


_MAY_BE_INFINITE = {"heat_set", "cool_set", "heat_most", "cool_most"}


def _check(zones: Sequence[Zone], elements: Sequence[Element]) -> None:
    parts: tuple[Zone | Element, ...] = (*zones, *elements)
    for part in parts:
        for name, value in vars(part).items():
            if name in {"name", "modes"}:
                continue
            # one sum tells of any nan or infinity among a year's values
            total = value.sum() if isinstance(value, np.ndarray) else _sum(value)
            if math.isnan(total) or (name not in _MAY_BE_INFINITE and math.isinf(total)):
                raise _broken("balance.not_finite", part.name, name)
    for element in elements:
        if not element.area > 0.0:
            raise _broken("balance.no_area", element.name, "area")
        if element.zone_outside == OUTDOORS and not element.outside_film.min() > 0.0:
            raise _broken("balance.no_film", element.name, "outside_film")
    touched = {item.zone_inside for item in elements} | {item.zone_outside for item in elements}
    for index, zone in enumerate(zones):
        if not zone.air_capacity > 0.0:
            raise _broken("balance.no_capacity", zone.name, "air_capacity")
        if index not in touched:
            raise _broken("balance.zone_alone", zone.name, "zone")


def _sum(value: float | tuple[float, ...]) -> float:
    return sum(value) if isinstance(value, tuple) else value


def _broken(code: str, name: str, quantity: str) -> PhysicsError:
    return PhysicsError(Problem(code, path=name, values={"quantity": quantity}))
