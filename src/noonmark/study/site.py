"""The place with its weather: sun, sky, wind and ground ready for any building."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from functools import cached_property, lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark.air.films import outside_convection
from noonmark.climate.ambient import (
    OPEN,
    SUBURBAN,
    AnnualWave,
    Terrain,
    annual_wave,
    cloud_cover_from_radiation,
    filled_albedo,
    sky_temperature,
    wind_at_height,
)
from noonmark.climate.closure import check_stamps
from noonmark.climate.shipped import read_shipped
from noonmark.climate.tmy3 import read_tmy3
from noonmark.climate.year import WeatherYear
from noonmark.design.model import Climate, Place
from noonmark.errors import InputError, Problem, Sentence
from noonmark.study.prepared import digest, kept
from noonmark.sun.irradiance import PlaneIrradiance, clear_sky_ghi_haurwitz, plane_irradiance
from noonmark.sun.year import DAYS, HOURS, SunYear, sun_year
from noonmark.units import Quantity

FloatArray = NDArray[np.float64]

_TERRAINS = {"open": OPEN, "suburban": SUBURBAN}
KEPT = 12
"""Planes and films of a site that are kept at hand: those of a building or two."""

_EARTH_RADIUS_KM = 6371.0
_FAR_KM = 50.0
_FAR_UP_M = 300.0


@dataclass(frozen=True)
class Site:
    """A place and its weather year."""

    place: Place
    weather: WeatherYear

    @cached_property
    def sun(self) -> SunYear:
        """Return the sun of the weather year's own place, so that its radiation closes."""
        w = self.weather
        name = f"sun-{digest(np.array([w.latitude, w.longitude, w.altitude_m, w.utc_offset_h]))}"
        packed = kept(name, lambda: _packed(self._make_sun()))
        lengths = [HOURS] * 4 + [DAYS] * 3
        return SunYear(*np.split(packed, np.cumsum(lengths)[:-1]))

    def _make_sun(self) -> SunYear:
        return sun_year(
            latitude=self.weather.latitude,
            longitude=self.weather.longitude,
            altitude_m=self.weather.altitude_m,
            utc_offset_h=self.weather.utc_offset_h,
        )

    @cached_property
    def albedo(self) -> FloatArray:
        """Return the ground's reflectance (8760,): the file's, else the design's."""
        return filled_albedo(self.weather.albedo, self.place.ground_albedo)

    @cached_property
    def cloud_cover(self) -> FloatArray:
        """Return the cloud cover 0 to 1 (8760,): the file's, else from its radiation."""
        cover = self.weather.cloud_cover
        if not np.isnan(cover).any():
            return cover
        clear = clear_sky_ghi_haurwitz(90.0 - self.sun.altitude)
        return np.where(np.isnan(cover), cloud_cover_from_radiation(self.weather.ghi, clear), cover)

    @cached_property
    def sky(self) -> FloatArray:
        """Return the radiant temperature of the sky (8760,) [degC]."""
        w = self.weather
        return sky_temperature(w.temp_air, w.dew_point, self.cloud_cover, w.pressure)

    @cached_property
    def outside_convection(self) -> Callable[[float | None], FloatArray]:
        """Return what gives the film of a wall by its azimuth; the last few are kept."""
        return lru_cache(maxsize=KEPT)(self._outside_convection)

    def _outside_convection(self, azimuth: float | None) -> FloatArray:
        """Return the film (8760,) [W/m2K] of a wall that faces an azimuth [deg], or of a roof.

        Wind meets a wall from within a right angle of its azimuth, and a low roof
        from everywhere.
        """
        wind = self._wind(10.0, _TERRAINS[self.place.terrain])
        if azimuth is None:
            return outside_convection(wind, np.ones(HOURS, dtype=np.bool_))
        apart = np.abs((self.weather.wind_direction - azimuth + 180.0) % 360.0 - 180.0)
        return outside_convection(wind, apart <= 90.0)

    @cached_property
    def wind_at_station(self) -> FloatArray:
        """Return the wind at 10 m over open country (8760,) [m/s]."""
        return self._wind(10.0, OPEN)

    def _wind(self, height: float, terrain: Terrain) -> FloatArray:
        return wind_at_height(
            self.weather.wind_speed,
            measured_height=self.weather.wind_height_m,
            height=height,
            measured=OPEN,
            site=terrain,
        )

    @cached_property
    def wave(self) -> AnnualWave:
        """Return the year of the outdoor air as one wave."""
        return annual_wave(self.weather.temp_air)

    @cached_property
    def _radiation_name(self) -> str:
        w = self.weather
        return digest(w.ghi, w.dni, w.dhi, self.albedo, self.sun.altitude, self.sun.azimuth)

    @cached_property
    def plane(self) -> Callable[[float, float], PlaneIrradiance]:
        """Return what gives the sun on a plane by tilt and azimuth; the last few are kept."""
        return lru_cache(maxsize=KEPT)(self._plane)

    def _plane(self, tilt: float, azimuth: float) -> PlaneIrradiance:
        """Return what falls on a plane [W/m2], before any shade."""
        name = f"plane-{self._radiation_name}-{tilt:.3f}-{azimuth % 360.0:.3f}"
        return PlaneIrradiance(*kept(name, lambda: _packed_plane(self._make_plane(tilt, azimuth))))

    def _make_plane(self, tilt: float, azimuth: float) -> PlaneIrradiance:
        return plane_irradiance(
            dni=self.weather.dni,
            dhi=self.weather.dhi,
            ghi=self.weather.ghi,
            albedo=self.albedo,
            altitude=self.sun.altitude,
            azimuth=self.sun.azimuth,
            up_fraction=self.sun.up_fraction,
            extraterrestrial=self.sun.extraterrestrial,
            tilt=tilt,
            surface_azimuth=azimuth,
        )


