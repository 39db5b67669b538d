"""Fans, heat recovery, leaks and opened windows: what they carry, and when, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from calorimeter import HELD, free_zone, held_zone, march, wall
from noonmark.balance.enclosure import Fan, Opened

HOURS = 48
OUTDOOR = 15.0 + 10.0 * np.sin(2.0 * np.pi * (np.arange(HOURS) - 9) / 24.0)
AT = 22.0
TO_WALL = HELD * (AT - OUTDOOR)


def carried(**changes: object) -> np.ndarray:
    """Return the heat a zone at 22 degC loses by air alone (h,) [W], but the first hour."""
    zone = replace(held_zone(AT), **changes)  # type: ignore[arg-type]
    year = march([zone], [wall(OUTDOOR)], OUTDOOR)
    assert year.air[1:] == pytest.approx(AT)
    assert year.air_loss[1:, 0] == pytest.approx((year.plant[:, 0] - TO_WALL)[1:], abs=1e-6)
    return year.air_loss[1:, 0]


def test_a_fan_without_conditions_carries_its_flow() -> None:
    lost = carried(fan=Fan(40.0))
    assert lost == pytest.approx(40.0 * (AT - OUTDOOR[1:]))


@pytest.mark.parametrize(("above", "runs"), [(21.9, True), (22.1, False)])
def test_a_fan_stands_while_the_room_is_cool(above: float, runs: bool) -> None:
    lost = carried(fan=Fan(40.0, above=above))
    assert lost == pytest.approx(40.0 * (AT - OUTDOOR[1:]) * runs)


@pytest.mark.parametrize("cooler", [-1e9, 0.0, 4.0])
def test_a_fan_stands_while_it_is_not_much_cooler_outdoors(cooler: float) -> None:
    lost = carried(fan=Fan(40.0, above=20.0, cooler=cooler))
    runs = AT - OUTDOOR[1:] > cooler
    assert 0 < runs.sum() <= HOURS - 1
    assert lost == pytest.approx(40.0 * (AT - OUTDOOR[1:]) * runs)


def test_recovery_keeps_its_share() -> None:
    lost = carried(supply=50.0, recovery=0.8)
    assert lost == pytest.approx(10.0 * (AT - OUTDOOR[1:]))


@pytest.mark.parametrize(("above", "bypassed"), [(21.9, True), (22.1, False)])
def test_recovery_stands_in_a_warm_room_while_it_is_cooler_outdoors(
    above: float, bypassed: bool
) -> None:
    lost = carried(supply=50.0, recovery=0.8, bypass_above=above)
    cooler = OUTDOOR[1:] < AT
    assert 0 < cooler.sum() < HOURS - 1
    flow = np.where(cooler & bypassed, 50.0, 10.0)  # kept on hot days: coolness is recovered
    assert lost == pytest.approx(flow * (AT - OUTDOOR[1:]))


def test_leaks_by_stack_and_wind() -> None:
    wind = 0.3 * np.arange(HOURS) % 7.0
    lost = carried(leak_scale=3.0, leak_stack=0.4, leak_wind=wind)
    apart = AT - OUTDOOR[1:]
    assert lost == pytest.approx(3.0 * np.sqrt(0.4 * np.abs(apart) + wind[1:]) * apart)


def test_opened_windows_by_stack_and_wind() -> None:
    """A room with 6 kW and windows fully open: its temperature by fixed-point iteration."""
    outdoor = np.full(24 * 8, 15.0)
    opened = Opened(above=20.0, base=12.0, scale=40.0, stack=0.7, wind=3.0)
    zone = replace(free_zone(), gain_air=6000.0, opened=opened, supply=10.0)
    year = march([zone], [wall(outdoor)], outdoor)
    air = 40.0
    for _ in range(100):
        flow = 12.0 + 40.0 * math.sqrt(0.7 * (air - 15.0) + 3.0)
        air = 15.0 + 6000.0 / (HELD + 10.0 + flow)
    assert air > 20.0
    assert year.air[-1, 0] == pytest.approx(air, rel=1e-6)
    assert year.air_loss[-1, 0] == pytest.approx((10.0 + flow) * (air - 15.0), rel=1e-6)


def test_opened_windows_hold_their_temperature_and_pass_no_more_than_needed() -> None:
    outdoor = np.full(24 * 8, 15.0)
    zone = replace(free_zone(), gain_air=1000.0, opened=Opened(above=22.0, scale=500.0, stack=1.0))
    year = march([zone], [wall(outdoor)], outdoor)
    assert year.air[-1, 0] == pytest.approx(22.0, abs=1e-6)
    assert year.air_loss[-1, 0] == pytest.approx(1000.0 - HELD * 7.0, rel=1e-6)
