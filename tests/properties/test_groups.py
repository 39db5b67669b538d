"""How the elements of one design stand side by side must not show in its year."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from any_design import AnyDesign, any_design, any_weather
from box import FloatArray
from noonmark.balance.enclosure import Air, Year
from noonmark.balance.run import run_year

WEATHER = any_weather(12, mean=-2.0)
RUN_IN = 48
OF_ZONES = ("air", "star", "plant", "air_loss", "moved", "bodies", "stove", "slab", "humidity")


def marched(design: AnyDesign, air: Air = WEATHER.air) -> Year:
    return run_year(
        design.zones,
        design.elements,
        air,
        covers=design.covers,
        passages=design.passages,
        run_in_hours=RUN_IN,
    )


def close(got: FloatArray, wanted: FloatArray, name: str) -> None:
    scale = float(np.abs(wanted).max()) if np.size(wanted) else 0.0
    np.testing.assert_allclose(got, wanted, rtol=0.0, atol=1e-8 * scale + 1e-9, err_msg=name)


def dry(design: AnyDesign) -> tuple[AnyDesign, Air]:
    """Return a design without vapour: what condenses goes to one element of a zone."""
    zones = [replace(z, bodies=None, leaves=None, vapour_gain=0.0) for z in design.zones]
    return replace(design, zones=zones), replace(
        WEATHER.air, humidity=np.zeros_like(WEATHER.outdoor)
    )


@pytest.mark.parametrize("pieces", [2, 5])
@pytest.mark.parametrize("zones", [1, 2])
@pytest.mark.parametrize("seed", range(4))
def test_elements_cut_into_pieces_do_what_they_did(seed: int, zones: int, pieces: int) -> None:
    """Walls, windows with their covers and partitions: pieces fill more than one group."""
    whole, air = dry(any_design(seed, zones, WEATHER))
    count = len(whole.elements)
    parts = [replace(e, area=e.area / pieces) for _ in range(pieces) for e in whole.elements]
    wanted, got = marched(whole, air), marched(replace(whole, elements=parts), air)
    for name in OF_ZONES:
        close(getattr(got, name), getattr(wanted, name), name)
    for name in ("flow_inside", "flow_outside"):
        summed = getattr(got, name).reshape(-1, pieces, count).sum(axis=1)
        close(summed, getattr(wanted, name), name)
    for piece in np.split(got.surface, pieces, axis=1):
        close(piece, wanted.surface, "surface")


@pytest.mark.parametrize("zones", [1, 2])
@pytest.mark.parametrize("seed", range(8))
def test_the_order_of_elements_says_nothing(seed: int, zones: int) -> None:
    """With vapour, which looks for the coldest of them."""
    design = any_design(seed, zones, WEATHER)
    order = np.random.default_rng(seed).permutation(len(design.elements))
    wanted = marched(design)
    got = marched(replace(design, elements=[design.elements[place] for place in order]))
    for name in (*OF_ZONES, "latent", "condensed"):
        close(getattr(got, name), getattr(wanted, name), name)
    for name in ("flow_inside", "flow_outside", "surface"):
        close(getattr(got, name), getattr(wanted, name)[:, order], name)
