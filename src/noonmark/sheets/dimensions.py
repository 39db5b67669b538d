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
OVERHANG = 34.0  # px, from the line of the projection up to that of the overhang
LINE = 1.3 * SMALL  # px, from one shelf up to the next
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
            tick(x, at),
            svg.element("path", d=elbow, class_="reach"),
            svg.text(x - ELBOW, place + SMALL * 0.34, level.text, SMALL, class_="end level"),
        ]
    return parts


def tick(x: float, y: float) -> str:
    """Return the slanting tick of a carpenter's dimension line at a point [px]."""
    return svg.line(x - TICK, y + TICK, x + TICK, y - TICK, class_="measure", stroke_width=2.6)


@dataclass(frozen=True)
class EaveWords:
    """What is written over the eave: projection, heel, insulation over the plate.

    `overhang` is that past the bearing, empty where the truss bears at the wall's face;
    `end_heel` that of a cantilever, empty for tails.
    """

    projection: str
    overhang: str
    heel: str
    end_heel: str
    insulation: str

    def shelves(self, pitch: float, *, between: bool) -> tuple[float, float, float, float]:
        """Return how high projection, insulation, heel and end heel stand [px], from the lowest up.

        Over the roof at the wall. The projection stands `between` its ticks, with room
        for the overhang above it, or beside them, and then clears the rising roof as
        the others do.
        """
        first = 34.0 if between else clearance(self.projection, pitch)
        above = first + (OVERHANG if between and self.overhang else 0.0) + 1.5 * SMALL
        second = max(above, clearance(self.insulation, pitch))
        third = max(second + LINE, clearance(self.heel, pitch))
        return first, second, third, max(third + LINE, clearance(self.end_heel, pitch))


def draw_eave(view: View, section: WallSection, words: EaveWords) -> list[str]:
    """Return projection, overhang, heel and insulation, in the free sky above the roof.

    The projection stands between its ticks, or to the right of them when it is too
    narrow; over it the overhang, where the truss bears inside the wall's face; heel and
    insulation on shelves above, at the end of the line up the wall's face, and the end
    heel at the end of the line up the fascia.
    """
    roof = section.roof
    wall, tip = view.x(0), view.x(-roof.projection)
    deck, plate = view.y(roof.top_edge(0)), view.y(roof.plate)
    between = svg.text_width(words.projection, SMALL) + 2 * TICK <= wall - tip
    shelves = words.shelves(roof.pitch, between=between)
    level, second, third, fourth = (deck - up for up in shelves)
    edge = view.y(roof.fascia_top) - 6
    parts = []
    if roof.projection > 0:
        parts += [*_across(tip, wall, level, words.projection, between), _reach(tip, level, edge)]
    if words.overhang and between:
        line, high = view.x(roof.bearing), level - OVERHANG
        parts += [*_across(tip, line, high, words.overhang, True), _reach(line, high, plate)]
        parts.append(_reach(tip, high, level))
    if words.end_heel and roof.projection > 0:
        parts += [_reach(tip, fourth + 12, edge), *_shelf(tip, fourth, words.end_heel)]
        parts += [tick(tip, plate), tick(tip, view.y(roof.fascia_top))]
    return [
        *parts,
        svg.line(wall, plate, wall, third, class_="measure"),
        tick(wall, plate),
        tick(wall, deck),
        svg.element(
            "circle",
            cx=wall,
            cy=view.y(roof.plate + section.insulation_over_plate),
            r=4.5,
            class_="filled",
        ),
        *_shelf(wall, second, words.insulation),
        *_shelf(wall, third, words.heel),
    ]


def _across(left: float, right: float, y: float, words: str, between: bool) -> list[str]:
    """Return a level dimension line with its words between its ticks or beside them."""
    return [
        svg.line(left, y, right, y, class_="measure"),
        tick(left, y),
        tick(right, y),
        svg.text(
            (left + right) / 2 if between else right + 14,
            y - 8 if between else y + SMALL * 0.34,
            words,
            SMALL,
            class_="middle eave" if between else "eave",
        ),
    ]


def _reach(x: float, y: float, down: float) -> str:
    return svg.line(x, y - 12, x, down, class_="reach")


def _shelf(x: float, y: float, words: str) -> list[str]:
    """Return words to the right of the end of an upright line."""
    return [
        svg.line(x, y, x + 14, y, class_="measure"),
        svg.text(x + 20, y + SMALL * 0.34, words, SMALL),
    ]


def clearance(words: str, pitch: float) -> float:
    """Return how far above the wall line words must stand to clear the rising roof [px]."""
    return (svg.text_width(words, SMALL) + 24) * pitch + SMALL
