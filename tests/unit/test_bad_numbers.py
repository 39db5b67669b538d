"""A number that is none never reaches a result: the part that it would spoil is named."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from designs import put, refused, sample_text, together
from noonmark.climate.year import OPTIONAL, REQUIRED
from noonmark.envelope.layers import Layer, resistance_layer
from noonmark.envelope.modes import massless_element, wall_modes
from noonmark.errors import InputError, PhysicsError
from noonmark.study.site import Site
from noonmark.study.year import building_year
from sample_house import golden, sample, with_layer


def with_gap(column: str) -> Site:
    """Return the sample's place with one hour of its weather missing."""
    values = getattr(golden().weather, column).copy()
    values[4000] = np.nan
    return Site(golden().place, replace(golden().weather, **{column: values}))


@pytest.mark.parametrize("column", [name for name in REQUIRED if name != "wind_direction"])
def test_gap_in_the_weather_names_the_first_part_it_spoils(column: str) -> None:
    with pytest.raises(InputError) as caught:
        building_year(sample(), "house", with_gap(column))
    (problem,) = caught.value.problems
    assert problem.code == "balance.not_finite"
    assert problem.path == "house.wall S"
    assert problem.values["quantity"] in {"outside_film", "outside_drive", "leak_wind"}


@pytest.mark.parametrize("column", OPTIONAL)
def test_gap_in_what_may_be_missing_is_filled(column: str) -> None:
    tree, year = building_year(sample(), "house", with_gap(column))
    assert np.isfinite(year.air).all()
    assert tree.closure_error < 1e-9


@pytest.mark.parametrize("conductance", [0.0, -1.0, math.inf, math.nan])
def test_conductance_that_can_not_be_is_refused(conductance: float) -> None:
    with pytest.raises(PhysicsError) as caught:
        massless_element(conductance)
    assert caught.value.problems[0].code == "envelope.no_conductance"


def test_layers_that_resist_nothing_are_refused() -> None:
    with pytest.raises(PhysicsError) as caught:
        wall_modes([Layer(0.0, 1.0, 1000.0, 1000.0)])
    assert caught.value.problems[0].code == "envelope.no_resistance"


def test_construction_without_mass_only_conducts() -> None:
    modes = wall_modes([resistance_layer(2.0), resistance_layer(3.0)])
    assert not modes.stores_heat
    assert modes.conductance[0, 0] == pytest.approx(0.2)
    light = with_layer("wall", 1, material=None, thickness=None, resistance=4.0, studs=None)
    tree, year = building_year(light, "house", golden())
    assert np.isfinite(year.air).all()
    assert tree.closure_error < 1e-9


@pytest.mark.parametrize(
    ("path", "value", "code"),
    [
        ("house.zone.rooms.length", 0, "design.not_above"),
        ("house.zone.rooms.width", "0 m", "design.not_above"),
        ("house.zone.rooms.length", "inf m", "units.unreadable"),
        ("house.zone.rooms.height", float("nan"), "units.unreadable"),
        ("house.zone.rooms.furniture", float("inf"), "design.wrong_type"),
    ],
)
def test_zone_without_a_floor_is_refused(path: str, value: object, code: str) -> None:
    (problem,) = refused(sample_text(put(path, value)))
    assert (problem.code, problem.path) == (code, path)


def test_wall_of_no_thickness_is_refused() -> None:
    layers = put("construction.wall.layers", [{"material": "osb", "thickness": 0}])
    (problem,) = refused(sample_text(together(layers)))
    assert problem.code == "design.not_above"
