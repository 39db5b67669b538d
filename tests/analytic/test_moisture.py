"""The water in the air: what people give off goes out with all air that leaves."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from box import AIR_HEAT, make_slab, make_zone, run
from noonmark.balance.enclosure import Zone
from noonmark.envelope.layers import resistance_layer
from noonmark.study.year import building_year
from sample_house import golden, house, sample, with_house

HOURS = 48
OUTDOOR_HUMIDITY = 0.005
"""Dry enough for nothing to condense at 30 degC [kg/kg]."""

GAIN = 2e-4
AIR_MASS = 100.0


def humidity_of(zone: Zone) -> np.ndarray:
    warm = np.full(HOURS, 30.0)
    slab = make_slab("wall", 20.0, [resistance_layer(1.0)], warm, film=25.0)
    year = run([zone], [slab], warm, humidity=OUTDOOR_HUMIDITY, run_in_hours=24 * 20)
    return year.humidity[:, 0]


def test_steady_humidity_by_hand() -> None:
    # 0.02 kg/s of air carry away 0.2 g/s with 10 g/kg more than they brought
    zone = make_zone(HOURS, supply=0.02 * AIR_HEAT, vapour_gain=GAIN)
    assert humidity_of(zone)[-1] == pytest.approx(OUTDOOR_HUMIDITY + GAIN / 0.02, rel=1e-9)


def test_recovered_heat_keeps_no_water_back() -> None:
    plain = make_zone(HOURS, supply=0.02 * AIR_HEAT, vapour_gain=GAIN)
    recovers = replace(plain, recovery=0.8)
    np.testing.assert_allclose(humidity_of(recovers), humidity_of(plain), rtol=1e-9)


def test_humidity_settles_as_fast_as_the_air_is_changed() -> None:
    # steps of an hour, each as the implicit rule has it
    vapour = np.where(np.arange(HOURS) < 24, 0.0, GAIN)
    zone = make_zone(HOURS, supply=0.02 * AIR_HEAT, vapour_gain=vapour)
    rises = humidity_of(zone)[24:] - OUTDOOR_HUMIDITY
    kept = 1.0 / (1.0 + 0.02 * 3600.0 / AIR_MASS)
    assert rises == pytest.approx(GAIN / 0.02 * (1.0 - kept ** np.arange(1, 25)), rel=1e-5)


def test_a_house_with_recovery_is_as_dry_as_one_without() -> None:
    """Tight, so that windows and cracks change little; only ventilation carries water."""
    years = [
        building_year(
            with_house(
                sample(), air=house().air.model_copy(update={"recovery": share, "leakage": 0.0})
            ),
            "house",
            golden(),
        )[0]
        for share in (0.0, 0.8)
    ]
    plain, recovers = (year.zones[0].humidity_winter_mean for year in years)
    assert recovers == pytest.approx(plain, rel=0.1)
