"""The written pages are what the sources say; `make docs` writes them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from noonmark import units
from noonmark.design import model, outdoors, services
from noonmark.design import schema as design_schema
from noonmark.design.meanings import MEANINGS
from noonmark.design.outdoors import Season
from noonmark.design.part import Clock, Hours, Part
from noonmark.design.quantities import measure_of
from noonmark.design.schema import SECTIONS, design_file_markdown
from noonmark.study import schema as result_schema
from noonmark.study.schema import result_tree_markdown

DOCS = Path(__file__).parents[2] / "docs"
PAGES = {
    "result-tree.md": (result_tree_markdown, result_schema.main),
    "design-file.md": (design_file_markdown, design_schema.main),
}


@pytest.mark.parametrize("page", PAGES)
def test_page_is_up_to_date_and_says_how_it_is_written(page: str, tmp_path: Path) -> None:
    make, write = PAGES[page]
    text = make()
    assert (DOCS / page).read_text("utf-8") == text, "run `make docs`"
    assert "`make docs`" in text.splitlines()[2]
    write([str(tmp_path / page)])
    assert (tmp_path / page).read_text("utf-8") == text


def test_every_part_and_key_of_the_model_is_described() -> None:
    parts = {
        part
        for part in (vars(model) | vars(services) | vars(outdoors)).values()
        if isinstance(part, type)
        and issubclass(part, Part)
        and part not in (Part, Hours, Clock, Season)
    }
    assert set(SECTIONS) == set(MEANINGS) == parts
    for part in parts:
        keys = {field.alias or name for name, field in part.model_fields.items()}
        assert set(MEANINGS[part]) == keys, part.__name__


@pytest.mark.parametrize(
    "row",
    [
        "| `recovery` | ratio, such as `0.3` | `0` | at least 0, at most 0.95 |",
        "| `efficiency` | ratio, such as `0.3` | `1` | more than 0, at most 1 |",
        "| `stud_fraction` | ratio, such as `0.3` | `0` | at least 0, less than 1 |",
        "| `height` | length, such as `2.1 m` | needed | more than 1.5 m, at most 12 m |",
        '| `pane` | text | `"clear 4 mm"` |',
        '| `placing` | `"horizontal"` or `"vertical"` | `"vertical"` |',
        "| `zone` | tables of `[house.zone.NAME]` | needed | at least 1, at most 4 |",
    ],
)
def test_limits_are_the_narrowest(row: str) -> None:
    assert row in design_file_markdown()


def test_defaults_on_the_page_read_as_the_model_has_them() -> None:
    compared = 0
    for part in SECTIONS:
        section = design_schema._section(part, "")
        for name, default in re.findall(r'^\| `(\w+)` \| .*? \| `"([^"]*)"` \|', section, re.M):
            field = part.model_fields[name]
            kind = measure_of(field)
            got = units.read(default, kind) if kind else default
            assert got == field.default, (part.__name__, name)
            compared += 1
    assert compared > 15


def test_every_key_of_the_result_has_a_meaning() -> None:
    for line in result_tree_markdown().splitlines():
        if line.startswith("| `"):
            assert not line.endswith("|  |"), line
            assert line.count("|") == 5
