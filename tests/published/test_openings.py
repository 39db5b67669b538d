"""Air through windows and doorways, and wood in a stove, by hand from their published formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest

from noonmark.air.openings import doorway_flow, single_sided
from noonmark.sources.stove import WOOD_HEAT, burn_curve


@pytest.mark.parametrize(
    ("wind", "difference", "flow"),
    [
        (0.0, 0.0, 0.05),  # 1/2 sqrt(0.01): turbulence alone
        (3.0, 0.0, 0.5 * math.sqrt(0.019)),
        (0.0, 10.0, 0.5 * math.sqrt(0.0035 * 1.2 * 10.0 + 0.01)),
        (2.0, 5.0, 0.5 * math.sqrt(0.035)),  # 0.004 + 0.021 + 0.01
    ],
)
def test_windows_in_one_wall(wind: float, difference: float, flow: float) -> None:
    """de Gids & Phaff 1982, one square metre 1.2 m tall."""
    found = single_sided(1.0, 1.2)
    root = found.stack * difference + found.wind * wind**2 + found.still
    assert found.scale * math.sqrt(root) == pytest.approx(flow, rel=1e-4)


def test_doorway() -> None:
    """Brown & Solvason 1962: 0.9 m by 2 m at 4 K: 0.2 x 0.9 x 2.8284 x sqrt(9.81 x 4 / 293.15)."""
    assert doorway_flow(0.9, 2.0) * math.sqrt(4.0) == pytest.approx(0.18627, rel=1e-4)


def test_wood_with_fifteen_percent_water() -> None:
    """EN ISO 17225's way: (18.5 x 0.85 - 2.44 x 0.15) MJ/kg = 15.359 MJ/kg."""
    assert pytest.approx(15.359 / 3.6, rel=1e-4) == WOOD_HEAT


@pytest.mark.parametrize("hours", [1, 2, 5, 8, 24])
@pytest.mark.parametrize("lowest", [0.0, 200.0])
def test_a_charge_gives_its_heat_and_never_less_than_its_lowest(hours: int, lowest: float) -> None:
    curve = np.array(burn_curve(8000.0, hours=hours, lowest=lowest))
    assert curve.size == hours
    assert curve.sum() == pytest.approx(8000.0)
    assert curve.min() >= lowest


def test_a_charge_rises_burns_and_glows() -> None:
    """Twenty hours: mean of the shape 0.675, its first three hours 1/6, 3/6, 5/6 of the fire."""
    curve = np.array(burn_curve(20.0 * 675.0, hours=20))
    np.testing.assert_allclose(curve[:3], [1000 / 6, 3000 / 6, 5000 / 6])
    np.testing.assert_allclose(curve[3:10], 1000.0)
    np.testing.assert_allclose(curve[10:], 1000.0 * (0.95 - 0.1 * np.arange(10)))
