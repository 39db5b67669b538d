"""Vapour that condenses on the coldest surface: when, how much, and where its heat goes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import psychrolib
import pytest
from scipy.optimize import brentq

from box import AIR_HEAT, LAYERS, FloatArray, as_element, make_slab
from calorimeter import (
    AREA,
    CONVECTION,
    OUTSIDE,
    PRESSURE,
    RADIATION,
    RESISTANCE,
    free_zone,
    held_zone,
    march,
    wall,
)
from noonmark.balance.enclosure import Bodies, Element, Leaves, Passage, Year, Zone
from noonmark.balance.hourly import LATENT_HEAT
from noonmark.envelope.layers import resistance_layer

HOURS = 24 * 6
HOUR = np.arange(HOURS)
OUTDOOR = -2.0 + 6.0 * np.sin(2.0 * np.pi * (HOUR - 9) / 24.0)
HUMIDITY = 0.0025
GLASS = 8.0
SUPPLY = 15.0

psychrolib.SetUnitSystem(psychrolib.SI)


def dew_point(ratio: float) -> float:
    return float(psychrolib.GetTDewPointFromHumRatio(20.0, ratio, PRESSURE))


def saturated(temperature: float) -> float:
    return float(psychrolib.GetSatHumRatio(temperature, PRESSURE))


def part(name: str, area: float, *, zone: int = 0, resistance: float | None = None) -> Element:
    """Return glass of a resistance, or a heavy wall."""
    layers = LAYERS["heavy_wall"] if resistance is None else [resistance_layer(resistance)]
    return as_element(
        make_slab(name, area, layers, OUTDOOR, film=20.0, convection=CONVECTION,
                  radiation=RADIATION, zone=zone)
    )  # fmt: skip


ELEMENTS = [part("wall", 60.0), part("glass", GLASS, resistance=0.12), part("better", 6.0,
            resistance=0.5)]  # fmt: skip


def damp_room(**changes: object) -> Zone:
    """Return a heated room with people by night and washing in the evening."""
    zone = replace(
        free_zone(capacity=5e5),
        supply=SUPPLY,
        heat_set=20.0,
        vapour_gain=np.where(HOUR % 24 > 20, 2e-4, 0.0),
        bodies=Bodies(np.where(HOUR % 24 < 7, 250.0, 0.0), 0.35, 0.02, 0.5),
    )
    return replace(zone, **changes)  # type: ignore[arg-type]


def damp_year() -> Year:
    return march([damp_room()], ELEMENTS, OUTDOOR, humidity=HUMIDITY, run_in_hours=48)


def test_it_condenses_exactly_when_the_coldest_surface_is_below_the_dew_point() -> None:
    year = damp_year()
    assert np.all(year.surface[:, 1] < year.surface[:, [0, 2]].min(axis=1))  # the poor glass
    margin = np.array([dew_point(w) for w in year.humidity[:, 0]]) - year.surface[:, 1]
    wet = year.condensed[:, 0] > 0.0
    assert 10 < wet.sum() < HOURS - 10
    assert margin[wet].min() > -0.05  # two saturation curves differ by a few hundredths
    assert margin[~wet].max() < 0.05


def test_water_that_condenses_by_hand() -> None:
    """A h_c / c_p (w - w_sat): mass as heat by convection (Lewis number 1)."""
    year = damp_year()
    wet = year.condensed[:, 0] > 0.0
    short = np.array([saturated(t) for t in year.surface[wet, 1]])
    by_hand = GLASS * CONVECTION / AIR_HEAT * (year.humidity[wet, 0] - short)
    # curves of saturation differ by 0.2 % of w_sat
    slack = 3e-3 * short.max() * GLASS * CONVECTION / AIR_HEAT
    np.testing.assert_allclose(year.condensed[wet, 0], by_hand, atol=slack)
    assert year.condensed.max() > 20.0 * slack


def test_its_heat_reaches_that_surface_in_the_next_hour() -> None:
    year = damp_year()
    given = LATENT_HEAT * year.condensed[:-1, 0]
    np.testing.assert_allclose(year.latent[1:, 0], given, rtol=1e-12)
    # into the glass goes what convection and radiation bring, and the latent heat
    surface = year.surface[1:, 1]
    brought = CONVECTION * (year.air[1:, 0] - surface) + RADIATION * (year.star[1:, 0] - surface)
    np.testing.assert_allclose(
        year.flow_inside[1:, 1], GLASS * brought + given, rtol=1e-9, atol=1e-6
    )
    surface = year.surface[1:, 2]
    brought = CONVECTION * (year.air[1:, 0] - surface) + RADIATION * (year.star[1:, 0] - surface)
    np.testing.assert_allclose(year.flow_inside[1:, 2], 6.0 * brought, rtol=1e-9, atol=1e-6)


def missing_heat(year: Year) -> float:
    """Return what energy does not close, as a share of all that moved."""
    came = year.plant + year.bodies + year.stove + year.latent - year.air_loss
    outer = year.flow_outside.sum()
    stored = (year.stored[1] - year.stored[0]) / 3600.0
    moved = np.abs(year.plant).sum() + np.abs(year.air_loss).sum() + np.abs(year.latent).sum()
    return float(abs(stored - came.sum() - outer) / moved)


def test_energy_closes_with_the_latent_heat() -> None:
    year = damp_year()
    assert year.latent.max() > 20.0
    assert missing_heat(year) < 1e-6


def water(year: Year, zones: list[Zone], given: FloatArray, flow: FloatArray) -> FloatArray:
    """Return by hour what each zone's water does not close (h - 1, z) [kg/s]: all but exchange."""
    mass = np.array([zone.air_mass for zone in zones]) / 3600.0
    now, before = year.humidity[1:], year.humidity[:-1]
    carried = flow / AIR_HEAT * (HUMIDITY - now)
    return mass * (now - before) - (given[1:] + carried - year.condensed[1:])


