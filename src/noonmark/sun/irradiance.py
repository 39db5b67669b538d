"""What the sun and the sky bring on a plane, hour by hour."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.sun.angles import incidence_cosine

Irradiance = NDArray[np.float64]

_FAINT = 1e-3  # W/m2, too little to divide by


@dataclass(frozen=True)
class PlaneIrradiance:
    """Hourly mean irradiance [W/m2] on a plane, by where it comes from; arrays of one shape.

    `beam` straight from the sun, `circumsolar` the bright sky around it (shade
    it like the beam), `dome` the even sky, `horizon` the band at the skyline
    (below zero under a dull sky, whose rim is darker), `ground` thrown back.
    """

    beam: Irradiance
    circumsolar: Irradiance
    dome: Irradiance
    horizon: Irradiance
    ground: Irradiance

    @property
    def total(self) -> Irradiance:
        """Return the sum of the five parts [W/m2]."""
        return self.beam + self.circumsolar + self.dome + self.horizon + self.ground


def plane_irradiance(
    *,
    dni: Irradiance,
    dhi: Irradiance,
    ghi: Irradiance,
    albedo: ArrayLike,
    altitude: Irradiance,
    azimuth: Irradiance,
    up_fraction: Irradiance,
    extraterrestrial: Irradiance,
    tilt: float,
    surface_azimuth: float,
) -> PlaneIrradiance:
    """Return what falls on a plane of `tilt` and `surface_azimuth` [deg].

    `dni`, `dhi`, `ghi` [W/m2] are means over the hour, `albedo` 0 to 1 the
    ground's reflectance, the sun arrays those of `noonmark.sun.year.SunYear`;
    all of shape (n,). With the sun down, what light there is counts as even sky.
    Below 5 deg of altitude the bright sky is not magnified further.

    Source: R. Perez, P. Ineichen, R. Seals, J. Michalsky, R. Stewart, Modeling
    daylight availability and irradiance components from direct and global
    irradiance, Solar Energy 44 (1990) 271-289, doi:10.1016/0038-092X(90)90055-H,
    all-sites coefficients.
    """
    from pvlib.atmosphere import get_relative_airmass
    from pvlib.irradiance import perez

    up = (up_fraction > 0.0) & (altitude > 0.0)
    sky_share = (1.0 + np.cos(np.radians(tilt))) / 2.0
    facing = np.where(up, incidence_cosine(altitude, azimuth, tilt, surface_azimuth), 0.0)
    zenith = np.where(up, 90.0 - altitude, 90.0)
    modelled = up & (dhi > _FAINT)
    parts = perez(
        tilt,
        surface_azimuth,
        np.where(modelled, dhi, 0.0),
        dni,
        extraterrestrial,
        zenith,
        azimuth,
        get_relative_airmass(zenith),
        return_components=True,
    )

    def part(name: str, otherwise: ArrayLike) -> Irradiance:
        return np.where(modelled, parts[name], otherwise)

    return PlaneIrradiance(
        beam=dni * np.maximum(facing, 0.0),
        circumsolar=part("poa_circumsolar", 0.0),
        dome=part("poa_isotropic", dhi * sky_share),
        horizon=part("poa_horizon", 0.0),
        ground=ghi * np.asarray(albedo, float) * (1.0 - sky_share),
    )


def clear_sky_ghi_haurwitz(zenith: ArrayLike) -> Irradiance:
    """Return the horizontal irradiance [W/m2] of a cloudless sky at a zenith angle [deg].

    Zero with the sun down. Knows neither haze nor height above the sea.
    Source: B. Haurwitz, Insolation in relation to cloudiness and cloud density,
    Journal of Meteorology 2 (1945) 154-166.
    """
    up = np.maximum(np.cos(np.radians(np.asarray(zenith, float))), 0.0)
    haze = np.divide(0.059, up, out=np.full_like(up, np.inf), where=up > 0.0)
    return np.asarray(1098.0 * up * np.exp(-haze))


def clear_sky_dni(altitude: ArrayLike, pressure: float) -> Irradiance:
    """Return the beam [W/m2] facing the sun of a cloudless sky, 0 with the sun down.

    `altitude` [deg] of the sun, air `pressure` [Pa] of the place. Good for
    weighing the hours of a day, not for a haze of one's own.
    Source: A. B. Meinel, M. P. Meinel, Applied Solar Energy, 1976: I0 0.7 to
    the power AM^0.678 (from memory); air mass AM by F. Kasten, A. T. Young,
    Applied Optics 28 (1989) 4735, by pressure over that at sea level.
    """
    alt = np.maximum(np.asarray(altitude, float), 0.0)
    mass = 1.0 / (np.sin(np.radians(alt)) + 0.50572 * (alt + 6.07995) ** -1.6364)
    beam = 1353.0 * 0.7 ** ((mass * pressure / 101325.0) ** 0.678)
    return np.asarray(np.where(np.asarray(altitude) > 0.0, beam, 0.0))
