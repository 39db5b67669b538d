"""An independent, slow answer for hand-made zones: every cell of every layer, one ODE.

No modes and no fixed step: a network of many cells in `scipy.integrate`, its
nodes without heat capacity (surfaces, stars) taken out by linear algebra. The
plant is a heater or cooler so steep that it holds its set-point within
millikelvins.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.sparse import csc_array, csr_array

from box import FloatArray, Slab
from noonmark.balance.drive import hourly_values as values
from noonmark.balance.enclosure import OUTDOORS, Zone

CELLS_PER_DEPTH = 30
FEWEST_CELLS = 4
PLANT_STEEPNESS = 2e5  # W/K


@dataclass(frozen=True)
class Slow:
    """Hourly means: air and star (h, z) [degC], plant (h, z) [W]."""

    air: FloatArray
    star: FloatArray
    plant: FloatArray


class _Network:
    """Nodes joined by conductances [W/K], to each other and to given temperatures."""

    def __init__(self) -> None:
        self.capacity: list[float] = []
        self.links: list[tuple[int, int, float]] = []
        self.flows: list[tuple[int, FloatArray]] = []  # W into a node, by the hour
        self.leaks: list[tuple[int, float]] = []  # W/K from a node to zero degC

    def node(self, capacity: float = 0.0) -> int:
        self.capacity.append(capacity)
        return len(self.capacity) - 1

    def link(self, one: int, other: int, conductance: float) -> None:
        self.links.append((one, other, conductance))

    def matrix(self) -> FloatArray:
        size = len(self.capacity)
        found = np.zeros((size, size))
        for one, other, g in self.links:
            found[one, one] += g
            found[other, other] += g
            found[one, other] -= g
            found[other, one] -= g
        for node, g in self.leaks:
            found[node, node] += g
        return found

    def inflow(self, hours: int) -> FloatArray:
        found = np.zeros((hours, len(self.capacity)))
        for node, power in self.flows:
            found[:, node] += power
        return found


def _add_slab(net: _Network, slab: Slab, airs: Sequence[int], stars: Sequence[int]) -> None:
    inside, outside = net.node(), net.node()
    last, carried = inside, 0.0
    for layer in slab.layers:
        capacity = layer.areal_heat_capacity * slab.area
        if capacity == 0.0:
            carried += layer.resistance
            continue
        # thickness in penetration depths of a daily wave, sqrt(a T / pi)
        diffusivity = layer.conductivity / layer.density / layer.specific_heat
        depth = layer.thickness / np.sqrt(diffusivity * 86400.0 / np.pi)
        cells = FEWEST_CELLS + round(CELLS_PER_DEPTH * float(depth))
        half = 0.5 * layer.resistance / cells
        for _ in range(cells):
            cell = net.node(capacity / cells)
            net.link(last, cell, slab.area / (carried + half))
            last, carried = cell, half
    net.link(last, outside, slab.area / carried)
    net.link(inside, airs[slab.zone], slab.area * slab.convection)
    net.link(inside, stars[slab.zone], slab.area * slab.radiation)
    net.flows.append((inside, slab.area * slab.source))
    net.flows.append((outside, slab.area * slab.drive))
    if slab.other == OUTDOORS:
        net.leaks.append((outside, slab.area * slab.film))
    else:
        net.link(outside, airs[slab.other], slab.area * slab.convection)
        net.link(outside, stars[slab.other], slab.area * slab.radiation)


@dataclass(frozen=True)
class System:
    """`C dx/dt = flow - matrix x` of the nodes that store, and how the stars follow them."""

    capacity: FloatArray  # (n,)
    matrix: FloatArray  # (n, n)
    flow: FloatArray  # (h, n)
    air: NDArray[np.int64]  # (z,) index of the air nodes
    star_flow: FloatArray  # (h, z)
    star_matrix: FloatArray  # (z, n)


def system_of(
    zones: Sequence[Zone],
    slabs: Sequence[Slab],
    outdoor: FloatArray,
    *,
    exchange: float = 0.0,
) -> System:
    """Build the network and take out the nodes that store nothing."""
    net, hours = _Network(), outdoor.size
    airs = [net.node(zone.air_capacity) for zone in zones]
    stars = [net.node() for _ in zones]
    for slab in slabs:
        _add_slab(net, slab, airs, stars)
    for i, zone in enumerate(zones):
        net.leaks.append((airs[i], values(zone.supply, 1)[0]))  # constant in these tests
        net.flows.append(
            (airs[i], values(zone.gain_air, hours) + values(zone.supply, hours) * outdoor)
        )
        net.flows.append((stars[i], values(zone.gain_star, hours)))
    if exchange:
        net.link(airs[0], airs[1], exchange)
    matrix, inflow = net.matrix(), net.inflow(hours)
    capacity = np.array(net.capacity)
    kept, quick = np.flatnonzero(capacity > 0.0), np.flatnonzero(capacity == 0.0)
    # quick nodes: 0 = flow - matrix x
    follow = np.linalg.solve(matrix[np.ix_(quick, quick)], matrix[np.ix_(quick, kept)])
    settled = np.linalg.solve(matrix[np.ix_(quick, quick)], inflow[:, quick].T).T
    star = np.searchsorted(quick, stars)
    return System(
        capacity=capacity[kept],
        matrix=matrix[np.ix_(kept, kept)] - matrix[np.ix_(kept, quick)] @ follow,
        flow=inflow[:, kept] - settled @ matrix[np.ix_(kept, quick)].T,
        air=np.asarray(np.searchsorted(kept, airs), np.int64),
        star_flow=np.asarray(settled[:, star], np.float64),
        star_matrix=np.asarray(follow[star], np.float64),
    )


def _plant(zones: Sequence[Zone], hour: int, air: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the plants' power [W] and its slope [W/K]."""
    cold = np.array([values(zone.heat_set, hour + 1)[hour] for zone in zones]) - air
    warm = air - np.array([values(zone.cool_set, hour + 1)[hour] for zone in zones])
    wanted = PLANT_STEEPNESS * (np.maximum(cold, 0.0) - np.maximum(warm, 0.0))
    limits = [-zone.cool_most for zone in zones], [zone.heat_most for zone in zones]
    power = np.clip(wanted, *limits)
    return power, np.where((power == wanted) & (wanted != 0.0), -PLANT_STEEPNESS, 0.0)


