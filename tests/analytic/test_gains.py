"""People and animals, plants, stoves and heated slabs, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import psychrolib
import pytest

from box import as_element, make_slab
from calorimeter import (
    AREA,
    CONVECTION,
    HELD,
    OUTSIDE,
    PRESSURE,
    RADIATION,
    RESISTANCE,
    free_zone,
    held_zone,
    march,
    wall,
)
from noonmark.balance.enclosure import Bodies, Leaves, SlabHeat, Stove
from noonmark.balance.hourly import LATENT_HEAT
from noonmark.envelope.layers import Layer, resistance_layer
from noonmark.envelope.modes import wall_modes

HOURS = 24
COLD = np.zeros(HOURS)
TO_WALL = (RESISTANCE + 1.0 / OUTSIDE) / (1.0 / CONVECTION + RESISTANCE + 1.0 / OUTSIDE)
"""Share of heat at the wall's inside surface that stays in the room."""

psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("at", [5.0, 20.0, 26.0, 35.0, 60.0])
def test_bodies_give_more_vapour_where_it_is_warm(at: float) -> None:
    bodies = Bodies(heat=400.0, latent=0.3, latent_per_k=0.02, radiant=0.5)
    zone = replace(held_zone(at), bodies=bodies, supply=100.0)  # nothing condenses
    year = march([zone], [wall(COLD)], COLD)
    latent = min(max(0.3 + 0.02 * (at - 20.0), 0.05), 0.95)  # never none, never all
    sensible = 400.0 * (1.0 - latent)
    assert year.bodies[1:, 0] == pytest.approx(sensible)
    heat = (HELD + 100.0) * at - 0.5 * sensible - 0.5 * sensible * TO_WALL
    assert year.plant[1:, 0] == pytest.approx(heat, rel=1e-9)


def test_vapour_of_bodies_stays_in_tight_dry_air() -> None:
    bodies = Bodies(heat=200.0, latent=0.4, latent_per_k=0.0, radiant=0.0)
    zone = replace(held_zone(30.0), bodies=bodies)
    year = march([zone], [wall(COLD + 30.0)], COLD + 30.0)
    # 80 W for an hour into 100 kg of air
    grown = 80.0 / LATENT_HEAT * 3600.0 / 100.0
    assert np.diff(year.humidity[:12, 0]) == pytest.approx(grown, rel=1e-9)


def test_leaves_take_their_heat_from_the_air() -> None:
    at, humidity, flow = 25.0, 0.008, 1e-3
    zone = replace(held_zone(at), leaves=Leaves(sun=2e-5, flow=flow), supply=1e7)  # one air outside
    year = march([zone], [wall(COLD + at)], COLD + at, humidity=humidity)
    short = psychrolib.GetSatHumRatio(at, PRESSURE) - humidity
    taken = (2e-5 + flow * short) * LATENT_HEAT
    assert year.latent[1:, 0] == pytest.approx(-taken, rel=2e-3)
    assert year.plant[1:, 0] == pytest.approx(-year.latent[1:, 0], rel=1e-6)
    dry = march([replace(zone, leaves=None)], [wall(COLD + at)], COLD + at, humidity=humidity)
    assert dry.plant[1:, 0] == pytest.approx(0.0, abs=1e-6)


def test_leaves_in_fog_draw_by_the_sun_alone() -> None:
    zone = replace(held_zone(10.0), leaves=Leaves(sun=2e-5, flow=1e-3), supply=1e4)
    year = march([zone], [wall(COLD + 40.0)], COLD + 40.0, humidity=0.011)  # air holds 0.0076
    assert year.latent[-1, 0] == pytest.approx(-2e-5 * LATENT_HEAT, rel=1e-9)


CURVE = (4000.0, 9000.0, 7000.0, 2500.0, 800.0)


