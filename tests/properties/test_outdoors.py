"""Whatever stands in the sun of a house, it closes its balance and only takes sun away."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from any_outdoors import any_outdoors
from designs import design
from noonmark.design.model import Homestead
from noonmark.study.assemble import assemble
from noonmark.study.site import Site
from noonmark.study.year import building_year
from sample_house import golden

SEEDS = range(6)


def home(seed: int) -> Homestead:
    return design(any_outdoors(seed)).homestead


def site_of(homestead: Homestead) -> Site:
    return Site(homestead.place, golden().weather)


@cache
def bare() -> dict[str, np.ndarray]:
    homestead = design().homestead
    return assemble(homestead, homestead.buildings["house"], site_of(homestead)).by_side[0]


@pytest.mark.parametrize("seed", SEEDS)
def test_energy_closes_with_things_in_the_sun(seed: int) -> None:
    homestead = home(seed)
    found, year = building_year(homestead, "house", site_of(homestead))
    assert found.closure_error < 1e-9
    assert np.isfinite(year.air).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_that_stands_in_the_sun_adds_to_it(seed: int) -> None:
    """Things before a wall take beam and sky; none of them shines."""
    homestead = home(seed)
    ready = assemble(homestead, homestead.buildings["house"], site_of(homestead))
    taken = 0.0
    for side, whole in bare().items():
        assert (ready.by_side[0][side] <= whole + 1e-6).all()
        taken += float((whole - ready.by_side[0][side]).sum())
    assert taken > 0.0
