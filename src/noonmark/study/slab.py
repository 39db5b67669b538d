"""The floor as parts: bare and carpeted, over half a metre of soil or a given temperature."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.design.derived import thickness, wall_faces
from noonmark.design.model import Building, Homestead, Zone
from noonmark.envelope.ground import (
    GROUND_LAYER_THICKNESS,
    SURFACE_INSIDE,
    edge_linear_transmittance,
    equivalent_thickness,
    monthly_virtual_temperature,
    periodic_conductance,
    slab_u_value,
)
from noonmark.envelope.layers import Layer, resistance_layer, total_resistance
from noonmark.errors import PhysicsError, Problem
from noonmark.study.constructions import edge_of, layers_of, modes_of, soil_of
from noonmark.study.elements import ABSORPTANCE_CARPET, Part, ground_part
from noonmark.study.site import Site

DIRECT = 1e4
"""From a floor's underside to a temperature given right there: next to no resistance [W/m2K]."""


@dataclass(frozen=True)
class Below:
    """What lies under a floor: soil, then `conductance` [W/m2K] to `monthly` (12,) [degC]."""

    soil: list[Layer]
    conductance: float
    monthly: NDArray[np.float64]


def floor_parts(
    homestead: Homestead, building: Building, site: Site, zone: Zone, index: int
) -> Iterator[Part]:
    """Yield the bare and the carpeted part of a zone's floor, over whatever lies below."""
    floor = building.floor
    layers = layers_of(homestead, zone.floor_construction or floor.construction, "downward")
    if floor.below is None:
        below = _ground(homestead, building, site, layers)
    else:
        below = Below([], DIRECT, np.broadcast_to(np.array(floor.below), 12))
    for share, cover, keeps in (
        (1.0 - floor.carpet, [], floor.absorptance),
        (floor.carpet, [resistance_layer(floor.carpet_resistance)], ABSORPTANCE_CARPET),
    ):
        if share > 0.0:
            heated = floor.heating.layer - 1 + len(cover) if floor.heating and zone.heated else None
            yield ground_part(
                zone=index,
                area=share * zone.floor_area,
                modes=modes_of([*cover, *layers, *below.soil], heated_layer=heated),
                conductance=below.conductance,
                temperature=below.monthly[MONTH_OF_HOUR],
                keeps=keeps,
            )


def _ground(homestead: Homestead, building: Building, site: Site, layers: list[Layer]) -> Below:
    """Return the ground below a slab of `layers`: soil, virtual layer, monthly temperature."""
    floor = building.floor
    soil = soil_of(floor.soil)
    resistance = total_resistance(layers)
    wall = thickness(homestead, building.wall_construction)
    area, perimeter = _footprint(building)
    total = equivalent_thickness(wall, resistance, soil)
    edge = edge_of(homestead, floor.edge)
    u_value = slab_u_value(
        area=area,
        perimeter=perimeter,
        wall_thickness=wall,
        floor_resistance=resistance,
        soil=soil,
    )
    if edge is not None:
        u_value += edge_linear_transmittance(edge, total, soil) * perimeter / area
    ground = Layer(
        GROUND_LAYER_THICKNESS, soil.conductivity, 1000.0, soil.volumetric_heat_capacity / 1e3
    )
    virtual = 1.0 / u_value - SURFACE_INSIDE - resistance - ground.resistance
    if virtual <= 0.0:
        raise PhysicsError(Problem("study.small_slab", path="floor", values={"area": area}))
    monthly = monthly_virtual_temperature(
        heat_flow_conductance=u_value * area,
        outdoor_conductance=periodic_conductance(
            perimeter=perimeter, total=total, soil=soil, edge=edge
        ),
        outdoor_mean=site.wave.mean,
        outdoor_amplitude=site.wave.amplitude,
        coldest_month=(site.wave.coldest_day - 1.0) / 365.0 * 12.0,
    )
    return Below([ground], 1.0 / virtual, monthly)


def _footprint(building: Building) -> tuple[float, float]:
    """Return floor area [m2] and exposed perimeter [m] of the building."""
    outer = [face for face in wall_faces(building) if face.next_to is None]
    return building.floor_area, sum(face.length for face in outer)
