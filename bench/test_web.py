"""What pages wait for: a real server on this machine, a bounded load of pages that drag."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from bench.test_speed import SAMPLE
from bench.webload import Load, soak
from web_page import served

SOAK_S = float(os.environ.get("NOONMARK_SOAK_S", "20"))
"""How long the load lasts; ten minutes tell whether memory stays."""


def test_web(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """One page dragging at 30 edits a second, then five, beside 50 that only listen."""
    file = tmp_path / SAMPLE.name
    shutil.copy(SAMPLE, file)

    def load() -> Load:
        with served(file, tmp_path / "state") as place:
            return soak(place, SOAK_S)

    found = benchmark.pedantic(load, rounds=1)  # type: ignore[no-untyped-call]
    benchmark.extra_info["rows"] = {
        "web_edit_ms_p50": found.alone.percentile(50.0),
        "web_edit_ms_p95": found.alone.percentile(95.0),
        "web_5_dragging_p95_ms": found.five.percentile(95.0),
        "web_unanswered": found.alone.unanswered + found.five.unanswered,
        "web_dropped": found.dropped,
        "web_memory_mb": found.memory_end,
        "web_memory_growth_mb": found.memory_end - found.memory_begin,
    }
    assert found.dropped == 0
    assert found.alone.unanswered == found.five.unanswered == 0
