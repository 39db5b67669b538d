"""The pages of a validation run say what does not hold and what was not run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from case_table import BEGIN, END, TOPIC, main, with_tables
from validation_page import page

DOCS = Path(__file__).parents[2] / "docs"


def row(id: str, *, got: float, informs: bool = False, **ends: float) -> dict[str, Any]:  # noqa: A002
    low, high = ends.get("low", -1e9), ends.get("high", 1e9)
    if "expected" in ends:
        low = high = ends["expected"]
    facts = {"id": id, "topic": TOPIC, "source": "a | b", "status": "memory", **ends}
    return {**facts, "got": got, "holds": low <= got <= high, "informs": informs}


ROWS = [
    row("ordering_heating_640_600", low=0.001, got=1.8),
    row("ordering_mean", low=-0.7, high=0.7, got=0.9),
    row("incident_south", expected=1369.0, got=1369.0),
    row("2020_heating_600", low=3.993, high=4.504, got=4.6, informs=True),
    row("2020_peak_heating_600", low=3.0, high=3.4, got=3.2, informs=True),
    row("2020_lowest_600FF", low=-13.8, high=-9.9, got=-13.26, informs=True),
]


def test_page_keeps_checks_and_information_apart() -> None:
    text = page(ROWS, ["not run: no Denver year (3 tests)"])
    checks, _, others = text.partition("## For information")
    assert "3 checks, 2 hold." in checks
    assert "Not run: no Denver year (3 tests)." in checks
    assert "3 values, 2 inside." in others
    assert "| NO | ordering_mean | -0.7 to 0.7 | 0.9 | memory | a / b |" in checks.splitlines()[8]
    assert "| yes | ordering_heating_640_600 | at least 0.001 | 1.8 |" in checks
    assert "| NO | 2020_heating_600 | 3.993 to 4.504 | 4.6 |" in others
    assert "2020" not in checks


def test_page_without_information_has_no_such_part() -> None:
    assert "information" not in page(ROWS[:3], [])


def test_tables_go_between_the_markers(tmp_path: Path) -> None:
    run, target = tmp_path / "run.json", tmp_path / "page.md"
    run.write_text(json.dumps(ROWS), "utf-8")
    target.write_text(f"before\n{BEGIN}\nstale\n{END}\nafter\n", "utf-8")
    main([str(run), str(target)])
    text = target.read_text("utf-8")
    assert text.startswith(f"before\n{BEGIN}\n")
    assert text.endswith(f"{END}\nafter\n")
    assert "stale" not in text
    assert "2 of 3 remembered values inside; 1 of 2 rows of order hold." in text
    assert "| 600 | heating, MWh | 3.993 to 4.504 | 4.600 | no |" in text
    assert "| 600 | peak heating, kW | 3.000 to 3.400 | 3.200 | yes |" in text
    assert "| 600FF | lowest, C | -13.8 to -9.9 | -13.3 | yes |" in text
    assert "| on the plane, south | 1369 | 1369 | yes |" in text
    main([str(run), str(target)])
    assert target.read_text("utf-8") == text


def test_run_without_the_cases_leaves_the_page_alone(tmp_path: Path) -> None:
    run, target = tmp_path / "run.json", tmp_path / "page.md"
    run.write_text(json.dumps(ROWS[:3]), "utf-8")
    target.write_text(f"{BEGIN}\nstale\n{END}\n", "utf-8")
    with pytest.raises(SystemExit, match="no Denver year"):
        main([str(run), str(target)])
    assert "stale" in target.read_text("utf-8")


def test_page_without_markers_is_refused() -> None:
    with pytest.raises(SystemExit, match="lacks its markers"):
        with_tables("nothing", "tables")


def test_docs_show_fifty_values() -> None:
    text = (DOCS / "validation.md").read_text("utf-8")
    table = text.partition(BEGIN)[2].partition(END)[0]
    lines = [line for line in table.splitlines() if line.startswith("| ")]
    assert sum(" to " in line for line in lines) == 50
    assert sum(line.startswith(("| on the plane", "| through")) for line in lines) == 11
