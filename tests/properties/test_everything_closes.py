"""Energy and water close with everything on, summed from what the year says of each flow."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from any_design import AnyDesign, any_design, any_weather
from box import AIR_HEAT, FloatArray
from full_box import full_box
from noonmark.balance.block import BYPASS_ABOVE, VENT_ABOVE
from noonmark.balance.drive import Hourly, as_drive
from noonmark.balance.enclosure import OUTDOORS, Opened, Year
from noonmark.balance.hourly import LATENT_HEAT
from noonmark.balance.run import march_packed, run_year

WEATHER = any_weather(14, mean=-2.0)
HOURS = WEATHER.hour.size


def year_of(design: AnyDesign, steps: int) -> Year:
    return run_year(
        design.zones,
        design.elements,
        WEATHER.air,
        covers=design.covers,
        passages=design.passages,
        steps_per_hour=steps,
        run_in_hours=48,
    )


def values(value: Hourly, closed: FloatArray) -> FloatArray:
    """Return a quantity by the hour, with covers as far closed as they were."""
    drive = as_drive(value)
    total = np.zeros(HOURS)
    for number, array in drive.terms:
        total += number if array is None else number * array
    for cover, number, array in drive.covered:
        total += number * array * closed[:, cover]
    return total


def given(design: AnyDesign, year: Year) -> FloatArray:
    """Return by the hour all that was given to the zones but came through no outer surface [W]."""
    total = np.zeros(HOURS)
    for part in (year.plant, year.bodies, year.stove, year.slab, year.latent):
        total += part.sum(axis=1)
    for zone in design.zones:
        total += values(zone.gain_air, year.closed) + values(zone.gain_star, year.closed)
    for element in design.elements:
        total += element.area * values(element.inside_source, year.closed)
        if element.zone_outside != OUTDOORS:
            total += element.area * values(element.outside_drive, year.closed)
    return total


@pytest.mark.parametrize("steps", [1, 3])
@pytest.mark.parametrize("zones", [1, 2])
@pytest.mark.parametrize("seed", range(8))
def test_energy_closes(seed: int, zones: int, steps: int) -> None:
    design = any_design(seed, zones, WEATHER)
    year = year_of(design, steps)
    outer = [i for i, e in enumerate(design.elements) if e.zone_outside == OUTDOORS]
    came = given(design, year) + year.flow_outside[:, outer].sum(axis=1)
    came -= year.air_loss.sum(axis=1)
    stored = (year.stored[1] - year.stored[0]) / 3600.0
    moved = float(np.abs(given(design, year)).sum() + np.abs(year.air_loss).sum())
    assert abs(stored - came.sum()) < 1e-9 * moved
    np.testing.assert_allclose(year.moved.sum(axis=1), 0.0, atol=1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_what_leaves_the_surfaces_reaches_the_air(seed: int) -> None:
    """Massless parts pass on what they get, hour by hour."""
    design = any_design(seed, 2, WEATHER)
    year = year_of(design, 1)
    for i, element in enumerate(design.elements):
        if not element.modes.stores_heat:
            assert year.flow_inside[:, i] == pytest.approx(-year.flow_outside[:, i], abs=1e-7)


@pytest.mark.parametrize("seed", range(8))
def test_water_closes_where_the_air_flow_is_known(seed: int) -> None:
    """One zone, windows closed: water and heat tell of the same flow, but for heat recovered."""
    own = any_design(seed, 1, WEATHER)
    design = replace(own, zones=[replace(zone, opened=Opened()) for zone in own.zones])
    year = year_of(design, 1)
    (zone,) = design.zones
    assert zone.bodies is not None
    bodies = values(zone.bodies.heat, year.closed) - year.bodies[:, 0]
    before = np.roll(year.condensed[:, 0], 1)
    leaves = before * LATENT_HEAT - year.latent[:, 0]
    brought = values(zone.vapour_gain, year.closed) + (bodies + leaves) / LATENT_HEAT
    stored = zone.air_mass * np.diff(year.humidity[:, 0]) / 3600.0
    out = (brought - year.condensed[:, 0])[1:] - stored
    apart = year.humidity[1:, 0] - WEATHER.humidity[1:]
    flow = out / apart * AIR_HEAT  # W/K that water says
    difference = year.air[1:, 0] - WEATHER.outdoor[1:]
    carried = year.air_loss[1:, 0] / difference  # W/K that heat says: some of it recovered
    clear = (difference > 2.0) & (np.abs(apart) > 2e-4)
    assert clear.sum() > 100
    recovered = zone.recovery * float(values(zone.supply, year.closed)[0])
    kept = flow[clear] - carried[clear]
    bypassed = np.abs(kept) < 1e-6
    assert kept[~bypassed] == pytest.approx(recovered, rel=1e-4)
    assert (~bypassed).sum() > 20


def test_rounding_does_not_say_whether_heat_is_kept() -> None:
    """Windows hold the room at the very temperature above which recovery is bypassed."""
    box = full_box()

    def air(bypass_above: float) -> FloatArray:
        box.numbers.zone[0, BYPASS_ABOVE] = bypass_above
        return march_packed(box).air

    above = float(box.numbers.zone[0, VENT_ABOVE])
    np.testing.assert_allclose(air(above), air(above - 2e-6), rtol=0.0, atol=1e-9)
