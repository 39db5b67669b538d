"""What follows from the weather: sky, wind at the wall, the yearly wave, snow-free ground."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.climate.year import HOURS, Hourly
from noonmark.errors import InputError, Problem

Values = NDArray[np.float64]

_KELVIN = 273.15
_CLOUD_BASE_KM = 2.0
_CLOUD_SCALE_KM = 8.2
_LOWEST_CLEAR_GHI = 100.0


@dataclass(frozen=True)
class Terrain:
    """How the wind slows towards the ground: power-law exponent and layer height [m]."""

    exponent: float
    layer_m: float


OPEN = Terrain(exponent=0.14, layer_m=270.0)
"""Open country and airfields."""

SUBURBAN = Terrain(exponent=0.22, layer_m=370.0)
"""Houses, woods, broken ground."""


class AnnualWave(NamedTuple):
    """The year as one wave: mean and amplitude [degC, K], and its coldest day (1 to 366)."""

    mean: float
    amplitude: float
    coldest_day: float


def sky_temperature(
    temp_air: ArrayLike, dew_point: ArrayLike, cloud_cover: ArrayLike, pressure: ArrayLike
) -> Values:
    """Return the temperature [degC] of a black sky that radiates as the real one does.

    `temp_air`, `dew_point` [degC] near the ground, `cloud_cover` 0 to 1 of
    opaque cloud, `pressure` [Pa]; they broadcast. Clouds are taken as low and
    black with their base at 2 km, for weather files do not give it.

    Sources: clear sky P. Berdahl, M. Martin, Emissivity of clear skies, Solar
    Energy 32 (1984) 663-664, doi:10.1016/0038-092X(84)90144-0; clouds and
    pressure M. Martin, P. Berdahl, Characteristics of infrared sky radiation in
    the United States, Solar Energy 33 (1984) 321-336,
    doi:10.1016/0038-092X(84)90162-2.
    """
    dew = np.asarray(dew_point, float) / 100.0
    mbar = np.asarray(pressure, float) / 100.0
    clear = 0.711 + 0.56 * dew + 0.73 * dew**2 + 0.00012 * (mbar - 1000.0)
    hidden = np.asarray(cloud_cover, float) * np.exp(-_CLOUD_BASE_KM / _CLOUD_SCALE_KM)
    emissivity = clear + (1.0 - clear) * hidden
    return np.asarray((np.asarray(temp_air, float) + _KELVIN) * emissivity**0.25 - _KELVIN)


def cloud_cover_from_radiation(ghi: Hourly, clear_ghi: Hourly) -> Hourly:
    """Return the cloud cover 0 to 1 that explains how far `ghi` stays below a clear sky's.

    Both [W/m2], consecutive hours (n,). Hours with less than 100 W/m2 of clear
    sun take the cover between the last hour before and the next one after.
    Raises `InputError` climate.no_sun when no hour has more.

    Source: F. Kasten, G. Czeplak, Solar and terrestrial radiation dependent on
    the amount and type of cloud, Solar Energy 24 (1980) 177-189,
    doi:10.1016/0038-092X(80)90391-6, solved for the cover.
    """
    bright = np.flatnonzero(clear_ghi > _LOWEST_CLEAR_GHI)
    if bright.size == 0:
        raise InputError(Problem("climate.no_sun", path="ghi", values={"column": "ghi"}))
    dimmed = np.clip(1.0 - ghi[bright] / clear_ghi[bright], 0.0, 0.75)
    cover = (dimmed / 0.75) ** (1.0 / 3.4)
    hours = np.arange(ghi.size, dtype=np.float64)
    return np.interp(hours, bright, cover, period=float(ghi.size))


def wind_at_height(
    wind_speed: ArrayLike,
    *,
    measured_height: float,
    height: float,
    measured: Terrain = OPEN,
    site: Terrain = SUBURBAN,
) -> Values:
    """Return the wind speed [m/s] at `height` [m] above the ground of the site.

    `wind_speed` [m/s] was measured at `measured_height` [m] in terrain
    `measured`. Source: ASHRAE Handbook Fundamentals, chapter Airflow around
    buildings, wind profile by power laws that meet at the boundary layer.
    """
    aloft = (measured.layer_m / measured_height) ** measured.exponent
    near = (height / site.layer_m) ** site.exponent
    return np.asarray(np.asarray(wind_speed, float) * aloft * near)


def annual_wave(temp_air: Hourly) -> AnnualWave:
    """Return the first harmonic of a year of air temperature [degC], (8760,)."""
    phase = 2.0 * np.pi * (np.arange(HOURS) + 0.5) / HOURS
    cosine = 2.0 * np.mean(temp_air * np.cos(phase))
    sine = 2.0 * np.mean(temp_air * np.sin(phase))
    coldest = np.arctan2(-sine, -cosine) / (2.0 * np.pi) % 1.0
    return AnnualWave(
        float(np.mean(temp_air)), float(np.hypot(cosine, sine)), float(coldest * 365.0 + 1.0)
    )


def filled_albedo(albedo: Hourly, default: float = 0.2) -> Hourly:
    """Return the ground's reflectance with `default` wherever none was measured (nan)."""
    return np.where(np.isnan(albedo), default, albedo)
