"""The season of every window: on which dates the sun is all in, half out, all out."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import thickness, wall_faces
from noonmark.design.model import Building, Homestead, Window
from noonmark.shading.plates import Opening
from noonmark.shading.season import FULL_SHADE, FULL_SUN, turns
from noonmark.study.layout import positions
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.results.shade import SeasonDates, SeasonResult, WindowSeason
from noonmark.study.sundates import SunDates, SunOnWall
from noonmark.sun.angles import incidence_cosine
from noonmark.sun.year import NOMINAL_YEAR

FloatArray = NDArray[np.float64]

_ENERGY_SLACK = 0.01
_GRAZING = np.sin(np.radians(0.27))
"""Incidence cosine at which half of the sun's disc stands behind the wall."""


def seasons(homestead: Homestead, year: int = NOMINAL_YEAR) -> SeasonResult:
    """Return the season of every outside window, by geometry alone: no weather is needed.

    Raises `InputError` when the parts of the roof can not close.
    """
    sky = SunDates(homestead.place, year)
    found = []
    for name, building in homestead.buildings.items():
        for glazed in glazed_walls(homestead, building):
            seen = SunOnWall(sky, glazed.face.azimuth)
            for window, lefts in positions(glazed.face):
                number = next(i for i, w in enumerate(building.window, 1) if w is window)
                openings = [_glass(window, left) for left in lefts]
                shares = _shares(seen, glazed, openings)
                reach = _noon_reach(homestead, building, seen, glazed, openings)
                found.append(_season(seen, name, number, window, shares, reach))
    in_file = list(homestead.buildings)
    found.sort(key=lambda item: (in_file.index(item.building), item.number))
    return SeasonResult(year, tuple(found))


def glazed_walls(homestead: Homestead, building: Building) -> Iterator[Obstacles]:
    """Yield the outside walls with windows, and what stands in their sun."""
    for face in wall_faces(building):
        if face.next_to is None and face.windows:
            yield obstacles_of(homestead, building, face)


def _glass(window: Window, left: float) -> Opening:
    return Opening(left, window.width, window.sill, window.head - window.sill, window.reveal)


def _shares(seen: SunOnWall, obstacles: Obstacles, openings: list[Opening]) -> FloatArray:
    """Return the mean lit share of an entry's windows (n,), nan with the sun behind the wall."""
    share = np.full(seen.before.size, np.nan)
    share[seen.before] = np.mean(
        [obstacles.lit(seen.sideways, seen.rise, seen.day, opening) for opening in openings],
        axis=0,
    )
    return share


def _noon_reach(
    homestead: Homestead,
    building: Building,
    seen: SunOnWall,
    obstacles: Obstacles,
    openings: list[Opening],
) -> tuple[float, ...]:
    """Return how deep the noon sun reaches on the 21st of each month [m]."""
    face = obstacles.face
    zone = building.zone[face.zone]
    wall = thickness(homestead, face.construction)
    room = zone.width if face.side in ("sunny", "back", None) else zone.length
    noons = np.flatnonzero([d.day == 21 for d in seen.sky.dates])
    place = np.cumsum(seen.before) - 1
    found = np.zeros(noons.size)
    for index, noon in enumerate(noons):
        if seen.before[noon]:
            at = slice(place[noon], place[noon] + 1)
            way = seen.sideways[at], seen.rise[at], seen.day[at]
            for opening in openings:
                top = float(obstacles.highest_lit(*way, opening)[0])
                if top - wall * way[1][0] > opening.bottom:  # past the sill's inner edge
                    found[index] = max(found[index], min(top / way[1][0] - wall, room))
    return tuple(found.tolist())


def _season(
    seen: SunOnWall,
    building: str,
    number: int,
    window: Window,
    share: FloatArray,
    reach: tuple[float, ...],
) -> WindowSeason:
    sky = seen.sky
    instants = np.where(
        incidence_cosine(sky.altitude, sky.azimuth, 90.0, seen.azimuth) > _GRAZING,
        share[: sky.altitude.size].reshape(sky.altitude.shape),
        np.nan,
    )
    slices = np.nan_to_num(share[sky.altitude.size :].reshape(sky.day_altitude.shape))
    whole = seen.power.sum(axis=1)
    day = np.divide(
        (seen.power * slices).sum(axis=1), whole, out=np.full(whole.size, np.nan), where=whole > 0.0
    )
    hours = slices.sum(axis=1) * sky.slice_h
    months = np.array([d.month for d in sky.dates])
    noon, clock_9, clock_12, clock_15 = (_dates(sky, row) for row in instants)
    return WindowSeason(
        building,
        number,
        window.name or str(number),
        seen.azimuth,
        noon,
        clock_9,
        clock_12,
        clock_15,
        _dates(sky, day, 1.0 - _ENERGY_SLACK, _ENERGY_SLACK),
        tuple(float(hours[months == m].mean()) for m in range(1, 13)),
        reach,
    )


def _dates(
    sky: SunDates, share: FloatArray, full: float = FULL_SUN, none: float = FULL_SHADE
) -> SeasonDates:
    found = turns(share, midwinter=sky.midwinter, midsummer=sky.midsummer, full=full, none=none)
    dates = {key: None if day is None else sky.dates[day] for key, day in vars(found).items()}
    lit = np.nan_to_num(share)
    always = "full_sun" if lit.min() >= full else None
    always = "full_shade" if lit.max() <= none else always
    return SeasonDates(**dates, all_year=always, most=float(min(1.0, lit.max())))
