"""How to stake a homestead out to true north: by compass, by noon, by shadows of equal length."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

import numpy as np

from noonmark.design.derived import wall_faces
from noonmark.design.model import Building, Homestead, Place
from noonmark.errors import Sentence
from noonmark.place.clock import time_zone
from noonmark.place.magnetic import compass_reading, magnetic_field
from noonmark.place.site import equator_azimuth
from noonmark.study.footprint import footprints
from noonmark.study.moment import HOUR, sun_days
from noonmark.study.results.stakeout import (
    BuildingStakes,
    CircleMarks,
    Direction,
    Needle,
    NoonShadow,
    StakeoutResult,
)
from noonmark.sun.angles import sun_half_width
from noonmark.sun.crossings import altitude_instants, azimuth_instants
from noonmark.sun.position import RiseSet, solar_position
from noonmark.units import System
from noonmark.units.table import FOOT, INCH

DAYS = 14

ROD_M: dict[System, float] = {"metric": 1.0, "us": 3.0 * FOOT}
"""Rod that throws the shadows [m]."""

_OVERHEAD_DEG, _LOW_DEG = 80.0, 5.0
"""Noon suns between which a shadow draws a line (common practice, no source)."""

_APART_H, _OF_HALF_DAY = 2.5, 0.6
"""How long before and after noon the marks are made, at most that share of the half day."""

_ROUND_M: dict[System, float] = {"metric": 0.05, "us": INCH}

_CAUTIONS = ("sun_eyes", "dig_call", "boundary", "needle", "rod")


def stakeout(
    homestead: Homestead, day: date, *, names: list[str] | None = None, system: System = "metric"
) -> StakeoutResult:
    """Return how the buildings of `names`, all if None, are staked out on a day.

    The rod and the rounded lengths are those of `system`. Raises `InputError`
    when a wall or window names what is not there.
    """
    place = homestead.place
    field = magnetic_field(
        day, latitude=place.latitude, longitude=place.longitude, altitude_m=place.altitude
    )
    needle = Needle(
        field.declination,
        field.uncertainty,
        field.yearly_change,
        field.level_nt,
        field.zone,
        field.day,
        field.years_off,
    )
    sun = _Days(place, day)
    rod = ROD_M[system]
    noons = tuple(sun.noon_shadow(index, rod) for index in range(DAYS))
    return StakeoutResult(
        title=homestead.title,
        latitude=place.latitude,
        longitude=place.longitude,
        day=day,
        rod_m=rod,
        needle=needle,
        noons=noons,
        circle=sun.circle(rod, _ROUND_M[system]),
        buildings=tuple(
            _building(homestead, name, sun, needle, noons[0], system)
            for name in names or homestead.buildings
        ),
        cautions=tuple(Sentence(f"caution.{key}") for key in _CAUTIONS),
    )


def _building(
    homestead: Homestead,
    name: str,
    sun: _Days,
    needle: Needle,
    noon: NoonShadow,
    system: System,
) -> BuildingStakes:
    building = homestead.buildings[name]
    directions = tuple(
        Direction(
            part,
            wall,
            azimuth,
            compass_reading(azimuth, needle.declination_deg),
            () if part == "ridge" else tuple(sun.square(azimuth)),
        )
        for part, wall, azimuth in _directions(homestead.place, building)
    )
    found = tuple(footprints(homestead, building, system))
    longest = max(max(part.length_m, part.width_m) for part in found)
    return BuildingStakes(
        name=name,
        faces_deg=building.faces,
        directions=directions,
        footprints=found,
        off_the_line_m=longest * math.sin(math.radians(min(noon.turn_deg_per_min, 90.0))),
    )


def _directions(place: Place, building: Building) -> Iterator[tuple[str, str, float]]:
    """Yield what is looked for on the site: its part, the wall, its azimuth [deg]."""
    yield "equator", "", equator_azimuth(place.latitude)
    faces = (face for face in wall_faces(building) if face.next_to is None)
    walls = {(face.side or face.name): face.azimuth % 360.0 for face in faces}
    for wall, azimuth in walls.items():
        yield "wall", wall, azimuth
    yield "ridge", "", (building.faces + 90.0) % 180.0


class _Days:
    """The sun over a place on a day and the next ones, by the place's clock."""

    def __init__(self, place: Place, day: date) -> None:
        self.place = place
        self.zone = time_zone(place.time_zone)
        self.dates = [day + timedelta(days=index) for index in range(DAYS)]
        self.events: RiseSet = sun_days(place, self.dates)
        self.here = {
            "latitude": place.latitude,
            "longitude": place.longitude,
            "altitude_m": place.altitude,
        }
        noon = self.events.noon
        self.at_noon = solar_position(noon, **self.here)
        self.half_disc = sun_half_width([d.timetuple().tm_yday for d in self.dates])
        around = [solar_position(noon + step, **self.here).azimuth for step in (-30.0, 30.0)]
        self.turn = np.abs((around[1] - around[0] + 180.0) % 360.0 - 180.0)

    def clock(self, instant: float) -> datetime:
        """Return an instant by the place's clock."""
        return datetime.fromtimestamp(float(instant), self.zone)

    def span(self, index: int) -> tuple[float, float]:
        """Return when the sun is up on a day: in polar night the same instant twice."""
        noon = float(self.events.noon[index])
        rise, end = float(self.events.sunrise[index]), float(self.events.sunset[index])
        if math.isfinite(rise) and math.isfinite(end):
            return rise, end
        if self.at_noon.apparent_altitude[index] <= 0.0:
            return noon, noon
        midnight = datetime.combine(self.dates[index], time(), self.zone).timestamp()
        return midnight, midnight + 24.0 * HOUR

    def noon_shadow(self, index: int, rod: float) -> NoonShadow:
        """Return the shadow of a rod [m] at noon."""
        rise, end = self.span(index)
        altitude = float(self.at_noon.apparent_altitude[index])
        up = altitude > 0.0
        north = abs(self.at_noon.azimuth[index] - 180.0) < 90.0
        slant = rod / math.sin(math.radians(altitude)) if up else 0.0
        return NoonShadow(
            day=self.dates[index],
            noon=self.clock(self.events.noon[index]),
            altitude_deg=altitude,
            shadow_to=("north" if north else "south") if up else "",
            use=_use(altitude),
            day_length_h=(end - rise) / HOUR,
            shadow_m=slant * math.cos(math.radians(altitude)) if up else None,
            blur_m=slant * math.tan(math.radians(2.0 * self.half_disc[index])) if up else None,
            turn_deg_per_min=float(self.turn[index]),
        )

    def square(self, azimuth: float) -> Iterator[datetime]:
        """Yield when the sun stands in a direction on the first day."""
        first, last = self.span(0)
        if last > first:
            for instant in azimuth_instants(azimuth, first, last, **self.here):
                yield self.clock(instant)

    def circle(self, rod: float, step: float) -> CircleMarks | None:
        """Return the first day's marks on a circle whose radius is a multiple of `step` [m]."""
        first, last = self.span(0)
        noon = float(self.events.noon[0])
        apart = min(_APART_H * HOUR, _OF_HALF_DAY * 0.5 * (last - first))
        altitude = float(solar_position(np.array([noon - apart]), **self.here).apparent_altitude[0])
        if altitude < _LOW_DEG:
            return None
        radius = max(1.0, round(_tip(rod, altitude) / step)) * step
        height = math.degrees(math.atan2(rod, radius))
        before = altitude_instants(height, first, noon, **self.here)
        after = altitude_instants(height, noon, last, **self.here)
        blur = sum(side * _tip(rod, height - side * self.half_disc[0]) for side in (1.0, -1.0))
        shortest = _tip(rod, min(float(self.at_noon.apparent_altitude[0]), 90.0))
        if not (before.size and after.size) or radius - shortest < blur:
            return None
        marks = np.array([before[-1], after[0]])
        azimuths = solar_position(marks, **self.here).azimuth
        aside = azimuths - self.at_noon.azimuth[0]
        return CircleMarks(
            radius_m=radius,
            altitude_deg=height,
            morning=self.clock(marks[0]),
            afternoon=self.clock(marks[1]),
            morning_to_deg=float((azimuths[0] + 180.0) % 360.0),
            afternoon_to_deg=float((azimuths[1] + 180.0) % 360.0),
            blur_m=blur,
            off_deg=float(np.mean((aside + 180.0) % 360.0 - 180.0)),
        )


def _tip(rod: float, altitude: float) -> float:
    """Return where the shadow of a rod [m] ends under a sun at an altitude [deg]."""
    return rod / math.tan(math.radians(altitude))


def _use(altitude: float) -> str:
    """Return what the shadow of a noon sun is good for."""
    if altitude <= 0.0:
        return "dark"
    if altitude < _LOW_DEG:
        return "low"
    return "overhead" if altitude > _OVERHEAD_DEG else "good"
