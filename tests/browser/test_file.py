"""The page is the face of the file: two pages, other programs, a server that dies."""

from __future__ import annotations

import os
import signal

import pytest
from playwright.sync_api import expect

from browser_page import INCH, Noise, Served, Show
from mutants import SAMPLE


def write_as_editors_do(served: Served, text: str) -> None:
    new = served.path.with_suffix(".new")
    new.write_text(text, "utf-8")
    os.replace(new, served.path)  # noqa: PTH105


def test_a_reload_keeps_what_was_done(show: Show, served: Served) -> None:
    view = show(served)
    view.press("projection", ["ArrowRight", "ArrowRight"])
    view.ready()
    view.page.reload()
    view.ready()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 8\"")
    expect(view.does("undo")).to_be_enabled()


def test_two_pages_show_one_file(show: Show, served: Served) -> None:
    one, other = show(served), show(served)
    one.press("projection", ["ArrowRight"])
    expect(other.handle("projection")).to_have_attribute("aria-valuetext", "2' 7\"")
    other.press("head", ["ArrowDown"])
    expect(one.handle("head")).to_have_attribute("aria-valuetext", "7' 1\"")
    one.ready()
    other.ready()
    assert one.number("heating").inner_text() == other.number("heating").inner_text()
    house = served.house
    assert house.eave.projection == pytest.approx(31 * INCH, abs=1e-6)
    assert house.window[0].head == pytest.approx(85 * INCH, abs=1e-6)
    one.does("undo").click()
    expect(other.handle("head")).to_have_attribute("aria-valuetext", "7' 2\"")


def test_a_killed_server_loses_nothing(show: Show, served: Served, noise: Noise) -> None:
    view = show(served)
    noise.lost = True
    view.press("projection", ["ArrowRight"])
    view.ready()
    view.drag("projection", -40, 0, hold=True)
    held = view.handle("projection").get_attribute("aria-valuetext")
    served.stop(signal.SIGKILL)
    expect(view.page.locator("main")).to_have_attribute("data-state", "lost")
    view.page.mouse.up()  # let go while nobody listens
    assert view.handle("projection").get_attribute("aria-valuetext") == held
    served.start()
    view.ready()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", held or "")
    assert served.house.eave.projection == pytest.approx(view.value("projection"), abs=1e-4)
    view.does("undo").click()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 7\"")
    view.does("undo").click()
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 6\"")
    assert served.text == SAMPLE


def test_another_program_writes_the_file(show: Show, served: Served) -> None:
    view = show(served)
    write_as_editors_do(served, SAMPLE.replace('pitch = "6/12"', 'pitch = "7/12"'))
    expect(view.handle("pitch")).to_have_attribute("aria-valuetext", "7/12", timeout=10_000)
    expect(view.page.locator("header")).to_contain_text("another program changed the file")
    view.ready()
    view.does("undo").click()
    expect(view.handle("pitch")).to_have_attribute("aria-valuetext", "6/12")
    assert served.text == SAMPLE


def test_a_broken_file_shows_its_line_and_comes_back(show: Show, served: Served) -> None:
    view = show(served)
    broken = SAMPLE.replace('pitch = "6/12"', 'pitch = "six in twelve"')
    line = next(i for i, text in enumerate(broken.splitlines(), 1) if "six in twelve" in text)
    write_as_editors_do(served, broken)
    alert = view.page.get_by_role("alert")
    expect(alert).to_contain_text(f"larkspur.toml:{line}", timeout=10_000)
    expect(alert).to_contain_text('pitch = "six in twelve"')
    expect(alert.locator("li.wrong")).to_have_attribute("value", str(line))
    assert view.axe() == []
    expect(view.handle("pitch")).to_have_attribute("aria-valuetext", "6/12")
    view.press("projection", ["ArrowRight"])
    assert served.text == broken  # the page writes nothing over what somebody is typing
    write_as_editors_do(served, SAMPLE)
    expect(alert).to_have_count(0, timeout=10_000)
    view.ready()


def test_a_file_broken_from_the_start_shows_its_line_and_then_the_house(
    show: Show, served: Served
) -> None:
    served.stop()
    served.path.write_text("schema = 1\n[house\n", "utf-8")
    view = show(served.start(), ready=False)
    alert = view.page.get_by_role("alert")
    expect(alert).to_contain_text("larkspur.toml:2", timeout=20_000)
    assert view.axe() == []
    write_as_editors_do(served, SAMPLE)
    view.ready()
    expect(alert).to_have_count(0)
    expect(view.handle("projection")).to_have_attribute("aria-valuetext", "2' 6\"")
