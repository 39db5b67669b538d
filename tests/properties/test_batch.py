"""A design in a batch gives what it gives alone, whatever stands beside it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from any_design import any_design, any_weather
from full_box import full_box, rooms_in_a_row, varied
from noonmark.balance.block import AREA, BYPASS_ABOVE, VENT_ABOVE, Numbers
from noonmark.balance.drive import Drive, as_drive
from noonmark.balance.enclosure import Year
from noonmark.balance.packing import Packed, pack
from noonmark.balance.run import BatchYear, march_packed, run_batch, spread

DAYS = 12
RUN_IN = 48
LIMIT = 24.0
WEATHER = any_weather(DAYS, mean=-6.0)


@cache
def alone(seed: int, zones: int) -> Year:
    return march_packed(packed(seed, zones), run_in_hours=RUN_IN)


def packed(seed: int, zones: int) -> Packed:
    design = any_design(seed, zones, WEATHER)
    return pack(design.zones, design.elements, WEATHER.air, design.covers, design.passages)


def batch_of(count: int, zones: int) -> Packed:
    """Return one design `count` times with the numbers of each replaced by its own."""
    batch = spread(packed(0, zones), count)
    each = [packed(seed, zones).numbers for seed in range(count)]
    numbers = Numbers(*(np.stack(arrays, axis=-1) for arrays in zip(*each, strict=True)))
    return replace(batch, numbers=numbers)


def summed(year: Year) -> BatchYear:
    heat, cool = np.maximum(year.plant, 0.0), np.maximum(-year.plant, 0.0)
    return BatchYear(
        heating_kwh=heat.sum(axis=0) / 1e3,
        cooling_kwh=cool.sum(axis=0) / 1e3,
        peak_heating_w=heat.max(axis=0),
        peak_cooling_w=cool.max(axis=0),
        temp_min_c=year.operative.min(axis=0),
        temp_max_c=year.operative.max(axis=0),
        hours_above=(year.operative > LIMIT).sum(axis=0).astype(float),
    )


@pytest.mark.parametrize("workers", [1, 2])
@pytest.mark.parametrize("count", [1, 7, 8, 9, 33])
@pytest.mark.parametrize("zones", [1, 2])
def test_a_design_in_a_batch_gives_what_it_gives_alone(
    zones: int, count: int, workers: int
) -> None:
    together = run_batch(batch_of(count, zones), limit=LIMIT, workers=workers, run_in_hours=RUN_IN)
    for place in range(count):
        same(together, place, alone(place, zones))


def same(batch: BatchYear, place: int, year: Year) -> None:
    own = summed(year)
    for name, values in batch._asdict().items():
        np.testing.assert_allclose(
            values[:, place], getattr(own, name), rtol=1e-9, atol=1e-9, err_msg=name
        )


@pytest.mark.parametrize("rooms", [1, 2])
def test_the_box_with_everything_on(rooms: int) -> None:
    """A whole year in the sample's weather, numbers of every kind varied."""
    batch = varied(spread(full_box() if rooms == 1 else rooms_in_a_row(rooms), 9))
    # off the tenths of the weather: whether 27.0 is warmer than 27.0 is for rounding to say
    batch.numbers.steady[batch.numbers.steady == 27.0] = 27.03
    batch.numbers.zone[:, [VENT_ABOVE, BYPASS_ABOVE]] += 0.03
    together = run_batch(batch, limit=LIMIT, workers=2, run_in_hours=RUN_IN)
    for place in range(9):
        own = Numbers(*(np.ascontiguousarray(array[..., place]) for array in batch.numbers))
        same(together, place, march_packed(replace(batch, numbers=own), run_in_hours=RUN_IN))


@pytest.mark.parametrize("zones", [1, 2])
def test_the_designs_use_everything_they_have(zones: int) -> None:
    """Or the test above would say nothing: each part is at work in some design."""
    years = [alone(seed, zones) for seed in range(33)]
    for name in ("bodies", "stove", "slab", "latent", "condensed", "closed"):
        assert any(np.ptp(getattr(year, name)) > 0.0 for year in years), name
    assert any((year.plant > 0.0).any() for year in years)
    assert any((year.plant < 0.0).any() for year in years)
    if zones == 2:
        assert all(np.ptp(year.moved) > 0.0 for year in years)
    assert len({float(year.air.sum()) for year in years}) == 33


def test_numbers_of_a_batch_are_found_by_name() -> None:
    """Walls of three areas and people of three kinds, each as the design made that way alone."""
    design, factors = any_design(4, 1, WEATHER), np.array([0.7, 1.0, 1.6])
    batch = spread(packed(4, 1), factors.size)
    batch.numbers.element[batch.place(1), AREA] *= factors
    places = batch.terms(design.zones[0].name, "gain_air")
    assert places
    batch.numbers.coefficient[places] *= factors
    found = run_batch(batch, limit=LIMIT, run_in_hours=RUN_IN)
    for lane, factor in enumerate(factors):
        gain = Drive(tuple((factor * n, a) for n, a in as_drive(design.zones[0].gain_air).terms))
        zones = [replace(design.zones[0], gain_air=gain)]
        elements = list(design.elements)
        elements[1] = replace(elements[1], area=factor * elements[1].area)
        made = pack(zones, elements, WEATHER.air, design.covers, design.passages)
        wanted = summed(march_packed(made, run_in_hours=RUN_IN))
        for name, values in found._asdict().items():
            np.testing.assert_allclose(
                values[:, lane], getattr(wanted, name), rtol=1e-9, atol=1e-6, err_msg=name
            )
