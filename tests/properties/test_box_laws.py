"""Laws of a heated box: more insulation, higher set-points, more film, and east against west."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from any_design import AnyDesign, any_design, any_weather
from box import LAYERS, FloatArray
from calorimeter import march
from noonmark.balance.enclosure import Air, Element, Opened, Year, Zone
from noonmark.balance.run import run_year
from noonmark.envelope.layers import Layer
from noonmark.envelope.modes import wall_modes

WEATHER = any_weather(10, mean=-4.0)
"""Cold: no surface outside comes near a set-point, so that every law must hold."""

HEATED = Zone("room", 5e5, 100.0, supply=10.0, heat_set=20.0)


def heat(elements: list[Element], zone: Zone = HEATED) -> float:
    return float(march([zone], elements, WEATHER.outdoor, run_in_hours=48).plant.sum())


def shell(insulation: float, film: float = 20.0, absorbed: float = 0.0) -> list[Element]:
    """Return a wall and a roof whose insulation is so thick [m]."""
    made = []
    for name, area in (("heavy_wall", 80.0), ("light_wall", 60.0)):
        inner, between, outer = LAYERS[name]
        layers = [inner, replace(between, thickness=insulation), outer]
        drive = film * WEATHER.outdoor + absorbed * WEATHER.sun
        made.append(
            Element(name, area, wall_modes(layers), 0, (2.5, 0.0), (5.0, 0.0), film, drive, 0.0)
        )
    return made


@settings(max_examples=15, deadline=None)
@given(
    insulation=st.floats(0.02, 0.4),
    more=st.floats(1.02, 2.0),
    gain=st.floats(0.0, 3000.0),
    absorbed=st.floats(0.0, 0.1),
)
def test_more_insulation_never_costs_heat_in_a_heated_box(
    insulation: float, more: float, gain: float, absorbed: float
) -> None:
    zone = replace(HEATED, gain_air=gain)
    thin = heat(shell(insulation, absorbed=absorbed), zone)
    thick = heat(shell(insulation * more, absorbed=absorbed), zone)
    assert thick <= thin * (1.0 + 1e-9)
    if thin > 1e3:
        assert thick < thin


@pytest.mark.parametrize(
    "changes",
    [
        {"heat_set": 21.0},
        {"supply": 12.0},
        {"leak_scale": 1.0, "leak_stack": 1.0},
        {"gain_air": -50.0},
        {"gain_star": -50.0},
    ],
)
def test_what_always_costs_heat(changes: dict[str, float]) -> None:
    plain = heat(shell(0.1))
    assert heat(shell(0.1), replace(HEATED, **changes)) > plain  # type: ignore[arg-type]


@pytest.mark.parametrize("absorbed", [0.02, 0.5])
def test_sun_on_the_siding_never_costs_heat(absorbed: float) -> None:
    assert heat(shell(0.1, absorbed=absorbed)) < heat(shell(0.1))


def test_windows_opened_by_heat_never_cost_any() -> None:
    sunny = replace(HEATED, gain_air=np.where(WEATHER.hour % 24 > 12, 4000.0, 0.0))
    vented = replace(sunny, opened=Opened(above=24.0, base=200.0))
    plain, open_ = (
        march([zone], shell(0.1), WEATHER.outdoor, run_in_hours=48) for zone in (sunny, vented)
    )
    assert np.all(open_.air <= plain.air + 1e-9)
    assert plain.air.max() > open_.air.max() + 1.0


def year_of(design: AnyDesign, air: Air) -> Year:
    return run_year(
        design.zones,
        design.elements,
        air,
        covers=design.covers,
        passages=design.passages,
        run_in_hours=48,
    )


@pytest.mark.parametrize("seed", range(6))
def test_zones_told_in_the_other_order_fare_alike(seed: int) -> None:
    """East room first or west room first: every number of every hour, but for its place."""
    own = any_design(seed, 2, WEATHER)
    turned = AnyDesign(
        own.zones[::-1],
        [turned_round(element) for element in own.elements][::-1],
        [replace(cover, zone=1 - cover.zone) for cover in own.covers],
        [replace(p, zone_from=1 - p.zone_from, zone_to=1 - p.zone_to) for p in own.passages],
    )
    one, other = year_of(own, WEATHER.air), year_of(turned, WEATHER.air)
    for name in ("air", "star", "plant", "humidity", "stove", "bodies", "slab", "moved"):
        np.testing.assert_allclose(
            getattr(one, name), getattr(other, name)[:, ::-1], rtol=1e-7, atol=1e-7, err_msg=name
        )
    np.testing.assert_allclose(one.flow_inside, other.flow_inside[:, ::-1], rtol=1e-7, atol=1e-6)


def turned_round(element: Element) -> Element:
    outer = element.zone_outside
    return replace(
        element,
        zone_inside=1 - element.zone_inside,
        zone_outside=outer if outer < 0 else 1 - outer,
    )


@pytest.mark.parametrize("seed", range(6))
def test_a_partition_seen_from_its_other_side_is_the_same(seed: int) -> None:
    own = any_design(seed, 2, WEATHER)
    *others, partition = own.elements
    turned = replace(
        partition,
        modes=wall_modes(LAYERS["common_wall"][::-1]),
        zone_inside=1,
        zone_outside=0,
        convection=partition.convection[::-1],
        radiation=partition.radiation[::-1],
        outside_drive=partition.inside_source,
        inside_source=partition.outside_drive,
    )
    one = year_of(own, WEATHER.air)
    other = year_of(replace(own, elements=[*others, turned]), WEATHER.air)
    np.testing.assert_allclose(one.plant, other.plant, rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(one.flow_inside[:, -1], other.flow_outside[:, -1], atol=1e-6)


def mirrored(values: FloatArray) -> FloatArray:
    return values[::-1]


def test_east_in_the_morning_is_west_in_the_evening() -> None:
    """Steady boxes without mass: a day and its mirror, window by window, end with equal sums.

    Without anything that stores, each hour stands alone, and the mirrored day's hours are the
    day's hours in reverse.
    """
    hours = np.arange(24.0)
    outdoor = -2.0 + 3.0 * np.cos(2.0 * np.pi * (hours - 11.5) / 24.0)  # even about noon
    east = 400.0 * np.maximum(np.sin(2.0 * np.pi * (hours - 5.5) / 14.0), 0.0) * (hours < 12)
    zone = Zone("room", 1e-3, 1e-3, heat_set=20.0, cool_set=24.0, supply=5.0)
    years = []
    for sun in (east, mirrored(east)):
        layers = [Layer(0.1, 0.04, 1e-9, 1e-9)]
        window = Element(
            "window", 6.0, wall_modes(layers), 0, (2.5, 0.0), (5.0, 0.0), 20.0,
            20.0 * outdoor, sun,
        )  # fmt: skip
        years.append(march([zone], [window], outdoor, run_in_hours=24))
    np.testing.assert_allclose(mirrored(years[0].plant), years[1].plant, rtol=1e-6, atol=1e-5)
    assert np.ptp(years[0].plant) > 100.0
