"""The slab on the ground as parts: bare and carpeted, over half a metre of soil."""

from __future__ import annotations

from collections.abc import Iterator

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


def slab_parts(
    homestead: Homestead, building: Building, site: Site, zone: Zone, index: int
) -> Iterator[Part]:
    """Yield the bare and the carpeted part of the slab, over half a metre of soil."""
    floor = building.floor
    soil = soil_of(floor.soil)
    layers = layers_of(homestead, floor.construction, "downward")
    resistance = total_resistance(layers)
    wall = thickness(homestead, building.wall_construction)
    area, perimeter = _footprint(building)
    total = equivalent_thickness(wall, resistance, soil)
    edge = edge_of(floor.edge)
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
    for share, cover, keeps in (
        (1.0 - floor.carpet, [], floor.absorptance),
        (floor.carpet, [resistance_layer(floor.carpet_resistance)], ABSORPTANCE_CARPET),
    ):
        if share > 0.0:
            yield ground_part(
                zone=index,
                area=share * zone.length * zone.width,
                modes=modes_of([*cover, *layers, ground]),
                conductance=1.0 / virtual,
                temperature=monthly[MONTH_OF_HOUR],
                keeps=keeps,
            )


def _footprint(building: Building) -> tuple[float, float]:
    """Return floor area [m2] and exposed perimeter [m] of the building."""
    outer = [face for face in wall_faces(building) if face.next_to is None]
    return building.floor_area, sum(face.length for face in outer)
