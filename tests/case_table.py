"""Writes the cases of a validation run into the docs: `make cases`.

`python tests/case_table.py build/validation.json docs/validation.md` replaces
what stands between the two markers of the page.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

TOPIC = "published cases 2020"
BEGIN, END = "<!-- cases: written by `make cases` -->", "<!-- end of cases -->"

Row = dict[str, Any]

QUANTITIES = {
    "heating": "heating, MWh",
    "cooling": "cooling, MWh",
    "peak_heating": "peak heating, kW",
    "peak_cooling": "peak cooling, kW",
    "highest": "highest, C",
    "lowest": "lowest, C",
    "mean": "mean, C",
}
SUNS = {"incident": "on the plane", "transmitted": "through the glass"}


def case_tables(rows: list[Row]) -> str:
    """Return remembered ranges and sums of sun as tables.

    Raises `SystemExit` when the cases were not run.
    """
    ours = [row for row in rows if row["topic"] == TOPIC]
    ranges = [row for row in ours if row["id"].startswith("2020_")]
    if not ranges:
        raise SystemExit("the cases were not run: no Denver year (NOONMARK_SHARED)")
    held = [row for row in ours if row["id"].startswith("ordering_")]
    inside = sum(row["holds"] for row in ranges)
    lines = [
        f"{inside} of {len(ranges)} remembered values inside; "
        f"{sum(row['holds'] for row in held)} of {len(held)} rows of order hold.",
        "",
        "| case | quantity | range | got | inside |",
        "|---|---|---|---|---|",
        *(_range_line(row) for row in ranges),
        "",
        "| sun in the year, kWh/m2 | wanted | got | inside |",
        "|---|---|---|---|",
        *(_sun_line(row) for row in ours if row["id"].partition("_")[0] in SUNS),
    ]
    return "\n".join(lines)


def _range_line(row: Row) -> str:
    _, _, name = row["id"].partition("_")
    quantity, _, case = name.rpartition("_")
    digits = 1 if quantity in ("highest", "lowest", "mean") else 3
    ends = f"{row['low']:.{digits}f} to {row['high']:.{digits}f}"
    got = f"{row['got']:.{digits}f}"
    return f"| {case} | {QUANTITIES[quantity]} | {ends} | {got} | {_inside(row)} |"


def _sun_line(row: Row) -> str:
    kind, _, name = row["id"].partition("_")
    words = f"{SUNS[kind]}, {name.replace('_', ' ')}"
    return f"| {words} | {row['expected']:.0f} | {row['got']:.0f} | {_inside(row)} |"


def _inside(row: Row) -> str:
    return "yes" if row["holds"] else "no"


def with_tables(page: str, tables: str) -> str:
    """Return a page with new tables between its markers."""
    before, begin, rest = page.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not (begin and end):
        raise SystemExit(f"the page lacks its markers {BEGIN} and {END}")
    return f"{before}{BEGIN}\n\n{tables}\n\n{END}{after}"


def main(words: list[str]) -> None:
    """Write the tables of a run into a page."""
    run, page = (Path(word) for word in words)
    tables = case_tables(json.loads(run.read_text("utf-8")))
    page.write_text(with_tables(page.read_text("utf-8"), tables), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
