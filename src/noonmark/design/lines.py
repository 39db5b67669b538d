"""Where in a TOML text each value stands, for errors that name a line."""

from __future__ import annotations

import re
from dataclasses import dataclass

Place = tuple[str | int, ...]

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+)(?:\s*\.\s*(?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+))*)\s*="""
)
_TOKEN = re.compile(r"""\"{3}|'{3}|"(?:[^"\\]|\\.)*"|'[^']*'|\#.*|[\[\]{}]""")
_ENDS = {
    '"""': re.compile(r'(?:[^"\\]|\\.|"(?!""))*"""'),
    "'''": re.compile(r"(?:[^']|'(?!''))*'''"),
}
_WORD = re.compile(r"""\s*(?:"([^"]*)"|'([^']*)'|([A-Za-z0-9_-]+))\s*\.?""")


def line_table(text: str) -> dict[Place, int]:
    """Return the line (from 1) of every table header and key of a TOML text.

    Array-of-tables entries are numbered from 0. Values inside one assignment
    (inline tables, arrays over several lines) are known by their key's line.
    """
    table: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    prefix: Place = ()
    inside = _Value()
    for number, line in enumerate(text.split("\n"), start=1):
        if inside.open:
            inside.read(line)
        elif match := _HEADER.match(line):
            path = _resolve(_words(match[2]), counts)
            if match[1] == "[[":
                counts[path] = counts.get(path, -1) + 1
                path = (*path, counts[path])
            prefix = path
            table.setdefault(prefix, number)
        elif match := _KEY.match(line):
            table.setdefault((*prefix, *_words(match[1])), number)
            inside.read(line[match.end() :])
    return table


@dataclass
class _Value:
    """How far a value is read: the long quotes it stands in, the brackets not closed yet."""

    quotes: str = ""
    depth: int = 0

    @property
    def open(self) -> bool:
        return bool(self.quotes) or self.depth > 0

    def read(self, line: str) -> None:
        start = 0
        while start <= len(line):
            if self.quotes:
                end = _ENDS[self.quotes].match(line, start)
                if end is None:
                    return
                self.quotes, start = "", end.end()
            token = _TOKEN.search(line, start)
            if token is None:
                return
            start = token.end()
            if token[0] in _ENDS:
                self.quotes = token[0]
            else:
                self.depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token[0], 0)


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
