"""The air of the zones and what runs in them: people, ventilation, windows, plant, passages."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from noonmark.air.leakage import leakage
from noonmark.air.moist import SPECIFIC_HEAT, air_density
from noonmark.air.openings import doorway_flow, single_sided
from noonmark.balance.block import NEVER
from noonmark.balance.drive import Drive, Hourly
from noonmark.balance.enclosure import Fan, Opened, Passage, SlabHeat, Stove, Zone
from noonmark.climate.year import HOURS, MONTH_OF_HOUR
from noonmark.design.derived import charge_heat, stove_zone
from noonmark.design.model import Building
from noonmark.design.model import Zone as ZonePart
from noonmark.design.part import Clock
from noonmark.design.services import Air, Cooling, FloorHeating, Heating, Use
from noonmark.sources.people import InternalGain, household_gain
from noonmark.sources.schedule import hours_between, set_back
from noonmark.sources.stove import burn_curve
from noonmark.study.site import Site
from noonmark.sun.position import standard_pressure

FloatArray = NDArray[np.float64]

_DESIGN_AIR = 20.0


def running(clock: Clock) -> NDArray[np.bool_]:
    """Return the hours (h,) in which a clock with months lets something run."""
    months = np.isin(MONTH_OF_HOUR + 1, clock.months)
    return np.asarray(hours_between(clock.begin, clock.end) & months)


def zones_of(building: Building, site: Site) -> list[Zone]:
    """Return the zones of a building in their order."""
    return [_zone(building, site, name, part) for name, part in building.zone.items()]


def passages_of(building: Building, site: Site) -> list[Passage]:
    """Return what carries air between the zones."""
    names = list(building.zone)
    heat = _density(site) * SPECIFIC_HEAT
    found = []
    for item in building.passage:
        name = f"passage {' '.join(item.zones)}"
        first, second = (names.index(zone) for zone in item.zones)
        runs = running(item).astype(float)
        if item.kind == "fan":
            blower = Passage(
                name,
                first,
                second,
                open=0.0,
                blower=(item.airflow or 0.0) * heat,
                blowing=runs,
                difference=item.difference,
                below=NEVER if item.below is None else item.below,
            )
            found.append(blower)
        else:
            doorway = doorway_flow(item.width or 0.0, item.height or 0.0) * heat
            found.append(Passage(name, first, second, open=runs, doorway=doorway))
    return found


def _density(site: Site) -> float:
    return air_density(standard_pressure(site.place.altitude), _DESIGN_AIR)


def _zone(building: Building, site: Site, name: str, part: ZonePart) -> Zone:
    air = building.air
    volume = part.floor_area * part.height
    density = _density(site)
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
    steady = air.infiltration
    # what heats: a plant that holds its set-point, unless a stove stands in its place
    plant = None if building.heating and building.heating.stove else building.heating
    return Zone(
        name=name,
        air_capacity=part.furniture * part.floor_area + heat * volume,
        air_mass=density * volume,
        supply=air.ventilation * share * heat,
        recovery=air.recovery,
        bypass_above=air.bypass,
        fan=_fan(air, share * heat),
        opened=_opened(air, site, volume * heat, heat * part.floor_area / building.floor_area),
        # steady infiltration stands in for leaks, whatever the weather: times the root of one
        leak_scale=leak.scale * heat if steady is None else steady * volume / 3600.0 * heat,
        leak_stack=leak.stack if steady is None else 0.0,
        leak_wind=leak.wind * site.wind_at_station**2 if steady is None else 1.0,
        gain_air=gain.air,
        gain_star=gain.surfaces,
        heat_set=heat_setpoints(plant) if part.heated else -NEVER,
        cool_set=_cool_setpoints(building.cooling) if part.heated else NEVER,
        heat_most=_share_of(plant, building.heat_share(part)),
        cool_most=_share_of(building.cooling, building.heat_share(part)),
        vapour_gain=gain.vapour,
        stove=_stove(building.heating) if name == stove_zone(building) else None,
        slab=_slab(building.floor.heating) if part.heated else None,
    )


def _fan(air: Air, heat: float) -> Fan | None:
    """Return the fan of a zone; `heat` [J/m3K] is its share of the air times what that holds."""
    if air.fan is None:
        return None
    flow = np.asarray(running(air.fan) * (air.fan.airflow * heat))
    if air.fan.above is None:
        return Fan(flow)
    return Fan(flow, above=air.fan.above, cooler=0.0)


def _opened(air: Air, site: Site, changed: float, heat: float) -> Opened:
    """Return the windows of a zone; `changed` [J/K] is its air, `heat` [J/m3K] as in `_fan`."""
    if air.open_area is None or air.open_height is None:
        return Opened(above=air.open_above, base=air.open_air_changes / 3600.0 * changed)
    flow = single_sided(air.open_area, air.open_height)
    wind: Hourly = Drive(((flow.wind, site.wind_at_station**2), (flow.still, None)))
    return Opened(above=air.open_above, scale=flow.scale * heat, stack=flow.stack, wind=wind)


def _stove(heating: Heating | None) -> Stove | None:
    if heating is None or heating.stove is None:
        return None
    stove = heating.stove
    awake = hours_between(stove.begin, stove.end)
    return Stove(
        below=np.where(awake, heat_setpoints(heating), -NEVER),
        curve=burn_curve(charge_heat(heating), hours=stove.burns, lowest=stove.lowest),
        radiant=stove.radiant,
    )


def _slab(heating: FloorHeating | None) -> SlabHeat | None:
    if heating is None:
        return None
    return SlabHeat(setpoint=heating.setpoint, most=heating.power, band=heating.band)


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