def solve_slowly(
    zones: Sequence[Zone],
    slabs: Sequence[Slab],
    outdoor: FloatArray,
    *,
    start: float,
    exchange: float = 0.0,
    tolerance: float = 1e-4,
) -> Slow:
    """Return the hourly means from a start with everything at one temperature."""
    net = system_of(zones, slabs, outdoor, exchange=exchange)
    hours, count, n = outdoor.size, len(zones), net.capacity.size
    speed = csr_array(-net.matrix / net.capacity[:, None])

    # state: temperatures, then the integrals of air, star and plant over the hour
    def rate(hour: int, _: float, x: FloatArray) -> FloatArray:
        temps = x[:n]
        power, _slope = _plant(zones, hour, temps[net.air])
        change = speed @ temps + net.flow[hour] / net.capacity
        change[net.air] += power / net.capacity[net.air]
        star = net.star_flow[hour] - net.star_matrix @ temps
        return np.concatenate([change, temps[net.air], star, power])

    linear = np.zeros((n + 3 * count, n + 3 * count))
    linear[:n, :n] = speed.toarray()
    for z, node in enumerate(net.air):
        linear[n + z, node] = 1.0
        linear[n + count + z, :n] = -net.star_matrix[z]

    def slopes(hour: int, _: float, x: FloatArray) -> csc_array:
        jacobian = linear.copy()
        _power, slope = _plant(zones, hour, x[net.air])
        for z, node in enumerate(net.air):
            jacobian[node, node] += slope[z] / net.capacity[node]
            jacobian[n + 2 * count + z, node] = slope[z]
        return csc_array(jacobian)

    means = np.zeros((hours, 3 * count))
    temps = np.full(n, start)
    for hour in range(hours):
        done = solve_ivp(
            partial(rate, hour),
            (0.0, 3600.0),
            np.concatenate([temps, np.zeros(3 * count)]),
            method="Radau",
            jac=partial(slopes, hour),
            rtol=tolerance,
            atol=tolerance,
        )
        assert done.success
        temps = done.y[:n, -1]
        means[hour] = done.y[n:, -1] / 3600.0
    air, star, plant = np.split(means, 3, axis=1)
    return Slow(air, star, plant)
