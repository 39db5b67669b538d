"""A browser for all tests of the page, and designs served for them."""

from __future__ import annotations

import runpy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, sync_playwright

from browser_page import CHROMIUM, FLAGS, PAGE_FOLDER, Noise, Served, Show, View
from mutants import SAMPLE


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("no chromium or chrome on this machine, which the tests of the page drive")
    build = runpy.run_path(str(PAGE_FOLDER / "build.py"))
    build["install"](tools=True)
    build["build"]()
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """The sample, served for one test."""
    found = Served(tmp_path, SAMPLE).start()
    yield found
    found.close()


@pytest.fixture(scope="session")
def looked_at(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The sample, served for all tests that change nothing."""
    found = Served(tmp_path_factory.mktemp("looked_at"), SAMPLE).start()
    yield found
    assert found.text == SAMPLE
    found.close()


@pytest.fixture
def noise() -> Iterator[Noise]:
    """Fails at the end when a page complained, broke its policy or asked another machine."""
    found = Noise("")
    yield found
    assert found.lines == []


@pytest.fixture
def show(browser: Browser, noise: Noise) -> Show:
    """Opens a served design in a window of its own."""

    def opened(
        served: Served, *, width: int = 1400, height: int = 1000, ready: bool = True, **more: Any
    ) -> View:
        noise.address = served.address
        window = browser.new_context(viewport={"width": width, "height": height}, **more)
        served.windows.append(window)
        page = window.new_page()
        noise.listen(page)
        page.goto(served.address)
        return View(page).ready() if ready else View(page)

    return opened