def vapour_of_bodies(year: Year) -> FloatArray:
    heat = np.where(HOUR % 24 < 7, 250.0, 0.0)[:, None]
    return np.asarray((heat - year.bodies) / LATENT_HEAT)


def test_water_of_every_hour_is_carried_out_condenses_or_stays() -> None:
    year = damp_year()
    given = np.where(HOUR % 24 > 20, 2e-4, 0.0)[:, None] + vapour_of_bodies(year)
    missing = water(year, [damp_room()], given, np.full(1, SUPPLY))
    assert np.abs(missing).max() < 1e-12


def two_damp_zones(flow: float) -> tuple[Year, list[Zone]]:
    rooms = damp_room(name="rooms")
    house = damp_room(name="glasshouse", heat_set=-np.inf, bodies=None, vapour_gain=0.0,
                      leaves=Leaves(2e-5, 2e-2), supply=SUPPLY)  # fmt: skip
    elements = [*ELEMENTS, part("glass 2", 25.0, zone=1, resistance=0.1), part("bed", 20.0, zone=1)]
    year = march([rooms, house], elements, OUTDOOR, humidity=HUMIDITY, run_in_hours=48,
                 passages=[Passage("door", 0, 1, steady=flow)])  # fmt: skip
    return year, [rooms, house]


@pytest.mark.parametrize("flow", [0.0, 5.0, 60.0, 400.0])
def test_two_zones_that_both_condense_keep_their_water(flow: float) -> None:
    year, zones = two_damp_zones(flow)
    given = np.column_stack(
        [
            np.where(HOUR % 24 > 20, 2e-4, 0.0) + vapour_of_bodies(year)[:, 0],
            (np.roll(year.condensed[:, 1], 1) * LATENT_HEAT - year.latent[:, 1]) / LATENT_HEAT,
        ]
    )
    missing = water(year, zones, given, np.full(2, SUPPLY))
    passed = flow / AIR_HEAT * (year.humidity[1:, 1] - year.humidity[1:, 0])
    assert year.condensed[:, 1].max() > 0.0
    # first the whole: what one zone passes on the other gets
    assert np.abs(missing.sum(axis=1)).max() < 1e-12
    np.testing.assert_allclose(missing[:, 0], passed, atol=1e-12)


def test_energy_closes_in_two_zones_that_condense() -> None:
    year, _ = two_damp_zones(60.0)
    assert missing_heat(year) < 1e-6


def test_dry_air_condenses_nowhere() -> None:
    zone = damp_room(bodies=None, vapour_gain=0.0)
    year = march([zone], ELEMENTS, OUTDOOR, humidity=1e-4)
    assert not year.condensed.any()
    assert not year.latent.any()


def test_steady_condensation_by_hand() -> None:
    """A held room with one wall: surface, vapour and latent heat balance, solved by scipy."""
    gain, supply, conductance = 3e-4, 10.0, AREA / (RESISTANCE + 1.0 / OUTSIDE)
    cold = np.zeros(96)
    zone = replace(held_zone(20.0), vapour_gain=gain, supply=supply)
    year = march([zone], [wall(cold)], cold, run_in_hours=96)
    reaching = AREA * CONVECTION / AIR_HEAT

    def caught(surface: float) -> float:
        short = saturated(surface)
        ratio = (gain + reaching * short) / (supply / AIR_HEAT + reaching)
        return reaching * (ratio - short)

    def balance(surface: float) -> float:
        brought = AREA * CONVECTION * (20.0 - surface) + LATENT_HEAT * caught(surface)
        return brought - conductance * surface

    surface = float(brentq(balance, 0.0, 20.0))
    assert caught(surface) * LATENT_HEAT > 300.0
    # two curves of saturation: 0.1 % of what condenses
    assert year.surface[-1, 0] == pytest.approx(surface, abs=0.01)
    assert year.condensed[-1, 0] == pytest.approx(caught(surface), rel=2e-3)
    assert year.plant[-1, 0] == pytest.approx(
        AREA * CONVECTION * (20.0 - surface) + supply * 20.0, rel=2e-3, abs=0.5
    )
