"""The year of a homestead and of its unshaped twin."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark import catalog
from noonmark.air.moist import (
    SPECIFIC_HEAT,
    humidity_ratio,
    relative_humidity,
    saturation_pressure,
)
from noonmark.balance import enclosure
from noonmark.climate.closure import radiation_closure
from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.design.checks import cautions
from noonmark.design.derived import wall_faces
from noonmark.design.model import Building, Heating, Homestead
from noonmark.errors import (
    InputError,
    PhysicsError,
    Progress,
    ProgressListener,
    Sentence,
    no_progress,
)
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
from noonmark.study.assemble import Assembled, assemble
from noonmark.study.results import (
    FORMAT,
    BuildingYear,
    ClimateUsed,
    FuelYear,
    MonthYear,
    PartFlow,
    YearResult,
    ZoneYear,
)
from noonmark.study.site import Site, prepare_site, weather_cautions
from noonmark.study.twin import unshaped_twin
from noonmark.sun.position import standard_pressure
from noonmark.units import Quantity

FloatArray = NDArray[np.float64]

TOO_WARM = 26.0
TOO_COOL = 18.0


@dataclass(frozen=True)
class YearRun:
    """The result tree beside the hourly arrays of each building as designed."""

    result: YearResult
    hourly: dict[str, enclosure.Year]
    site: Site


def run_year(
    homestead: Homestead,
    folder: Path = Path(),
    *,
    name: str = "",
    listen: ProgressListener = no_progress,
) -> YearRun:
    """March every building and its twin through the weather year.

    `folder` is where the design's weather file lies, `name` the design file for
    errors. Raises `InputError` when design or weather can not be used.
    """
    try:
        return _run_year(homestead, folder, listen)
    except InputError as error:
        raise InputError([p if p.file else p.at(file=name) for p in error.problems]) from error


def _run_year(homestead: Homestead, folder: Path, listen: ProgressListener) -> YearRun:
    site = prepare_site(homestead.place, homestead.climate, folder)
    twin = unshaped_twin(homestead)
    total = 2 * len(homestead.buildings)
    own: list[BuildingYear] = []
    beside: list[BuildingYear] = []
    hourly: dict[str, enclosure.Year] = {}
    for name in homestead.buildings:
        for design, results in ((homestead, own), (twin, beside)):
            listen(Progress("progress.year", len(own) + len(beside), total))
            found, year = building_year(design, name, site)
            results.append(found)
            if design is homestead:
                hourly[name] = year
    listen(Progress("progress.year", total, total))
    result = YearResult(
        format=FORMAT,
        title=homestead.title,
        climate=_climate_used(site),
        buildings=tuple(own),
        twin=tuple(beside),
        cautions=(*weather_cautions(site), *cautions(homestead)),
    )
    return YearRun(result, hourly, site)


def building_year(
    homestead: Homestead, name: str, site: Site
) -> tuple[BuildingYear, enclosure.Year]:
    """March one building through the site's year."""
    building = homestead.buildings[name]
    weather = site.weather
    try:
        ready = assemble(homestead, building, site)
        year = enclosure.run_year(
            ready.zones,
            ready.elements,
            outdoor_air=weather.temp_air,
            outdoor_humidity=humidity_ratio(
                saturation_pressure(weather.dew_point), weather.pressure
            ),
            air_heat=SPECIFIC_HEAT,
        )
    except PhysicsError as error:
        raise InputError(
            [p.at(path=f"{name}.{p.path}".rstrip(".")) for p in error.problems]
        ) from error
    zones = tuple(_zone_year(ready, year, i, building, site) for i in range(len(ready.zones)))
    return _building_year(name, building, zones, year, closure_error(ready, year)), year


def closure_error(ready: Assembled, year: enclosure.Year) -> float:
    """Return the energy left unexplained over the energy moved, without a remainder term.

    Stored heat must change by what plant, people, sun and outside surfaces
    bring and air carries out, each summed by itself.
    """
    areas = np.array([part.element.area for part in ready.parts])
    inner = np.array([part.element.inside_source.sum() for part in ready.parts]) @ areas
    outdoors = np.array([part.element.zone_outside < 0 for part in ready.parts])
    outer = sum(
        part.element.area * part.element.outside_drive.sum()
        for part in ready.parts
        if part.element.zone_outside >= 0
    )
    gains = sum((zone.gain_air + zone.gain_star).sum() for zone in ready.zones)
    surfaces = year.flow_outside[:, outdoors].sum()
    brought = year.plant.sum() + gains + inner + outer + surfaces - year.air_loss.sum()
    stored = (year.stored[1] - year.stored[0]) / 3600.0
    moved = np.abs(year.plant).sum() + gains + inner + np.abs(year.air_loss).sum()
    return float(abs(stored - brought) / moved)


