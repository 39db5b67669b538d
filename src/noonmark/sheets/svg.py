"""SVG written by hand: elements, text and paths, all escaped."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from noonmark.shape.polygon import Points

LETTER_WIDTH = 0.54
"""Mean width of a letter over the size of the type, on the generous side [-]."""

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def number(value: float) -> str:
    """Return a coordinate with at most one digit after the point."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def plain(text: str) -> str:
    """Return text safe between tags; what XML can not hold is left out."""
    return escape(_NOT_XML.sub("", text))


def element(tag: str, *children: str, **attributes: object) -> str:
    """Return an element around finished markup.

    Attribute names lose a trailing underscore and write the others as hyphens:
    `class_`, `stroke_width`. Numbers are shortened, None leaves an attribute out.
    """
    written = "".join(
        f" {name.rstrip('_').replace('_', '-')}={_attribute(value)}"
        for name, value in attributes.items()
        if value is not None
    )
    return f"<{tag}{written}>{''.join(children)}</{tag}>" if children else f"<{tag}{written}/>"


def _attribute(value: object) -> str:
    text = number(value) if isinstance(value, int | float) else str(value)
    return quoteattr(_NOT_XML.sub("", text))


def line(x0: float, y0: float, x1: float, y1: float, **attributes: object) -> str:
    """Return a straight line between two points [px]."""
    return element("line", x1=x0, y1=y0, x2=x1, y2=y1, **attributes)


def polygon(corners: Points, **attributes: object) -> str:
    """Return a closed polygon of corners (n, 2) [px]."""
    return element("polygon", points=_pairs(corners), **attributes)


def rings(outlines: Iterable[Points], **attributes: object) -> str:
    """Return what lies in an odd number of rings (n, 2) [px] as one filled path."""
    drawn = "".join(f"M{_pairs(ring).replace(' ', 'L')}Z" for ring in outlines if len(ring) > 2)
    return element("path", d=drawn, fill_rule="evenodd", **attributes) if drawn else ""


def polyline(corners: Points, **attributes: object) -> str:
    """Return an open line through corners (n, 2) [px]."""
    return element("polyline", points=_pairs(corners), fill="none", **attributes)


def _pairs(corners: Points) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in corners)


def text(x: float, y: float, content: str, size: float, **attributes: object) -> str:
    """Return one line of type, its baseline at y [px]; `content` is escaped."""
    return element("text", plain(content), x=x, y=y, font_size=size, **attributes)


def upright(x: float, y: float, content: str, size: float) -> str:
    """Return one line of type that reads from below upwards, its middle at (x, y) [px]."""
    turned = f"rotate(-90 {number(x)} {number(y)})"
    return text(x, y, content, size, class_="middle upright", transform=turned)


def text_width(content: str, size: float) -> float:
    """Return an estimate of the width of a line of type [px]."""
    return len(content) * size * LETTER_WIDTH


def unbroken(content: str) -> str:
    """Return a text whose measures stay on one line."""
    return _IN_MEASURES.sub("\u00a0", content)


def wrapped(content: str, size: float, width: float) -> list[str]:
    """Return lines of type no wider than `width` [px] by the same estimate; measures stay whole."""
    rows = textwrap.wrap(unbroken(content), max(8, int(width / (size * LETTER_WIDTH))))
    return [row.replace("\u00a0", " ") for row in rows]


_IN_MEASURES = re.compile(r"(?<=[0-9'′]) (?=[0-9]+(?:/[0-9]+)?\"|[0-9]+ [0-9]+/|m\b|m²K/W)")
"""Blanks inside feet and inches, and between a number and its metres."""


def document(
    width: float, height: float, title: str, description: str, parts: Iterable[str], style: str
) -> str:
    """Return a whole drawing [px] with its name and description for screen readers."""
    return element(
        "svg",
        element("title", plain(title) or " "),
        element("desc", plain(description) or " "),
        element("style", style),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_label=title,
    )
