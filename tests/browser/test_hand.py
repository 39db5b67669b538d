"""What the hand does: drag, step, type, go back; the file follows when it lets go."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser_page import INCH, Served, Show
from mutants import SAMPLE
from noonmark.design.file import load_design
from noonmark.errors import InputError


def test_a_drag_is_drawn_at_once_reckoned_and_kept(show: Show, served: Served) -> None:
    view = show(served)
    before, heat = view.value("projection"), view.number("heating").inner_text()
    assert before == pytest.approx(served.house.eave.projection, abs=1e-4)
    view.drag("projection", -60, 0, hold=True)
    held = view.value("projection")
    assert held > before + 2 * INCH
    expect(view.number("heating")).not_to_have_text(heat)  # the year follows the hand
    assert served.text == SAMPLE  # the file does not, yet
    view.page.mouse.up()
    view.ready()
    assert view.value("projection") == held
    assert served.house.eave.projection == pytest.approx(held, abs=1e-4)
    assert held / INCH == pytest.approx(round(held / INCH), abs=0.01)
    comments = [line for line in SAMPLE.splitlines() if line.startswith("#")]
    assert [line for line in served.text.splitlines() if line.startswith("#")] == comments


MOVES = {
    "soffit": (0, -30), "heel": (0, -30), "pitch": (0, 25), "ceiling": (0, -25), "head": (0, 30),
    "sill": (0, -30), "wall": (20, 0), "floor": (0, 25),
}  # fmt: skip
"""Pixels across and down that every house can follow."""


def test_every_handle_of_the_section_moves_and_changes_the_file(show: Show, served: Served) -> None:
    view = show(served)
    for name, (across, down) in MOVES.items():
        before = view.value(name)
        view.drag(name, across, down)
        view.ready()
        assert view.value(name) != before, name
        assert served.text != SAMPLE, name
        assert view.page.locator(".stopped p").count() == 0, name
        view.does("undo").click()
        expect(view.does("undo")).to_be_disabled()
        assert served.text == SAMPLE, name
        assert view.value(name) == before, name


def test_keys_move_by_one_and_by_ten(show: Show, served: Served) -> None:
    view = show(served)
    view.press("projection", ["ArrowRight"])
    view.ready()
    assert served.house.eave.projection == pytest.approx(31 * INCH, abs=1e-6)
    view.press("projection", ["Shift+ArrowLeft", "ArrowDown"])
    view.ready()
    assert served.house.eave.projection == pytest.approx(20 * INCH, abs=1e-6)
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "1' 8\"")
    expect(view.handle("projection")).to_be_focused()


def test_steps_in_metres_are_centimetres(show: Show, served: Served) -> None:
    view = show(served)
    view.does("units").click()
    view.press("projection", ["ArrowRight"])
    view.ready()
    assert served.house.eave.projection == pytest.approx(0.77, abs=1e-6)


def test_an_exact_value_is_typed(show: Show, served: Served) -> None:
    view = show(served)
    view.press("projection", ["Enter"])
    field = view.page.locator("input[name=exact]")
    expect(field).to_be_focused()
    field.fill("3 ft 2 1/2 in")
    field.press("Enter")
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "3' 2 1/2\"")
    view.ready()
    assert served.house.eave.projection == pytest.approx(38.5 * INCH, abs=1e-6)
    assert "3 ft 2 1/2 in" in served.text
    expect(view.handle("projection")).to_be_focused()


def test_what_was_typed_wrong_is_said_and_changes_nothing(show: Show, served: Served) -> None:
    view = show(served)
    view.handle("head").dblclick()
    field = view.page.locator("input[name=exact]")
    field.fill("4 foot long")
    field.press("Enter")
    expect(view.page.locator(".stopped p")).to_contain_text('can not read "4 foot long"')
    view.ready()
    assert served.text == SAMPLE


def test_a_house_that_no_year_can_run_on_says_so_and_goes_back(show: Show, served: Served) -> None:
    """The file takes another place on earth; the weather that ships does not go with it."""
    view = show(served)
    heat = view.number("heating").inner_text()
    served.path.write_text(SAMPLE.replace("latitude = 39.73", "latitude = -39.73"), "utf-8")
    expect(view.page.locator(".stopped p")).to_contain_text("the other half of the earth")
    expect(view.number("heating")).to_have_text("…")
    view.does("undo").click()
    view.ready()
    expect(view.number("heating")).to_have_text(heat)
    assert served.text == SAMPLE


def test_undo_and_redo_by_button_and_key(show: Show, served: Served) -> None:
    view = show(served)
    expect(view.does("undo")).to_be_disabled()
    view.press("projection", ["ArrowRight"])
    expect(view.does("undo")).to_be_enabled()
    changed = served.text
    view.ready()
    view.does("undo").click()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 6\"")
    assert served.text == SAMPLE
    view.does("redo").click()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 7\"")
    assert served.text == changed
    view.page.keyboard.press("Control+z")
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 6\"")
    view.page.keyboard.press("Control+Shift+z")
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 7\"")


STOPS = {
    "soffit": ("house.eave.soffit_height", 0, 400, "is lower than the rafter"),
    "head": ("house.window.1.head", 0, -400, "above the underside of the header"),
    "sill": ("house.window.1.sill", 0, -500, "some glass must be left"),
    "projection": ("house.eave.projection", 600, 0, 'takes 0" to'),
}
"""Path, pixels across and down that no house can follow, and what is said."""


def test_an_impossible_drag_stops_at_the_last_step_and_says_why(show: Show, served: Served) -> None:
    view = show(served)
    for name, (path, across, down, why) in STOPS.items():
        view.drag(name, across, down, hold=True)
        stopped = view.value(name)
        expect(view.page.locator(".stopped p")).to_contain_text(why)
        view.page.mouse.up()
        view.ready()
        assert served.value(path) == pytest.approx(stopped, abs=1e-4)
        further = stopped - INCH if name in ("soffit", "projection") else stopped + INCH
        if name != "sill":  # how little glass can be left is the page's own limit
            with pytest.raises(InputError):
                load_design(served.path, [f"{path}={further} m"])
        view.does("undo").click()
        expect(view.does("undo")).to_be_disabled()


def test_nothing_moves_before_the_hand_does(show: Show, served: Served) -> None:
    view = show(served)
    for name in ("projection", "soffit", "pitch", "wall"):
        view.grasp(name)
        view.page.mouse.up()
    view.ready()
    assert served.text == SAMPLE
