"""The wall section of a building with the sun of one date, and the marks of the year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import numpy as np

from noonmark.design.model import Building, Homestead
from noonmark.design.truss import truss_line
from noonmark.errors import Sentence
from noonmark.place.site import equator_azimuth
from noonmark.shape.section import WallSection, shade_line
from noonmark.study.cut import wall_section
from noonmark.study.moment import Moment, by_clock, moments, solar_noon, solar_noons
from noonmark.sun.angles import profile_angle
from noonmark.sun.position import declination
from noonmark.sun.year import NOMINAL_YEAR

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
    homestead: Homestead,
    name: str,
    *,
    day: date,
    clock: time | None = None,
    after_noon: timedelta = timedelta(),
) -> SectionView:
    """Return the sunny wall of a building on `day` at `clock` time, or by solar noon.

    Without a `clock` it is solar noon there, or so much `after_noon`.

    Raises `InputError` when the parts of the section can not stand together.
    """
    building = homestead.buildings[name]
    place = homestead.place
    noon = solar_noon(place, day) + after_noon.total_seconds()
    utc = noon if clock is None else by_clock(place, day, clock)
    (sun,) = moments(place, [utc])
    section = wall_section(homestead, building)
    return SectionView(
        section=section,
        instant=sun.instant,
        sun_altitude=sun.altitude,
        sun_azimuth=sun.azimuth,
        profile_angle=_profile(sun, building.faces),
        marks=_noon_marks(homestead, building, section),
        noon=clock is None and not after_noon,
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
    days = [shortest + index * _FORTNIGHT for index in range(_NOTCHES)]
    suns = moments(homestead.place, solar_noons(homestead.place, days))
    marks = []
    for day, later, sun in zip(days, _same_height_later(days, shortest), suns, strict=True):
        angle = _profile(sun, building.faces)
        if angle is not None and angle < 89.9:
            marks.append(NoonMark(day, later, shade_line(section, angle)))
    return tuple(marks)


def _same_height_later(days: Sequence[date], shortest: date) -> list[date]:
    """Return for each day that in the other half of the year with the nearest declination."""
    halves = [shortest + timedelta(days=182 + index) for index in range(184)]
    found, others = (
        declination(np.array([datetime.combine(d, time(12), tzinfo=UTC).timestamp() for d in some]))
        for some in (days, halves)
    )
    return [halves[int(np.argmin(np.abs(others - one)))] for one in found]
