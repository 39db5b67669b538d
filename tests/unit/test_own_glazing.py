"""Glazing units of one's own in a design: plain panes, or a maker's values."""

from __future__ import annotations

from importlib.resources import files

import pytest

from noonmark import catalog
from noonmark.design.file import parse_design
from noonmark.design.model import Homestead
from noonmark.errors import InputError
from noonmark.study.constructions import glazing_of

SAMPLE = files("noonmark.design").joinpath("data/larkspur.toml").read_text("utf-8")


def with_glazing(table: str) -> Homestead:
    text = SAMPLE.replace("[construction.wall]", f"[glazing.mine]\n{table}\n\n[construction.wall]")
    return parse_design(text).homestead


def test_plain_panes_get_their_u_value_from_the_gap() -> None:
    # EN ISO 10077-1 table C.2: 4-16-4 mm, air, uncoated, 2.7 W/m2K
    unit = glazing_of(with_glazing('panes = 2\ngaps = ["16 mm"]'), "mine")
    assert unit.u_value() == pytest.approx(2.7, abs=0.05)


def test_low_iron_panes_let_more_sun_in_and_no_more_heat_out() -> None:
    plain, low_iron = (
        glazing_of(with_glazing(f'panes = 2\ngaps = ["16 mm"]\npane = "{pane}"'), "mine")
        for pane in ("clear 4 mm", "low-iron 4 mm")
    )
    assert low_iron.transmittance[0] > plain.transmittance[0] + 0.1
    assert low_iron.shgc()[0] > plain.shgc()[0] + 0.05
    assert low_iron.u_value() == plain.u_value()


def test_a_maker_s_values_come_back_at_right_angles() -> None:
    table = 'panes = 3\nu_value = "0.6 W/m2K"\nshgc = 0.53\ntransmittance = 0.45'
    unit = glazing_of(with_glazing(table), "mine")
    assert unit.u_value() == pytest.approx(0.6)
    assert unit.shgc()[0] == pytest.approx(0.53)
    assert unit.transmittance[0] == pytest.approx(0.45)


def test_an_unknown_pane_is_named_with_the_nearest() -> None:
    with pytest.raises(InputError) as caught:
        with_glazing('panes = 2\ngaps = ["16 mm"]\npane = "clear 5 mm"')
    (problem,) = caught.value.problems
    assert problem.code == "catalog.unknown"
    assert problem.path == "glazing.mine.pane"
    assert "clear 4 mm" in problem.values["near"]  # type: ignore[operator]


@pytest.mark.parametrize(
    ("name", "gaps"),
    [("single clear", []), ("double clear", ["16 mm"]), ("triple clear", ["12 mm", "12 mm"])],
)
def test_clear_panes_pass_what_the_catalogue_s_uncoated_units_pass(
    name: str, gaps: list[str]
) -> None:
    own = glazing_of(with_glazing(f"panes = {len(gaps) + 1}\ngaps = {gaps}"), "mine")
    row = catalog.find(catalog.ReadyGlazing, name)
    assert own.transmittance[0] == pytest.approx(row.transmittance, abs=0.011)
    assert own.shgc()[0] == pytest.approx(row.shgc, abs=0.02)
    assert own.u_value() == pytest.approx(row.u_value, abs=0.001)
