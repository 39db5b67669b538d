"""Parts of the drawings with the sun on walls and floors: light, labels in rows, a scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonmark.shading.patches import Sunlit
from noonmark.sheets import svg
from noonmark.sheets.paper import GOLD, ROOM, SHADED, SMALL
from noonmark.sheets.view import View
from noonmark.units import System
from noonmark.units.table import FOOT
from noonmark.units.writing import write

ROW = 1.15 * SMALL
"""From one row of labels to the next [px]."""

_BETWEEN = 12.0  # px between labels of a row
_LENGTHS = {"metric": (0.5, 1, 2, 5, 10, 20, 50), "us": (1, 2, 5, 10, 20, 50, 150)}
_LONGEST = 130.0  # px of a scale


@dataclass(frozen=True)
class Label:
    """Words to stand about `x` [px]."""

    x: float
    words: str


def shade_on_wall(view: View, lit: Sunlit) -> list[str]:
    """Return the shade on a lit part of a wall: lighter where something lets light through."""
    return [
        *(
            svg.rings(map(view.drawn, rings), fill=SHADED, fill_opacity=f"{0.75 * (1 - keeps):.2f}")
            for rings, keeps in lit.dimmed_rings()
        ),
        svg.rings(map(view.drawn, lit.shade), fill=SHADED, fill_opacity=".75", class_="shade"),
    ]


def light(view: View, lit: Sunlit) -> list[str]:
    """Return the light on glass or floor, paler where something lets part of it through."""
    if lit.area < 1e-6:
        return []
    return [
        svg.rings(map(view.drawn, lit.rings), fill=GOLD, class_="light"),
        *(
            svg.rings(map(view.drawn, rings), fill=ROOM, fill_opacity=f"{1 - keeps:.2f}")
            for rings, keeps in lit.dimmed_rings()
        ),
    ]


def rows_of(labels: Sequence[Label], size: float, left: float, right: float) -> list[list[Label]]:
    """Return labels in as few rows as keep them apart, between two edges of the sheet [px]."""
    rows: list[list[Label]] = []
    for label in sorted(labels, key=lambda item: item.x):
        half = svg.text_width(label.words, size) / 2
        x = min(max(label.x, left + half), max(right - half, left + half))
        for row in rows:
            last = row[-1]
            if last.x + svg.text_width(last.words, size) / 2 + _BETWEEN <= x - half:
                row.append(Label(x, label.words))
                break
        else:
            rows.append([Label(x, label.words)])
    return rows


def draw_rows(rows: Sequence[Sequence[Label]], top: float, name: str | None = None) -> list[str]:
    """Return rows of labels from `top` [px] on."""
    style = f"middle {name}" if name else "middle"
    return [
        svg.text(label.x, top + SMALL + index * ROW, label.words, SMALL, class_=style)
        for index, row in enumerate(rows)
        for label in row
    ]


def scale_bar(x: float, y: float, scale: float, system: System) -> list[str]:
    """Return a bar of a round length at `scale` [px/m], its left end at (x, y) [px]."""
    unit = 1.0 if system == "metric" else FOOT
    fits = [length for length in _LENGTHS[system] if length * unit * scale <= _LONGEST]
    metres = (fits[-1] if fits else _LENGTHS[system][0]) * unit
    end = x + metres * scale
    digits = None if system == "us" else int(metres < 1.0)
    return [
        svg.line(x, y, end, y, class_="stout"),
        svg.line(x, y - 7, x, y + 7, class_="measure"),
        svg.line(end, y - 7, end, y + 7, class_="measure"),
        svg.text(x, y + 8 + SMALL, write(metres, "length", system, digits=digits), SMALL),
    ]
