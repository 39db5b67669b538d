"""The season of every window: on which dates the sun is all in, half out, all out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import roof_triangle, wall_faces
from noonmark.design.model import Building, Homestead, Place, Window
from noonmark.place.clock import time_zone
from noonmark.shading.plates import Opening
from noonmark.shading.season import FULL_SHADE, FULL_SUN, turns
from noonmark.shading.shade import sun_slopes
from noonmark.study.obstacles import Obstacles, eave_over, positions
from noonmark.study.results import SeasonDates, SeasonResult, WindowSeason
from noonmark.sun.angles import half_day_arc, hour_angle_position, incidence_cosine
from noonmark.sun.irradiance import clear_sky_dni
from noonmark.sun.position import declination, rise_set_noon, solar_position, standard_pressure
from noonmark.sun.year import NOMINAL_YEAR

FloatArray = NDArray[np.float64]

CLOCKS = (9, 12, 15)
_SLICES = 96
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
                shares = _shares(seen, glazed, window, lefts)
                found.append(_season(sky, seen, name, number, window, shares))
    in_file = list(homestead.buildings)
    found.sort(key=lambda item: (in_file.index(item.building), item.number))
    return SeasonResult(year, tuple(found))


def glazed_walls(homestead: Homestead, building: Building) -> Iterator[Obstacles]:
    """Yield the outside walls with windows, and what stands in their sun."""
    soffit = roof_triangle(homestead, building).soffit
    for face in wall_faces(building):
        if face.next_to is None and face.windows:
            yield Obstacles(face, eave_over(homestead, building, face, soffit))


class SunDates:
    """The sun over a place through the dates of a year: at noon, at clock times, and all day.

    `altitude` and `azimuth` [deg] are (4, days) at noon and at the `CLOCKS`;
    `day_altitude`, `day_azimuth` (days, slices) in the middle of equal parts of
    each day, `slice_h` (days,) [h] long.
    """

    def __init__(self, place: Place, year: int) -> None:
        """Find the sun of every date of `year`."""
        self.first = date(year, 1, 1)
        count = (date(year + 1, 1, 1) - self.first).days
        self.dates = [self.first + timedelta(days=i) for i in range(count)]
        midnights = np.array([datetime.combine(d, time(), UTC).timestamp() for d in self.dates])
        noon = rise_set_noon(midnights, latitude=place.latitude, longitude=place.longitude).noon
        zone = time_zone(place.time_zone)
        clocks = [
            [datetime.combine(d, time(hour), zone).timestamp() for d in self.dates]
            for hour in CLOCKS
        ]
        sun = solar_position(
            np.concatenate([noon, np.ravel(clocks)]),
            latitude=place.latitude,
            longitude=place.longitude,
            altitude_m=place.altitude,
        )
        self.altitude = sun.apparent_altitude.reshape(-1, count)
        self.azimuth = sun.azimuth.reshape(-1, count)
        tilt = declination(noon)
        north = place.latitude >= 0.0
        self.midwinter = int(np.argmin(tilt) if north else np.argmax(tilt))
        self.midsummer = int(np.argmax(tilt) if north else np.argmin(tilt))
        arc = half_day_arc(place.latitude, tilt)
        endless = np.where(self.altitude[0] > 0.0, 180.0, 0.0)  # polar day and night
        arc = np.where(np.isnan(arc), endless, arc)
        part = 2.0 * (np.arange(_SLICES) + 0.5) / _SLICES - 1.0
        turn = arc[:, None] * part
        drift = np.gradient(tilt)[:, None] * turn / 360.0
        self.day_altitude, self.day_azimuth = hour_angle_position(
            place.latitude, tilt[:, None] + drift, turn
        )
        self.slice_h = 2.0 * arc / 15.0 / _SLICES
        self.beam = clear_sky_dni(self.day_altitude, standard_pressure(place.altitude))


class SunOnWall:
    """The sun of `SunDates` before one wall.

    `before` (n,) tells when, `sideways` and `rise` its way in those; first noon
    and clocks, then the days' slices.
    """

    def __init__(self, sky: SunDates, azimuth: float) -> None:
        """Turn to a wall that looks to `azimuth` [deg]."""
        self.azimuth = azimuth
        altitudes = np.concatenate([sky.altitude.ravel(), sky.day_altitude.ravel()])
        azimuths = np.concatenate([sky.azimuth.ravel(), sky.day_azimuth.ravel()])
        self.before, self.sideways, self.rise = sun_slopes(altitudes, azimuths, azimuth)
        facing = incidence_cosine(sky.day_altitude, sky.day_azimuth, 90.0, azimuth)
        self.power = sky.beam * np.maximum(facing, 0.0) * sky.slice_h[:, None]


def _shares(
    seen: SunOnWall, obstacles: Obstacles, window: Window, lefts: list[float]
) -> FloatArray:
    """Return the mean lit share of an entry's windows (n,), nan with the sun behind the wall."""
    share = np.full(seen.before.size, np.nan)
    tall = window.head - window.sill
    share[seen.before] = np.mean(
        [
            obstacles.lit(
                seen.sideways,
                seen.rise,
                Opening(left, window.width, window.sill, tall, window.reveal),
            )
            for left in lefts
        ],
        axis=0,
    )
    return share


def _season(
    sky: SunDates,
    seen: SunOnWall,
    building: str,
    number: int,
    window: Window,
    share: FloatArray,
) -> WindowSeason:
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
    )


def _dates(
    sky: SunDates, share: FloatArray, full: float = FULL_SUN, none: float = FULL_SHADE
) -> SeasonDates:
    found = turns(share, midwinter=sky.midwinter, midsummer=sky.midsummer, full=full, none=none)
    dates = {key: None if day is None else sky.dates[day] for key, day in vars(found).items()}
    lit = np.nan_to_num(share)
    always = "full_sun" if lit.min() >= full else None
    return SeasonDates(**dates, all_year="full_shade" if lit.max() <= none else always)
