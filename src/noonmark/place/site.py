"""Coordinates that can be, and what the sides of a building are called."""

from __future__ import annotations

from noonmark.errors import Problem

COMPASS = (
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
    "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
)  # fmt: skip
"""The sixteen points clockwise from true north."""

LARGEST_CLOCK_SHIFT_H = 3.5
"""No inhabited place keeps a clock further from its own mean time (west China: 3.1 h)."""


def check_coordinates(
    *, latitude: float, longitude: float, altitude_m: float, utc_offset_h: float
) -> tuple[Problem, ...]:
    """Return what is wrong with a place; empty when it can be.

    `latitude`, `longitude` [deg] north and east positive, `altitude_m` [m],
    `utc_offset_h` [h] standard time less UTC. A longitude with the wrong sign is
    told from the clock wherever the two differ enough.
    """
    limits = {
        "latitude": (latitude, -90.0, 90.0),
        "longitude": (longitude, -180.0, 180.0),
        "altitude": (altitude_m, -450.0, 6000.0),
        "utc_offset": (utc_offset_h, -12.0, 14.0),
    }
    problems = tuple(
        Problem("place.out_of_range", path=name, values={"read": read, "low": low, "high": high})
        for name, (read, low, high) in limits.items()
        if not low <= read <= high
    )
    return problems or _check_sign(longitude, utc_offset_h)


def _check_sign(longitude: float, utc_offset_h: float) -> tuple[Problem, ...]:
    if _clock_shift(longitude, utc_offset_h) <= LARGEST_CLOCK_SHIFT_H:
        return ()
    flipped = _clock_shift(-longitude, utc_offset_h) <= LARGEST_CLOCK_SHIFT_H
    values: dict[str, object] = {"read": longitude, "utc_offset": utc_offset_h}
    if flipped:
        values["right"] = -longitude
    code = "place.longitude_sign" if flipped else "place.longitude_clock"
    return (Problem(code, path="longitude", values=values),)


def _clock_shift(longitude: float, utc_offset_h: float) -> float:
    """Return by how many hours clock and mean sun differ, across the date line too."""
    return abs((longitude / 15.0 - utc_offset_h + 12.0) % 24.0 - 12.0)


def azimuth_name(azimuth: float) -> str:
    """Return the nearest of the sixteen compass points to `azimuth` [deg from true north]."""
    return COMPASS[round(azimuth % 360.0 / 22.5) % 16]


def equator_azimuth(latitude: float) -> float:
    """Return the azimuth [deg] of the side that faces the equator: 180 north of it, 0 south."""
    return 180.0 if latitude >= 0.0 else 0.0
