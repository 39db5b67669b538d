"""Turns the raw report of a benchmark run into `bench.json`: id, value, unit, ratio."""

from __future__ import annotations

import json
import sys
from pathlib import Path


def main(raw: Path, summary: Path) -> None:
    """Write the medians in ms, each with its ratio to the peak loop of the same run."""
    medians = {
        row["name"].removeprefix("test_"): 1e3 * row["stats"]["median"]
        for row in json.loads(raw.read_text("utf-8"))["benchmarks"]
    }
    peak = medians["peak_loop_ms"]
    rows = [
        {"id": name, "value": round(ms, 3), "unit": "ms", "ratio": round(ms / peak, 3)}
        for name, ms in medians.items()
    ]
    summary.write_text(json.dumps(rows, indent=1) + "\n", "utf-8")
    for row in rows:
        print(f"{row['id']:26} {row['value']:9.2f} ms {row['ratio']:9.2f} peak loops")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
