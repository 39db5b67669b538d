"""Chains of dimensions: one line, a tick at each place, a label for each stretch."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from noonmark.sheets import svg
from noonmark.sheets.dimensions import tick
from noonmark.sheets.paper import SMALL
from noonmark.sheets.spread import spread

ELBOW = 26.0  # px between a chain and its labels
GAP = 22.0  # px between two labels beside each other


def chain_across(
    places: Sequence[float], texts: Sequence[str], y: float, left: float, right: float
) -> list[str]:
    """Return a level chain at `y` through places [px], its labels below within left..right."""
    parts = [svg.line(min(places), y, max(places), y, class_="measure")]
    parts += [tick(place, y) for place in places]
    middles = [(a + b) / 2.0 for a, b in pairwise(places)]
    wide = max(svg.text_width(text, SMALL) for text in texts)
    stands = spread(middles, wide + GAP, left + wide / 2, right - wide / 2)
    for text, middle, at in zip(texts, middles, stands, strict=True):
        parts += [
            _elbow(middle, y, at, y + ELBOW - 6),
            svg.text(at, y + ELBOW + SMALL * 0.7, text, SMALL, class_="middle chain"),
        ]
    return parts


def chain_up(
    places: Sequence[float], texts: Sequence[str], x: float, low: float, high: float
) -> list[str]:
    """Return an upright chain at `x` through places [px], its labels to the right."""
    parts = [svg.line(x, min(places), x, max(places), class_="measure")]
    parts += [tick(x, place) for place in places]
    middles = [(a + b) / 2.0 for a, b in pairwise(places)]
    stands = spread(middles, SMALL * 1.3, low, high)
    for text, middle, at in zip(texts, middles, stands, strict=True):
        parts += [
            _elbow(x, middle, x + ELBOW, at),
            svg.text(x + ELBOW + 6, at + SMALL * 0.34, text, SMALL, class_="chain"),
        ]
    return parts


def callouts(
    things: Sequence[tuple[str, float, float]], x: float, low: float, high: float
) -> list[str]:
    """Return labels in a column at `x`, each with a line to its thing (text, x, y) [px]."""
    stands = spread([y for _, _, y in things], SMALL * 1.5, low, high)
    parts = []
    for (text, at, y), stand in zip(things, stands, strict=True):
        parts += [
            _elbow(at, y, x - 8, stand),
            svg.element("circle", cx=at, cy=y, r=3, class_="dot"),
            svg.text(x, stand + SMALL * 0.34, text, SMALL, class_="callout"),
        ]
    return parts


def _elbow(x0: float, y0: float, x1: float, y1: float) -> str:
    return svg.line(x0, y0, x1, y1, class_="reach")
