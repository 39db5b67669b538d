"""Air between two zones: doorways, blowers and the vapour they carry, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from box import AIR_HEAT
from calorimeter import HELD, free_zone, held_zone, march, wall
from noonmark.balance.enclosure import Passage, Year, Zone

HOURS = 48
COLD = np.zeros(HOURS)
DAY = (np.arange(HOURS) % 24 > 11).astype(float)
WALLS = [wall(COLD, zone=0), wall(COLD, name="wall 2", zone=1)]


def between(passage: Passage, one: float, other: float) -> Year:
    """March two rooms held at temperatures and check that no heat is lost between them."""
    zones = [held_zone(one, name="one"), held_zone(other, name="other")]
    year = march(zones, WALLS, COLD, passages=[passage])
    np.testing.assert_allclose(year.moved.sum(axis=1), 0.0, atol=1e-9)
    wanted = HELD * np.array([one, other]) - year.moved[1:]
    np.testing.assert_allclose(year.plant[1:], wanted, rtol=1e-9)
    return year


@pytest.mark.parametrize(("one", "other"), [(21.0, 17.0), (17.0, 21.0), (20.0, 20.0)])
def test_a_doorway_moves_heat_by_the_power_of_one_and_a_half(one: float, other: float) -> None:
    year = between(Passage("door", 0, 1, doorway=150.0), one, other)
    heat = math.copysign(150.0 * abs(one - other) ** 1.5, one - other)
    np.testing.assert_allclose(year.moved[1:, 1], heat, rtol=1e-9, atol=1e-9)


def test_a_doorway_is_open_by_the_hour_and_cracks_are_part_of_it() -> None:
    year = between(Passage("door", 0, 1, open=DAY, steady=8.0, doorway=100.0), 24.0, 15.0)
    heat = DAY * (8.0 + 100.0 * 3.0) * 9.0
    np.testing.assert_allclose(year.moved[1:, 1], heat[1:], rtol=1e-9)


@pytest.mark.parametrize(
    ("one", "other", "runs"),
    [(30.0, 19.0, True), (23.0, 19.0, False), (30.0, 21.0, False), (19.0, 30.0, False)],
)
def test_a_blower_runs_from_warm_to_cool_alone(one: float, other: float, runs: bool) -> None:
    fan = Passage("fan", 0, 1, open=0.0, blower=60.0, blowing=DAY, difference=5.0, below=20.0)
    year = between(fan, one, other)
    heat = DAY * 60.0 * (one - other) * runs
    np.testing.assert_allclose(year.moved[1:, 1], heat[1:], rtol=1e-9, atol=1e-9)


def test_free_rooms_settle_by_their_doorway() -> None:
    """1500 W in one of two free rooms: hand iteration of the flow by the root."""
    outdoor = np.zeros(24 * 30)
    zones = [replace(free_zone(name="one"), gain_air=1500.0), free_zone(name="other")]
    walls = [wall(outdoor), wall(outdoor, name="wall 2", zone=1)]
    year = march(zones, walls, outdoor, passages=[Passage("door", 0, 1, doorway=20.0)])
    low, high = 0.0, 1500.0 / HELD  # of the difference, by halving
    for _ in range(80):
        apart = 0.5 * (low + high)
        through = 20.0 * apart**1.5
        # the rooms lose 1500 - through and through by their walls
        if (1500.0 - 2.0 * through) / HELD > apart:
            low = apart
        else:
            high = apart
    assert year.air[-1, 0] - year.air[-1, 1] == pytest.approx(apart, rel=1e-4)
    assert year.air[-1].sum() == pytest.approx(1500.0 / HELD, rel=1e-4)
    assert year.moved[-1, 1] == pytest.approx(20.0 * apart**1.5, rel=1e-4)


def damp(zones: list[Zone], hours: int, flow: float) -> Year:
    """March two warm zones, in which nothing condenses."""
    warm = np.full(hours, 40.0)
    walls = [wall(warm), wall(warm, name="wall 2", zone=1)]
    passage = Passage("door", 0, 1, steady=flow)
    return march(zones, walls, warm, humidity=0.004, passages=[passage])


def test_vapour_of_one_room_reaches_the_other() -> None:
    """Steady: two rooms with outdoor air a and b and air c between them [kg/s], by hand."""
    gain, a, b, c = 1e-4, 0.01, 0.03, 0.02
    zones = [
        replace(held_zone(40.0, name="one"), supply=a * AIR_HEAT, vapour_gain=gain),
        replace(held_zone(40.0, name="other"), supply=b * AIR_HEAT),
    ]
    year = damp(zones, 24 * 20, c * AIR_HEAT)
    other = gain * c / ((a + c) * (b + c) - c * c)
    one = other * (b + c) / c
    assert year.humidity[-1] == pytest.approx([0.004 + one, 0.004 + other], rel=1e-9)


def test_vapour_between_tight_rooms_is_conserved() -> None:
    gain = np.where(np.arange(HOURS) < 5, 2e-5, 0.0)
    zones = [
        replace(held_zone(40.0, name="one"), vapour_gain=gain),
        replace(held_zone(40.0, name="other"), air_mass=300.0),
    ]
    year = damp(zones, HOURS, 30.0)
    water = year.humidity @ np.array([100.0, 300.0])
    given = 3600.0 * np.cumsum(gain)
    assert water - 0.004 * 400.0 == pytest.approx(given, abs=1e-12)
    assert year.humidity[-1, 0] == pytest.approx(year.humidity[-1, 1], rel=1e-3)
    assert year.humidity[3, 0] > 1.05 * year.humidity[3, 1]
