"""Where in a TOML text each value stands, for errors that name a line."""

from __future__ import annotations

import re

Place = tuple[str | int, ...]

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+)(?:\s*\.\s*(?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+))*)\s*="""
)
_WORD = re.compile(r"""\s*(?:"([^"]*)"|'([^']*)'|([A-Za-z0-9_-]+))\s*\.?""")


def line_table(text: str) -> dict[Place, int]:
    """Return the line (from 1) of every table header and key of a TOML text.

    Array-of-tables entries are numbered from 0. Values inside one assignment
    (inline tables, arrays over several lines) are known by their key's line.
    """
    table: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    prefix: Place = ()
    for number, line in enumerate(text.splitlines(), start=1):
        if match := _HEADER.match(line):
            path = _resolve(_words(match[2]), counts)
            if match[1] == "[[":
                counts[path] = counts.get(path, -1) + 1
                path = (*path, counts[path])
            prefix = path
            table.setdefault(prefix, number)
        elif match := _KEY.match(line):
            table.setdefault((*prefix, *_words(match[1])), number)
    return table


def line_of(table: dict[Place, int], path: Place) -> int | None:
    """Return the line of the path or of its nearest known parent."""
    for length in range(len(path), 0, -1):
        if path[:length] in table:
            return table[path[:length]]
    return None


def _words(dotted: str) -> Place:
    return tuple(
        next(word for word in match if word is not None and word != "") if any(match) else ""
        for match in _WORD.findall(dotted)
    )


def _resolve(words: Place, counts: dict[Place, int]) -> Place:
    """Put the current entry number behind each array of tables on the way."""
    path: Place = ()
    for index, word in enumerate(words):
        path = (*path, word)
        if path in counts and index < len(words) - 1:
            path = (*path, counts[path])
    return path
