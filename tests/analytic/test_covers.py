"""Shutters and blinds: what they add to a window's resistance, and when they are closed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calorimeter import (
    AREA,
    CONVECTION,
    OUTSIDE,
    RESISTANCE,
    free_zone,
    held_zone,
    march,
    wall,
)
from noonmark.balance.drive import Drive
from noonmark.balance.enclosure import Cover, Element

HOURS = 48
COLD = np.zeros(HOURS)
DAY = ((np.arange(HOURS) % 24 >= 8) & (np.arange(HOURS) % 24 < 20)).astype(float)
FILMS = 1.0 / CONVECTION + RESISTANCE + 1.0 / OUTSIDE
TO_ROOM = (RESISTANCE + 1.0 / OUTSIDE) / FILMS


def window(sun: Drive | float = 0.0) -> Element:
    return replace(wall(COLD), cover=0, inside_source=sun)


def test_a_shutter_by_the_clock_adds_its_resistance() -> None:
    shutter = Cover("shutter", zone=0, resistance=0.35, closed=1.0 - DAY)
    year = march([held_zone(20.0)], [window()], COLD, covers=[shutter])
    resistance = FILMS + 0.35 * (1.0 - DAY)
    assert year.plant[1:, 0] == pytest.approx((20.0 * AREA / resistance)[1:], rel=1e-9)
    assert np.array_equal(year.closed[:, 0], 1.0 - DAY)


def test_a_shutter_half_closed_changes_the_conductance_by_half() -> None:
    """Half of the glass behind it: conductances beside each other add up between the surfaces."""
    shutter = Cover("shutter", zone=0, resistance=0.35, closed=0.5)
    year = march([held_zone(20.0)], [window()], COLD, covers=[shutter])
    conductance = 0.5 / RESISTANCE + 0.5 / (RESISTANCE + 0.35)
    resistance = 1.0 / CONVECTION + 1.0 / conductance + 1.0 / OUTSIDE
    assert year.plant[1:, 0] == pytest.approx(20.0 * AREA / resistance, rel=1e-9)


@pytest.mark.parametrize("at", [23.9, 24.1])
def test_a_blind_closes_while_it_is_warm_and_may(at: float) -> None:
    blind = Cover("blind", zone=0, resistance=0.2, allowed=DAY, above=24.0)
    year = march([held_zone(at)], [window()], COLD, covers=[blind])
    closed = DAY if at > 24.0 else 0.0 * DAY
    assert np.array_equal(year.closed[1:, 0], closed[1:])
    assert year.plant[1:, 0] == pytest.approx((at * AREA / (FILMS + 0.2 * closed))[1:], rel=1e-9)


def test_a_blind_that_may_not_stays_open_however_warm() -> None:
    blind = Cover("blind", zone=0, allowed=0.0, above=24.0)
    year = march([held_zone(40.0)], [window()], COLD, covers=[blind])
    assert not year.closed.any()


def test_a_shutter_by_the_clock_is_closed_however_cold() -> None:
    shutter = Cover("shutter", zone=0, closed=1.0 - DAY, allowed=1.0, above=24.0)
    year = march([held_zone(10.0)], [window()], COLD, covers=[shutter])
    assert np.array_equal(year.closed[:, 0], 1.0 - DAY)
    warm = march([held_zone(30.0)], [window()], COLD, covers=[shutter])
    assert warm.closed[1:, 0].tolist() == [1.0] * (HOURS - 1)


def test_a_closed_blind_keeps_its_part_of_the_sun_out() -> None:
    """300 W/m2 of sun, of which 80 % count less when the blind is closed."""
    sun = 300.0 * DAY
    blind = Cover("blind", zone=0, closed=Drive(((0.5, DAY),)))
    passed = Drive(((1.0, sun),), ((0, -0.8, sun),))
    year = march([held_zone(20.0)], [window(passed)], COLD, covers=[blind])
    got_in = sun * (1.0 - 0.8 * 0.5)
    heat = AREA * (20.0 / FILMS - got_in * TO_ROOM)
    assert year.plant[1:, 0] == pytest.approx(heat[1:], rel=1e-9)


def test_the_cover_looks_at_its_own_zone() -> None:
    zones = [held_zone(20.0), held_zone(30.0, name="warm")]
    covers = [Cover("one", 0, allowed=1.0, above=24.0), Cover("other", 1, allowed=1.0, above=24.0)]
    elements = [window(), replace(wall(COLD, name="window 2", zone=1), cover=1)]
    year = march(zones, elements, COLD, covers=covers)
    assert not year.closed[1:, 0].any()
    assert year.closed[1:, 1].all()


def test_a_blind_by_temperature_keeps_a_sunny_room_cooler() -> None:
    sun = 500.0 * DAY
    passed = Drive(((1.0, sun),), ((0, -0.8, sun),))
    rooms = [
        march(
            [free_zone(capacity=1e6)],
            [window(passed)],
            COLD,
            covers=[Cover("blind", zone=0, allowed=allowed, above=24.0)],
        )
        for allowed in (0.0, 1.0)
    ]
    bare, shaded = rooms
    assert shaded.air.max() < bare.air.max() - 5.0
    assert shaded.air.max() > 24.0
    # closed from the hour after the room passed 24 on
    late = int(np.argmax(shaded.air[:, 0] > 24.0))
    assert not shaded.closed[:late].any()
    assert shaded.closed[late + 1, 0] == 1.0
