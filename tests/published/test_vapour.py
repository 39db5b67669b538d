"""Vapour through layers: the worked example, drying by hand, and a march of its own."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from noonmark.air.moist import saturation_pressure
from noonmark.envelope.vapour import (
    PERMEABILITY_OF_AIR,
    THICKEST_STEP,
    VapourLayer,
    Wetting,
    wetting,
)
from noonmark.errors import PhysicsError

pytestmark = pytest.mark.validation

Record = Callable[..., None]

MONTH_S = 365.0 / 12.0 * 86400.0
WALL = [VapourLayer(0.05, 0.1), VapourLayer(2.857, 0.1), VapourLayer(0.0652, 12.0)]
"""Plasterboard, wool, concrete, as in the worked example."""


def monthly(value: float, *others: float) -> np.ndarray:
    return np.array([value] * 12) if not others else np.array([value, *others])


def through(layers: list[VapourLayer], outside: np.ndarray, damp: float = 0.8) -> Wetting:
    """Return a wall's water beside a room of 20 degC and 50 %."""
    inside = monthly(20.0)
    return wetting(
        layers,
        inside=inside,
        outside=outside,
        vapour_inside=0.5 * saturation_pressure(inside),
        vapour_outside=damp * saturation_pressure(outside),
        film_inside=0.25,
        film_outside=0.04,
    )


def test_worked_example_of_a_wall(record: Record) -> None:
    """Condensation between wool and concrete at 7.369e-7 kg/m2s, 1910 g in 30 days."""
    found = through(WALL, monthly(-5.0))
    plane = int(np.argmax(found.gathered[found.first]))
    rate = found.gathered[found.first, plane] / MONTH_S
    assert found.place[plane] == pytest.approx(2.0)
    for name, expected, got in (
        ("rate_kg_m2s", 7.369e-7, rate),
        ("g_per_m2_30d", 1910.1, rate * 30.0 * 86400.0 * 1e3),
    ):
        record(
            f"ISO13788_glaser.{name}",
            "envelope and glazing",
            "EN ISO 13788, own example",
            "computed",
            expected=expected,
            got=float(got),
            tol=0.005 * expected,
        )


def test_dry_wall_stays_dry() -> None:
    """A barrier inside: the vapour line lies below saturation everywhere."""
    tight = [VapourLayer(0.05, 20.0), *WALL[1:2], VapourLayer(0.0652, 1.0)]
    assert through(tight, monthly(-5.0)).most == 0.0


def test_what_gathers_in_winter_dries_by_the_rate_of_summer() -> None:
    """One cold month and eleven warm ones: gain and loss by hand, plane at saturation.

    Source: Fick's law on both sides of the wet plane, steady.
    """
    outside = np.array([-5.0] + [15.0] * 11)
    found = through(WALL, outside)
    plane = int(np.argmin(np.abs(found.place - 2.0)))
    gained = found.gathered[0, plane]
    resistances = 0.25 + 0.05 + 2.857
    total = resistances + 0.0652 + 0.04
    held = float(saturation_pressure(20.0 - 5.0 * resistances / total))
    room, open_air = 0.5 * saturation_pressure(20.0), 0.8 * saturation_pressure(15.0)
    lost = PERMEABILITY_OF_AIR * ((held - room) / 0.2 + (held - open_air) / 12.0) * MONTH_S
    assert found.first == 0
    assert found.gathered[1, plane] == pytest.approx(max(0.0, gained - lost), abs=1e-9)
    assert found.left.max() == 0.0


def test_wall_that_never_dries_keeps_its_water() -> None:
    """Cold all year: every month adds as much."""
    found = through(WALL, monthly(-5.0))
    steps = np.diff(found.gathered.sum(axis=1))
    assert steps == pytest.approx([steps[0]] * 11)
    assert found.left.max() > 0.0


def test_same_as_a_march_in_small_steps_over_many_nodes() -> None:
    """Source: explicit balance of vapour at the interfaces, each with next to no capacity."""
    outside = 5.0 - 15.0 * np.cos(2.0 * np.pi * np.arange(12) / 12.0)
    layers = [VapourLayer(0.05, 0.3), VapourLayer(0.75, 0.5), VapourLayer(0.1, 4.0)]
    found = through(layers, outside)
    parts = int(0.75 / THICKEST_STEP)
    cut = [layers[0], *[VapourLayer(0.25, 0.5 / parts)] * parts, layers[2]]
    water = np.zeros(len(cut) - 1)
    free = np.full(len(cut) - 1, 500.0)
    conductance = PERMEABILITY_OF_AIR / np.array([layer.diffusion for layer in cut])
    resistance = np.cumsum([0.25, *(layer.resistance for layer in cut)])
    first = found.first
    for month in [(first + k) % 12 for k in range(12)]:
        t = 20.0 - (20.0 - outside[month]) * resistance[1:-1] / (resistance[-1] + 0.04)
        limit = saturation_pressure(t)
        room = 0.5 * float(saturation_pressure(20.0))
        air = 0.8 * float(saturation_pressure(outside[month]))
        for _ in range(2000):
            dt = MONTH_S / 2000
            free = np.where(water > 0.0, limit, free)
            for _ in range(4):  # vapour settles at once beside the water
                around = np.array([room, *free, air])
                left, right = conductance[:-1], conductance[1:]
                settled = (left * around[:-2] + right * around[2:]) / (left + right)
                free = np.where(water > 0.0, limit, np.minimum(limit, settled))
            around = np.array([room, *free, air])
            net = conductance[:-1] * (around[:-2] - free) - conductance[1:] * (free - around[2:])
            gain = np.where((free >= limit) | (water > 0.0), net, 0.0)
            water = np.maximum(0.0, water + gain * dt)
        assert found.gathered[month] == pytest.approx(water, abs=0.02 * max(found.most, 0.01))
    assert found.most > 0.01


def test_layer_without_diffusion_is_refused() -> None:
    with pytest.raises(PhysicsError):
        through([VapourLayer(0.1, 0.0)], monthly(0.0))
