"""A building at a site as zones and elements, with the sun inside shared out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from noonmark.air.leakage import leakage
from noonmark.air.moist import SPECIFIC_HEAT, air_density
from noonmark.balance.block import NEVER
from noonmark.balance.enclosure import Element, Fan, Opened, Zone
from noonmark.climate.year import HOURS
from noonmark.design.derived import WallFace, roof_triangle, thickness, wall_faces
from noonmark.design.model import Building, Cooling, Heating, Homestead, Use
from noonmark.design.model import Zone as ZonePart
from noonmark.envelope.layers import resistance_layer
from noonmark.place.site import azimuth_name
from noonmark.sources.people import InternalGain, household_gain
from noonmark.sources.schedule import hours_between, set_back
from noonmark.study.constructions import layers_of, modes_of
from noonmark.study.elements import Part, outdoor_part
from noonmark.study.inner import inner_wall_parts
from noonmark.study.landing import Source, land, lit_parts
from noonmark.study.layout import boxes_of
from noonmark.study.site import Site
from noonmark.study.slab import floor_parts
from noonmark.study.sunny import (
    LetIn,
    WallSun,
    cold_sky_view,
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
    """Zones and parts ready to march.

    `entered` is what each window entry lets in, `sources` where it ends.
    """

    zones: list[Zone]
    parts: list[Part]
    entered: list[LetIn]
    sources: list[Source]

    @cached_property
    def by_side(self) -> list[dict[str, FloatArray]]:
        """Return for each zone the sun kept inside, by the side it came from (h,) [W]."""
        kept: list[dict[str, FloatArray]] = [{} for _ in self.zones]
        for light, source in zip(self.entered, self.sources, strict=True):
            side = azimuth_name(light.sun.face.azimuth)
            for zone, sides in enumerate(kept):
                sides[side] = sides.get(side, np.zeros(HOURS)) + source.stays(zone)
        return kept

    @property
    def let_in(self) -> list[dict[str, FloatArray]]:
        """Return for each zone the sun past its outside glass, by side (h,) [W]."""
        came: list[dict[str, FloatArray]] = [{} for _ in self.zones]
        for light in self.entered:
            sides, side = came[light.face.zone], azimuth_name(light.sun.face.azimuth)
            sides[side] = sides.get(side, np.zeros(HOURS)) + light.beam + light.scattered
        return came

    @property
    def solar(self) -> list[FloatArray]:
        """Return for each zone all the sun kept inside (h,) [W]."""
        return [sum(sides.values(), np.zeros(HOURS)) for sides in self.by_side]

    @property
    def elements(self) -> list[Element]:
        """Return the elements in the order of the parts."""
        return [part.element for part in self.parts]


def assemble(homestead: Homestead, building: Building, site: Site) -> Assembled:
    """Return a building as a march needs it."""
    names = list(building.zone)
    parts: list[Part] = []
    entered: list[LetIn] = []
    boxes = boxes_of(building)
    soffit = roof_triangle(homestead, building).soffit
    for face in wall_faces(building):
        zone = names.index(face.zone)
        if face.next_to is not None:
            parts += inner_wall_parts(homestead, building, face, boxes)
            continue
        found, let_in = _outer_wall(homestead, building, site, face, zone, soffit)
        parts += found
        entered += let_in
    for index, part in enumerate(building.zone.values()):
        parts.append(_ceiling(homestead, building, site, part, index))
        parts += floor_parts(homestead, building, site, part, index)
    sources = land(boxes, parts, entered)
    zones = [_zone(building, site, name, part) for name, part in building.zone.items()]
    return Assembled(zones, lit_parts(parts, sources), entered, sources)


def _outer_wall(
    homestead: Homestead, building: Building, site: Site, face: WallFace, zone: int, soffit: float
) -> tuple[list[Part], list[LetIn]]:
    eave = eave_over(homestead, building, face, soffit)
    thick = thickness(homestead, face.construction)
    sun = WallSun(site, face, site.plane(90.0, face.azimuth), eave, thick)
    placed = placed_windows(sun)
    received, sky_share = siding_sun(sun, placed)
    parts = [
        outdoor_part(
            site,
            kind="wall",
            side=azimuth_name(face.azimuth),
            azimuth=face.azimuth,
            zone=zone,
            area=face.opaque_area,
            modes=modes_of(layers_of(homestead, face.construction, "horizontal")),
            facing="wall",
            sky_view=cold_sky_view(sky_share),
            absorbed=face.absorptance * received,
            keeps=building.inside.walls,
            place=sun.place,
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
    roof = building.roof
    layers = layers_of(homestead, zone.roof_construction or roof.construction, "upward")
    attic = [resistance_layer(ATTIC_RESISTANCE)] if roof.attic else []
    return outdoor_part(
        site,
        kind="roof",
        side="",
        zone=index,
        area=zone.floor_area,
        modes=modes_of([*layers, *attic]),
        facing="ceiling",
        sky_view=1.0,
        absorbed=roof.absorptance * site.plane(0.0, 180.0).total,
        keeps=building.inside.ceiling,
        place="ceiling",
    )


def _zone(building: Building, site: Site, name: str, part: ZonePart) -> Zone:
    air = building.air
    volume = part.floor_area * part.height
    density = air_density(standard_pressure(site.place.altitude), _DESIGN_AIR)
    heat = density * SPECIFIC_HEAT
    share = building.use_share(part)
    gain = _gain(building.use, share)
    leak = leakage(
        air_changes_50=air.leakage,
        volume=volume,
        density=density,
        storeys=air.storeys,
        shelter=air.shelter,
    )
    steady, fan = air.infiltration, None
    if air.fan is not None:
        runs = hours_between(air.fan.begin, air.fan.end)
        fan = Fan(np.asarray(runs * (air.fan.airflow * share * heat)))
    return Zone(
        name=name,
        air_capacity=part.furniture * part.floor_area + heat * volume,
        air_mass=density * volume,
        supply=air.ventilation * share * heat,
        recovery=air.recovery,
        fan=fan,
        opened=Opened(above=air.open_above, base=air.open_air_changes * volume / 3600.0 * heat),
        # steady infiltration stands in for leaks, whatever the weather: times the root of one
        leak_scale=leak.scale * heat if steady is None else steady * volume / 3600.0 * heat,
        leak_stack=leak.stack if steady is None else 0.0,
        leak_wind=leak.wind * site.wind_at_station**2 if steady is None else 1.0,
        gain_air=gain.air,
        gain_star=gain.surfaces,
        heat_set=heat_setpoints(building.heating) if part.heated else -NEVER,
        cool_set=_cool_setpoints(building.cooling) if part.heated else NEVER,
        heat_most=_share_of(building.heating, building.heat_share(part)),
        cool_most=_share_of(building.cooling, building.heat_share(part)),
        vapour_gain=gain.vapour,
    )


def _gain(use: Use, share: float) -> InternalGain:
    """Return a zone's share of what people, appliances and other things give."""
    return household_gain(
        people=use.people * share,
        appliances=use.appliances * share,
        steady=use.steady * share,
        steady_radiant=use.steady_radiant,
    )


def heat_setpoints(heating: Heating | None) -> FloatArray:
    """Return what the heater holds, set-backs in it (h,) [degC]; minus infinity without one."""
    if heating is None:
        return np.full(HOURS, -np.inf)
    backs = [
        set_back(heating.setpoint, b.setpoint, begin=b.begin, end=b.end, ramp=b.ramp)
        for b in heating.setback
    ]
    return np.asarray(np.min([np.full(HOURS, heating.setpoint), *backs], axis=0))


def _cool_setpoints(cooling: Cooling | None) -> FloatArray:
    """Return what the cooler holds (h,) [degC], infinity while it is off."""
    if cooling is None:
        return np.full(HOURS, np.inf)
    return np.where(hours_between(cooling.begin, cooling.end), cooling.setpoint, np.inf)


def _share_of(plant: Heating | Cooling | None, share: float) -> float:
    """Return a zone's share of a plant, unlimited when no capacity is given [W]."""
    if plant is None or share == 0.0:
        return 0.0
    return np.inf if plant.capacity is None else plant.capacity * share
