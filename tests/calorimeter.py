"""Rooms whose answers are found by hand: one massless wall, air held at a temperature.

The plant of such a room is a calorimeter: what it gives is all that leaves the
room less all that is given to it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from box import AIR_HEAT, FloatArray, as_element, make_slab
from noonmark.balance.drive import Hourly
from noonmark.balance.enclosure import Air, Cover, Element, Passage, Year, Zone
from noonmark.balance.run import run_year
from noonmark.envelope.layers import resistance_layer

PRESSURE = 101325.0
AREA = 20.0
RESISTANCE = 1.0
CONVECTION, RADIATION = 2.5, 5.0
OUTSIDE = 25.0
HELD = AREA / (1.0 / CONVECTION + RESISTANCE + 1.0 / OUTSIDE)
"""W/K from the air through the wall: its star node follows the surface and passes nothing."""


def wall(outdoor: FloatArray, *, name: str = "wall", area: float = AREA, zone: int = 0) -> Element:
    """Return a wall without mass."""
    return as_element(
        make_slab(
            name,
            area,
            [resistance_layer(RESISTANCE)],
            outdoor,
            film=OUTSIDE,
            convection=CONVECTION,
            radiation=RADIATION,
            zone=zone,
        )
    )


def held_zone(at: Hourly, *, name: str = "room") -> Zone:
    """Return a zone whose air is kept at a temperature [degC], whatever it takes."""
    return Zone(name=name, air_capacity=1e5, air_mass=100.0, heat_set=at, cool_set=at)


def free_zone(*, name: str = "room", capacity: float = 1e5) -> Zone:
    """Return a zone without plant."""
    return Zone(name=name, air_capacity=capacity, air_mass=100.0)


def march(
    zones: Sequence[Zone],
    elements: Sequence[Element],
    outdoor: FloatArray,
    *,
    humidity: FloatArray | float = 0.0,
    covers: Sequence[Cover] = (),
    passages: Sequence[Passage] = (),
    steps_per_hour: int = 1,
    run_in_hours: int = 0,
) -> Year:
    """March hand-made zones and elements."""
    return run_year(
        zones,
        elements,
        Air(outdoor, np.broadcast_to(humidity, outdoor.shape).copy(), PRESSURE, AIR_HEAT),
        covers=covers,
        passages=passages,
        steps_per_hour=steps_per_hour,
        run_in_hours=run_in_hours,
    )
