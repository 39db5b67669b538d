"""The story pole: a stick beside the wall, one notch for each date's shade line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonmark.shape import WallSection
from noonmark.sheets import svg
from noonmark.sheets.paper import INK, SHADE, SMALL
from noonmark.sheets.spread import spread
from noonmark.sheets.view import View

STICK = 7.0  # px, half its width
NOTCH = 12.0  # px, half a notch
GAP = SMALL * 1.08  # px between labels
ELBOW = 34.0  # px from the stick to its labels
BELOW = " ↓"
OWN = "30 Sep, 10' 10 3/4\""
"""Longest label of a shown day: room for it is kept at every date."""

CROWD = 1.6
"""Labels may take this many times the height of their notches before some are left out."""


@dataclass(frozen=True)
class Mark:
    """One date on the pole: its label and the height of the shade line [m above the floor].

    `current` is the date that the drawing shows.
    """

    label: str
    height: float
    current: bool = False


def pole_width(marks: Sequence[Mark]) -> float:
    """Return the room a pole and its labels take to the left of its middle [px]."""
    labels = [OWN, *(mark.label + BELOW for mark in marks)]
    return max(svg.text_width(label, SMALL) for label in labels) + ELBOW


def draw_pole(
    view: View,
    x: float,
    section: WallSection,
    marks: Sequence[Mark],
    caption: str,
    own: Mark | None = None,
) -> list[str]:
    """Return the stick at `x` [px], from ground to soffit, with its notches and labels.

    A shade line above the top gives no notch (the eave shades nothing there
    yet); one below the foot is written at the foot with an arrow. Where notches crowd,
    every second one is left out, never that of `own`, a shown day between the
    dates of the marks. No marks, no pole.
    """
    if not marks:
        return []
    foot, top = section.ground, section.roof.soffit_at_wall
    dates = [mark for mark in marks if mark.height <= top]
    shown = [*_uncrowded(dates, foot, view.scale), *([own] if own else [])]
    ends = view.y(top), view.y(foot)
    size = {"width": 2 * STICK, "height": ends[1] - ends[0]}
    stick = svg.element("rect", x=x - STICK, y=ends[0], class_="seen", **size)
    notches = [view.y(max(mark.height, foot)) for mark in shown]
    labels = spread(notches, GAP, ends[0] - 3 * SMALL, view.bottom)
    name = svg.text(x + STICK, min([ends[0], *labels]) - SMALL, caption, SMALL, class_="name end")
    drawn = [
        part
        for mark, at, label in zip(shown, notches, labels, strict=True)
        for part in _notch(x, at, label, mark, mark.height < foot)
    ]
    return [stick, *drawn, name]


def _uncrowded(marks: Sequence[Mark], foot: float, scale: float) -> list[Mark]:
    """Return all marks, or every second or fourth; both ends and the shown day stay."""
    heights = [max(mark.height, foot) for mark in marks]
    room = CROWD * scale * (max(heights, default=0.0) - min(heights, default=0.0))
    last = len(marks) - 1
    kept = list(marks)
    for step in (2, 4):
        if len(kept) * GAP <= room:
            break
        kept = [
            mark
            for i, mark in enumerate(marks)
            if mark.current or i == last or (i % step == 0 and last - i >= step)
        ]
    return kept


def _notch(x: float, at: float, label: float, mark: Mark, sunk: bool) -> list[str]:
    ink, weight = (SHADE, 4.5) if mark.current else (INK, 2.2)
    tip = x - NOTCH
    elbow = f"M{svg.number(tip)} {svg.number(at)}L{svg.number(x - ELBOW + 5)} {svg.number(label)}"
    return [
        svg.line(tip, at, x + NOTCH, at, stroke=ink, stroke_width=weight, class_="notch"),
        svg.element("path", d=elbow, class_="reach"),
        svg.text(
            x - ELBOW,
            label + SMALL * 0.34,
            mark.label + (BELOW if sunk else ""),
            SMALL,
            class_="name end mark" if mark.current else "end mark",
            style=f"fill:{SHADE}" if mark.current else None,
        ),
    ]
