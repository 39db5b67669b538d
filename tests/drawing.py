"""Takes drawings apart for the tests."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

from shapely.affinity import rotate
from shapely.geometry import Polygon, box

from noonmark.sheets import svg

NAMESPACE = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Box:
    """A line of type and the room it takes."""

    content: str
    shape: Polygon


def parsed(drawing: str) -> ElementTree.Element:
    return ElementTree.fromstring(drawing)


def classed(root: ElementTree.Element, tag: str, name: str) -> list[ElementTree.Element]:
    return [part for part in root.iter(NAMESPACE + tag) if name in part.get("class", "").split()]


def corners(part: ElementTree.Element) -> list[tuple[float, float]]:
    pairs = (pair.split(",") for pair in part.get("points", "").split())
    return [(float(x), float(y)) for x, y in pairs]


def boxes(root: ElementTree.Element) -> list[Box]:
    return [_box(part) for part in root.iter(NAMESPACE + "text")]


def _box(part: ElementTree.Element) -> Box:
    content, size = part.text or "", float(part.get("font-size", "0"))
    x, y = float(part.get("x", "0")), float(part.get("y", "0"))
    wide = svg.text_width(content, size)
    names = part.get("class", "").split()
    if "upright" in names:
        return Box(content, box(x - 0.72 * size, y - wide / 2, x + 0.2 * size, y + wide / 2))
    left = x - wide if "end" in names else x - wide / 2 if "middle" in names else x
    shape = box(left, y - 0.72 * size, left + wide, y + 0.2 * size)
    turned = re.fullmatch(r"rotate\((\S+) (\S+) (\S+)\)", part.get("transform", ""))
    if turned:
        angle, *about = (float(number) for number in turned.groups())
        shape = rotate(shape, angle, (about[0], about[1]))
    return Box(content, shape)


def collisions(root: ElementTree.Element) -> list[tuple[str, str]]:
    """Return pairs of texts that overlap."""
    return [
        (a.content, b.content)
        for a, b in combinations(boxes(root), 2)
        if a.shape.intersection(b.shape).area > 1
    ]


def outside(root: ElementTree.Element) -> list[str]:
    """Return texts that leave the sheet."""
    _, _, width, height = (float(n) for n in root.get("viewBox", "").split())
    sheet = box(0, 0, width, height)
    return [b.content for b in boxes(root) if not sheet.covers(b.shape)]
