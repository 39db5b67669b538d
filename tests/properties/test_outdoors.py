"""Whatever stands in the sun of a house, it closes its balance, and no thing shines."""

from __future__ import annotations

import numpy as np
import pytest

from any_outdoors import any_outdoors
from designs import design
from noonmark.design.derived import wall_faces
from noonmark.design.model import Homestead
from noonmark.shading.plates import Opening
from noonmark.study.layout import positions
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.site import Site
from noonmark.study.year import building_year
from sample_house import golden

SEEDS = (1, 2, 3, 4, 5, 7)


def home(seed: int) -> Homestead:
    return design(any_outdoors(seed)).homestead


def walls(homestead: Homestead) -> list[Obstacles]:
    building = homestead.buildings["house"]
    return [obstacles_of(homestead, building, face) for face in wall_faces(building)]


@pytest.mark.parametrize("seed", SEEDS)
def test_energy_closes_with_things_in_the_sun(seed: int) -> None:
    homestead = home(seed)
    found, year = building_year(homestead, "house", Site(homestead.place, golden().weather))
    assert found.closure_error < 1e-9
    assert np.isfinite(year.air).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_things_take_light_and_give_none(seed: int) -> None:
    """Each window sees no more of sun, sky, horizon and ground than without them."""
    rng = np.random.default_rng(seed)
    sideways, rise = rng.normal(0.0, 2.0, 200), np.exp(rng.normal(-0.5, 1.0, 200))
    day = rng.integers(0, 365, 200)
    taken = 0.0
    for own, bare in zip(walls(home(seed)), walls(design().homestead), strict=True):
        for window, lefts in positions(own.face):
            tall = window.head - window.sill
            opening = Opening(lefts[0], window.width, window.sill, tall, window.reveal)
            lit = own.lit(sideways, rise, day, opening)
            without = bare.lit(sideways, rise, day, opening)
            assert (lit <= without + 1e-9).all()
            taken += float((without - lit).sum())
            view, whole = own.seen(opening), bare.seen(opening)
            for part in ("dome", "horizon", "ground"):
                assert np.max(getattr(view, part)) <= np.max(getattr(whole, part)) + 1e-9
    assert taken > 1.0
