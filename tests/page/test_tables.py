"""What the page reckons and says by itself is what Python reckons and says.

The tables are written from the Python functions; the page's own tests compare each
row: the sun to 0.02 deg, geometry to 1e-9 m, texts letter by letter. The other way round,
Python puts the words of the page's hand on the file and finds the wall that the page drew.
"""

from __future__ import annotations

import runpy
from collections import Counter
from pathlib import Path

import pytest

from page_hand import VARIANTS, hand_rows, unit_of, wall_after, write_shapes
from page_tables import write_tables

BUILD = Path(__file__).parents[2] / "page" / "build.py"


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of tables, once the page's own tests have read it and written into it."""
    folder = tmp_path_factory.mktemp("tables")
    write_tables(folder)
    write_shapes(folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("NOONMARK_TABLES", str(folder))
        runpy.run_path(str(BUILD))["test"]()
    return folder


def test_page_finds_what_python_finds(tables: Path) -> None:
    assert (tables / "hand.json").is_file()


def test_words_of_the_hand_make_the_wall_that_it_drew(tables: Path) -> None:
    rows = hand_rows(tables)
    for row in rows:
        assert row["words"], row
        found = wall_after(row["variant"], row["words"])
        apart = {key: (row["wall"][key], value) for key, value in found.items()}
        for key, (drawn, value) in apart.items():
            assert drawn == pytest.approx(value, abs=1e-4), (row["variant"], row["name"], key)
    done = Counter((row["variant"], row["name"]) for row in rows)
    assert {variant for variant, _ in done} == set(VARIANTS)
    assert len(done) >= 36
    said = Counter(unit_of(word) for row in rows for word in row["words"])
    assert set(said) == {"us", "metric", "twelve", "degrees"}
