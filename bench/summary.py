"""Turns the raw report of a benchmark run into `bench.json`: id, value, unit, ratio.

A benchmark with `rows` of its own in its extra information stands for these, in the
unit of their names, not for its time; what is no time has no ratio.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

BATCH = 1000
"""Designs in the batches, whose rows count design-years per second."""


def main(raw: Path, summary: Path) -> None:
    """Write the medians, each with its ratio to the peak loop of the same run.

    Rows in ms and s say how many peak loops they take, rows per second how many one
    design takes.
    """
    found = json.loads(raw.read_text("utf-8"))["benchmarks"]
    own = [pair for row in found for pair in row["extra_info"].get("rows", {}).items()]
    medians = {
        row["name"].removeprefix("test_"): 1e3 * row["stats"]["median"]
        for row in found
        if "rows" not in row["extra_info"]
    }
    peak = medians["peak_loop_ms"]
    rows = [_row(name, ms, peak) for name, ms in medians.items()]
    rows += [_own_row(name, value, peak) for name, value in own]
    summary.write_text(json.dumps(rows, indent=1) + "\n", "utf-8")
    for row in rows:
        ratio = "" if row["ratio"] is None else f"{row['ratio']:8.2f} peak loops"
        print(f"{row['id']:28} {row['value']:9.2f} {row['unit']:14} {ratio}".rstrip())


def _row(name: str, ms: float, peak: float) -> dict[str, Any]:
    if name.endswith("_s") and not name.endswith("_per_s"):
        return {"id": name, "value": round(ms / 1e3, 3), "unit": "s", "ratio": round(ms / peak, 3)}
    if not name.endswith("_per_s"):
        return {"id": name, "value": round(ms, 3), "unit": "ms", "ratio": round(ms / peak, 3)}
    each = ms / BATCH
    value, ratio = round(1e3 / each, 1), round(each / peak, 3)
    return {"id": name, "value": value, "unit": "design-years/s", "ratio": ratio}


def _own_row(name: str, value: float, peak: float) -> dict[str, Any]:
    words = name.split("_")
    unit = "ms" if "ms" in words else "MB" if "mb" in words else "count"
    ratio = round(value / peak, 3) if unit == "ms" else None
    return {"id": name, "value": round(value, 3), "unit": unit, "ratio": ratio}


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
