"""An eave sized for two days gives them back, wherever it stands; what can not be is said."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st

from designs import design, put, together
from noonmark.choose.eave import Wish, size_eave
from noonmark.design import DesignFile, parse_design
from noonmark.errors import InputError
from noonmark.study.season import seasons
from noonmark.units import Quantity


def house_at(latitude: float, turn: float = 0.0, reveal: float = 0.0) -> DesignFile:
    """The sample with one sunny window; a high room, so that most soffits can be built."""
    window = {
        "name": "w", "side": "sunny", "width": "4 ft", "head": "2.1 m", "sill": "0.6 m",
        "glazing": "double high gain", "reveal": reveal,
    }  # fmt: skip
    return design(
        together(
            put("place.latitude", latitude),
            put("place.longitude", -105.18 if latitude > 0 else -70.0),
            put("place.time_zone", "America/Denver" if latitude > 0 else "America/Santiago"),
            put("house.faces", (180.0 if latitude > 0 else 0.0) + turn),
            put("house.window", [window]),
            put("house.eave.ends", "5 m"),
            put("house.roof.pitch", 1.0),
        )
    )


def apart(got: date | None, wanted: date) -> int:
    assert got is not None
    return abs((got - wanted).days)


@settings(deadline=None, max_examples=25)
@given(
    st.floats(25.0, 62.0),
    st.booleans(),
    st.integers(15, 75),
    st.integers(20, 80),
    st.sampled_from((-25.0, 0.0, 10.0)),
)
def test_both_days_come_back(
    latitude: float, south: bool, sun: int, later: int, turn: float
) -> None:
    midwinter = date(2022, 6, 21) if south else date(2021, 12, 21)
    until = midwinter + timedelta(days=sun)
    since = until + timedelta(days=later)
    assume(until.year == since.year == 2022 and sun + later < 170)
    whole = house_at(-latitude if south else latitude, abs(turn) if south else turn)
    try:
        found = size_eave(whole, "w", Wish(until, since)).solutions
    except InputError:
        reject()
    for item in found:
        changed = design_with(whole, item.set)
        noon = seasons(changed.homestead).windows[0].noon
        assert apart(noon.full_sun_until, until) <= 1
        assert apart(noon.full_shade_from, since) <= 1


def design_with(whole: DesignFile, changes: tuple[str, ...]) -> DesignFile:
    return parse_design(whole.text, changes=changes)


def test_at_40_north_the_edge_follows_from_two_tangents() -> None:
    """Plane geometry: 1.5 m of glass, tangents of the noons of 10 February and 10 May.

    Declinations -14.3 and +17.7 (Duffie & Beckman's series): altitudes 35.7, 67.7.
    """
    (only,) = size_eave(house_at(40.0), "w", Wish(date(2022, 2, 10), date(2022, 5, 10))).solutions
    assert only.projection_m == pytest.approx(1.5 / (2.438 - 0.7186), rel=0.03)
    assert only.soffit_above_head_m == pytest.approx(only.projection_m * 0.7186, rel=0.03)


def test_a_reveal_adds_to_the_throw() -> None:
    wish = Wish(date(2022, 2, 10), date(2022, 5, 10))
    flush, deep = (size_eave(house_at(40.0, reveal=r), "w", wish).solutions for r in (0.0, 0.01))
    assert flush[0].projection_m - deep[0].projection_m == pytest.approx(0.01)
    assert flush[0].soffit_above_head_m == pytest.approx(deep[0].soffit_above_head_m)


@pytest.mark.parametrize(
    "wish", [Wish(sun_until=date(2022, 2, 20)), Wish(shade_from=date(2022, 5, 1))]
)
def test_one_day_has_a_row_of_eaves(wish: Wish) -> None:
    whole = house_at(45.0)
    found = size_eave(whole, "w", wish).solutions
    assert len(found) >= 3
    assert len({round(item.projection_m, 3) for item in found}) == len(found)
    for item in found:
        noon = seasons(design_with(whole, item.set).homestead).windows[0].noon
        if wish.sun_until:
            assert apart(noon.full_sun_until, wish.sun_until) <= 1
        if wish.shade_from:
            assert apart(noon.full_shade_from, wish.shade_from) <= 1


def test_a_wall_without_eave_gets_a_hood_or_an_awning() -> None:
    whole = design(put("house.faces", 225.0))
    wish = Wish(date(2022, 2, 20), date(2022, 5, 10))
    found = size_eave(whole, "kitchen", wish).solutions
    assert [item.part for item in found] == ["hood", "awning"]
    for item in found:
        assert apart(item.noon.full_sun_until, date(2022, 2, 20)) <= 1
        assert apart(item.noon.full_shade_from, date(2022, 5, 10)) <= 1


@pytest.mark.parametrize(
    ("window", "wish", "code"),
    [
        ("attic", Wish(date(2022, 2, 10)), "window.unknown"),
        ("living room", Wish(), "eave.no_wish"),
        ("living room", Wish(date(2028, 2, 10), date(2022, 5, 10)), "eave.two_years"),
        ("west", Wish(date(2022, 2, 10)), "eave.no_noon_sun"),
        ("back", Wish(date(2022, 2, 10)), "eave.no_noon_sun"),
        ("living room", Wish(date(2022, 9, 10)), "eave.sinking_sun"),
        ("living room", Wish(date(2022, 5, 10), date(2022, 2, 10)), "eave.nearest"),
        ("living room", Wish(date(2022, 4, 10), date(2022, 4, 14)), "eave.nearest"),
    ],
)
def test_what_can_not_be_is_refused(window: str, wish: Wish, code: str) -> None:
    with pytest.raises(InputError) as caught:
        size_eave(design(), window, wish)
    assert caught.value.problems[0].code == code


@pytest.mark.parametrize(
    "trim",
    [
        {"fascia_drop": "2 in"},
        {"gutter": {"width": "5 in", "depth": "4 in", "drop": "1 in"}},
        {"soffit": "sloped", "fascia_drop": "1 in"},
    ],
)
def test_fascia_and_gutter_count(trim: dict[str, object]) -> None:
    edits = [put(f"house.eave.{key}", value) for key, value in trim.items()]
    whole = design(*edits, put("house.roof.pitch", 1.0))
    wish = Wish(date(2022, 2, 10), date(2022, 5, 10))
    (plain,) = size_eave(design(put("house.roof.pitch", 1.0)), "living room", wish).solutions
    (only,) = size_eave(whole, "living room", wish).solutions
    assert only.set != plain.set
    assert apart(only.noon.full_sun_until, date(2022, 2, 10)) <= 1
    assert apart(only.noon.full_shade_from, date(2022, 5, 10)) <= 1


def test_under_a_cantilever_only_the_projection_is_free() -> None:
    edits = (put("house.roof.truss", "cantilever"), put("house.eave.soffit_height", "9 ft"))
    whole = design(*edits)
    (only,) = size_eave(whole, "living room", Wish(shade_from=date(2022, 5, 10))).solutions
    assert only.set == (f"house.eave.projection={1000 * only.projection_m:.0f} mm",)
    assert apart(only.noon.full_shade_from, date(2022, 5, 10)) <= 1
    with pytest.raises(InputError) as caught:
        size_eave(whole, "living room", Wish(date(2022, 3, 10), date(2022, 4, 20)))
    assert caught.value.problems[0].code == "eave.nearest"


def test_why_an_eave_fails_in_the_west_is_said_in_numbers() -> None:
    """In midsummer at 39.7 N the beam on a west wall is strongest about 16 solar time.

    Altitude 37, azimuth 262 (Duffie & Beckman's formulas): 37 in the section, 8 to the side.
    """
    with pytest.raises(InputError) as caught:
        size_eave(design(), "west", Wish(shade_from=date(2022, 5, 10)))
    said = {
        key: value.value
        for key, value in caught.value.problems[0].values.items()
        if isinstance(value, Quantity)
    }
    window = design().homestead.buildings["house"].window[3]
    profile, aside = np.radians(said["profile"]), np.radians(said["aside"])
    assert 25.0 < said["profile"] < 45.0
    assert 0.0 < said["aside"] < 15.0
    assert said["eave"] == pytest.approx((window.head - window.sill) / np.tan(profile))
    assert said["fins"] == pytest.approx(window.width / np.tan(aside))
