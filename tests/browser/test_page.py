"""At every width: nothing overflows, nothing complains, nothing breaks the rules of access."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from browser_page import Served, Show
from noonmark.cards.speech import languages

NUMBERS = ["heating", "fuel", "bright", "dawn", "hot"]
HANDLES = ["projection", "soffit", "heel", "pitch", "wall", "floor", "ceiling", "head", "sill"]


@pytest.mark.parametrize("width", [360, 768, 1400, 3840])
def test_fits_the_window_and_keeps_the_rules_of_access(
    show: Show, looked_at: Served, width: int
) -> None:
    view = show(looked_at, width=width)
    assert view.overflow() <= 0
    assert view.axe() == []


def test_numbers_and_handles_stand_there(show: Show, looked_at: Served) -> None:
    view = show(looked_at)
    for name in NUMBERS:
        expect(view.number(name)).to_have_text(re.compile(r"\S"))
    for name in [*HANDLES, "width"]:
        handle = view.handle(name).first
        expect(handle).to_have_attribute("role", "slider")
        expect(handle).to_have_attribute("aria-label", re.compile(r"\w"))
        expect(handle).to_have_attribute("aria-valuetext", re.compile(r"\S"))


def test_units_are_switched_everywhere(show: Show, looked_at: Served) -> None:
    view = show(looked_at)
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 6\"")
    expect(view.number("bright")).to_have_text(re.compile("°F$"))
    view.does("units").click()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "0.762 m")
    expect(view.number("bright")).to_have_text(re.compile("°C$"))
    for unit in ("°F", "Btu", "cu ft"):
        expect(view.page.locator("main")).not_to_contain_text(unit)
    view.page.reload()
    view.ready()
    expect(view.number("bright")).to_have_text(re.compile("°C$"))


@pytest.mark.parametrize("width", [360, 1400])
def test_every_language_fits_and_is_kept(show: Show, looked_at: Served, width: int) -> None:
    view = show(looked_at, width=width)
    english = view.does("undo").inner_text()
    for code in (code for code in languages() if code != "en"):
        view.page.locator("header select").last.select_option(code)
        expect(view.does("undo")).not_to_have_text(english)
        expect(view.page.locator("html")).to_have_attribute("lang", code)
        assert view.overflow() <= 0
        assert view.axe() == []
        view.page.reload()
        view.ready()
        expect(view.page.locator("html")).to_have_attribute("lang", code)
        expect(view.does("undo")).not_to_have_text(english)


def test_the_day_is_kept_by_a_reload_and_winter_is_not_summer(
    show: Show, looked_at: Served
) -> None:
    view = show(looked_at)
    told = view.page.locator(".told")
    view.does("summer").click()
    summer = told.inner_text()
    view.does("winter").click()
    assert told.inner_text() != summer
    view.page.locator("#day").fill("99")
    expect(told).to_contain_text("10 Apr")
    view.page.reload()
    view.ready()
    expect(view.page.locator("#day")).to_have_value("99")


def test_a_still_year_goes_by_fortnights(show: Show, looked_at: Served) -> None:
    view = show(looked_at, reduced_motion="reduce")
    view.page.locator("#day").fill("100")
    view.does("play").click()
    expect(view.page.locator("#day")).to_have_value("114", timeout=3000)
    view.does("play").click()
    day = view.page.locator("#day").input_value()
    view.page.wait_for_timeout(1500)
    assert view.page.locator("#day").input_value() == day
    moving = view.page.evaluate(
        "document.getAnimations().filter(a => a.playState === 'running').length"
    )
    assert moving == 0


def test_the_year_plays_and_stops(show: Show, looked_at: Served) -> None:
    view = show(looked_at)
    view.page.locator("#day").fill("100")
    view.does("play").click()
    expect(view.page.locator("#day")).to_have_value(re.compile(r"^(1[1-9]\d|[23]\d\d)$"))
    view.does("play").click()
    expect(view.does("play")).to_have_attribute("aria-pressed", "false")


def test_handles_of_a_phone_are_large_enough_and_in_reach(show: Show, looked_at: Served) -> None:
    """A target of 24 px: WCAG 2.2, success criterion 2.5.8."""
    view = show(looked_at, width=360, height=740, has_touch=True, is_mobile=True)
    for name in HANDLES:
        box = view.handle(name).first.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 24, name
        assert box["x"] >= 0, name
        assert box["x"] + box["width"] <= 360, name
    assert view.axe() == []
