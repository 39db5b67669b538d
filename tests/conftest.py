"""What all tests share: the recorder of checks against others, and the command line."""

from __future__ import annotations

import json
import math
import os
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from command_line import Run
from mutants import SAMPLE
from noonmark.cli.app import run_words
from validation_page import page

pytest_plugins = ["browser_fixtures"]

# the same examples every time, so that main stays green; HYPOTHESIS_PROFILE=explore seeks new ones
settings.register_profile("fixed", derandomize=True)
settings.register_profile("explore", derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))

REPORT = Path(__file__).parent.parent / "build" / "validation.json"
Record = Callable[..., None]

_rows = pytest.StashKey[list[dict[str, Any]]]()
_not_run: Counter[str] = Counter()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[_rows] = []


@pytest.fixture
def record(request: pytest.FixtureRequest) -> Record:
    """Record one checked value and assert that it holds.

    Either `expected` with `tol` (absolute), or a range from `low`, to `high`, or
    both. A value that only informs is recorded as it is and fails nothing.
    """
    rows = request.config.stash[_rows]

    def note(
        id: str,  # noqa: A002 - the word the report uses
        topic: str,
        source: str,
        status: str,
        *,
        expected: float | None = None,
        low: float | None = None,
        high: float | None = None,
        got: float,
        tol: float | None = None,
        informs: bool = False,
    ) -> None:
        if expected is not None and tol is not None:
            low, high = expected - tol, expected + tol
        ends = {name: end for name, end in (("low", low), ("high", high)) if end is not None}
        assert ends, "a check needs expected and tol, or low, high or both"
        holds = bool(ends.get("low", -math.inf) <= got <= ends.get("high", math.inf))
        row: dict[str, Any] = {"id": id, "topic": topic, "source": source, "status": status}
        row |= {"expected": expected} if expected is not None else ends
        rows.append({**row, "got": float(got), "holds": holds, "informs": informs})
        assert holds or informs, f"{id}: got {got}, wanted {low} to {high} ({source})"

    return note


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Return the command line: words in; exit code, stdout and stderr out."""

    def ran(*words: object) -> tuple[int, str, str]:
        code = run_words([str(word) for word in words])
        return (code, *capsys.readouterr())

    return ran


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Return a design file of the sample in an empty folder."""
    path = tmp_path / "larkspur.toml"
    path.write_text(SAMPLE, "utf-8")
    return path


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Keep why a test was not run."""
    if report.skipped and isinstance(report.longrepr, tuple):
        _not_run[report.longrepr[2].removeprefix("Skipped: ")] += 1


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say plainly what was not run."""
    for line in _not_run_lines():
        terminalreporter.write_line(line, yellow=True)


def _not_run_lines() -> list[str]:
    return [f"not run: {reason} ({count} tests)" for reason, count in _not_run.items()]


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write all rows of a whole validation run; other runs write no report."""
    rows = session.config.stash[_rows]
    if rows and session.config.option.markexpr == "validation":
        REPORT.parent.mkdir(exist_ok=True)
        _write(REPORT, json.dumps(rows, indent=1))
        _write(REPORT.with_suffix(".md"), page(rows, _not_run_lines()))


def _write(path: Path, text: str) -> None:
    partial = path.with_suffix(f"{path.suffix}.part")
    partial.write_text(text + "\n", "utf-8")
    partial.replace(path)