def prepare_site(place: Place, climate: Climate, folder: Path) -> Site:
    """Read the weather of a design whose file lies in `folder`.

    Raises `InputError` when the weather can not be used, or was measured on
    the other half of the earth, where summer is winter.
    """
    if climate.file is not None:
        weather = read_tmy3(folder / climate.file)
    else:
        try:
            weather = read_shipped(climate.year)
        except InputError as error:
            raise InputError([p.at(path="climate.year") for p in error.problems]) from error
    if climate.albedo == "place":
        weather = replace(weather, albedo=np.full(HOURS, np.nan))
    if place.latitude * weather.latitude < 0.0:
        values = {"source": weather.source, "read": weather.latitude}
        raise InputError(Problem("climate.other_half", path="climate", values=values))
    return Site(place, weather)


def weather_cautions(site: Site) -> Iterator[Sentence]:
    """Yield what makes the weather doubtful: stamps that miss the sun, a station far away."""
    for problem in check_stamps(site.weather):
        yield Sentence("caution.stamps", {"source": site.weather.source, **problem.values})
    yield from _far_away(site.place, site.weather)


def _far_away(place: Place, weather: WeatherYear) -> Iterator[Sentence]:
    far = _distance_km(place.latitude, place.longitude, weather.latitude, weather.longitude)
    up = abs(place.altitude - weather.altitude_m)
    if far > _FAR_KM or up > _FAR_UP_M:
        values = {"source": weather.source, "km": round(far), "up": Quantity(round(up), "length")}
        yield Sentence("caution.weather_far", values)


def _distance_km(
    latitude: float, longitude: float, to_latitude: float, to_longitude: float
) -> float:
    """Return the great-circle distance between two places [deg] in km (haversine)."""
    a, b = np.radians([latitude, to_latitude])
    turn = np.radians(to_longitude - longitude)
    chord = np.sin((b - a) / 2.0) ** 2 + np.cos(a) * np.cos(b) * np.sin(turn / 2.0) ** 2
    return float(2.0 * _EARTH_RADIUS_KM * np.arcsin(np.sqrt(chord)))


def _packed(sun: SunYear) -> FloatArray:
    return np.concatenate([getattr(sun, field.name) for field in fields(sun)])


def _packed_plane(plane: PlaneIrradiance) -> FloatArray:
    return np.stack([getattr(plane, field.name) for field in fields(plane)])
