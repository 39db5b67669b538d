"""Writes the result tree down from its own fields: `python -m noonmark.study.schema FILE`."""

from __future__ import annotations

import sys
import types
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from inspect import cleandoc
from pathlib import Path
from typing import Any, Union, get_args, get_origin, get_type_hints

from noonmark.errors import Sentence
from noonmark.study.results.damp import DampResult
from noonmark.study.results.glass import GlassResult
from noonmark.study.results.marks import MarksResult, ReadBack
from noonmark.study.results.printed import Printed
from noonmark.study.results.shade import (
    EaveResult,
    EaveYearResult,
    MovableShade,
    SeasonResult,
    SlatsResult,
)
from noonmark.study.results.stakeout import StakeoutResult
from noonmark.study.results.year import BrightDay, ColdDawn, YearResult

_TREES: dict[type[Printed], tuple[str, str]] = {
    YearResult: ("run", "noonmark.study.run_year"),
    SeasonResult: ("season", "noonmark.study.season.seasons"),
    EaveResult: ("eave", "noonmark.choose.eave.size_eave"),
    EaveYearResult: ("eave --by-year", "noonmark.choose.yearly.eave_by_year"),
    MovableShade: ("awning", "noonmark.choose.yearly.awning_by_year"),
    DampResult: ("damp", "noonmark.study.damp.damp"),
    GlassResult: ("glass", "noonmark.choose.glass.glass_by_side"),
    SlatsResult: ("slats", "noonmark.choose.slats.size_slats"),
    StakeoutResult: ("stakeout", "noonmark.study.stakeout.stakeout"),
    MarksResult: ("marks", "noonmark.study.marks.sun_marks"),
    ReadBack: ("marks --read", "noonmark.choose.markfit.read_back"),
}
"""Of each tree the command that prints it and the function that returns it."""

_PAGE: tuple[type, ...] = (BrightDay, ColdDawn)
"""Parts that only the page's server sends (docs/wire.md), beside a building's year."""

_HEAD = """# The result trees

<!-- Written from src/noonmark/study/results; change it there, then run `make docs`. -->

A command with `--json` prints its tree on stdout; a function returns it as frozen dataclasses. A
key that changes its meaning changes the name of the format. Numbers are SI or as their names say,
unrounded and finite. Hours count from the first of January in standard time.

| tree | command | function | format |
|---|---|---|---|
"""

_SENTENCE = """
## Sentence

A sentence of the program as data, so that it can be said in any language and units.

| key | value | unit | meaning |
|---|---|---|---|
| `key` | text | | which sentence, such as `caution.long_eave` |
| `values` | table | | what it names; a measure is a table of `value` (SI) and `kind` |
"""

_WORDS = {
    date: "date, such as `2026-02-10`",
    datetime: "clock time, such as `2026-02-10 12:14:33-07:00`",
    str: "text",
    int: "whole number",
    float: "number",
    bool: "true or false",
}


def result_tree_markdown() -> str:
    """Return the page that describes every key of the result tree."""
    rows = [
        f"| {_words(kind)} | `noonmark {command}` | `{function}` | `{kind.FORMAT}` |\n"
        for kind, (command, function) in _TREES.items()
    ]
    parts = [_section(kind) for tree in _TREES for kind in _kinds(tree)]
    parts += map(_section, _PAGE)
    return _HEAD + "".join([*rows, *dict.fromkeys(parts)]) + _SENTENCE


def _kinds(kind: type) -> list[type]:
    """Return a dataclass and all that lie in it, outermost first."""
    found = [kind]
    for inner in found:
        hints = get_type_hints(inner)
        for field in fields(inner):
            found += [k for k in _within(hints[field.name]) if k not in found]
    return [k for k in found if k is not Sentence]


def _within(hint: Any) -> Iterator[type]:
    if isinstance(hint, type) and is_dataclass(hint):
        yield hint
    for inner in get_args(hint):
        yield from _within(inner)


def _section(kind: type) -> str:
    hints = get_type_hints(kind)
    rows = [
        f"| `{field.name}` | {_words(hints[field.name])} | {field.metadata['unit']} | "
        f"{field.metadata['meaning']} |"
        for field in fields(kind)
    ]
    about = cleandoc(kind.__doc__ or "")
    table = "\n".join(["| key | value | unit | meaning |", "|---|---|---|---|", *rows])
    return f"\n## {kind.__name__}\n\n{about}\n\n{table}\n"


def _words(hint: Any) -> str:
    """Return a type in plain words, a dataclass as a link to its section."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is tuple:
        return f"list of {_words(inner[0])}"
    if origin is dict:
        return f"table of {_words(inner[1])}s by {_words(inner[0])}"
    if origin in (Union, types.UnionType):
        return " or ".join("null" if item is type(None) else _words(item) for item in inner)
    if is_dataclass(hint):
        name = getattr(hint, "__name__", "")
        return f"[{name}](#{name.lower()})"
    return _WORDS[hint]


def main(words: list[str]) -> None:
    """Write the page to the file named."""
    (name,) = words
    Path(name).write_text(result_tree_markdown(), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
