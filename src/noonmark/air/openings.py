"""Air through opened windows and doorways."""

from __future__ import annotations

import math
from typing import NamedTuple

_GRAVITY = 9.81
_DISCHARGE = 0.6
_KELVIN = 293.15
_WIND, _STACK, _TURBULENCE = 0.001, 0.0035, 0.01


class SingleSided(NamedTuple):
    """Flow `scale * sqrt(stack |dT| + wind U^2 + still)`: m3/s, per K, per (m/s)2, without unit."""

    scale: float
    stack: float
    wind: float
    still: float


def single_sided(area: float, height: float) -> SingleSided:
    """Return the flow through windows opened in one wall.

    `Q = A/2 sqrt(0.001 U^2 + 0.0035 H |dT| + 0.01)`: `area` A [m2] free, `height`
    H [m] of the openings, wind U at 10 m over open country [m/s]. Source: W. de
    Gids, H. Phaff, Air Infiltration Review 4 (1982) 1; EN 15242 (from memory).
    """
    return SingleSided(0.5 * area, _STACK * height, _WIND, _TURBULENCE)


def doorway_flow(width: float, height: float) -> float:
    """Return the air that goes each way through an opening between two rooms [m3/s per K^0.5].

    `Q = C_d/3 W H^1.5 sqrt(g |dT| / T)` with C_d 0.6, T 293 K; `width` and `height`
    [m]. Source: W. G. Brown, K. R. Solvason, Int. J. Heat Mass Transfer 5 (1962) 859
    (from memory).
    """
    return _DISCHARGE / 3.0 * width * float(height**1.5) * math.sqrt(_GRAVITY / _KELVIN)
