"""Panes of one's own pass the sun that the catalogue's uncoated units pass."""

from __future__ import annotations

import pytest

from noonmark import catalog
from noonmark.design.model import GlazingUnit
from noonmark.study.constructions import glazing_of
from sample_house import sample


@pytest.mark.parametrize(
    ("name", "gaps"),
    [("single clear", []), ("double clear", [0.016]), ("triple clear", [0.012, 0.012])],
)
def test_clear_panes_of_four_millimetres(name: str, gaps: list[float]) -> None:
    unit = GlazingUnit(panes=len(gaps) + 1, gaps=gaps, pane_thickness=0.004)
    own = glazing_of(sample().model_copy(update={"glazing": {"own": unit}}), "own")
    row = catalog.find(catalog.ReadyGlazing, name)
    assert own.transmittance[0] == pytest.approx(row.transmittance, abs=0.011)
    assert own.shgc()[0] == pytest.approx(row.shgc, abs=0.02)
    assert own.u_value() == pytest.approx(row.u_value, abs=0.001)
