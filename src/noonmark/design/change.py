"""One value of a design changed by `PATH=VALUE`, the file left alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import InlineTable
from tomlkit.toml_document import TOMLDocument

from noonmark.design.lines import Place
from noonmark.design.model import TOP_LEVEL
from noonmark.design.problems import is_table
from noonmark.errors import InputError, Problem

_LONGEST = 9
"""Digits of the largest number that can be an entry's."""


def apply_change(document: TOMLDocument, change: str) -> None:
    """Set one value of the document: `house.eave.projection=3 ft`, `house.window.1.width=5 ft`.

    Entries of a list count from 1. A value that is a TOML number, truth value,
    list or inline table is taken as such, anything else as text.
    """
    path, equals, value = change.partition("=")
    words = [word.strip() for word in path.split(".")]
    if not equals or not all(words):
        raise InputError(Problem("set.shape", path=path, values={"read": change}))
    part: Any = document
    for depth, word in enumerate(words[:-1]):
        if (
            isinstance(part, Mapping)
            and word not in part
            and is_table(_modelled(words[: depth + 1]))
        ):
            part[word] = tomlkit.table()  # type: ignore[index]
        part = _step(part, word, change)
    last = words[-1]
    if isinstance(part, list):
        part[_index(part, last, change)] = _value(value)
    elif isinstance(part, Mapping):
        part[last] = _standing(_value(value), part)  # type: ignore[index]
    else:
        raise InputError(Problem("set.no_table", path=path, values={"read": change}))


def _modelled(words: Sequence[str]) -> Place:
    """Return the place in the model of the words of a path in the file."""
    return tuple(words) if words[0] in TOP_LEVEL else ("buildings", *words)


def is_entry(word: str) -> bool:
    """Return whether a word of a path can be the number of a list's entry."""
    return word.isascii() and word.isdecimal() and len(word) <= _LONGEST and int(word) > 0


def _step(part: Any, word: str, change: str) -> Any:
    if isinstance(part, list):
        return part[_index(part, word, change)]
    if not isinstance(part, Mapping):
        raise InputError(Problem("set.no_table", path=word, values={"read": change}))
    if word not in part:
        raise InputError(
            Problem(
                "set.unknown",
                path=word,
                values={
                    "read": change,
                    "near": get_close_matches(word, list(part), n=2, cutoff=0.5) or list(part),
                },
            )
        )
    return part[word]


def _index(part: Sequence[Any], word: str, change: str) -> int:
    if not (is_entry(word) and int(word) <= len(part)):
        raise InputError(
            Problem("set.no_entry", path=word, values={"read": change, "count": len(part)})
        )
    return int(word) - 1


def _standing(value: Any, part: Mapping[str, Any]) -> Any:
    """Return an inline table as one with a head of its own, so that it comes after those there."""
    if not isinstance(value, dict) or isinstance(part, InlineTable):
        return value
    table = tomlkit.table()
    table.update(value)
    return table


def _value(text: str) -> Any:
    try:
        value = tomlkit.value(text.strip())
    except (TOMLKitError, ValueError, RecursionError):
        return text.strip()
    if isinstance(value, bool | int | float | list | dict | str):
        return value
    return text.strip()
