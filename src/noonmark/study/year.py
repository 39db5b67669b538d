"""The year of a homestead and of its unshaped twin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark.air.moist import SPECIFIC_HEAT, humidity_ratio, saturation_pressure
from noonmark.balance.enclosure import Air, Year, Zone
from noonmark.balance.run import run_year as march
from noonmark.design.cautions import cautions
from noonmark.design.model import Homestead
from noonmark.errors import (
    InputError,
    PhysicsError,
    Progress,
    ProgressListener,
    Sentence,
    no_progress,
)
from noonmark.study.assemble import Assembled, WallsInSun, assemble
from noonmark.study.covers import as_marched
from noonmark.study.results.year import BuildingYear, YearResult
from noonmark.study.rooms import heat_setpoints
from noonmark.study.site import Site, prepare_site, weather_cautions
from noonmark.study.snow import snow_cautions
from noonmark.study.tree import building_tree, climate_used, zone_year
from noonmark.study.twin import unshaped_twin
from noonmark.units import Quantity

FloatArray = NDArray[np.float64]

_BEHIND = 1.0
"""How far below its set-point a room must be before its heater counts as too small [K]."""

WARMEST_FLOOR = 29.0
"""Surface of a floor where people stay [degC] (EN 1264, ISO 7730, from memory)."""


@dataclass(frozen=True)
class YearRun:
    """The result tree beside the hourly arrays of each building as designed."""

    result: YearResult
    hourly: dict[str, Year]
    site: Site


def run_year(
    homestead: Homestead, folder: Path = Path(), *, listen: ProgressListener = no_progress
) -> YearRun:
    """March every building and its twin through the weather year.

    `folder` is where the design's weather file lies. Raises `InputError` when
    design or weather can not be used; `DesignFile.located` puts file and line to it.
    """
    site = prepare_site(homestead.place, homestead.climate, folder)
    twin = unshaped_twin(homestead)
    total = 2 * len(homestead.buildings)
    own: list[BuildingYear] = []
    beside: list[BuildingYear] = []
    hourly: dict[str, Year] = {}
    for name in homestead.buildings:
        for design, results in ((homestead, own), (twin, beside)):
            listen(Progress("progress.year", len(own) + len(beside), total))
            found, year = building_year(design, name, site)
            results.append(found)
            if design is homestead:
                hourly[name] = year
    listen(Progress("progress.year", total, total))
    result = YearResult(
        title=homestead.title,
        climate=climate_used(site),
        buildings=tuple(own),
        twin=tuple(beside),
        cautions=(
            *weather_cautions(site),
            *(c for building in own for c in hot_floor(building)),
            *(c for name, year in hourly.items() for c in short_heater(homestead, name, year)),
            *snow_cautions(homestead, site),
            *cautions(homestead),
        ),
    )
    return YearRun(result, hourly, site)


def building_year(homestead: Homestead, name: str, site: Site) -> tuple[BuildingYear, Year]:
    """March one building through the site's year."""
    ready, year = marched(homestead, name, site)
    return year_tree(homestead, name, site, ready, year), year


def marched(
    homestead: Homestead, name: str, site: Site, known: WallsInSun | None = None
) -> tuple[Assembled, Year]:
    """Return a building as assembled, and its marched year; `known` as `assemble` takes it.

    Raises `InputError` when its parts describe nothing that can exist.
    """
    try:
        ready = assemble(homestead, homestead.buildings[name], site, known)
        return ready, march_ready(ready, site)
    except PhysicsError as error:
        raise InputError(
            [p.at(path=f"{name}.{p.path}".rstrip(".")) for p in error.problems]
        ) from error


def march_ready(ready: Assembled, site: Site, zones: Sequence[Zone] | None = None) -> Year:
    """March what is assembled through the site's year; `zones` stand in for its own."""
    weather = site.weather
    air = Air(
        temperature=weather.temp_air,
        humidity=humidity_ratio(saturation_pressure(weather.dew_point), weather.pressure),
        pressure=float(weather.pressure.mean()),
        specific_heat=SPECIFIC_HEAT,
    )
    covers = [item.cover for item in ready.covered]
    return march(zones or ready.zones, ready.elements, air, covers=covers, passages=ready.passages)


def year_tree(
    homestead: Homestead, name: str, site: Site, ready: Assembled, year: Year
) -> BuildingYear:
    """Return the result tree of a marched building."""
    building = homestead.buildings[name]
    zones = tuple(zone_year(ready, year, i, building, site) for i in range(len(ready.zones)))
    return building_tree(name, building, ready, zones, year, closure_error(ready, year))


def short_heater(homestead: Homestead, name: str, year: Year) -> Iterator[Sentence]:
    """Yield a caution when the heater runs flat out and still falls behind its set-point."""
    building = homestead.buildings[name]
    heating = building.heating
    if heating is None or not heating.capacity:
        return
    shares = np.array([building.heat_share(zone) for zone in building.zone.values()])
    flat_out = (shares > 0.0) & (year.plant >= 0.999 * heating.capacity * shares)
    behind = flat_out & (year.air < heat_setpoints(heating)[:, None] - _BEHIND)
    if hours := int(np.count_nonzero(behind.any(axis=1))):
        values = {"building": name, "hours": hours, "capacity": Quantity(heating.capacity, "power")}
        yield Sentence("caution.short_heater", values)


def hot_floor(building: BuildingYear) -> Iterator[Sentence]:
    """Yield a caution when a heated floor gets too warm for feet."""
    found = [zone.heated_floor_max_c for zone in building.zones if zone.heated_floor_max_c]
    if found and max(found) > WARMEST_FLOOR:
        values = {
            "building": building.name,
            "read": Quantity(max(found), "temperature"),
            "limit": Quantity(WARMEST_FLOOR, "temperature"),
        }
        yield Sentence("caution.hot_floor", values)


def closure_error(ready: Assembled, year: Year) -> float:
    """Return the energy left unexplained over the energy moved, without a remainder term.

    Stored heat must change by what plant, people, sun and outside surfaces
    bring and air carries out, each summed by itself.
    """
    closed = year.closed
    inner = sum(
        part.element.area * as_marched(part.element.inside_source, closed).sum()
        for part in ready.parts
    )
    outdoors = np.array([part.element.zone_outside < 0 for part in ready.parts])
    outer = sum(
        part.element.area * as_marched(part.element.outside_drive, closed).sum()
        for part in ready.parts
        if part.element.zone_outside >= 0
    )
    given = sum(
        as_marched(gain, closed).sum()
        for zone in ready.zones
        for gain in (zone.gain_air, zone.gain_star)
    )
    gains = given + (year.bodies + year.stove + year.slab).sum()
    surfaces = year.flow_outside[:, outdoors].sum()
    brought = year.plant.sum() + gains + year.latent.sum() + inner + outer + surfaces
    brought -= year.air_loss.sum()
    stored = (year.stored[1] - year.stored[0]) / 3600.0
    moved = np.abs(year.plant).sum() + gains + inner + np.abs(year.air_loss).sum()
    return float(abs(stored - brought) / moved)
