"""The slab on the ground: edges, the year's wave and what the march is fed, by hand."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

import numpy as np
import pytest

from noonmark.balance.drive import hourly_values
from noonmark.climate.year import HOURS, MONTH_OF_HOUR
from noonmark.envelope.ground import (
    EdgeInsulation,
    Soil,
    edge_linear_transmittance,
    equivalent_thickness,
    monthly_virtual_temperature,
    periodic_conductance,
)
from noonmark.study.slab import floor_parts
from sample_house import golden, house, sample

pytestmark = pytest.mark.validation

Record = Callable[..., None]
ISO_13370 = "EN ISO 13370 equations (from memory), by hand"
SAND = Soil(2.0, 2e6)
THICKNESS = 5.72
"""0.3 m of wall + 2.0 x (0.17 + 2.5 + 0.04) [m]."""


def strip(placing: Literal["horizontal", "vertical"]) -> EdgeInsulation:
    """0.1 m of 0.034 W/mK: adds 2.0 x (2.9412 - 0.05) = 5.7824 m of ground."""
    return EdgeInsulation(placing, extent=1.2, thickness=0.1, conductivity=0.034)


@pytest.mark.parametrize(
    ("name", "expected", "got", "tol"),
    [
        ("depth.sand", 3.168, SAND.periodic_depth, 0.001),
        ("depth.clay", 2.24, Soil(1.5, 3e6).periodic_depth, 0.01),
        ("thickness", THICKNESS, equivalent_thickness(0.3, 2.5, SAND), 1e-9),
        # -2 / pi (ln(1.2 / 5.72 + 1) - ln(1.2 / 11.5024 + 1)); standing, it reaches twice as far
        (
            "edge.horizontal",
            -0.05807,
            edge_linear_transmittance(strip("horizontal"), THICKNESS, SAND),
            1e-5,
        ),
        (
            "edge.vertical",
            -0.10240,
            edge_linear_transmittance(strip("vertical"), THICKNESS, SAND),
            1e-5,
        ),
    ],
)
def test_slab_edges(record: Record, name: str, expected: float, got: float, tol: float) -> None:
    record(
        f"ISO13370_edge.{name}",
        "envelope and glazing",
        ISO_13370,
        "computed",
        expected=expected,
        got=got,
        tol=tol,
    )


@pytest.mark.parametrize(
    ("name", "edge", "expected"),
    [
        # 0.37 x 2.0 x ln(3.1683 / 5.72 + 1)
        ("plain", None, 0.32617),
        # exp(-1.2 / 3.1683) = 0.68471 of that and the rest of ln(3.1683 / 11.5024 + 1)
        ("horizontal", strip("horizontal"), 0.28010),
        ("vertical", strip("vertical"), 0.24855),
    ],
)
def test_how_the_outdoor_year_reaches_the_slab(
    record: Record, name: str, edge: EdgeInsulation | None, expected: float
) -> None:
    record(
        f"ISO13370_periodic.{name}",
        "envelope and glazing",
        ISO_13370,
        "computed",
        expected=41.0 * expected,
        got=periodic_conductance(perimeter=41.0, total=THICKNESS, soil=SAND, edge=edge),
        tol=0.001,
    )


@pytest.mark.parametrize(("coldest", "low", "high"), [(0.5, 1, 7), (6.5, 7, 1)])
def test_virtual_temperature_by_the_month(coldest: float, low: int, high: int) -> None:
    # a month after the coldest a room at 20 C loses 20 W/K x 10 K + 13 W/K x 12 K, half a year
    # later 200 - 156
    months = monthly_virtual_temperature(
        heat_flow_conductance=20.0,
        outdoor_conductance=13.0,
        outdoor_mean=10.0,
        outdoor_amplitude=12.0,
        coldest_month=coldest,
    )
    assert months[low] == pytest.approx(20.0 - 356.0 / 20.0)
    assert months[high] == pytest.approx(20.0 - 44.0 / 20.0)
    assert months.mean() == pytest.approx(10.0)
    assert months.argmin() == low
    assert months.argmax() == high


def test_slab_of_the_sample_by_hand() -> None:
    # wall 0.2842 m, slab 0.1016 / 2.0 + 0.1016 / 0.036 = 2.8730 m2K/W: 6.4502 m of sand, more
    # than 200 / 41 = 4.878 m: U = 2.0 / (0.457 x 4.878 + 6.4502) = 0.23043 W/m2K;
    # 1.2192 m of xps standing at the edge takes 0.08924 x 41 / 100 off: 0.19384
    bare, carpeted = floor_parts(sample(), house(), golden(), house().zone["rooms"], 0)
    film = hourly_values(bare.element.outside_film, HOURS)
    below = 1.0 / film[0]
    assert 1.0 / (0.17 + 2.8730 + 0.25 + below) == pytest.approx(0.19384, abs=2e-5)
    assert (bare.element.area, carpeted.element.area) == pytest.approx((90.0, 10.0))
    # in the mean of the year the flow is that of the steady U between 20 C and outdoors
    ground = hourly_values(bare.element.outside_drive, HOURS) / film
    months = np.array([ground[month == MONTH_OF_HOUR].mean() for month in range(12)])
    assert months.mean() == pytest.approx(golden().weather.temp_air.mean(), abs=1e-6)
    # Golden is coldest about New Year, the ground a month later
    assert months.argmin() in (0, 1)
    assert months.argmax() in (6, 7)
