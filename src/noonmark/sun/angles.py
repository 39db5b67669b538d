"""Angles between the sun, the horizon and a plane; short formulas, no tables.

Every angle is in degrees. Azimuths run clockwise from true north, a tilt of 0
faces up and 90 is a wall. An hour angle is 0 at solar noon, 15 an hour and
positive in the afternoon.

Source: J. A. Duffie, W. A. Beckman, N. Blair, Solar Engineering of Thermal
Processes, 5th ed. 2020, chapter 1, doi:10.1002/9781119540328.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Angles = NDArray[np.float64]


def hour_angle_position(
    latitude: ArrayLike, declination: ArrayLike, hour_angle: ArrayLike
) -> tuple[Angles, Angles]:
    """Return the sun's true altitude and azimuth from its hour angle.

    All arguments [deg] broadcast; both results have their shape. No refraction.
    Source: Duffie & Beckman equations 1.6.5 and 1.6.6, written with the
    two-argument arctangent so that every quadrant and both hemispheres hold.
    """
    lat, dec, hour = (np.radians(np.asarray(a, float)) for a in (latitude, declination, hour_angle))
    up = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(hour)
    east = -np.cos(dec) * np.sin(hour)
    north = np.cos(lat) * np.sin(dec) - np.sin(lat) * np.cos(dec) * np.cos(hour)
    altitude = np.degrees(np.arctan2(up, np.hypot(east, north)))
    return altitude, np.asarray(np.degrees(np.arctan2(east, north)) % 360.0)


def half_day_arc(latitude: ArrayLike, declination: ArrayLike, *, horizon: float = 0.0) -> Angles:
    """Return the hour angle of sunset [deg], where the sun's centre crosses `horizon` [deg].

    `nan` where it never crosses (polar day or night).
    Source: Duffie & Beckman equation 1.6.10; horizon -0.8333 counts refraction
    and the upper limb (Reda & Andreas 2008, A.2.3).
    """
    lat, dec = (np.radians(np.asarray(angle, float)) for angle in (latitude, declination))
    with np.errstate(divide="ignore", invalid="ignore"):
        cosine = (np.sin(np.radians(horizon)) - np.sin(lat) * np.sin(dec)) / (
            np.cos(lat) * np.cos(dec)
        )
        return np.asarray(np.degrees(np.arccos(cosine)))


def incidence_cosine(
    altitude: ArrayLike, azimuth: ArrayLike, tilt: ArrayLike, surface_azimuth: ArrayLike
) -> Angles:
    """Return the cosine between the sun and the outward normal of a plane.

    Negative when the sun stands behind the plane. Angles [deg] broadcast.
    Source: Duffie & Beckman equation 1.6.3.
    """
    alt, slope = (np.radians(np.asarray(angle, float)) for angle in (altitude, tilt))
    turn = np.radians(np.asarray(azimuth, float) - np.asarray(surface_azimuth, float))
    cosine = np.sin(alt) * np.cos(slope) + np.cos(alt) * np.sin(slope) * np.cos(turn)
    return np.asarray(np.clip(cosine, -1.0, 1.0))


def profile_angle(altitude: ArrayLike, azimuth: ArrayLike, wall_azimuth: ArrayLike) -> Angles:
    """Return the sun's height [deg] as seen in a section through the wall.

    Above 90 when the sun stands behind the wall. Angles [deg] broadcast.
    Source: Duffie & Beckman equation 1.6.12.
    """
    alt = np.radians(np.asarray(altitude, float))
    turn = np.radians(np.asarray(azimuth, float) - np.asarray(wall_azimuth, float))
    return np.asarray(np.degrees(np.arctan2(np.sin(alt), np.cos(alt) * np.cos(turn))))


def spencer_declination(day_of_year: ArrayLike) -> Angles:
    """Return the sun's declination [deg] for day 1 to 365, good to 0.5 deg.

    The series was fitted when the equinox came a day later than it does now.
    Source: J. W. Spencer, Fourier series representation of the position of the
    sun, Search 2 (1971) 172.
    """
    day = _day_angle(day_of_year)
    return np.degrees(
        0.006918
        - 0.399912 * np.cos(day)
        + 0.070257 * np.sin(day)
        - 0.006758 * np.cos(2.0 * day)
        + 0.000907 * np.sin(2.0 * day)
        - 0.002697 * np.cos(3.0 * day)
        + 0.00148 * np.sin(3.0 * day)
    )


def spencer_equation_of_time(day_of_year: ArrayLike) -> Angles:
    """Return solar time less mean time [min] for day 1 to 365, good to a minute.

    Source: Spencer 1971 as printed in Duffie & Beckman, equation 1.5.3.
    """
    day = _day_angle(day_of_year)
    return np.asarray(
        229.2
        * (
            0.000075
            + 0.001868 * np.cos(day)
            - 0.032077 * np.sin(day)
            - 0.014615 * np.cos(2.0 * day)
            - 0.04089 * np.sin(2.0 * day)
        )
    )


def extraterrestrial_normal(day_of_year: ArrayLike, *, solar_constant: float = 1367.0) -> Angles:
    """Return the irradiance [W/m2] facing the sun above the air, for day 1 to 365.

    Source: Spencer 1971; solar constant of the World Radiation Center, which the
    sky model's coefficients were fitted with.
    """
    day = _day_angle(day_of_year)
    return solar_constant * np.asarray(
        1.00011
        + 0.034221 * np.cos(day)
        + 0.00128 * np.sin(day)
        + 0.000719 * np.cos(2.0 * day)
        + 0.000077 * np.sin(2.0 * day)
    )


def sun_half_width(day_of_year: ArrayLike) -> Angles:
    """Return half the angle [deg] that the sun's disc takes, for day 1 to 365.

    Source: 959.63 seconds of arc at the mean distance (IAU 1976, as the Astronomical
    Almanac has it; from memory), over the distance by Spencer 1971.
    """
    nearness = np.sqrt(extraterrestrial_normal(day_of_year, solar_constant=1.0))
    return np.asarray(959.63 / 3600.0 * nearness)


def _day_angle(day_of_year: ArrayLike) -> Angles:
    return 2.0 * np.pi * (np.asarray(day_of_year, float) - 1.0) / 365.0
