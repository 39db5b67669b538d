"""Dimensions beside the thing measured: levels, eave projection, heel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonmark.shape import WallSection
from noonmark.sheets import svg
from noonmark.sheets.paper import SMALL
from noonmark.sheets.spread import spread
from noonmark.sheets.view import View

TICK = 6.0  # px, half the slanting tick of a carpenter's dimension line
ELBOW = 30.0  # px between the line of levels and its labels


@dataclass(frozen=True)
class Level:
    """A height to write: `text`, `height` [m], and `x` [m] where the thing stands."""

    text: str
    height: float
    x: float = 0.0


def levels_width(levels: Sequence[Level]) -> float:
    """Return the room that a line of levels takes to its left [px]."""
    return max((svg.text_width(level.text, SMALL) for level in levels), default=0.0) + ELBOW


def draw_levels(view: View, x: float, levels: Sequence[Level]) -> list[str]:
    """Return a dimension line at `x` [px] with one ticked, labelled height for each level."""
    heights = [view.y(level.height) for level in levels]
    places = spread(heights, SMALL * 1.2, view.y0 + SMALL, view.bottom - SMALL)
    parts = [svg.line(x, min(heights), x, max(heights), class_="measure")]
    for level, at, place in zip(levels, heights, places, strict=True):
        elbow = f"M{svg.number(x)} {svg.number(at)}L{svg.number(x - ELBOW + 5)} {svg.number(place)}"
        parts += [
            svg.line(x, at, view.x(level.x), at, class_="reach"),
            _tick(x, at),
            svg.element("path", d=elbow, class_="reach"),
            svg.text(x - ELBOW, place + SMALL * 0.34, level.text, SMALL, class_="end level"),
        ]
    return parts


def _tick(x: float, y: float) -> str:
    return svg.line(x - TICK, y + TICK, x + TICK, y - TICK, class_="measure", stroke_width=2.6)


def draw_eave(view: View, section: WallSection, projection: str, heel: str) -> list[str]:
    """Return projection and heel, written in the free sky above the roof.

    The projection stands between its ticks, or to the right of them when it is too
    narrow; the heel on a shelf above, at the end of its own line.
    """
    roof = section.roof
    wall, tip = view.x(0), view.x(-roof.projection)
    deck = view.y(roof.top_edge(0))
    fits = svg.text_width(projection, SMALL) + 2 * TICK <= wall - tip
    level = deck - 34 if fits else deck - clearance(projection, roof.pitch)
    shelf = min(level - 1.5 * SMALL, deck - clearance(heel, roof.pitch))
    across = svg.text(
        (tip + wall) / 2 if fits else wall + 14,
        level - 8 if fits else level + SMALL * 0.34,
        projection,
        SMALL,
        class_="middle eave" if fits else "eave",
    )
    eave = [
        svg.line(tip, level, wall, level, class_="measure"),
        svg.line(tip, level - 12, tip, view.y(roof.fascia_top) - 6, class_="reach"),
        _tick(tip, level),
        _tick(wall, level),
        across,
    ]
    return (eave if roof.projection > 0 else []) + _heel(view, section, shelf, heel)


def _heel(view: View, section: WallSection, shelf: float, words: str) -> list[str]:
    wall, plate = view.x(0), view.y(section.roof.plate)
    deck = view.y(section.roof.top_edge(0))
    return [
        svg.line(wall, plate, wall, shelf, class_="measure"),
        svg.line(wall, shelf, wall + 14, shelf, class_="measure"),
        _tick(wall, plate),
        _tick(wall, deck),
        svg.text(wall + 20, shelf + SMALL * 0.34, words, SMALL, class_="heel"),
    ]


def clearance(words: str, pitch: float) -> float:
    """Return how far above the wall line words must stand to clear the rising roof [px]."""
    return (svg.text_width(words, SMALL) + 24) * pitch + SMALL
