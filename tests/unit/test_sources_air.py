"""Leakage by hand, and who warms the house."""

from __future__ import annotations

import numpy as np
import pytest

from noonmark.air.leakage import Shelter, effective_leakage_area, leakage
from noonmark.sources.people import (
    SENSIBLE_PER_PERSON,
    VAPOUR_PER_HOUSEHOLD_PERSON,
    VAPOUR_PER_PERSON,
    household_gain,
)


def test_leakage_area_by_hand() -> None:
    # 3.6 changes of 250 m3 at 50 Pa are 0.25 m3/s; at 4 Pa (4/50)^0.65 = 0.193646 of it;
    # sqrt(1.2 / 8) = 0.387298
    got = effective_leakage_area(3.6, 250.0, 1.2)
    assert got == pytest.approx(0.25 * 0.193646 * 0.387298, rel=1e-5)
    # the orifice it stands for passes that flow at 4 Pa: v = sqrt(2 dp / rho)
    assert got * np.sqrt(2.0 * 4.0 / 1.2) == pytest.approx(0.25 * 0.193646, rel=1e-5)


@pytest.mark.parametrize(
    ("storeys", "shelter", "stack", "wind"),
    [
        (1, "moderate", 0.000145, 0.000174),
        (2, "light", 0.000290, 0.000325),
        (3, "open", 0.000435, 0.000494),
        (1, "complete", 0.000145, 0.000032),
    ],
)
def test_leakage_of_a_house_by_hand(
    storeys: int, shelter: Shelter, stack: float, wind: float
) -> None:
    got = leakage(air_changes_50=3.6, volume=250.0, density=1.2, storeys=storeys, shelter=shelter)
    assert got.scale == pytest.approx(1e4 * 0.0187497 / 1000.0, rel=1e-4)
    assert got.stack == pytest.approx(stack)
    assert got.wind == pytest.approx(wind)


def test_leakage_at_twenty_five_kelvin_and_four_metres_a_second() -> None:
    got = leakage(air_changes_50=3.6, volume=250.0, density=1.2, storeys=1, shelter="moderate")
    flow = got.scale * np.sqrt(got.stack * 25.0 + got.wind * 16.0)
    # 187.497 cm2 / 1000 x sqrt(0.003625 + 0.002784)
    assert flow == pytest.approx(0.0150103, rel=1e-4)


def test_nobody_and_nothing_gives_nothing() -> None:
    gain = household_gain(people=0.0, appliances=0.0)
    assert not gain.air.any()
    assert not gain.surfaces.any()
    assert not gain.vapour.any()


def test_appliances_keep_their_mean_power() -> None:
    gain = household_gain(people=0.0, appliances=250.0)
    power = gain.air + gain.surfaces
    assert power.shape == (8760,)
    assert power.mean() == pytest.approx(250.0)
    assert gain.air == pytest.approx(gain.surfaces)
    assert power[18] > 2.0 * power[3]
    assert not gain.vapour.any()


def test_people_by_hand() -> None:
    gain = household_gain(people=2.0, appliances=0.0, days=1)
    whole = gain.air + gain.surfaces
    assert whole[3] == pytest.approx(2.0 * SENSIBLE_PER_PERSON)
    assert whole[12] == pytest.approx(SENSIBLE_PER_PERSON)
    assert whole[8] == pytest.approx(SENSIBLE_PER_PERSON)  # gone from eight
    assert whole[17] == pytest.approx(2.0 * SENSIBLE_PER_PERSON)  # back from seventeen
    assert whole.sum() == pytest.approx((15.0 + 0.5 * 9.0) * 2.0 * SENSIBLE_PER_PERSON)
    assert gain.air == pytest.approx(0.4 * whole)
    at_home = 2.0 * (VAPOUR_PER_PERSON + VAPOUR_PER_HOUSEHOLD_PERSON)
    assert gain.vapour[0] == pytest.approx(at_home)
    assert 3600.0 * gain.vapour.sum() == pytest.approx(2.0 * (0.050 * 19.5 + 1.5))
