"""What the page reckons and says by itself is what Python reckons and says.

The tables are written from the Python functions; the page's own tests compare each
row: the sun to 0.02 deg, geometry to 1e-9 m, texts letter by letter.
"""

from __future__ import annotations

import runpy
from pathlib import Path

import pytest

from page_tables import write_tables

BUILD = Path(__file__).parents[2] / "page" / "build.py"


def test_page_finds_what_python_finds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_tables(tmp_path)
    monkeypatch.setenv("NOONMARK_TABLES", str(tmp_path))
    runpy.run_path(str(BUILD))["test"]()
