"""The year of one building, quick enough to be reckoned while somebody drags a part of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.block import NEVER
from noonmark.balance.drive import hourly_values
from noonmark.balance.enclosure import Year, Zone
from noonmark.climate.year import HOURS, MONTH_OF_HOUR
from noonmark.design.model import Building, Homestead
from noonmark.outcome.cold import DAY, bright_days, coldest_months, night_hours
from noonmark.study.results.year import BrightDay, BuildingYear, ColdDawn
from noonmark.study.site import Site
from noonmark.study.tree import heat_given
from noonmark.study.year import march_ready, marched, year_tree
from noonmark.sun.year import NOMINAL_YEAR

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True)
class LiveYear:
    """A building's year with its hours: operative (h, z) [degC] and heat given (h, z) [W].

    `bright` is None where the sun stays away all winter.
    """

    building: BuildingYear
    bright: BrightDay | None
    dawn: ColdDawn
    operative: FloatArray
    heat: FloatArray


def live_year(homestead: Homestead, name: str, site: Site) -> LiveYear:
    """March one building through the year, and once more with its coldest night unheated.

    Raises `InputError` as `run_year` does.
    """
    ready, year = marched(homestead, name, site)
    building = homestead.buildings[name]
    night = coldest_night(site)
    unheated = march_ready(ready, site, list(without_heat(ready.zones, night)))
    return LiveYear(
        building=year_tree(homestead, name, site, ready, year),
        bright=_bright_day(building, year, site),
        dawn=_cold_dawn(building, unheated, site, night),
        operative=year.operative,
        heat=heat_given(year),
    )


def coldest_night(site: Site) -> IntArray:
    """Return the hours (n,) of the night that holds the coldest outdoor hour of the year."""
    coldest = int(np.argmin(site.weather.temp_air))
    return night_hours(coldest, site.sun.sunrise_h, site.sun.sunset_h)


def winter_days(site: Site) -> IntArray:
    """Return the bright days (d,), 0 to 364, of the three coldest months of the site."""
    weather, sun = site.weather, site.sun
    months = coldest_months(weather.temp_air, MONTH_OF_HOUR)
    days = np.flatnonzero(np.isin(MONTH_OF_HOUR[::DAY], months))
    up = np.maximum(np.sin(np.radians(sun.altitude)), 0.0) * sun.up_fraction
    return bright_days(weather.ghi, sun.extraterrestrial * up, days)


def without_heat(zones: Sequence[Zone], hours: IntArray) -> Iterator[Zone]:
    """Yield the zones with all heat off in some hours; a charge that burns burns down."""
    off = np.zeros(HOURS, dtype=np.bool_)
    off[hours] = True
    for zone in zones:
        stove, slab = zone.stove, zone.slab
        yield replace(
            zone,
            heat_set=np.where(off, -NEVER, hourly_values(zone.heat_set, HOURS)),
            stove=stove
            and replace(stove, below=np.where(off, -NEVER, hourly_values(stove.below, HOURS))),
            slab=slab
            and replace(slab, setpoint=np.where(off, -NEVER, hourly_values(slab.setpoint, HOURS))),
        )


def _bright_day(building: Building, year: Year, site: Site) -> BrightDay | None:
    days = winter_days(site)
    if days.size == 0:
        return None
    zones = _lived_in(building)
    found = year.operative.reshape(-1, DAY, len(building.zone))[days][:, :, zones]
    which, hour, zone = np.unravel_index(int(np.argmax(found)), found.shape)
    outdoor = site.weather.temp_air.reshape(-1, DAY)[days[which]]
    month, day = _date(int(days[which]))
    return BrightDay(
        peak_c=float(found.max()),
        zone=list(building.zone)[zones[zone]],
        month=month,
        day=day,
        hour=int(hour),
        outdoor_min_c=float(outdoor.min()),
        outdoor_max_c=float(outdoor.max()),
        days=int(days.size),
    )


def _cold_dawn(building: Building, unheated: Year, site: Site, night: IntArray) -> ColdDawn:
    sunrise = int(night[-1])
    zones = _lived_in(building)
    zone = min(zones, key=lambda index: unheated.operative[sunrise, index])
    month, day = _date(sunrise // DAY)
    return ColdDawn(
        temp_c=float(unheated.operative[sunrise, zone]),
        zone=list(building.zone)[zone],
        month=month,
        day=day,
        hour=sunrise % DAY,
        outdoor_c=float(site.weather.temp_air[night].min()),
        sunset_c=float(unheated.operative[(int(night[0]) - 1) % HOURS, zone]),
        hours=int(night.size),
    )


def _lived_in(building: Building) -> list[int]:
    return [index for index, zone in enumerate(building.zone.values()) if zone.lived_in]


def _date(day: int) -> tuple[int, int]:
    """Return month and day of the month of a day, from 0, of an ordinary year."""
    found = date(NOMINAL_YEAR, 1, 1) + timedelta(days=day)
    return found.month, found.day
