"""What all tests share: the recorder of checks against others, and the command line."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from command_line import Run
from mutants import SAMPLE
from noonmark.cli.app import run_words

# the same examples every time, so that main stays green; HYPOTHESIS_PROFILE=explore seeks new ones
settings.register_profile("fixed", derandomize=True)
settings.register_profile("explore", derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))

REPORT = Path(__file__).parent.parent / "build" / "validation.json"
Record = Callable[..., None]

_rows = pytest.StashKey[list[dict[str, Any]]]()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[_rows] = []


@pytest.fixture
def record(request: pytest.FixtureRequest) -> Record:
    """Record one checked value and assert that it holds.

    Either `expected` with `tol` (absolute), or a range `low` to `high`.
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
    ) -> None:
        if expected is not None and tol is not None:
            low, high = expected - tol, expected + tol
        assert low is not None, "a check needs expected and tol, or low and high"
        assert high is not None, "a check needs expected and tol, or low and high"
        holds = bool(low <= got <= high)
        row: dict[str, Any] = {"id": id, "topic": topic, "source": source, "status": status}
        row |= {"expected": expected} if expected is not None else {"low": low, "high": high}
        rows.append({**row, "got": float(got), "holds": holds})
        assert holds, f"{id}: got {got}, wanted {low} to {high} ({source})"

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


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write all rows of a whole validation run; other runs write no report."""
    rows = session.config.stash[_rows]
    if rows and session.config.option.markexpr == "validation":
        REPORT.parent.mkdir(exist_ok=True)
        _write(REPORT, json.dumps(rows, indent=1))
        _write(REPORT.with_suffix(".md"), _page(rows))


def _write(path: Path, text: str) -> None:
    partial = path.with_suffix(f"{path.suffix}.part")
    partial.write_text(text + "\n", "utf-8")
    partial.replace(path)


def _page(rows: list[dict[str, Any]]) -> str:
    """Return the rows as a page: one table, what does not hold first."""
    held = sum(row["holds"] for row in rows)
    lines = [
        "# Checked against others",
        "",
        f"{len(rows)} values, {held} hold.",
        "",
        "| holds | id | wanted | got | status | source |",
        "|---|---|---|---|---|---|",
    ]
    for row in sorted(rows, key=lambda row: (row["holds"], row["topic"], row["id"])):
        wanted = row.get("expected", f"{row.get('low')} to {row.get('high')}")
        sign = "yes" if row["holds"] else "NO"
        cells = (sign, row["id"], wanted, f"{row['got']:.6g}", row["status"], row["source"])
        lines.append("| " + " | ".join(str(cell).replace("|", "/") for cell in cells) + " |")
    return "\n".join(lines)
