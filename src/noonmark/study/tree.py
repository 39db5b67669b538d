"""The result tree of a marched year: hourly arrays become what a builder reads."""

from __future__ import annotations

from collections import defaultdict

import numpy as np
from numpy.typing import NDArray

from noonmark import catalog
from noonmark.air.moist import relative_humidity
from noonmark.balance.enclosure import Year
from noonmark.climate.closure import radiation_closure
from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.design.derived import charge_heat, wall_faces
from noonmark.design.model import Building
from noonmark.design.services import Heating
from noonmark.errors import Sentence
from noonmark.outcome.reduce import (
    fuel_need,
    heating_months,
    hours_above,
    hours_below,
    monthly_kwh,
    monthly_mean,
    yearly_kwh,
)
from noonmark.place.site import azimuth_name
from noonmark.study.assemble import Assembled
from noonmark.study.covers import as_marched
from noonmark.study.results.year import (
    BuildingYear,
    ClimateUsed,
    CoverYear,
    FuelYear,
    MonthYear,
    PartFlow,
    ZoneYear,
)
from noonmark.study.site import Site
from noonmark.sun.position import standard_pressure

FloatArray = NDArray[np.float64]

TOO_WARM = 26.0
TOO_COOL = 18.0


def zone_year(ready: Assembled, year: Year, index: int, building: Building, site: Site) -> ZoneYear:
    """Return the year of zone `index` of a marched building."""
    zone = ready.zones[index]
    part = building.zone[zone.name]
    heat = heat_given(year)[:, index]
    cool = np.maximum(-year.plant[:, index], 0.0)
    operative = year.operative[:, index]
    month = MONTH_OF_HOUR
    outdoor = monthly_mean(site.weather.temp_air, month)
    kept = ready.kept(year.closed)[index]
    season = heating_months(monthly_kwh(heat_given(year).sum(axis=1), month))[month]
    humidity = relative_humidity(
        year.humidity[:, index], year.air[:, index], standard_pressure(site.place.altitude)
    )
    return ZoneYear(
        name=zone.name,
        floor_area_m2=part.floor_area,
        lived_in=part.lived_in,
        heating_kwh=yearly_kwh(heat),
        cooling_kwh=yearly_kwh(cool),
        peak_heating_w=float(heat.max()),
        peak_cooling_w=float(cool.max()),
        temp_min_c=float(operative.min()),
        temp_max_c=float(operative.max()),
        hours_above_26_c=hours_above(operative, TOO_WARM),
        hours_below_18_c=hours_below(operative, TOO_COOL),
        humidity_winter_mean=float(monthly_mean(humidity, month)[np.argmin(outdoor)]),
        heated_floor_max_c=_heated_floor(ready, year, index),
        months=tuple(
            MonthYear(*row)
            for row in zip(
                range(1, 13),
                monthly_kwh(heat, month).tolist(),
                monthly_kwh(cool, month).tolist(),
                monthly_kwh(sum(kept.values(), np.zeros(heat.size)), month).tolist(),
                monthly_mean(operative, month).tolist(),
                outdoor.tolist(),
                strict=True,
            )
        ),
        losses=_losses(ready, year, index, season),
        gains=_gains(ready, year, kept, index, season),
    )


def _losses(
    ready: Assembled, year: Year, index: int, season: NDArray[np.bool_]
) -> tuple[PartFlow, ...]:
    """Return what leaves the zone through each part in the heating months."""
    flows: dict[tuple[str, str], float] = defaultdict(float)
    for column, part in enumerate(ready.parts):
        if part.element.zone_inside == index:
            flows[part.kind, part.side] += yearly_kwh(year.flow_inside[season, column])
        elif part.element.zone_outside == index:
            flows[part.kind, part.side] += yearly_kwh(year.flow_outside[season, column])
    if year.slab[:, index].any():  # what the heated floor passes on downwards, or keeps
        flows["floor", ""] += yearly_kwh(year.slab[season, index])
    flows["air", ""] = yearly_kwh(year.air_loss[season, index])
    if (moved := yearly_kwh(year.moved[season, index])) < 0.0:
        flows["between", ""] = -moved
    return tuple(PartFlow(kind, side, kwh) for (kind, side), kwh in flows.items())


