"""The recorder of checks against sources outside the project."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

REPORT = Path(__file__).parent.parent / "build" / "validation.json"
Record = Callable[..., None]

_rows = pytest.StashKey[list[dict[str, Any]]]()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[_rows] = []


@pytest.fixture
def record(request: pytest.FixtureRequest) -> Record:
    """Record one checked value and assert that it holds.

    Either `expected` with `tol` (absolute), or a range `low` to `high`.
    `information=True` publishes a value from memory without failing on it.
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
        information: bool = False,
    ) -> None:
        if expected is not None and tol is not None:
            low, high = expected - tol, expected + tol
        assert low is not None, "a check needs expected and tol, or low and high"
        assert high is not None, "a check needs expected and tol, or low and high"
        holds = bool(low <= got <= high)
        row: dict[str, Any] = {"id": id, "topic": topic, "source": source, "status": status}
        row |= {"expected": expected} if expected is not None else {"low": low, "high": high}
        rows.append({**row, "got": float(got), "holds": holds})
        assert holds or information, f"{id}: got {got}, wanted {low} to {high} ({source})"

    return note


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write all rows of this run; a run of part of the tests writes no report."""
    rows = session.config.stash[_rows]
    if rows and session.config.option.markexpr == "validation":
        REPORT.parent.mkdir(exist_ok=True)
        partial = REPORT.with_suffix(".part")
        partial.write_text(json.dumps(rows, indent=1) + "\n", "utf-8")
        partial.replace(REPORT)
