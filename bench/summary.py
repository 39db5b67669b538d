"""Turns the raw report of a benchmark run into `bench.json`: id, value, unit, ratio."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

BATCH = 1000
"""Designs in the batches, whose rows count design-years per second."""


def main(raw: Path, summary: Path) -> None:
    """Write the medians, each with its ratio to the peak loop of the same run.

    Rows in ms say how many peak loops they take, rows per second how many one
    design takes.
    """
    medians = {
        row["name"].removeprefix("test_"): 1e3 * row["stats"]["median"]
        for row in json.loads(raw.read_text("utf-8"))["benchmarks"]
    }
    peak = medians["peak_loop_ms"]
    rows = [_row(name, ms, peak) for name, ms in medians.items()]
    summary.write_text(json.dumps(rows, indent=1) + "\n", "utf-8")
    for row in rows:
        print(f"{row['id']:28} {row['value']:9.2f} {row['unit']:14} {row['ratio']:8.2f} peak loops")


def _row(name: str, ms: float, peak: float) -> dict[str, Any]:
    if not name.endswith("_per_s"):
        return {"id": name, "value": round(ms, 3), "unit": "ms", "ratio": round(ms / peak, 3)}
    each = ms / BATCH
    value, ratio = round(1e3 / each, 1), round(each / peak, 3)
    return {"id": name, "value": value, "unit": "design-years/s", "ratio": ratio}


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