def _gains(
    ready: Assembled,
    year: Year,
    kept: dict[str, FloatArray],
    index: int,
    season: NDArray[np.bool_],
) -> tuple[PartFlow, ...]:
    """Return what warms the zone in the heating months: sun by side, people, what heats.

    Sun counts what is `kept` inside past the glass and what inner panes and blinds pass on.
    """
    sun = {side: yearly_kwh(power[season]) for side, power in kept.items()}
    for part in ready.parts:
        if part.kind == "window" and part.element.zone_inside == index and part.faces[0].loses:
            source = as_marched(part.element.inside_source, year.closed)
            passed = part.element.area * source[season]
            sun[part.side] = sun.get(part.side, 0.0) + yearly_kwh(passed)
    zone = ready.zones[index]
    given = as_marched(zone.gain_air, year.closed) + as_marched(zone.gain_star, year.closed)
    moved = yearly_kwh(year.moved[season, index])
    inside = yearly_kwh((given + year.bodies[:, index])[season])
    return (
        *(PartFlow("solar", side, kwh) for side, kwh in sun.items()),
        PartFlow("inside", "", inside),
        PartFlow("heater", "", yearly_kwh(np.maximum(year.plant[season, index], 0.0))),
        *(
            PartFlow(kind, "", yearly_kwh(power[season, index]))
            for kind, power in (
                ("stove", year.stove),
                ("slab", year.slab),
            )
            if power[:, index].any()
        ),
        *([PartFlow("between", "", moved)] if moved > 0.0 else []),
    )


def heat_given(year: Year) -> FloatArray:
    """Return the heat of heaters, stoves and heated floors in each zone (h, z) [W]."""
    return np.asarray(np.maximum(year.plant, 0.0) + year.stove + year.slab)


def _heated_floor(ready: Assembled, year: Year, index: int) -> float | None:
    """Return the highest surface of a zone's floor while it is heated [degC]."""
    heated = year.slab[:, index] > 0.0
    floors = [
        column
        for column, part in enumerate(ready.parts)
        if part.kind == "floor" and part.element.zone_inside == index
    ]
    return float(year.surface[heated][:, floors].max()) if heated.any() else None


def building_tree(
    name: str,
    building: Building,
    ready: Assembled,
    zones: tuple[ZoneYear, ...],
    year: Year,
    closure: float,
) -> BuildingYear:
    """Return the year of a building from its zones; `closure` is `closure_error`."""
    heating = sum(zone.heating_kwh for zone in zones)
    above = max(zone.hours_above_26_c for zone in zones if zone.lived_in)
    glass: dict[str, float] = defaultdict(float)
    for face in wall_faces(building):
        if face.windows and face.next_to is None:
            glass[azimuth_name(face.azimuth)] += face.window_area
    return BuildingYear(
        name=name,
        kind=building.kind,
        faces_deg=building.faces,
        floor_area_m2=building.floor_area,
        glass_by_side_m2=dict(glass),
        heating_kwh=heating,
        cooling_kwh=sum(zone.cooling_kwh for zone in zones),
        peak_heating_w=float(heat_given(year).sum(axis=1).max()),
        fuel=_fuel(building.heating, heating) if building.heating else None,
        zones=zones,
        covers=tuple(
            CoverYear(
                cover=item.name,
                window=item.window.name or "",
                side=azimuth_name(item.light.sun.face.azimuth),
                hours_closed=float(year.closed[:, column].sum()),
            )
            for column, item in enumerate(ready.covered)
        ),
        closure_error=closure,
        missed_goals=_missed(name, building, heating, above),
    )


def _fuel(heating: Heating, heat_kwh: float) -> FuelYear:
    row = catalog.find(catalog.Fuel, heating.fuel)
    need = fuel_need(
        heat_kwh,
        efficiency=heating.efficiency,
        kwh_per_unit=row.kwh_net if heating.basis == "net" else row.kwh_gross,
        cords_per_unit=row.cords,
    )
    return FuelYear(
        fuel=row.name,
        unit=row.unit,
        basis=heating.basis,
        amount=need.amount,
        delivered_kwh=need.delivered_kwh,
        charges=1e3 * heat_kwh / charge_heat(heating) if heating.stove else 0.0,
        full_cords=need.cords,
    )


def _missed(name: str, building: Building, heating: float, above: float) -> tuple[Sentence, ...]:
    missed = []
    goals = building.goals
    if goals.heating_kwh is not None and heating > goals.heating_kwh:
        values = {"building": name, "got": round(heating), "goal": round(goals.heating_kwh)}
        missed.append(Sentence("goal.heating", values))
    if goals.hours_above_26_c is not None and above > goals.hours_above_26_c:
        values = {"building": name, "got": round(above), "goal": round(goals.hours_above_26_c)}
        missed.append(Sentence("goal.hours_above", values))
    return tuple(missed)


def climate_used(site: Site) -> ClimateUsed:
    """Return which weather a year ran on."""
    weather = site.weather
    return ClimateUsed(
        source=weather.source,
        trust=weather.trust,
        latitude=weather.latitude,
        longitude=weather.longitude,
        altitude_m=weather.altitude_m,
        radiation_closure=radiation_closure(weather, site.sun),
        repaired_values=sum(repair.count for repair in weather.repairs),
    )
