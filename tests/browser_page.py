"""A design served by the real server, and its page in a real browser."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, ConsoleMessage, Locator, Page, Request, expect

from noonmark.design.file import load_design
from noonmark.design.model import Building

PAGE_FOLDER = Path(__file__).parents[1] / "page"
AXE = PAGE_FOLDER / "node_modules" / "axe-core" / "axe.min.js"
_BROWSERS = ("chromium", "chromium-browser", "google-chrome")
CHROMIUM = next((found for name in _BROWSERS if (found := shutil.which(name))), None)
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
PATIENCE_MS = 240_000
"""How long the first year may take while the compiled loops are made."""

INCH = 0.0254


class Served:
    """A design in a folder of its own, served until `stop`; `start` comes back at its address."""

    def __init__(self, folder: Path, text: str) -> None:
        self.path = folder / "larkspur.toml"
        self.path.write_text(text, "utf-8")
        self._folder = folder
        self._port: str | None = None
        self._process: subprocess.Popen[str] | None = None
        self.address = ""
        self.windows: list[BrowserContext] = []

    def start(self) -> Served:
        port = ["--port", self._port] if self._port else ["--port", "0"]
        words = ["web", str(self.path), "--no-open", *port]
        state = {"NOONMARK_STATE": str(self._folder / "state")}
        log = (self._folder / "server.log").open("a")
        self._process = subprocess.Popen(
            [sys.executable, "-m", "noonmark", *words],
            env={**os.environ, **state},
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
            start_new_session=True,
        )
        log.close()
        assert self._process.stdout is not None
        self.address = self._process.stdout.readline().strip()
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/[\w-]{20,}/", self.address)
        assert found, f"no address but {self.address!r}: {self.log}"
        self._port = found[1]
        return self

    def stop(self, how: signal.Signals = signal.SIGINT) -> None:
        """End the server as Ctrl-C does; SIGKILL ends it with its solvers at once."""
        if self._process is None:
            return
        if how == signal.SIGKILL:
            os.killpg(self._process.pid, how)
        else:
            self._process.send_signal(how)
        self._process.wait(20)
        assert self._process.stdout is not None
        self._process.stdout.close()
        self._process = None

    @property
    def log(self) -> str:
        return (self._folder / "server.log").read_text()

    @property
    def text(self) -> str:
        return self.path.read_text("utf-8")

    @property
    def house(self) -> Building:
        """The house as the file on disk has it now."""
        return load_design(self.path).homestead.buildings["house"]

    def value(self, path: str) -> float:
        """A length of the house by its path, such as `house.window.1.head` [m]."""
        found: Any = self.house
        for word in path.split(".")[1:]:
            found = found[int(word) - 1] if word.isdigit() else getattr(found, word)
        return float(found)

    def close(self) -> None:
        """Close its pages, then end the server."""
        for window in self.windows:
            window.close()
        self.stop()


@dataclass
class Noise:
    """What a page should not do: complain, break its policy, ask another machine."""

    address: str
    lines: list[str] = field(default_factory=list)
    lost: bool = False
    """Whether the server is taken away on purpose; the browser then tells of it."""

    def listen(self, page: Page) -> None:
        page.on("console", self._console)
        page.on("pageerror", lambda error: self.lines.append(f"error: {error}"))
        page.on("request", self._request)
        page.add_init_script(
            "document.addEventListener('securitypolicyviolation',"
            "e => console.error('policy: ' + e.violatedDirective + ' ' + e.blockedURI))"
        )

    def _console(self, message: ConsoleMessage) -> None:
        refused = "ERR_CONNECTION_REFUSED" in message.text or "WebSocket" in message.text
        if message.type in ("error", "warning") and not (self.lost and refused):
            self.lines.append(f"{message.type}: {message.text}")

    def _request(self, request: Request) -> None:
        own = (self.address, self.address.replace("http:", "ws:"), "data:", "blob:")
        if not request.url.startswith(own):
            self.lines.append(f"asked another machine: {request.url}")


class View:
    """The page of a served design, and what a reader does with it."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def ready(self) -> View:
        """Wait until the year of what is shown stands there, and what was done is drawn."""
        self.page.evaluate(
            "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
        )
        expect(self.page.locator("main")).to_have_attribute(
            "data-state", "ready", timeout=PATIENCE_MS
        )
        expect(self.number("heating")).not_to_have_text("…", timeout=PATIENCE_MS)
        return self

    def handle(self, name: str) -> Locator:
        return self.page.locator(f'[data-handle="{name}"]')

    def number(self, name: str) -> Locator:
        return self.page.locator(f'[data-number="{name}"]')

    def does(self, name: str) -> Locator:
        return self.page.locator(f'[data-do="{name}"]')

    def value(self, name: str) -> float:
        """The value of a handle as drawn [m, or rise over run]."""
        return float(self.handle(name).get_attribute("aria-valuenow") or "nan")

    def grasp(self, name: str) -> tuple[float, float]:
        """Press the mouse on a handle and return where."""
        grip = self.handle(name).locator(".grip")
        grip.scroll_into_view_if_needed()
        box = grip.bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        return x, y

    def drag(self, name: str, across: float, down: float, *, hold: bool = False) -> None:
        """Take a handle and move it by pixels; `hold` keeps the hand on it."""
        x, y = self.grasp(name)
        self.page.mouse.move(x + across, y + down, steps=8)
        if not hold:
            self.page.mouse.up()

    def press(self, name: str, keys: Sequence[str]) -> None:
        self.handle(name).focus()
        for key in keys:
            self.page.keyboard.press(key)

    def axe(self) -> list[str]:
        """What the accessibility rules find wrong, one line a rule."""
        self.page.evaluate(AXE.read_text("utf-8"))
        found: dict[str, Any] = self.page.evaluate("axe.run(document)")
        return [
            f"{rule['id']}: {rule['help']}: {rule['nodes'][0]['html'][:120]}"
            for rule in found["violations"]
        ]

    def overflow(self) -> float:
        """How far the page is wider than its window [px]."""
        return float(
            self.page.evaluate(
                "document.documentElement.scrollWidth - document.documentElement.clientWidth"
            )
        )


Show = Callable[..., View]
"""Opens a served design in a window of its own: `show(served, width=..., ready=...)`."""