def _zone_year(
    ready: Assembled, year: enclosure.Year, index: int, building: Building, site: Site
) -> ZoneYear:
    zone = ready.zones[index]
    part = building.zone[zone.name]
    heat = np.maximum(year.plant[:, index], 0.0)
    cool = np.maximum(-year.plant[:, index], 0.0)
    operative = year.operative[:, index]
    month = MONTH_OF_HOUR
    outdoor = monthly_mean(site.weather.temp_air, month)
    season = heating_months(monthly_kwh(heat, month))[month]
    humidity = relative_humidity(
        year.humidity[:, index], year.air[:, index], standard_pressure(site.place.altitude)
    )
    return ZoneYear(
        name=zone.name,
        floor_area_m2=part.length * part.width,
        heating_kwh=yearly_kwh(heat),
        cooling_kwh=yearly_kwh(cool),
        peak_heating_w=float(heat.max()),
        peak_cooling_w=float(cool.max()),
        temp_min_c=float(operative.min()),
        temp_max_c=float(operative.max()),
        hours_above_26_c=hours_above(operative, TOO_WARM),
        hours_below_18_c=hours_below(operative, TOO_COOL),
        humidity_winter_mean=float(monthly_mean(humidity, month)[np.argmin(outdoor)]),
        months=tuple(
            MonthYear(*row)
            for row in zip(
                range(1, 13),
                monthly_kwh(heat, month).tolist(),
                monthly_kwh(cool, month).tolist(),
                monthly_kwh(ready.solar[index], month).tolist(),
                monthly_mean(operative, month).tolist(),
                outdoor.tolist(),
                strict=True,
            )
        ),
        losses=_losses(ready, year, index, season),
        gains=_gains(ready, heat, index, season),
    )


def _losses(
    ready: Assembled, year: enclosure.Year, index: int, season: NDArray[np.bool_]
) -> tuple[PartFlow, ...]:
    """Return what leaves the zone through each part in the heating months."""
    flows: dict[tuple[str, str], float] = defaultdict(float)
    for column, part in enumerate(ready.parts):
        if part.element.zone_inside == index:
            flows[part.kind, part.side] += yearly_kwh(year.flow_inside[season, column])
        elif part.element.zone_outside == index:
            flows[part.kind, part.side] += yearly_kwh(year.flow_outside[season, column])
    flows["air", ""] = yearly_kwh(year.air_loss[season, index])
    return tuple(PartFlow(kind, side, kwh) for (kind, side), kwh in flows.items())


def _gains(
    ready: Assembled, heat: FloatArray, index: int, season: NDArray[np.bool_]
) -> tuple[PartFlow, ...]:
    """Return what warms the zone in the heating months: sun by side, people, heater.

    Sun counts what stays inside past the glass and what the inner pane passes on.
    """
    sun = {side: yearly_kwh(power[season]) for side, power in ready.by_side[index].items()}
    for part in ready.parts:
        if part.kind == "window" and part.element.zone_inside == index and part.faces[0].loses:
            passed = part.element.area * part.element.inside_source[season]
            sun[part.side] = sun.get(part.side, 0.0) + yearly_kwh(passed)
    zone = ready.zones[index]
    inside = yearly_kwh((zone.gain_air + zone.gain_star)[season])
    return (
        *(PartFlow("solar", side, kwh) for side, kwh in sun.items()),
        PartFlow("inside", "", inside),
        PartFlow("heater", "", yearly_kwh(heat[season])),
    )


def _building_year(
    name: str,
    building: Building,
    zones: tuple[ZoneYear, ...],
    year: enclosure.Year,
    closure: float,
) -> BuildingYear:
    heating = sum(zone.heating_kwh for zone in zones)
    above = max(zone.hours_above_26_c for zone in zones)
    glass: dict[str, float] = defaultdict(float)
    for face in wall_faces(building):
        if face.windows:
            glass[azimuth_name(face.azimuth)] += face.window_area
    return BuildingYear(
        name=name,
        kind=building.kind,
        faces_deg=building.faces,
        floor_area_m2=building.floor_area,
        glass_by_side_m2=dict(glass),
        heating_kwh=heating,
        cooling_kwh=sum(zone.cooling_kwh for zone in zones),
        peak_heating_w=float(np.maximum(year.plant, 0.0).sum(axis=1).max()),
        temp_max_c=max(zone.temp_max_c for zone in zones),
        hours_above_26_c=above,
        fuel=_fuel(building.heating, heating) if building.heating else None,
        zones=zones,
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
        full_cords=need.cords,
    )


def _missed(name: str, building: Building, heating: float, above: float) -> tuple[Sentence, ...]:
    missed = []
    goals = building.goals
    if goals.heating_kwh is not None and heating > goals.heating_kwh:
        values = {
            "building": name,
            "got": Quantity(heating * 3.6e6, "energy"),
            "goal": Quantity(goals.heating_kwh * 3.6e6, "energy"),
        }
        missed.append(Sentence("goal.heating", values))
    if goals.hours_above_26_c is not None and above > goals.hours_above_26_c:
        values = {"building": name, "got": round(above), "goal": round(goals.hours_above_26_c)}
        missed.append(Sentence("goal.hours_above", values))
    return tuple(missed)


def _climate_used(site: Site) -> ClimateUsed:
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
