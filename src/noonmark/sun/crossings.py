"""When the sun stands in a direction or at a height: instants found by halving.

Instants are seconds since 1970-01-01 00:00 UTC, as in `noonmark.sun.position`.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from noonmark.sun.position import Instants, SunPosition, solar_position

_STEP_S = 120.0
_HALVINGS = 14  # of two minutes: 7 milliseconds


def azimuth_instants(
    azimuth: float,
    first: float,
    last: float,
    *,
    latitude: float,
    longitude: float,
    altitude_m: float,
) -> Instants:
    """Return all instants between `first` and `last` at which the sun has an `azimuth` [deg].

    Shape (n,), often of one and none or several where it turns back, as it does
    in the tropics. `latitude`, `longitude` [deg], `altitude_m` [m].
    """

    def aside(instants: Instants) -> Instants:
        sun = _sun(instants, latitude, longitude, altitude_m)
        return np.asarray((sun.azimuth - azimuth + 180.0) % 360.0 - 180.0)

    return _crossings(aside, first, last)


def altitude_instants(
    altitude: float,
    first: float,
    last: float,
    *,
    latitude: float,
    longitude: float,
    altitude_m: float,
) -> Instants:
    """Return all instants between `first` and `last` at which the sun is seen at `altitude` [deg].

    Shape (n,). Refraction counts; `latitude`, `longitude` [deg], `altitude_m` [m].
    """

    def above(instants: Instants) -> Instants:
        return _sun(instants, latitude, longitude, altitude_m).apparent_altitude - altitude

    return _crossings(above, first, last)


def _sun(instants: Instants, latitude: float, longitude: float, altitude_m: float) -> SunPosition:
    return solar_position(instants, latitude=latitude, longitude=longitude, altitude_m=altitude_m)


def _crossings(quantity: Callable[[Instants], Instants], first: float, last: float) -> Instants:
    """Return where a quantity [deg] passes zero; a turn from 180 to -180 is none."""
    steps = np.linspace(first, last, 2 + int((last - first) / _STEP_S))
    values = quantity(steps)
    turned = (values[1:] >= 0.0) != (values[:-1] >= 0.0)
    near = np.abs(values[1:] - values[:-1]) < 180.0
    found = np.flatnonzero(turned & near)
    low, high, rising = steps[found], steps[found + 1], values[found] < 0.0
    for _ in range(_HALVINGS if found.size else 0):
        middle = 0.5 * (low + high)
        before = (quantity(middle) < 0.0) == rising
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    return np.asarray(0.5 * (low + high))
