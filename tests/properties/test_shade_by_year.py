"""Shade chosen by the year: what is said is what the year gives, and nothing tried is better."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from designs import design
from noonmark.choose.yearly import _best_row, awning_by_year, eave_by_year
from noonmark.design.file import changed
from noonmark.errors import InputError
from noonmark.study import run_year
from noonmark.study.results.shade import EaveYearResult, Tried


@cache
def sample_eaves() -> EaveYearResult:
    return eave_by_year(design(), "living room")


def year_of(words: tuple[str, ...]) -> Tried:
    (building,) = run_year(changed(design(), words).homestead).result.buildings
    return Tried(building.heating_kwh, building.hours_above_26_c)


def cost(year: Tried) -> float:
    return year.heating_kwh + year.hours_above_26_c


def test_the_eave_that_is_chosen_costs_least_and_its_words_give_its_year() -> None:
    result = sample_eaves()
    (best,) = result.solutions
    assert len(result.tried) > 20
    assert all(cost(best.year) <= cost(item.year) for item in result.tried)
    again = year_of(best.set)
    assert again.heating_kwh == pytest.approx(best.year.heating_kwh, rel=1e-9)
    assert again.hours_above_26_c == best.year.hours_above_26_c


def test_a_deeper_or_lower_eave_costs_heat_and_spares_hours() -> None:
    years = {
        (round(item.projection_m, 3), item.soffit_above_head_m): item.year
        for item in sample_eaves().tried
    }
    for out, gap in years:
        deeper, lower = years.get((round(out + 0.2, 3), gap)), years.get((out, round(gap - 0.2, 1)))
        for more in (deeper, lower):
            if more is not None and out > 0.0:
                assert more.heating_kwh >= years[out, gap].heating_kwh - 1e-6
                assert more.hours_above_26_c <= years[out, gap].hours_above_26_c + 3.0


def test_the_compromise_adds_up_with_the_year_without_an_eave() -> None:
    result = sample_eaves()
    (best,) = result.solutions
    assert 0.0 < result.spring_kwh < best.year.heating_kwh - result.without.heating_kwh
    assert result.autumn_hours > 0.0
    assert result.autumn_hours < result.without.hours_above_26_c - best.year.hours_above_26_c + 1.0


def test_what_is_taken_down_spares_heat_that_a_fixed_eave_costs() -> None:
    result = sample_eaves()
    moved = result.movable
    assert moved is not None
    assert moved.year.heating_kwh < result.solutions[0].year.heating_kwh
    assert moved.year.hours_above_26_c < result.without.hours_above_26_c
    assert cost(moved.year) < cost(result.solutions[0].year)
    assert moved.put_up.month in (4, 5, 6)
    assert moved.take_down.month in (9, 10, 11)
    again = year_of(moved.set)
    assert again.heating_kwh == pytest.approx(moved.year.heating_kwh)
    assert again.hours_above_26_c == moved.year.hours_above_26_c


def test_hours_that_count_more_ask_for_more_shade() -> None:
    lenient, strict = (
        eave_by_year(design(), "living room", hour_counts=count) for count in (0.0, 20.0)
    )
    assert lenient.solutions[0].year.heating_kwh < strict.solutions[0].year.heating_kwh
    assert lenient.solutions[0].year.hours_above_26_c > strict.solutions[0].year.hours_above_26_c
    assert lenient.movable is None or lenient.movable.year.heating_kwh <= (
        lenient.movable.without.heating_kwh + 1e-9
    )


def test_cloth_that_takes_nothing_is_never_put_up() -> None:
    with pytest.raises(InputError) as caught:
        awning_by_year(design(), "west", {"projection": "1 m", "passes": "1"})
    assert caught.value.problems[0].code == "awning.never"


@given(st.lists(st.integers(-5, 5), min_size=3, max_size=40))
def test_best_row_of_days_round_the_year(gains: list[int]) -> None:
    found = _best_row(np.array(gains, float))
    count = len(gains)
    sums = {
        (first, first + length): sum(gains[(first + i) % count] for i in range(length + 1))
        for first in range(count)
        for length in range(count)
    }
    best = max(sums.values())
    if best <= 0:
        assert found is None
    else:
        assert found is not None
        assert sums[found] == best
