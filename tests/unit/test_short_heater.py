"""A heater that is too small is told of, one that suffices is not."""

from __future__ import annotations

from importlib.resources import files

import pytest

from noonmark.design.file import parse_design
from noonmark.errors import Sentence
from noonmark.study import run_year

SAMPLE = files("noonmark.design").joinpath("data/larkspur.toml").read_text("utf-8")


def short_heaters(*changes: str) -> list[Sentence]:
    homestead = parse_design(SAMPLE, changes=changes).homestead
    cautions = run_year(homestead).result.cautions
    return [item for item in cautions if item.key == "caution.short_heater"]


def test_a_heater_of_a_candle_or_five_falls_behind() -> None:
    (caution,) = short_heaters("house.heating.capacity=400 W")
    assert caution.values["building"] == "house"
    hours = caution.values["hours"]
    assert isinstance(hours, int)
    assert 50 < hours < 4000


@pytest.mark.parametrize("capacity", ["6 kW", "0 W"])
def test_a_heater_that_holds_and_one_that_is_off_are_not_told_of(capacity: str) -> None:
    assert short_heaters(f"house.heating.capacity={capacity}") == []
