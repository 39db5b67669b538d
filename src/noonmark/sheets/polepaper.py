"""The story pole in full size: strips of paper to cut out, glue on a stick and hold to the wall."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files

from noonmark.sheets.press import PAPERS, Paper, pdf, quoted
from noonmark.sheets.spread import spread
from noonmark.units import System
from noonmark.units.table import INCH

WIDTH = 60.0
"""Width of a strip [mm]; three lie beside each other."""

ABREAST = 3
FLAP = 10.0
HEAD, FOOT = 36.0, 14.0  # mm of the page over and under the strips
_LABEL = 3.2  # mm between labels
_TAIL = 40.0  # mm of stick below the last mark
_NEAR = 0.05  # mm
_CLEAR = 5.0  # mm about a joint without words of ticks


@dataclass(frozen=True)
class PoleMark:
    """A mark: how far below the soffit and how blurred [m], its words; dashed unless `noon`."""

    below: float
    blur: float
    name: str
    noon: bool


@dataclass(frozen=True)
class PoleWords:
    """What is written: title, how to use it, foot, the check bar, and `{n}` `{m}` of a strip.

    `joint` names a joint by `{n}`; `glue` stands on the flap.
    """

    title: str
    how: str
    foot: str
    check: str
    number: str
    joint: str
    glue: str


@dataclass(frozen=True)
class _Ruler:
    """Ticks every `step` [mm], longer ones every `long` steps, with a name every `named`."""

    step: float
    long: int
    named: int
    unit: str


_RULERS: dict[System, _Ruler] = {
    "metric": _Ruler(5.0, 2, 20, " cm"),
    "us": _Ruler(INCH * 1e3 / 2.0, 2, 12, '"'),
}
_BARS: dict[System, tuple[float, int]] = {"metric": (100.0, 10), "us": (4e3 * INCH, 4)}
"""Length [mm] and parts of the bar that checks the print."""


def pole_pdf(
    marks: Sequence[PoleMark],
    lines: Sequence[tuple[float, str]],
    words: PoleWords,
    *,
    paper: Paper,
    system: System,
    language: str = "en",
) -> bytes:
    """Return the pole as a PDF that is printed at full size.

    `lines` are further heights by their distance below the soffit [m] and name, such as a
    sill; those below the last mark are left out.
    """
    deepest = 1e3 * max((mark.below for mark in marks), default=0.0) + _TAIL
    width, height = PAPERS[paper]
    length = 10.0 * math.floor((height - HEAD - FOOT - FLAP) / 10.0)
    count = math.ceil(deepest / length)
    strips = [
        _strip(index, count, length, marks, lines, words, _RULERS[system], deepest)
        for index in range(count)
    ]
    pages = [
        "(" + "".join(f"{item}, " for item in strips[first : first + ABREAST]) + ")"
        for first in range(0, count, ABREAST)
    ]
    long, parts = _BARS[system]
    told = {name: getattr(words, name) for name in ("title", "how", "foot")}
    source = (
        '#import "pole.typ": *\n'
        f"#poles(({width}, {height}), {_table({k: quoted(v) for k, v in told.items()})}, "
        f"{_table({'long': long, 'parts': parts, 'words': quoted(words.check)})}, "
        f"{FLAP}, {WIDTH}, {length}, ({''.join(page + ', ' for page in pages)}))\n"
    )
    template = files("noonmark.sheets").joinpath("pole.typ").read_bytes()
    return pdf(source, {"pole.typ": template}, title=words.title, language=language)


def _strip(
    index: int,
    count: int,
    length: float,
    marks: Sequence[PoleMark],
    lines: Sequence[tuple[float, str]],
    words: PoleWords,
    ruler: _Ruler,
    deepest: float,
) -> str:
    """Return one strip as typst data, its heights from its own top [mm]."""
    top = index * length
    bottom = min(top + length, deepest)
    here = [mark for mark in marks if top <= 1e3 * mark.below < bottom]
    wanted = [1e3 * mark.below - top for mark in here]
    labels = spread(wanted, _LABEL, 6.0 if index else 2.0, bottom - top - 6.0)
    drawn = [
        {
            "at": _mm(at),
            "label": _mm(label),
            "name": quoted(mark.name),
            "noon": "true" if mark.noon else "false",
        }
        for mark, at, label in zip(here, wanted, labels, strict=True)
    ]
    bands = [
        (1e3 * (mark.below - mark.blur / 2.0), 1e3 * (mark.below + mark.blur / 2.0))
        for mark in marks
    ]
    hazy = [
        {"from": _mm(max(low, top) - top), "to": _mm(min(high, bottom) - top)}
        for low, high in bands
        if low < bottom and high > top
    ]
    crossing = [
        {"at": _mm(1e3 * below - top), "name": quoted(name)}
        for below, name in lines
        if top <= 1e3 * below < bottom
    ]
    last = index == count - 1
    return _table(
        {
            "ticks": _list(_ticks(top, bottom, ruler)),
            "lines": _list(crossing),
            "bands": _list(hazy),
            "marks": _list(drawn),
            "above": quoted(words.joint.format(n=index) if index else ""),
            "below": quoted("" if last else words.joint.format(n=index + 1)),
            "number": quoted(words.number.format(n=index + 1, m=count)),
            "glue": quoted(words.glue),
            "last": "true" if last else "false",
        }
    )


def _ticks(top: float, bottom: float, ruler: _Ruler) -> Iterator[dict[str, object]]:
    first = math.ceil((top - _NEAR) / ruler.step)
    for number in range(first, math.floor((bottom + _NEAR) / ruler.step) + 1):
        named = number % ruler.named == 0
        clear = top + _CLEAR < number * ruler.step < bottom - _CLEAR
        name = f"{number // 2}{ruler.unit}" if named and clear else ""
        long = 5.0 if named else 3.5 if number % ruler.long == 0 else 2.0
        yield {"at": _mm(number * ruler.step - top), "long": long, "name": quoted(name)}


def _mm(value: float) -> str:
    return f"{value:.3f}"


def _table(values: Mapping[str, object]) -> str:
    return "(" + ", ".join(f"{name}: {value}" for name, value in values.items()) + ")"


def _list(items: Iterable[Mapping[str, object]]) -> str:
    return "(" + "".join(f"{_table(item)}, " for item in items) + ")"
