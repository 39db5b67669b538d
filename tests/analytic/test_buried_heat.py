"""Heat put into a layer: shares by resistances, energy, and warming up against an own ODE."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from box import FloatArray, as_element, make_slab
from calorimeter import AREA, free_zone, held_zone, march
from noonmark.balance.enclosure import Element, SlabHeat, Year
from noonmark.envelope import modes
from noonmark.envelope.layers import Layer, resistance_layer
from noonmark.envelope.modes import wall_modes
from noonmark.errors import PhysicsError

SCREED = Layer(0.06, 1.2, 2000.0, 1000.0)
CONCRETE = Layer(0.15, 2.0, 2400.0, 1000.0)
TILES = Layer(0.015, 1.4, 2300.0, 900.0)
INSULATION = resistance_layer(3.0)
LAYERS = [TILES, SCREED, INSULATION, CONCRETE]
FILM, BELOW = 2.5, 10.0
POWER = 50.0
NEVER_WARM = 80.0
"""A set-point no room reaches: the slab is heated in full."""


def slab(outdoor: FloatArray, heated: int, layers: list[Layer] = LAYERS) -> Element:
    element = as_element(
        make_slab("slab", AREA, layers, outdoor, film=BELOW, convection=FILM, radiation=5.0)
    )
    return replace(element, modes=wall_modes(layers, heated_layer=heated))


@pytest.mark.parametrize("heated", [0, 1, 3])
def test_steady_shares_by_resistances(heated: int) -> None:
    """Heat even over a layer leaves it as if put into its middle (steady, by symmetry)."""
    cold = np.full(24, 5.0)
    zone = replace(held_zone(20.0), slab=SlabHeat(NEVER_WARM, POWER))
    year = march([zone], [slab(cold, heated)], cold, run_in_hours=24 * 60)
    around = [1.0 / FILM, *(layer.resistance for layer in LAYERS), 1.0 / BELOW]
    inward = sum(around[: heated + 1]) + 0.5 * around[heated + 1]
    whole = sum(around)
    to_room = POWER * (whole - inward) / whole
    assert year.plant[-1, 0] == pytest.approx(AREA * (15.0 / whole - to_room), rel=1e-4, abs=0.05)
    assert year.slab[-1, 0] == pytest.approx(AREA * POWER)
    assert year.flow_outside[-1, 0] == pytest.approx(
        -AREA * (15.0 / whole + POWER * inward / whole), rel=1e-4
    )


def missing(year: Year) -> float:
    stored = (year.stored[1] - year.stored[0]) / 3600.0
    came = year.slab.sum() + year.plant.sum() + year.flow_outside.sum()
    return float(abs(stored - came) / year.slab.sum())


@pytest.mark.parametrize("heated", [0, 1, 3])
@pytest.mark.parametrize("steps", [1, 3])
def test_energy_is_conserved_while_it_warms(heated: int, steps: int) -> None:
    outdoor = 5.0 + 8.0 * np.sin(2.0 * np.pi * np.arange(72) / 24.0)
    setpoint = np.where(np.arange(72) % 24 < 12, NEVER_WARM, -NEVER_WARM)
    zone = replace(free_zone(capacity=5e5), slab=SlabHeat(setpoint, POWER))
    year = march([zone], [slab(outdoor, heated)], outdoor, steps_per_hour=steps)
    assert year.slab.sum() == pytest.approx(36 * AREA * POWER)
    assert missing(year) < 1e-9


def by_ode(heated: int, hours: int, capacity: float) -> FloatArray:
    """Return hourly means of the air above a slab of cells, all at one temperature before."""
    cells, owners, links = [], [], [0.0]
    for place, layer in enumerate(LAYERS):
        if not layer.areal_heat_capacity:
            links[-1] += layer.resistance
            continue
        for _ in range(40):
            cells.append(layer.areal_heat_capacity / 40)
            owners.append(place)
            links[-1] += layer.resistance / 80
            links.append(layer.resistance / 80)
    links[0] += 1.0 / FILM
    links[-1] += 1.0 / BELOW
    heat = np.where(np.array(owners) == heated, POWER / 40, 0.0)
    conductance, capacities = 1.0 / np.array(links), np.array(cells)
    n = capacities.size
    # state: air, cells, integral of the air; outdoors at 5 degC
    matrix = np.zeros((n + 2, n + 2))
    steady = np.zeros(n + 2)
    matrix[0, :2] = np.array([-1.0, 1.0]) * AREA * conductance[0] / capacity
    for i in range(n):
        matrix[i + 1, i] += conductance[i] / capacities[i]
        matrix[i + 1, i + 1] -= (conductance[i] + conductance[i + 1]) / capacities[i]
        if i + 1 < n:
            matrix[i + 1, i + 2] += conductance[i + 1] / capacities[i]
        steady[i + 1] = heat[i] / capacities[i]
    steady[n] += conductance[n] * 5.0 / capacities[-1]
    matrix[n + 1, 0] = 1.0
    start = 0.5 * (20.0 + 5.0)
    done = solve_ivp(
        lambda _t, x: matrix @ x + steady,
        (0.0, 3600.0 * hours),
        [start] * (n + 1) + [0.0],
        method="BDF",
        jac=matrix,
        t_eval=3600.0 * np.arange(hours + 1),
        rtol=1e-8,
        atol=1e-8,
    )
    assert done.success
    return np.asarray(np.diff(done.y[-1]) / 3600.0)


@pytest.mark.parametrize("heated", [0, 1, 3])
def test_warming_up_against_an_ode(heated: int, monkeypatch: pytest.MonkeyPatch) -> None:
    hours, capacity = 96, 8e5
    cold = np.full(hours, 5.0)
    zone = replace(free_zone(capacity=capacity), slab=SlabHeat(NEVER_WARM, POWER))
    exact = by_ode(heated, hours, capacity)
    rise = np.abs(exact - exact[0]).max()

    def miss(steps: int) -> float:
        year = march([zone], [slab(cold, heated)], cold, steps_per_hour=steps)
        return float(np.abs(year.air[:, 0] - exact).max() / rise)

    kept = miss(1), miss(4)
    monkeypatch.setattr(modes, "LARGEST_ERROR", 0.0)
    monkeypatch.setattr(modes, "_FEWEST_CELLS", 40)
    whole = miss(1), miss(4)
    # measured: 0.16 per mille of 64 K above the screed, 1 per mille of 0.2 K under insulation
    assert max(kept) < 2e-3
    assert whole[1] < 2e-5


def test_a_layer_without_mass_takes_no_heat() -> None:
    with pytest.raises(PhysicsError) as caught:
        wall_modes(LAYERS, heated_layer=2)
    assert caught.value.problems[0].code == "envelope.heated_layer"
