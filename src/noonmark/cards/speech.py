"""Renders sentences and problems: keys with values become words here and nowhere below."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files

from noonmark.errors import NoonmarkError, Problem, Sentence
from noonmark.units import Quantity, System
from noonmark.units.writing import MINUS, dimension

ENGLISH = "en"
"""The language that has every sentence."""

_POINT = re.compile(r"(?<=\d)\.(?=\d)")

_FAR_M = 100.0
"""A length from here on is no dimension of a building and is said in whole metres or feet."""

_GROUP = {"kind": "kind", "got": "kind", "wanted": "kind", "side": "side", "face": "face"}
"""Values whose text is itself a key, and the table it lies in."""


@dataclass(frozen=True)
class Speech:
    """A reader's language and units system; `fine` writes lengths to build by."""

    system: System = "metric"
    language: str = ENGLISH
    fine: bool = False

    def say(self, sentence: Sentence) -> str:
        """Return a sentence in words."""
        return self._fill(sentence.key, sentence.values)

    def word(self, key: str) -> str:
        """Return the word or phrase of a key without values."""
        return self._table[key]

    def explain(self, problem: Problem) -> str:
        """Return `file:line: part: what is wrong` and, where there is one, a line `hint: ...`."""
        place = ":".join(str(item) for item in (problem.file, problem.line) if item)
        part = self._part(problem)
        lead = [item for item in (place, part) if item]
        text = ": ".join([*lead, self._fill(problem.code, problem.values)])
        hint = f"{problem.code}.hint"
        if hint in self._table:
            text += f"\n  {self.word('hint')}: {self._fill(hint, problem.values)}"
        return text

    def explain_all(self, error: NoonmarkError) -> str:
        """Return every problem of an error, one after the other."""
        return "\n".join(self.explain(problem) for problem in error.problems)

    def number(self, value: float, digits: int = 0) -> str:
        """Return a number with its group mark; what rounds to nothing has no sign."""
        text = f"{value:z,.{digits}f}".replace("-", MINUS)
        marks = {ord(","): self.word("number.group"), ord("."): self.word("number.decimal")}
        return text.translate(marks)

    def day(self, day: date) -> str:
        """Return a day of a year such as "21 Dec"."""
        values = {"day": day.day, "month": self.word(f"month_short.{day.month}")}
        return self.say(Sentence("sheet.day", values))

    @property
    def _table(self) -> Mapping[str, str]:
        return sentences(self.language)

    def _fill(self, key: str, values: Mapping[str, object]) -> str:
        shown = {name: self._show(value, name) for name, value in values.items()}
        template = self._table.get(key, key)
        return template.format_map(_Shown(shown))

    def _show(self, value: object, name: str = "") -> str:
        if isinstance(value, Quantity):
            far = value.kind == "length" and abs(value.value) >= _FAR_M
            if self.fine and value.kind == "length" and not far:
                return self.decimal(dimension(value.value, self.system))
            return self.decimal(value.write(self.system, digits=0 if far else None))
        if isinstance(value, date):
            return self.day(value)
        if isinstance(value, str):
            return self._table.get(f"{_GROUP.get(name)}.{value}", _printable(value))
        if isinstance(value, float):
            return self.decimal(f"{value:.6g}")
        if isinstance(value, Sequence):
            return ", ".join(self._show(item) for item in value) or self.word("nothing")
        return str(value)

    def decimal(self, text: str) -> str:
        """Return a text with the decimal mark of the language in its numbers."""
        return _POINT.sub(self.word("number.decimal"), text)

    def _part(self, problem: Problem) -> str:
        """Return the part in the builder's words: "south window 1, width"."""
        words = problem.path.split(".") if problem.path else []
        if "number" in problem.values and len(words) >= 3:
            side = problem.values.get("side")
            lead = f"{self._table.get(f'side.{side}', '')} {self.word('part.window')}".strip()
            return ", ".join([f"{lead} {problem.values['number']}", *words[3:]])
        return ", ".join(self._table.get(f"part.{word}", word) for word in words)


def _printable(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)


class _Shown(dict[str, str]):
    """Values of a sentence; one that is missing shows as a question mark, never as a crash."""

    def __missing__(self, key: str) -> str:
        """Return the mark for a value that was not handed over."""
        return f"?{key}?"


def languages() -> list[str]:
    """Return the languages there are sentences in."""
    folder = files("noonmark.cards").joinpath("sentences")
    return sorted(item.name.removesuffix(".toml") for item in folder.iterdir())


@cache
def sentences(language: str) -> Mapping[str, str]:
    """Return every sentence of a language by its key; what it lacks is said in English."""
    text = files("noonmark.cards").joinpath(f"sentences/{language}.toml").read_text("utf-8")
    own = _flat(tomllib.loads(text))
    return own if language == ENGLISH else {**sentences(ENGLISH), **own}


def _flat(table: Mapping[str, object], prefix: str = "") -> dict[str, str]:
    flat: dict[str, str] = {}
    for key, value in table.items():
        name = f"{prefix}{key}"
        if isinstance(value, Mapping):
            flat |= _flat(value, f"{name}.")
        else:
            flat[name] = str(value)
    return flat
