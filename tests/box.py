"""The light and the heavy test box, and zones and elements made by hand.

Constructions and sizes: Judkoff & Neymark 1995, NREL/TP-472-6231 (from memory;
their U-values and heat capacities are checked in `tests/published`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.balance.enclosure import OUTDOORS, Air, Element, Passage, Year, Zone
from noonmark.balance.run import run_year
from noonmark.envelope.layers import Layer, resistance_layer
from noonmark.envelope.modes import WallModes, massless_element, wall_modes

FloatArray = NDArray[np.float64]

AIR_HEAT = 1006.0
INSIDE_FILM = 8.29
OUTSIDE_FILM = 29.3
WINDOW_FILM = 21.0
WINDOW_U = 3.0
GROUND = 10.0
INFILTRATION = 17.92
"""0.5 air changes of 129.6 m3 at 0.822 of the sea-level density [W/K]."""
AIR_CAPACITY = 129.6 * 0.822 * 1.2041 * 1006.0
_TINY = 1e-6
_STIFF = 1e7

# inside to outside: conductivity, thickness, density, specific heat
_TABLE: dict[str, list[tuple[float, float, float, float]]] = {
    "light_wall": [
        (0.160, 0.012, 950.0, 840.0),
        (0.040, 0.066, 12.0, 840.0),
        (0.140, 0.009, 530.0, 900.0),
    ],
    "roof": [
        (0.160, 0.010, 950.0, 840.0),
        (0.040, 0.1118, 12.0, 840.0),
        (0.140, 0.019, 530.0, 900.0),
    ],
    "light_floor": [(0.140, 0.025, 650.0, 1200.0), (0.040, 1.003, 0.0, 0.0)],
    "heavy_wall": [
        (0.510, 0.100, 1400.0, 1000.0),
        (0.040, 0.0615, 10.0, 1400.0),
        (0.140, 0.009, 530.0, 900.0),
    ],
    "heavy_floor": [(1.130, 0.080, 1400.0, 1000.0), (0.040, 1.007, 0.0, 0.0)],
    "common_wall": [(0.510, 0.200, 1400.0, 1000.0)],
}
LAYERS: dict[str, list[Layer]] = {
    name: [Layer(thickness, k, density, heat) for k, thickness, density, heat in rows]
    for name, rows in _TABLE.items()
}
AREAS = {"wall": 63.6, "roof": 48.0, "floor": 48.0, "window": 12.0}


@dataclass(frozen=True)
class Slab:
    """One part of a box in its plainest form: layers between films, for any solver.

    `film` [W/m2K] outside, `drive` (h,) [W/m2] there, `source` (h,) [W/m2] at the
    inside surface; a partition has `other` and the same two films on both sides.
    """

    name: str
    area: float
    layers: tuple[Layer, ...]
    convection: float
    radiation: float
    film: float
    drive: FloatArray
    source: FloatArray
    zone: int = 0
    other: int = OUTDOORS


def hourly(value: ArrayLike, hours: int) -> FloatArray:
    """Return one value an hour, (h,)."""
    return np.array(np.broadcast_to(np.asarray(value, float), (hours,)))


def make_zone(
    hours: int,
    *,
    name: str = "box",
    capacity: float = AIR_CAPACITY,
    supply: ArrayLike = 0.0,
    gain_air: ArrayLike = 0.0,
    gain_star: ArrayLike = 0.0,
    heat_set: ArrayLike = -np.inf,
    cool_set: ArrayLike = np.inf,
    heat_most: float = np.inf,
    cool_most: float = np.inf,
    vapour_gain: ArrayLike = 0.0,
) -> Zone:
    """Return a zone without leakage or opened windows."""
    return Zone(
        name=name,
        air_capacity=capacity,
        air_mass=100.0,
        supply=hourly(supply, hours),
        gain_air=hourly(gain_air, hours),
        gain_star=hourly(gain_star, hours),
        heat_set=hourly(heat_set, hours),
        cool_set=hourly(cool_set, hours),
        heat_most=heat_most,
        cool_most=cool_most,
        vapour_gain=hourly(vapour_gain, hours),
    )


def make_slab(
    name: str,
    area: float,
    layers: Sequence[Layer],
    outside: FloatArray,
    *,
    film: float = OUTSIDE_FILM,
    convection: float = INSIDE_FILM - _TINY,
    radiation: float = _TINY,
    absorbed: ArrayLike = 0.0,
    source: ArrayLike = 0.0,
    zone: int = 0,
    other: int = OUTDOORS,
) -> Slab:
    """Return a part whose far side meets `outside` (h,) [degC] through `film` [W/m2K]."""
    hours = outside.size
    towards_zone = other != OUTDOORS
    return Slab(
        name=name,
        area=area,
        layers=tuple(layers),
        convection=convection,
        radiation=radiation,
        film=film,
        drive=hourly(absorbed, hours) + (0.0 if towards_zone else 1.0) * film * outside,
        source=hourly(source, hours),
        zone=zone,
        other=other,
    )


def as_element(slab: Slab) -> Element:
    """Return a part as the march takes it."""
    hours = slab.drive.size
    shared = slab.other != OUTDOORS
    return Element(
        name=slab.name,
        area=slab.area,
        modes=_modes(slab.layers),
        zone_inside=slab.zone,
        convection=(slab.convection, slab.convection if shared else 0.0),
        radiation=(slab.radiation, slab.radiation if shared else 0.0),
        outside_film=np.full(hours, slab.film),
        outside_drive=slab.drive,
        inside_source=slab.source,
        zone_outside=slab.other,
    )


def _modes(layers: tuple[Layer, ...]) -> WallModes:
    if all(layer.areal_heat_capacity == 0.0 for layer in layers):
        return massless_element(1.0 / sum(layer.resistance for layer in layers))
    return wall_modes(layers)


def window_layer() -> Layer:
    """Return what resists between the films of the 1995 window, U = 3.0 with 21.0 and 8.29."""
    return resistance_layer(1.0 / WINDOW_U - 1.0 / INSIDE_FILM - 1.0 / WINDOW_FILM)


def box_slabs(
    outdoor: FloatArray,
    *,
    heavy: bool,
    convection: float = INSIDE_FILM - _TINY,
    radiation: float = _TINY,
    window_source: ArrayLike = 0.0,
    floor_source: ArrayLike = 0.0,
    wall_absorbed: ArrayLike = 0.0,
) -> list[Slab]:
    """Return walls, roof, floor on the ground and windows of the box, all in zone 0."""
    weight = "heavy" if heavy else "light"
    make = partial(make_slab, convection=convection, radiation=radiation)
    ground = np.full(outdoor.size, GROUND)
    walls = LAYERS[f"{weight}_wall"]
    return [
        make("wall", AREAS["wall"], walls, outdoor, absorbed=wall_absorbed),
        make("roof", AREAS["roof"], LAYERS["roof"], outdoor),
        make(
            "floor",
            AREAS["floor"],
            LAYERS[f"{weight}_floor"],
            ground,
            film=_STIFF,
            source=floor_source,
        ),
        make(
            "window",
            AREAS["window"],
            [window_layer()],
            outdoor,
            film=WINDOW_FILM,
            source=window_source,
        ),
    ]


def run(
    zones: Sequence[Zone],
    slabs: Sequence[Slab],
    outdoor: FloatArray,
    *,
    exchange: float = 0.0,
    humidity: float = 0.0,
    steps_per_hour: int = 1,
    run_in_hours: int = 0,
) -> Year:
    """March hand-made zones and parts, with dry air that condenses nowhere unless told.

    `exchange` [W/K] is the air between the first two zones.
    """
    passages = [Passage("door", 0, 1, steady=exchange)] if exchange else []
    return run_year(
        zones,
        [as_element(slab) for slab in slabs],
        Air(outdoor, np.full(outdoor.size, humidity), 101325.0, AIR_HEAT),
        passages=passages,
        steps_per_hour=steps_per_hour,
        run_in_hours=run_in_hours,
    )
