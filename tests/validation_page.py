"""The rows of a validation run as a page that says plainly what does not hold."""

from __future__ import annotations

from typing import Any

Row = dict[str, Any]


def page(rows: list[Row], not_run: list[str]) -> str:
    """Return the rows as a page: checks first, then what only informs; misses on top of each."""
    checks = [row for row in rows if not row["informs"]]
    others = [row for row in rows if row["informs"]]
    held, inside = (sum(row["holds"] for row in part) for part in (checks, others))
    lines = ["# Checked against others", "", f"{len(checks)} checks, {held} hold."]
    lines += [f"\n{line[0].upper()}{line[1:]}." for line in not_run]
    lines += _table(checks)
    if others:
        lines += ["", "## For information", "", f"{len(others)} values, {inside} inside."]
        lines += _table(others)
    return "\n".join(lines)


def _table(rows: list[Row]) -> list[str]:
    lines = ["", "| holds | id | wanted | got | status | source |", "|---|---|---|---|---|---|"]
    for row in sorted(rows, key=lambda row: (row["holds"], row["topic"], row["id"])):
        sign = "yes" if row["holds"] else "NO"
        cells = (sign, row["id"], wanted(row), f"{row['got']:.6g}", row["status"], row["source"])
        lines.append("| " + " | ".join(str(cell).replace("|", "/") for cell in cells) + " |")
    return lines


def wanted(row: Row) -> str:
    """Return what a row should be, in words."""
    if "expected" in row:
        return str(row["expected"])
    ends = ("at least", "low"), ("at most", "high")
    if "low" in row and "high" in row:
        return f"{row['low']} to {row['high']}"
    return " ".join(f"{word} {row[end]}" for word, end in ends if end in row)
