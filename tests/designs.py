"""Designs made from the sample for tests: changed in their data, then read as a file is."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import tomlkit

from mutants import SAMPLE, Data, Place, at, sample
from noonmark.design import DesignFile, parse_design
from noonmark.errors import InputError, Problem

Edit = Callable[[Data], object]


def sample_text(*edits: Edit) -> str:
    """Return the sample as text after each edit of its data."""
    data = sample()
    for edit in edits:
        edit(data)
    return tomlkit.dumps(data)


def design(*edits: Edit, changes: Sequence[str] = ()) -> DesignFile:
    return parse_design(sample_text(*edits) if edits else SAMPLE, changes=changes)


def refused(text: str, changes: Sequence[str] = ()) -> list[Problem]:
    """Return what is wrong with a text; empty when it stands."""
    try:
        parse_design(text, name="larkspur.toml", changes=changes)
    except InputError as error:
        return list(error.problems)
    return []


def _place(path: str) -> Place:
    return tuple(int(word) if word.isdecimal() else word for word in path.split("."))


def put(path: str, value: object) -> Edit:
    """Return an edit that sets `house.window.0.width`; entries count from 0."""

    def edit(data: Data) -> None:
        *words, last = _place(path)
        at(data, tuple(words))[last] = value

    return edit


def drop(path: str) -> Edit:
    """Return an edit that takes away what lies at a path."""

    def edit(data: Data) -> None:
        *words, last = _place(path)
        del at(data, tuple(words))[last]

    return edit


def together(*edits: Edit) -> Edit:
    def edit(data: Data) -> None:
        for one in edits:
            one(data)

    return edit
