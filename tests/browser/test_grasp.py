"""What is held stays with the hand that holds it, and ends in the file or nowhere."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser_page import INCH, Served, Show
from mutants import SAMPLE


def test_the_width_is_dragged_on_the_wall_from_outside(show: Show, served: Served) -> None:
    view = show(served)
    view.drag("width", 6, 0)
    view.ready()
    assert served.house.window[0].width == pytest.approx(view.value("width"), abs=1e-4)
    assert view.value("width") > 72 * INCH


def test_a_steeper_roof_does_not_run_away_from_the_hand(show: Show, served: Served) -> None:
    view = show(served)
    x, y = view.grasp("pitch")
    view.page.mouse.move(x, y - 20, steps=20)
    reached = view.value("pitch")
    for side in (1, 0, 1, 0):
        view.page.mouse.move(x + side, y - 20)
    assert view.value("pitch") == reached
    assert 0.5 < reached < 0.75
    view.page.mouse.move(x, y, steps=10)
    assert view.value("pitch") == pytest.approx(0.5, abs=1e-4)
    view.page.mouse.up()


def test_a_key_let_go_elsewhere_is_let_go(show: Show, served: Served) -> None:
    view = show(served)
    view.handle("sill").focus()
    view.page.keyboard.down("ArrowUp")
    view.page.locator(".window").first.click()
    view.page.keyboard.up("ArrowUp")
    view.ready()
    assert served.house.window[0].sill == pytest.approx(25 * INCH, abs=1e-6)
    assert [window.sill for window in served.house.window[1:]] == pytest.approx(
        [30 * INCH, 42 * INCH, 42 * INCH, 48 * INCH], abs=1e-6
    )


def test_a_drag_outlives_a_change_by_another_program(show: Show, served: Served) -> None:
    view = show(served)
    view.drag("projection", -40, 0, hold=True)
    held = view.value("projection")
    served.path.write_text(SAMPLE.replace('title = "Larkspur"', 'title = "Lupine"'), "utf-8")
    expect(view.page.locator("h1")).to_have_text("Lupine")
    assert view.value("projection") == held
    view.page.mouse.up()
    view.ready()
    assert served.house.eave.projection == pytest.approx(held, abs=1e-4)
    assert 'title = "Lupine"' in served.text


def test_the_window_that_is_cut_stays_so_when_it_gets_small(show: Show, served: Served) -> None:
    view = show(served)
    title = view.page.locator("#section-title")
    before = title.inner_text()
    view.press("head", ["Shift+ArrowDown", "Shift+ArrowDown", "Shift+ArrowDown"])
    view.ready()
    assert title.inner_text() == before


def test_escape_gives_up_what_is_held(show: Show, served: Served) -> None:
    view = show(served)
    heat = view.number("heating").inner_text()
    view.drag("projection", -60, 0, hold=True)
    view.page.keyboard.press("Escape")
    view.page.mouse.up()
    view.ready()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 6\"")
    expect(view.number("heating")).to_have_text(heat)
    assert served.text == SAMPLE


def test_a_typed_value_counts_when_its_field_is_left(show: Show, served: Served) -> None:
    view = show(served)
    view.page.get_by_role("button", name="7' 2\"").click()
    view.page.locator("input[name=exact]").fill("7 ft")
    view.page.locator("h1").click()
    view.ready()
    assert served.house.window[0].head == pytest.approx(84 * INCH, abs=1e-6)


def test_a_wall_without_sun_is_all_in_the_shade(show: Show, looked_at: Served) -> None:
    view = show(looked_at)
    shade = view.page.locator(".wall .shade")
    tall = view.page.locator(".wall .siding").bounding_box()
    view.page.locator("#hour").fill("-480")
    found = shade.bounding_box()
    assert tall is not None
    assert found is not None
    assert found["height"] == pytest.approx(tall["height"], abs=2)
