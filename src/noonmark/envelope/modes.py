"""A layered element reduced once to its slow modes between its two surfaces.

The element is cut into thin cells, `C dT/dt = -K T + B u` with the surface
temperatures `u = (inside, outside)`. In the eigenvectors of `C^-1/2 K C^-1/2`
each mode is one number with its own rate. Slow modes are kept; the quick rest
follows the surfaces at once and is kept to first order in time: its conductance
joins the static part and its heat capacity becomes a capacitance between the
surfaces, so that no joule of capacity is lost and the steady flow is exact.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.envelope.layers import Layer, total_resistance
from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]

SHORTEST_PERIOD_S = 6.0 * 3600.0
"""Swings slower than this are carried within `LARGEST_ERROR`; a day's within a tenth of it."""

LARGEST_ERROR = 0.1
"""What one mode left out may change the flow per K of surface swing [W/m2K]."""

_FEWEST_CELLS = 12
_THICKEST_CELL = 0.1
"""In daily penetration depths: 0.365 m of brick then pass the day's wave within 0.5 %."""

_DAY_S = 86400.0
_MASSLESS = 1e-6


@dataclass(frozen=True)
class WallModes:
    """What a march needs of one square metre of element.

    Heat flow into the element, W/m2, at (inside, outside) surface:
    `conductance @ u + capacitance @ du/dt - coupling.T @ z`, with
    `dz/dt = -rates z + coupling @ u`. Stored heat above 0 degC, J/m2:
    `storage @ z + (capacitance @ u).sum()`. Heat q W/m2 put into a layer adds
    `buried q` to dz/dt and takes `buried_shares q` off the flow into the element.
    """

    rates: FloatArray  # (m,) 1/s
    coupling: FloatArray  # (m, 2)
    storage: FloatArray  # (m,)
    conductance: FloatArray  # (2, 2) W/m2K
    capacitance: FloatArray  # (2, 2) J/m2K, symmetric
    buried: FloatArray  # (m,)
    buried_shares: FloatArray  # (2,) what reaches (inside, outside) surface at once

    @property
    def stores_heat(self) -> bool:
        """Return whether the element stores any heat."""
        return bool(self.rates.size or self.capacitance.any())

    @property
    def areal_heat_capacity(self) -> float:
        """Return the whole heat capacity [J/m2K]."""
        return float(self.storage @ self.storage + self.capacitance.sum())


def wall_modes(layers: Sequence[Layer], *, heated_layer: int | None = None) -> WallModes:
    """Reduce layers, inside first, to modes.

    `heated_layer` is the place of a layer that heat is put into, evenly over its
    thickness: a slab with pipes. Raises `PhysicsError` when the layers together
    resist nothing, since both surfaces would then be one
    (envelope.no_resistance), or when that layer stores nothing
    (envelope.heated_layer).
    """
    resistance = total_resistance(layers)
    if not resistance > 0.0:
        raise PhysicsError(Problem("envelope.no_resistance"))
    capacities, links, owners = _cells(layers)
    heated = np.zeros(capacities.size)
    if heated_layer is not None:
        if heated_layer not in owners:
            raise PhysicsError(Problem("envelope.heated_layer", values={"layer": heated_layer + 1}))
        heated = np.where(owners == heated_layer, 1.0, 0.0)
        heated /= heated.sum()
    if capacities.size == 0:
        return massless_element(1.0 / resistance)
    return _reduce(capacities, 1.0 / links, heated)


def massless_element(conductance: float) -> WallModes:
    """Return an element that only conducts: `conductance` surface to surface [W/m2K]."""
    if not 0.0 < conductance < math.inf:
        raise PhysicsError(Problem("envelope.no_conductance", values={"read": conductance}))
    return WallModes(
        rates=np.empty(0),
        coupling=np.empty((0, 2)),
        storage=np.empty(0),
        conductance=conductance * np.array([[1.0, -1.0], [-1.0, 1.0]]),
        capacitance=np.zeros((2, 2)),
        buried=np.empty(0),
        buried_shares=np.zeros(2),
    )


def _cells(layers: Sequence[Layer]) -> tuple[FloatArray, FloatArray, NDArray[np.int64]]:
    """Return cell capacities (n,) [J/m2K], the n + 1 resistances around them [m2K/W], their layers.

    Layers are told by their place (n,).
    """
    capacities: list[float] = []
    links: list[float] = [0.0]
    owners: list[int] = []
    for place, layer in enumerate(layers):
        capacity = layer.areal_heat_capacity
        if capacity <= _MASSLESS:
            links[-1] += layer.resistance
            continue
        # thickness over penetration depth sqrt(a T / pi) of the day, of this very layer
        depths = math.sqrt(math.pi * layer.resistance * capacity / _DAY_S)
        count = max(_FEWEST_CELLS, math.ceil(depths / _THICKEST_CELL))
        half = layer.resistance / count / 2.0
        for _ in range(count):
            capacities.append(capacity / count)
            owners.append(place)
            links[-1] += half
            links.append(half)
    return np.array(capacities), np.array(links), np.array(owners, dtype=np.int64)


def _reduce(capacities: FloatArray, conductances: FloatArray, heated: FloatArray) -> WallModes:
    """Return the modes of cells; `heated` (n,) is how heat put in is shared among them."""
    root = np.sqrt(capacities)
    stiffness = np.diag(conductances[:-1] + conductances[1:])
    stiffness -= np.diag(conductances[1:-1], 1) + np.diag(conductances[1:-1], -1)
    rates, vectors = np.linalg.eigh(stiffness / np.outer(root, root))
    shapes = vectors / root[:, None]
    coupling = np.stack([conductances[0] * shapes[0], conductances[-1] * shapes[-1]], axis=1)
    storage = capacities @ shapes
    keep = _matters(rates, coupling)
    quick, quick_rates = coupling[~keep], rates[~keep]
    conductance = np.diag([conductances[0], conductances[-1]])
    conductance -= quick.T @ (quick / quick_rates[:, None])
    capacitance = quick.T @ (quick / quick_rates[:, None] ** 2)
    buried = shapes.T @ heated
    return WallModes(
        rates=rates[keep],
        coupling=coupling[keep],
        storage=storage[keep],
        conductance=conductance,
        capacitance=capacitance,
        buried=buried[keep],
        buried_shares=quick.T @ (buried[~keep] / quick_rates),
    )


def _matters(rates: FloatArray, coupling: FloatArray) -> NDArray[np.bool_]:
    """Return which modes must be kept.

    A quick mode taken to first order is off by `b^2 w^2 / (rate^2 |rate + i w|)`
    W/m2K at the frequency w; that must stay small beside a surface film (8).
    """
    w = 2.0 * np.pi / SHORTEST_PERIOD_S
    strongest = np.max(coupling**2, axis=1)
    return np.asarray(strongest * w**2 / (rates**2 * np.hypot(rates, w)) > LARGEST_ERROR)
