"""Months, hours and legend of the year map."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from noonmark.sheets import paper, svg
from noonmark.sheets.mapgrid import (
    BREAK,
    COLOURS,
    DAY,
    DAYS,
    HARD,
    HEATED,
    HOUR,
    HOURS,
    LEFT,
    MONTH_DAYS,
    STEPS,
)
from noonmark.units import System, write

BOX = 30.0  # px, height of a legend box
SWATCH = 60.0  # px, width of a texture's sample
RIGHT = LEFT + DAYS * DAY


def draw_axes(top: float, months: Sequence[str], hours: Sequence[str]) -> list[str]:
    """Return hour names at the left and month names below a map whose top is at `top` [px]."""
    foot = top + HOURS * HOUR
    ends = list(accumulate(MONTH_DAYS, initial=0))
    rows = [foot - i * 6 * HOUR for i in range(len(hours))]
    return [
        *(
            svg.text(LEFT - 16, y + paper.SMALL * 0.34, name, paper.SMALL, class_="end")
            for y, name in zip(rows, hours, strict=True)
        ),
        *(svg.line(LEFT - 10, y, LEFT, y, class_="measure") for y in rows),
        *(
            svg.text(LEFT + DAY * (a + b) / 2, foot + 32, name, paper.SMALL, class_="middle")
            for a, b, name in zip(ends, ends[1:], months, strict=False)
        ),
        *(
            svg.line(LEFT + DAY * day, foot, LEFT + DAY * day, foot + 12, class_="measure")
            for day in ends
        ),
    ]


def draw_legend(
    top: float, system: System, heated: str, hard_heated: str, sun_line: str
) -> tuple[list[str], float]:
    """Return the colours with their temperatures, the textures, and where they end [px]."""
    row = top + BOX + 52
    samples = [
        *_sample(row, _texture(HEATED, row), heated),
        *_sample(row + 44, _texture(HARD, row + 44), hard_heated),
        *_sample(row + 88, _dots(row + 88), sun_line),
    ]
    return [*_colours(top, system), *samples], row + 88 + BOX + 20


def _colours(top: float, system: System) -> list[str]:
    width = (RIGHT - LEFT) / len(COLOURS)
    parts = []
    for i, colour in enumerate(COLOURS):
        x = LEFT + i * width
        parts.append(svg.element("rect", x=x, y=top, width=width, height=BOX, fill=colour))
        if i:
            parts += _boundary(x, top, STEPS[i - 1], system)
    return parts


def _boundary(x: float, top: float, step: float, system: System) -> list[str]:
    strong = step == BREAK
    words = write(step, "temperature", system, digits=0)
    class_ = "name middle" if strong else "middle"
    mark = [svg.line(x, top - 8, x, top + BOX + 2, stroke=paper.INK, stroke_width=4)]
    return [
        *(mark if strong else []),
        svg.text(x, top + BOX + 30, words, paper.SMALL, class_=class_),
    ]


def _sample(y: float, sample: str, words: str) -> list[str]:
    name = svg.text(LEFT + SWATCH + 16, y + BOX * 0.72, words, paper.SMALL)
    return [sample, name]


def _texture(name: str, y: float) -> str:
    box = {"x": LEFT, "y": y, "width": SWATCH, "height": BOX}
    return svg.element("rect", fill=COLOURS[5], **box) + svg.element(
        "rect", fill=f"url(#{name})", stroke=paper.INK, **box
    )


def _dots(y: float) -> str:
    return svg.line(LEFT, y + BOX / 2, LEFT + SWATCH, y + BOX / 2, class_="sun")
