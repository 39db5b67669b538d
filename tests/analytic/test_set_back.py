"""A heater after a set-back, and a cooler, end on their set-point with the power that takes."""

from __future__ import annotations

import numpy as np
import pytest

from box import AIR_CAPACITY, INFILTRATION, box_slabs, make_slab, make_zone, run
from noonmark.envelope.layers import resistance_layer

HOURS = 48
FURNITURE = 48.0 * 10_000.0
DAYTIME = (np.arange(HOURS) % 24 >= 7) & (np.arange(HOURS) % 24 < 23)


@pytest.mark.parametrize("steps", [1, 2, 4])
@pytest.mark.parametrize("furniture", [0.0, FURNITURE])
@pytest.mark.parametrize("heavy", [False, True])
def test_recovery_does_not_shoot_past_the_set_point(
    steps: int, furniture: float, heavy: bool
) -> None:
    outdoor = np.zeros(HOURS)
    zone = make_zone(
        HOURS,
        capacity=AIR_CAPACITY + furniture,
        supply=INFILTRATION,
        heat_set=np.where(DAYTIME, 20.0, 10.0),
    )
    year = run(
        [zone], box_slabs(outdoor, heavy=heavy), outdoor, run_in_hours=24, steps_per_hour=steps
    )
    heated = year.plant[:, 0] > 0.0
    assert heated[7]
    assert np.all(year.air[heated, 0] <= 20.0 + 1e-6)
    assert np.all(year.plant >= 0.0)
    assert np.all(year.plant[~heated] == 0.0)


def alone(capacity: float, *, set_point: float, outdoor: float) -> tuple[float, float]:
    """Return the first hour's power and the loss afterwards of a zone that only stores."""
    air = np.full(HOURS, outdoor)
    nearly_nothing = make_slab("wall", 1.0, [resistance_layer(1e9)], air)
    zone = make_zone(
        HOURS,
        capacity=capacity,
        supply=1e-6,
        heat_set=set_point if set_point > outdoor else -np.inf,
        cool_set=set_point if set_point < outdoor else np.inf,
    )
    year = run([zone], [nearly_nothing], air)
    return float(year.plant[0, 0]), float(np.abs(year.plant[1:]).max())


@pytest.mark.parametrize(("outdoor", "set_point"), [(0.0, 25.0), (60.0, 26.0)])
def test_first_hour_brings_what_the_air_stores(outdoor: float, set_point: float) -> None:
    # the march starts half-way between outdoors and 20 degC
    capacity = 1e6
    wanted = capacity * (set_point - 0.5 * (20.0 + outdoor)) / 3600.0
    first, later = alone(capacity, set_point=set_point, outdoor=outdoor)
    assert first == pytest.approx(wanted, rel=1e-6)
    assert later < 0.01 * abs(wanted)


def test_capacity_bounds_the_mean_of_the_hour() -> None:
    outdoor = np.zeros(HOURS)
    zone = make_zone(
        HOURS,
        capacity=AIR_CAPACITY + FURNITURE,
        supply=INFILTRATION,
        heat_set=np.where(DAYTIME, 20.0, 10.0),
        heat_most=2500.0,
    )
    year = run([zone], box_slabs(outdoor, heavy=True), outdoor, run_in_hours=24)
    assert year.plant.max() == pytest.approx(2500.0)
    assert np.all(year.air[year.plant[:, 0] > 0.0, 0] <= 20.0 + 1e-6)
