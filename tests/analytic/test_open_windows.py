"""Windows opened by temperature: they hold it, as far as fully open windows can."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import calorimeter
from box import box_slabs, make_zone, run
from noonmark.balance.enclosure import Opened, Year

HOURS = 24 * 20
ABOVE = 24.0


def free_and_vented(*, heavy: bool, most: float, gain: float, heat_set: float = -np.inf) -> Year:
    hours = np.arange(HOURS)
    outdoor = 14.0 + 6.0 * np.sin(2.0 * np.pi * (hours - 9.0) / 24.0)
    sunny = gain * np.maximum(0.0, np.sin(2.0 * np.pi * (hours - 6.0) / 24.0))
    zone = make_zone(HOURS, supply=20.0, gain_air=sunny, heat_set=heat_set)
    zone = replace(zone, opened=Opened(above=ABOVE, base=most))
    return run([zone], box_slabs(outdoor, heavy=heavy), outdoor, run_in_hours=240)


@pytest.mark.parametrize("heavy", [False, True])
def test_wide_windows_hold_their_temperature_and_never_cool_below_it(heavy: bool) -> None:
    shut = free_and_vented(heavy=heavy, most=0.0, gain=4000.0)
    wide = free_and_vented(heavy=heavy, most=1e6, gain=4000.0)
    assert shut.air.max() > ABOVE + 3.0
    assert wide.air.max() <= ABOVE + 1e-6
    assert np.all(wide.air <= shut.air + 1e-9)
    midday = (np.arange(HOURS) % 24 >= 11) & (np.arange(HOURS) % 24 < 14)
    assert wide.air[midday] == pytest.approx(ABOVE, abs=0.05)


def test_narrow_windows_let_out_what_their_flow_carries() -> None:
    """Steady: gain G, conductance H to outdoors at 14 C and W of open windows: 14 + G/(H + W)."""
    outdoor = np.full(HOURS, 14.0)
    slabs = [s for s in box_slabs(outdoor, heavy=False) if s.name != "floor"]
    most = 50.0

    def steady(vent_most: float) -> Year:
        zone = make_zone(HOURS, supply=20.0, gain_air=3000.0)
        zone = replace(zone, opened=Opened(above=ABOVE, base=vent_most))
        return run([zone], slabs, outdoor, run_in_hours=240)

    shut, part = steady(0.0), steady(most)
    conductance = 3000.0 / (shut.air[-1, 0] - 14.0)
    assert part.air[-1, 0] > ABOVE
    assert part.air[-1, 0] == pytest.approx(14.0 + 3000.0 / (conductance + most), abs=1e-6)
    assert part.air_loss[-1, 0] == pytest.approx((20.0 + most) * (part.air[-1, 0] - 14.0), rel=1e-6)


def test_windows_never_make_the_heater_run() -> None:
    with_heater = free_and_vented(heavy=False, most=1e4, gain=4000.0, heat_set=20.0)
    venting = with_heater.air[:, 0] > ABOVE - 1e-6
    assert venting.any()
    assert np.all(with_heater.plant[venting, 0] == 0.0)
    assert np.all(with_heater.plant >= -1e-9)


def test_windows_stay_shut_while_it_is_warmer_outside() -> None:
    outdoor = np.full(HOURS, 35.0)
    zone = replace(make_zone(HOURS), opened=Opened(above=ABOVE, base=1e4))
    opened = run([zone], box_slabs(outdoor, heavy=False), outdoor)
    shut = run([replace(zone, opened=Opened())], box_slabs(outdoor, heavy=False), outdoor)
    assert np.array_equal(opened.air, shut.air)


@pytest.mark.parametrize("gain", [500.0, 2000.0, 8000.0])
def test_open_windows_beside_a_cooler_carry_what_the_cooled_room_gives(gain: float) -> None:
    outdoor = np.full(96, 20.0)
    opened = Opened(above=24.5, base=50.0)
    zone = replace(calorimeter.free_zone(capacity=1e6), gain_air=gain, cool_set=27.0, opened=opened)
    year = calorimeter.march([zone], [calorimeter.wall(outdoor)], outdoor)
    cooling = max(gain - (calorimeter.HELD + 50.0) * 7.0, 0.0)
    assert -year.plant[-1, 0] == pytest.approx(cooling, rel=1e-6, abs=1e-6)
