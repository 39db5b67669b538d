"""Vapour through layers, month by month: where it condenses, and whether it dries (ISO 13788).

Vapour pressures run straight between places along the diffusion thickness, and nowhere above
saturation: the line is the lower convex hull of both airs and of saturation at every interface.
Where it bends, water gathers; a wet interface stays at saturation until it has dried.
Source: EN ISO 13788:2012, clause 6.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from noonmark.air.moist import saturation_pressure
from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]

PERMEABILITY_OF_AIR = 2e-10
"""Water vapour permeability of air [kg/msPa], EN ISO 13788."""

THICKEST_STEP = 0.25
"""Layers of more resistance are cut up, so that water is found within them [m2K/W] (6.4.2)."""

_MONTH_S = 365.0 / 12.0 * 86400.0
_NOTHING = 1e-12  # kg/m2
_MOST_STEPS = 200


@dataclass(frozen=True)
class VapourLayer:
    """A layer: thermal `resistance` [m2K/W] and vapour `diffusion` thickness s_d [m]."""

    resistance: float
    diffusion: float


@dataclass(frozen=True)
class Wetting:
    """Water at n inner interfaces through twelve months [kg/m2], inside first.

    `gathered` (12, n) at each month's end, months in the order of the calendar;
    `first` is the month, from 0, that the count starts with. `place` (n,) is the number of
    layers between the inside and each interface; broken within a layer that was cut up.
    """

    gathered: FloatArray
    first: int
    place: FloatArray

    @property
    def most(self) -> float:
        """Return the largest amount at one interface [kg/m2]."""
        return float(self.gathered.max(initial=0.0))

    @property
    def left(self) -> FloatArray:
        """Return what is left at each interface after twelve months (n,)."""
        return np.asarray(self.gathered[(self.first - 1) % 12])


def wetting(
    layers: Sequence[VapourLayer],
    *,
    inside: FloatArray,
    outside: FloatArray,
    vapour_inside: FloatArray,
    vapour_outside: FloatArray,
    film_inside: float,
    film_outside: float,
) -> Wetting:
    """Return what gathers between layers, inside first, through twelve months.

    `inside`, `outside` [degC] are monthly mean temperatures and `vapour_inside`,
    `vapour_outside` [Pa] vapour pressures, each (12,); films are resistances [m2K/W]. The
    count starts with the first month in which water gathers after one in which none does.
    Raises PhysicsError `envelope.vapour` for a layer without resistance or diffusion.
    """
    for layer in layers:
        if not (layer.resistance >= 0.0 and layer.diffusion > 0.0):
            raise PhysicsError(Problem("envelope.vapour", values={"read": layer.diffusion}))
    cut, place = _cut_up(layers)
    reach = np.cumsum([layer.diffusion for layer in cut])
    warm = np.cumsum([film_inside, *(layer.resistance for layer in cut)])
    total = warm[-1] + film_outside
    months = []
    for month in range(12):
        drop = inside[month] - outside[month]
        saturated = saturation_pressure(inside[month] - drop * warm[1:-1] / total)
        months.append(
            _Month(
                np.array([0.0, *reach]),
                np.array([vapour_inside[month], *saturated, vapour_outside[month]]),
            )
        )
    gains = [month.rates(np.zeros(len(cut) - 1, dtype=bool)).max(initial=0.0) for month in months]
    wet = [gain > 0.0 for gain in gains]
    first = next((m for m in range(12) if wet[m] and not wet[m - 1]), 0)
    gathered = np.zeros((12, len(cut) - 1))
    water = np.zeros(len(cut) - 1)
    for step in range(12):
        month = (first + step) % 12
        water = months[month].passed(water)
        gathered[month] = water
    return Wetting(gathered, first, place)


def _cut_up(layers: Sequence[VapourLayer]) -> tuple[list[VapourLayer], FloatArray]:
    """Return layers of no more than `THICKEST_STEP`, and where their interfaces lie."""
    cut: list[VapourLayer] = []
    places: list[float] = []
    for index, layer in enumerate(layers):
        parts = max(1, int(np.ceil(layer.resistance / THICKEST_STEP - 1e-9)))
        cut += [VapourLayer(layer.resistance / parts, layer.diffusion / parts)] * parts
        places += [index + (part + 1) / parts for part in range(parts)]
    return cut, np.array(places[:-1])


@dataclass(frozen=True)
class _Month:
    """Diffusion thickness from the inside and pressure: both airs, and saturation between."""

    reach: FloatArray
    pressure: FloatArray

    def rates(self, wet: NDArray[np.bool_]) -> FloatArray:
        """Return the water gained at each inner interface [kg/m2s]; `wet` ones are held."""
        held = [0, *(np.flatnonzero(wet) + 1), len(self.reach) - 1]
        corners: list[int] = [0]
        for start, end in pairwise(held):
            corners += self._hull(start, end)[1:]
        gained = np.zeros(len(self.reach) - 2)
        flow = [
            PERMEABILITY_OF_AIR
            * (self.pressure[a] - self.pressure[b])
            / (self.reach[b] - self.reach[a])
            for a, b in pairwise(corners)
        ]
        for corner, came, went in zip(corners[1:-1], flow, flow[1:], strict=False):
            gained[corner - 1] = came - went
        return gained

    def _hull(self, start: int, end: int) -> list[int]:
        """Return the corners of the lower convex hull between two places."""
        hull: list[int] = []
        for here in range(start, end + 1):
            while len(hull) > 1 and not self._bends_up(hull[-2], hull[-1], here):
                hull.pop()
            hull.append(here)
        return hull

    def _bends_up(self, a: int, b: int, c: int) -> bool:
        x, y = self.reach, self.pressure
        return bool((y[b] - y[a]) * (x[c] - x[b]) < (y[c] - y[b]) * (x[b] - x[a]))

    def passed(self, water: FloatArray) -> FloatArray:
        """Return the water (n,) at the month's end; what dries up within it dries no further."""
        water, left = water.copy(), _MONTH_S
        for _ in range(_MOST_STEPS):
            rates = self.rates(water > _NOTHING)
            drying = rates < 0.0
            ends = np.where(drying, -water / np.where(drying, rates, -1.0), np.inf)
            step = min(left, float(ends.min(initial=np.inf)))
            water = np.maximum(0.0, water + step * rates)
            water[ends <= step] = 0.0
            left -= step
            if left <= 0.0:
                break
        return water
