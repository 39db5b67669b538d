"""The window schedule: sizes, rough openings, whole-window values, what is asked about them."""

from __future__ import annotations

import pytest

from designs import design, put, together
from noonmark import catalog
from noonmark.cards.speech import Speech
from noonmark.cards.windowtable import window_notes, window_table
from noonmark.glazing.window import WindowParts, window_shgc
from noonmark.study.windowlist import window_list
from noonmark.units import System
from sample_house import sample
from sunspace import sunspace


def test_shgc_of_a_window_is_that_of_glass_and_frame_by_their_areas() -> None:
    """By hand: 1.2726 m2 of glass of 0.60, 0.5478 m2 of frame of 0.6 x 1.3 / 25 = 0.0312."""
    parts = WindowParts(glass_area=1.2726, frame_area=0.5478, edge_length=4.54)
    shgc = window_shgc(parts, glass_shgc=0.60, frame_u=1.3, frame_absorptance=0.6)
    assert shgc == pytest.approx((1.2726 * 0.60 + 0.5478 * 0.0312) / 1.8204, abs=1e-12)
    bare = window_shgc(
        WindowParts(2.0, 0.0, 6.0), glass_shgc=0.5, frame_u=9.0, frame_absorptance=0.9
    )
    assert bare == 0.5


def test_whole_window_of_the_sample_by_hand() -> None:
    """EN ISO 10077-1 equation 1 from the rows of the catalogue, reckoned here once more."""
    (row, *_) = window_list(sample(), "house", "us")
    wood = catalog.find(catalog.Frame, "wood")
    glass = catalog.find(catalog.ReadyGlazing, "double high gain")
    wide, tall = 6 * 0.3048, (7 + 2 / 12 - 2) * 0.3048
    lit = (wide - 2 * wood.width) * (tall - 2 * wood.width)
    edge = 2 * (wide + tall - 4 * wood.width)
    lost = lit * glass.u_value + (wide * tall - lit) * wood.u_value + edge * wood.edge
    assert row.u_value == pytest.approx(lost / (wide * tall), rel=0.01)  # glass: films of EN 673
    share = lit / (wide * tall)
    frame = wood.absorptance * wood.u_value / 25.0
    assert row.shgc == pytest.approx(share * glass.shgc + (1 - share) * frame, rel=0.01)
    assert row.area == pytest.approx(3 * wide * tall)


@pytest.mark.parametrize(("system", "shim"), [("us", 0.0127), ("metric", 0.012)])
def test_rough_opening_leaves_room_at_both_sides_and_the_top(system: System, shim: float) -> None:
    for row in window_list(sample(), "house", system):
        assert row.rough == pytest.approx((row.window.width + 2 * shim, row.height + shim))


def test_sides_are_those_of_the_compass_and_inner_windows_have_none() -> None:
    rows = window_list(sample(), "house", "us")
    assert [row.azimuth for row in rows] == [180.0, 180.0, 90.0, 270.0, 0.0]
    turned = design(put("house.faces", 20.0)).homestead
    assert [row.azimuth for row in window_list(turned, "house", "us")][:1] == [20.0]
    outside, inner = window_list(sunspace(), "house", "metric")
    assert (outside.azimuth, inner.azimuth) == (180.0, None)


def test_table_names_what_is_asked_for_and_notes_say_it_in_words() -> None:
    low = {"side": "left", "width": 0.4, "sill": 0.3, "head": 2, "glazing": "double clear"}
    windows = [
        low | {"escape": True},
        low | {"safety_glass": True, "name": "door"},
        low | {"sill": 1.0, "count": 2},
    ]
    home = design(put("house.window", windows)).homestead
    speech = Speech("metric")
    table = window_table(home, "house", speech)
    assert [row[-1] for row in table.rows] == [
        "escape window, ask: safety glass", "safety glass", "",
    ]  # fmt: skip
    assert table.rows[2][:5] == ("3", "", "east", "2", "0.400 m × 1.000 m")
    rough, whole, *asked = window_notes(home, "house", speech)
    assert "12 mm at each side" in rough
    assert "whole window" in whole
    assert len(asked) == 2
    assert "escape window 1" in asked[0]
    assert "glass of 1 starts 0.30 m" in asked[1]


def test_no_window_marked_as_escape_is_said() -> None:
    home = design(together(put("house.window.1.escape", False))).homestead
    assert any("escape" in note for note in window_notes(home, "house", Speech("us")))
    blind = design(put("house.window", [])).homestead
    assert window_notes(blind, "house", Speech()) == ("The design has no windows.",)
