"""Heat through the gaps between panes: EN 673."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from noonmark.errors import PhysicsError, Problem

OUTSIDE_FILM = 25.0
INSIDE_FILM = 1.0 / 0.13
"""Films of EN 673 for a vertical window [W/m2K]."""

_STEFAN_BOLTZMANN = 5.67e-8
_MEAN_TEMPERATURE = 283.0
_TEMPERATURE_DIFFERENCE = 15.0


@dataclass(frozen=True)
class Gas:
    """A gas at 283 K: density [kg/m3], viscosity [kg/ms], conductivity, specific heat [SI]."""

    density: float
    viscosity: float
    conductivity: float
    specific_heat: float


GASES: Mapping[str, Gas] = {
    "air": Gas(1.232, 1.761e-5, 2.496e-2, 1008.0),
    "argon": Gas(1.699, 2.164e-5, 1.684e-2, 519.0),
    "krypton": Gas(3.560, 2.400e-5, 0.900e-2, 245.0),
}
"""Fill gases at 283 K. Source: EN 673:2011 table 1 (from memory)."""


@dataclass(frozen=True)
class Gap:
    """A closed gap: width [m], gas shares by name, emissivity of the two faces."""

    width: float
    gases: Mapping[str, float]
    emissivities: tuple[float, float]


def mixed_gas(shares: Mapping[str, float]) -> Gas:
    """Return the mixture of gases by volume share (EN 673, 5.3.3: linear in the shares)."""
    unknown = [name for name in shares if name not in GASES]
    if unknown or abs(sum(shares.values()) - 1.0) > 1e-6:
        raise PhysicsError(Problem("glazing.gas", values={"read": str(dict(shares))}))

    def blend(name: str) -> float:
        return float(sum(share * getattr(GASES[gas], name) for gas, share in shares.items()))

    return Gas(*(blend(name) for name in ("density", "viscosity", "conductivity", "specific_heat")))


def gap_conductance(gap: Gap, temperature_difference: float, tilt: float = 90.0) -> float:
    """Return the conductance of one gap [W/m2K] (EN 673, equations 3 to 9).

    `temperature_difference` across the gap [K]; `tilt` 90 vertical, 0 flat with
    heat going up [deg], constants interpolated between 90, 45 and 0.
    """
    if not gap.width > 0.0:
        raise PhysicsError(Problem("glazing.gap_width", values={"read": gap.width}))
    gas = mixed_gas(gap.gases)
    grashof = (
        9.81
        * gap.width**3
        * temperature_difference
        * gas.density**2
        / (_MEAN_TEMPERATURE * gas.viscosity**2)
    )
    prandtl = gas.viscosity * gas.specific_heat / gas.conductivity
    factor, power = _convection_constants(tilt)
    nusselt = max(1.0, factor * math.pow(grashof * prandtl, power))
    first, second = gap.emissivities
    radiation = 4.0 * _STEFAN_BOLTZMANN * _MEAN_TEMPERATURE**3 / (1.0 / first + 1.0 / second - 1.0)
    return radiation + nusselt * gas.conductivity / gap.width


def gap_conductances(gaps: Sequence[Gap], tilt: float = 90.0) -> list[float]:
    """Return the conductance of each gap [W/m2K], 15 K shared among them by resistance.

    Source: EN 673, annex on several gaps, iterated until it settles.
    """
    if not gaps:
        return []
    differences = [_TEMPERATURE_DIFFERENCE / len(gaps)] * len(gaps)
    for _ in range(50):
        found = [gap_conductance(gap, dt, tilt) for gap, dt in zip(gaps, differences, strict=True)]
        total = sum(1.0 / h for h in found)
        wanted = [_TEMPERATURE_DIFFERENCE / h / total for h in found]
        if max(abs(a - b) for a, b in zip(wanted, differences, strict=True)) < 1e-6:
            break
        differences = wanted
    return found


def _convection_constants(tilt: float) -> tuple[float, float]:
    points = [(0.0, 0.16, 0.28), (45.0, 0.10, 0.31), (90.0, 0.035, 0.38)]
    for (low, a0, n0), (high, a1, n1) in pairwise(points):
        if tilt <= high:
            share = (tilt - low) / (high - low)
            # in the logarithm, since the constants are a power law
            factor = math.exp((1.0 - share) * math.log(a0) + share * math.log(a1))
            return factor, (1.0 - share) * n0 + share * n1
    raise PhysicsError(Problem("glazing.tilt", values={"read": tilt}))