@pytest.mark.parametrize("below", [-30.0, 5.0, 12.0, 18.0])
def test_a_charge_once_lit_burns_down(below: float) -> None:
    hours = 240
    outdoor = -5.0 + 6.0 * np.sin(2.0 * np.pi * np.arange(hours) / 24.0)
    zone = replace(free_zone(capacity=2e6), stove=Stove(below, CURVE))
    year = march([zone], [wall(outdoor, area=200.0)], outdoor, steps_per_hour=2)
    heat = year.stove[:, 0]
    starts = np.flatnonzero(heat == CURVE[0])
    wanted = np.zeros(hours + len(CURVE))
    for start in starts:
        wanted[start : start + len(CURVE)] += CURVE
    assert np.array_equal(heat, wanted[:hours])  # one after the other, all whole
    assert starts.size == 0 if below < -20.0 else starts.size > 3
    if starts.size:
        assert heat[: starts[-1]].sum() == pytest.approx(sum(CURVE) * (starts.size - 1))
        # it warms the room past what lit it and burns on
        assert year.air[heat > 0.0, 0].max() > below + 1.0


def test_a_stove_is_lit_only_by_the_cold() -> None:
    """The room is held on either side of what lights it."""
    outdoor = np.zeros(48)
    at = np.where(np.arange(48) < 24, 18.1, 17.9)
    zone = replace(held_zone(at), stove=Stove(18.0, CURVE))
    year = march([zone], [wall(outdoor)], outdoor, run_in_hours=5)
    # the first hour starts as the run in ended, cold; the hour from 24 on starts at 18.1 still
    assert year.stove[: len(CURVE), 0].tolist() == list(CURVE)
    assert not year.stove[len(CURVE) : 25, 0].any()
    assert year.stove[25 : 25 + 2 * len(CURVE), 0].tolist() == [*CURVE, *CURVE]


def test_half_of_a_stove_warms_surfaces_first() -> None:
    zone = replace(held_zone(20.0), stove=Stove(25.0, (1000.0,), radiant=0.5))
    year = march([zone], [wall(COLD)], COLD)
    heat = HELD * 20.0 - 500.0 - 500.0 * TO_WALL
    assert year.plant[1:, 0] == pytest.approx(heat, rel=1e-9)


@pytest.mark.parametrize(
    ("setpoint", "share"), [(25.0, 1.0), (22.0, 1.0), (21.5, 0.75), (21.0, 0.5), (19.0, 0.0)]
)
def test_a_slab_is_heated_less_near_its_set_point(setpoint: float, share: float) -> None:
    """Two kelvin of band, air at 20; steady: where the pipes lie shares the heat."""
    hours = 24
    layers = [Layer(0.02, 1.4, 2000.0, 1000.0), Layer(0.06, 1.2, 1800.0, 1000.0),
              resistance_layer(2.0)]  # fmt: skip
    slab = as_element(
        make_slab("slab", AREA, layers, np.full(hours, 8.0), film=10.0, convection=CONVECTION,
                  radiation=RADIATION)
    )  # fmt: skip
    slab = replace(slab, modes=wall_modes(layers, heated_layer=1))
    zone = replace(held_zone(20.0), slab=SlabHeat(setpoint=setpoint, most=40.0, band=2.0))
    year = march([zone], [slab], np.full(hours, 8.0), run_in_hours=24 * 40)
    assert year.slab[:, 0] == pytest.approx(AREA * 40.0 * share)
    inside = 1.0 / CONVECTION + 0.02 / 1.4 + 0.03 / 1.2
    outside = 0.03 / 1.2 + 2.0 + 1.0 / 10.0
    whole = inside + outside
    heat = AREA * (12.0 / whole - 40.0 * share * outside / whole)
    assert year.plant[-1, 0] == pytest.approx(heat, rel=1e-5, abs=1e-3)
    # and no joule is lost on the way
    assert year.plant[-1, 0] + year.slab[-1, 0] == pytest.approx(-year.flow_outside[-1, 0])


def test_a_short_stove_beside_a_long_one() -> None:
    cold = np.zeros(24)
    zones = [
        replace(held_zone(10.0, name="long"), stove=Stove(15.0, (1000.0,) * 8)),
        replace(held_zone(10.0, name="short"), stove=Stove(15.0, (500.0,) * 2)),
    ]
    year = march(zones, [wall(cold), wall(cold, name="wall 2", zone=1)], cold)
    assert year.stove == pytest.approx(np.tile([1000.0, 500.0], (24, 1)))
