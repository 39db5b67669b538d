"""A building at a site as zones and elements, with the sun inside shared out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.air.leakage import leakage
from noonmark.air.moist import SPECIFIC_HEAT, air_density
from noonmark.balance.enclosure import Element, Opened, Zone
from noonmark.climate.year import HOURS
from noonmark.design.derived import WallFace, roof_triangle, wall_faces
from noonmark.design.model import Building, Homestead
from noonmark.design.model import Zone as ZonePart
from noonmark.envelope.layers import resistance_layer
from noonmark.place.site import azimuth_name
from noonmark.sources.people import household_gain
from noonmark.study.constructions import layers_of, modes_of
from noonmark.study.elements import (
    ABSORPTANCE_CEILING,
    ABSORPTANCE_WALLS,
    Part,
    outdoor_part,
    partition_part,
)
from noonmark.study.landing import share_out
from noonmark.study.site import Site
from noonmark.study.slab import slab_parts
from noonmark.study.sunny import (
    GlassSun,
    WallSun,
    eave_over,
    placed_windows,
    siding_sun,
    window_parts_of,
)
from noonmark.sun.position import standard_pressure

FloatArray = NDArray[np.float64]

ATTIC_RESISTANCE = 0.2
"""A ventilated attic under a tight roof [m2K/W] (EN ISO 6946, unheated roof spaces)."""

_DESIGN_AIR = 20.0


@dataclass(frozen=True)
class Assembled:
    """Zones and parts ready to march; `solar` (z, h) [W] sun kept inside, `by_side` its origin."""

    zones: list[Zone]
    parts: list[Part]
    solar: list[FloatArray]
    by_side: list[dict[str, FloatArray]]

    @property
    def elements(self) -> list[Element]:
        """Return the elements in the order of the parts."""
        return [part.element for part in self.parts]


def assemble(homestead: Homestead, building: Building, site: Site) -> Assembled:
    """Return a building as a march needs it."""
    names = list(building.zone)
    parts: list[Part] = []
    beam = np.zeros((len(names), HOURS))
    scattered = np.zeros((len(names), HOURS))
    by_side: list[dict[str, FloatArray]] = [{} for _ in names]
    soffit = roof_triangle(homestead, building).soffit
    for face in wall_faces(building):
        zone = names.index(face.zone)
        if face.next_to is not None:
            modes = modes_of(layers_of(homestead, face.construction, "horizontal"))
            other = names.index(face.next_to)
            area = face.length * face.height
            parts.append(
                partition_part(zone=zone, other=other, area=area, modes=modes, hours=HOURS)
            )
            continue
        found, entered = _outer_wall(homestead, building, site, face, zone, soffit)
        parts += found
        side = azimuth_name(face.azimuth)
        for sun in entered:
            beam[zone] += sun.beam
            scattered[zone] += sun.scattered
            before = by_side[zone].get(side, np.zeros(HOURS))
            by_side[zone][side] = before + sun.beam + sun.scattered
    for index, part in enumerate(building.zone.values()):
        parts.append(_ceiling(homestead, building, site, part, index))
        parts += slab_parts(homestead, building, site, part, index)
    parts, stays = share_out(parts, beam, scattered)
    zones = [_zone(building, site, name, part) for name, part in building.zone.items()]
    kept = [
        {side: power * stays[i] for side, power in sides.items()} for i, sides in enumerate(by_side)
    ]
    return Assembled(zones, parts, [sum(k.values(), np.zeros(HOURS)) for k in kept], kept)


def _outer_wall(
    homestead: Homestead, building: Building, site: Site, face: WallFace, zone: int, soffit: float
) -> tuple[list[Part], list[GlassSun]]:
    eave = eave_over(homestead, building, face, soffit)
    sun = WallSun(site, face, site.plane(90.0, face.azimuth), eave)
    placed = placed_windows(sun)
    received, sky_share = siding_sun(sun, placed)
    parts = [
        outdoor_part(
            site,
            kind="wall",
            side=azimuth_name(face.azimuth),
            zone=zone,
            area=face.opaque_area,
            modes=modes_of(layers_of(homestead, face.construction, "horizontal")),
            facing="wall",
            sky_view=0.5 * sky_share,
            absorbed=face.absorptance * received,
            keeps=ABSORPTANCE_WALLS,
        )
    ]
    entered = []
    for item in placed:
        found, let_in = window_parts_of(homestead, sun, item, zone)
        parts += found
        entered.append(let_in)
    return parts, entered


def _ceiling(
    homestead: Homestead, building: Building, site: Site, zone: ZonePart, index: int
) -> Part:
    layers = layers_of(homestead, building.roof.construction, "upward")
    return outdoor_part(
        site,
        kind="roof",
        side="",
        zone=index,
        area=zone.length * zone.width,
        modes=modes_of([*layers, resistance_layer(ATTIC_RESISTANCE)]),
        facing="ceiling",
        sky_view=1.0,
        absorbed=building.roof.absorptance * site.plane(0.0, 180.0).total,
        keeps=ABSORPTANCE_CEILING,
    )


def _zone(building: Building, site: Site, name: str, part: ZonePart) -> Zone:
    air, use = building.air, building.use
    area = part.length * part.width
    volume = area * part.height
    density = air_density(standard_pressure(site.place.altitude), _DESIGN_AIR)
    heat = density * SPECIFIC_HEAT
    share = area / building.floor_area
    gain = household_gain(people=use.people * share, appliances=use.appliances * share)
    leak = leakage(
        air_changes_50=air.leakage,
        volume=volume,
        density=density,
        storeys=air.storeys,
        shelter=air.shelter,
    )
    heating, cooling = building.heating, building.cooling
    return Zone(
        name=name,
        air_capacity=part.furniture * area + heat * volume,
        air_mass=density * volume,
        supply=air.ventilation * share * heat,
        recovery=air.recovery,
        opened=Opened(above=air.open_above, base=air.open_air_changes * volume / 3600.0 * heat),
        leak_scale=leak.scale * heat,
        leak_stack=leak.stack,
        leak_wind=leak.wind * site.wind_at_station**2,
        gain_air=gain.air,
        gain_star=gain.surfaces,
        heat_set=heating.setpoint if heating else -np.inf,
        cool_set=cooling.setpoint if cooling else np.inf,
        heat_most=_share_of(heating.capacity if heating else 0.0, share),
        cool_most=_share_of(cooling.capacity if cooling else 0.0, share),
        vapour_gain=gain.vapour,
    )


def _share_of(capacity: float | None, share: float) -> float:
    """Return a zone's share of a plant, unlimited when no capacity is given [W]."""
    return np.inf if capacity is None else capacity * share
