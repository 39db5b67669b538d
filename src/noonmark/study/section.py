"""The wall section of a building with the sun of one date, and the marks of the year."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import takewhile

import numpy as np

from noonmark.design.derived import material_of, roof_triangle, thickness
from noonmark.design.model import Building, Homestead, LayerPart, Window
from noonmark.design.truss import over_wall, truss_line
from noonmark.errors import InputError, PhysicsError, Problem, Sentence
from noonmark.place.site import equator_azimuth
from noonmark.shape.section import Opening, WallSection, shade_line
from noonmark.study.moment import Moment, by_clock, moments, solar_noon
from noonmark.sun.angles import profile_angle
from noonmark.sun.position import declination
from noonmark.sun.year import NOMINAL_YEAR

GROUND = -0.2
"""Ground outside below the finished floor [m] (common practice, no source)."""

THIN_FLOOR = 0.1
"""Thickness drawn for a floor whose layers are resistances alone [m]."""

INSULATING = 0.065
"""Conductivity below which a layer is drawn as insulation [W/mK] (common practice)."""

_FORTNIGHT = timedelta(days=14)
_NOTCHES = 14


@dataclass(frozen=True)
class NoonMark:
    """Height [m above floor] of the shade edge at solar noon on `first` and on `second`."""

    first: date
    second: date
    height: float


@dataclass(frozen=True)
class SectionView:
    """A section with its sun: angles [deg], the instant, and the notches of the story pole.

    `profile_angle` is None when the sun is down or behind the wall; `noon` tells
    that the instant is solar noon; `truss` is what the truss maker is told.
    """

    section: WallSection
    instant: datetime
    sun_altitude: float
    sun_azimuth: float
    profile_angle: float | None
    marks: tuple[NoonMark, ...]
    noon: bool = False
    truss: tuple[Sentence, ...] = ()


def section_view(
    homestead: Homestead, name: str, *, day: date, clock: time | None = None
) -> SectionView:
    """Return the sunny wall of a building on `day` at solar noon, or at `clock` time there.

    Raises `InputError` when the parts of the section can not stand together.
    """
    building = homestead.buildings[name]
    place = homestead.place
    utc = solar_noon(place, day) if clock is None else by_clock(place, day, clock)
    (sun,) = moments(place, [utc])
    section = _wall_section(homestead, building)
    return SectionView(
        section=section,
        instant=sun.instant,
        sun_altitude=sun.altitude,
        sun_azimuth=sun.azimuth,
        profile_angle=_profile(sun, building.faces),
        marks=_noon_marks(homestead, building, section),
        noon=clock is None,
        truss=tuple(truss_line(homestead, name)) if building.roof.attic else (),
    )


def _profile(sun: Moment, wall_azimuth: float) -> float | None:
    facing = np.cos(np.radians(sun.azimuth - wall_azimuth))
    if sun.altitude <= 0.0 or facing <= 1e-6:
        return None
    return float(profile_angle(sun.altitude, sun.azimuth, wall_azimuth))


def _noon_marks(
    homestead: Homestead, building: Building, section: WallSection
) -> tuple[NoonMark, ...]:
    """Return a mark a fortnight from the shortest day, with the later day of the same height."""
    north = equator_azimuth(homestead.place.latitude) == 180.0
    shortest = date(NOMINAL_YEAR - 1, 12, 21) if north else date(NOMINAL_YEAR, 6, 21)
    marks = []
    for index in range(_NOTCHES):
        day = shortest + index * _FORTNIGHT
        (sun,) = moments(homestead.place, [solar_noon(homestead.place, day)])
        angle = _profile(sun, building.faces)
        if angle is not None and angle < 89.9:
            later = _same_height_later(day, shortest)
            marks.append(NoonMark(day, later, shade_line(section, angle)))
    return tuple(marks)


def _same_height_later(day: date, shortest: date) -> date:
    """Return the day in the other half of the year with the nearest declination."""
    halves = [shortest + timedelta(days=182 + index) for index in range(184)]
    noons = [datetime.combine(d, time(12), tzinfo=UTC).timestamp() for d in (day, *halves)]
    found = declination(np.array(noons))
    return halves[int(np.argmin(np.abs(found[1:] - found[0])))]


def _wall_section(homestead: Homestead, building: Building) -> WallSection:
    window = _largest_sunny(building)
    zone = (
        building.zone[window.zone] if window and window.zone else next(iter(building.zone.values()))
    )
    insulation = _underlay(homestead, building.floor.construction)
    slab = thickness(homestead, building.floor.construction) - insulation
    try:
        return WallSection(
            roof=roof_triangle(homestead, building),
            wall_thickness=thickness(homestead, building.wall_construction),
            floor_thickness=slab or THIN_FLOOR,
            ground=GROUND,
            ceiling=zone.height,
            room_depth=zone.width,
            ceiling_insulation=over_wall(homestead, building).ceiling,
            window=Opening(window.sill, window.head, building.roof.header_depth)
            if window
            else None,
            floor_insulation=insulation,
        )
    except PhysicsError as error:
        raise InputError(
            [Problem(p.code, path="section", values=p.values) for p in error.problems]
        ) from error


def _underlay(homestead: Homestead, construction: str) -> float:
    """Return how thick the insulation at the underside of a construction is [m]."""
    layers = homestead.construction[construction].layers
    below = takewhile(lambda layer: _insulates(homestead, layer), reversed(layers))
    return sum(layer.thickness or 0.0 for layer in below)


def _insulates(homestead: Homestead, layer: LayerPart) -> bool:
    if layer.material is None:
        return False
    return material_of(homestead, layer.material).conductivity < INSULATING


def _largest_sunny(building: Building) -> Window | None:
    sunny = [window for window in building.window if window.side == "sunny"]
    return max(sunny, key=lambda w: w.count * w.width * (w.head - w.sill), default=None)
