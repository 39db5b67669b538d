"""A pane made for a transmittance has it, by the closed form for one cover at right angles."""

from __future__ import annotations

import math

import pytest

from noonmark.glazing.optics import pane_with_transmittance


@pytest.mark.parametrize("wanted", [1e-12, 1e-9, 1e-4, 0.3, 0.834, 0.91])
def test_pane_has_the_transmittance_it_was_made_for(wanted: float) -> None:
    """Duffie & Beckman ch. 5: tau (1 - r)^2 / (1 - (r tau)^2), r of glass in air."""
    pane = pane_with_transmittance(wanted)
    r = ((1.526 - 1.0) / (1.526 + 1.0)) ** 2
    tau = math.exp(-pane.optical_depth)
    assert tau * (1.0 - r) ** 2 / (1.0 - (r * tau) ** 2) == pytest.approx(wanted, rel=1e-9)
