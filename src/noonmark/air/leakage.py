"""Air leakage of the shell from a blower-door number, hour by hour.

The basic effective-leakage-area model of ASHRAE Handbook Fundamentals,
chapter "Ventilation and infiltration" (Sherman & Grimsrud 1980):
`Q = A_L / 1000 * sqrt(C_s |dT| + C_w U^2)`, Q in m3/s, A_L in cm2 at 4 Pa, U at
the met station. Coefficients from memory of the handbook's tables.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Shelter = Literal["open", "light", "moderate", "heavy", "complete"]

_STACK_PER_STOREY = 0.000145
_WIND: dict[Shelter, tuple[float, float, float]] = {
    "open": (0.000319, 0.000420, 0.000494),
    "light": (0.000246, 0.000325, 0.000382),
    "moderate": (0.000174, 0.000231, 0.000271),
    "heavy": (0.000104, 0.000137, 0.000161),
    "complete": (0.000032, 0.000042, 0.000049),
}
_FLOW_EXPONENT = 0.65


@dataclass(frozen=True)
class Leakage:
    """Leakage `scale * sqrt(stack |dT| + wind U^2)`: m3/s, per K, per (m/s)2."""

    scale: float
    stack: float
    wind: float


def effective_leakage_area(air_changes_50: float, volume: float, density: float) -> float:
    """Return the effective leakage area at 4 Pa [m2].

    `air_changes_50` at 50 Pa [1/h], `volume` [m3], air `density` [kg/m3]; flow
    exponent 0.65. Source: ASHRAE Fundamentals, equation of the leakage area.
    """
    flow_4 = air_changes_50 * volume / 3600.0 * float((4.0 / 50.0) ** _FLOW_EXPONENT)
    return flow_4 * float((density / (2.0 * 4.0)) ** 0.5)


def leakage(
    *, air_changes_50: float, volume: float, density: float, storeys: int, shelter: Shelter
) -> Leakage:
    """Return the leakage of a zone of `volume` [m3] (see `effective_leakage_area`).

    `storeys` 1 to 3 sets the stack height, `shelter` how the wind is broken.
    """
    area_cm2 = 1e4 * effective_leakage_area(air_changes_50, volume, density)
    return Leakage(
        scale=area_cm2 / 1000.0,
        stack=_STACK_PER_STOREY * storeys,
        wind=_WIND[shelter][storeys - 1],
    )
