"""Cut parts as a carpenter hatches them: framing, batts, boards."""

from __future__ import annotations

import math
from collections.abc import Callable

from noonmark.shape.polygon import Points, points
from noonmark.sheets import svg
from noonmark.sheets.paper import WOOD
from noonmark.sheets.view import View

LOOP = 0.085
"""Width of one loop of an insulation batt as drawn [m]."""

BULGE = 0.45 * LOOP
"""How far a loop swings past its turning places [m]."""


def timber(box: Points) -> str:
    """Return framing cut across the grain: a box [px] with its diagonals."""
    (left, low), (right, high) = box.min(axis=0), box.max(axis=0)
    cross = f"M{svg.number(left)} {svg.number(low)}L{svg.number(right)} {svg.number(high)}"
    cross += f"M{svg.number(left)} {svg.number(high)}L{svg.number(right)} {svg.number(low)}"
    frame = svg.polygon(box, class_="seen")
    return frame + svg.element("path", d=cross, class_="hatch")


def batt(view: View, box: Points) -> str:
    """Return an insulation batt standing in a wall: loops from side to side of a box [m]."""
    (x0, y0), (x1, y1) = box.min(axis=0), box.max(axis=0)
    pad = min(BULGE + 0.012, (x1 - x0) / 4)
    return serpentine(
        [view.y(y) for y in steps(y0, y1)],
        lambda _: (view.x(x0 + pad), view.x(x1 - pad)),
        lambda along, across: (across, along),
    )


def steps(start: float, end: float) -> list[float]:
    """Return the middles of whole loops that fill start..end [m]."""
    count = int((end - start) / LOOP)
    width = (end - start) / max(count, 1)
    return [start + (i + 0.5) * width for i in range(count)]


def serpentine(
    along: list[float],
    sides: Callable[[float], tuple[float, float]],
    turn: Callable[[float, float], tuple[float, float]],
) -> str:
    """Return one soft line running to and fro between two sides [px].

    `along`: where it crosses; `sides`: both turning places there; `turn` puts
    (along, across) into (x, y).
    """
    corners = [
        turn(place, sides(place)[(i + flip) % 2])
        for i, place in enumerate(along)
        for flip in (0, 1)
    ]
    if not corners:
        return ""
    return svg.element("path", d=_soft(corners), class_="loops")


def _soft(corners: list[tuple[float, float]]) -> str:
    """Return a path through corners: straight across, round at every turn."""
    pieces = [f"M{_pair(*corners[0])}"]
    for i in range(1, len(corners)):
        (x0, y0), (x1, y1) = corners[i - 1], corners[i]
        if i % 2 == 0:
            dx, dy = _onward(corners[i - 2], (x0, y0), 0.6 * math.hypot(x1 - x0, y1 - y0))
            pieces.append(f"C{_pair(x0 + dx, y0 + dy)} {_pair(x1 + dx, y1 + dy)} {_pair(x1, y1)}")
        else:
            pieces.append(f"L{_pair(x1, y1)}")
    return "".join(pieces)


def _onward(
    start: tuple[float, float], end: tuple[float, float], length: float
) -> tuple[float, float]:
    """Return a step of `length` in the direction from `start` to `end`; none when they meet."""
    across = math.dist(start, end)
    part = length / across if across else 0.0
    return (end[0] - start[0]) * part, (end[1] - start[1]) * part


def _pair(x: float, y: float) -> str:
    return f"{svg.number(x)} {svg.number(y)}"


def zigzag(left: float, right: float, low: float, high: float) -> str:
    """Return an insulation board: a line to and fro at 60 degrees between two levels [px]."""
    count = max(1, round((right - left) * math.sqrt(3) / abs(high - low)))
    width = (right - left) / count
    corners = [(left + i * width, (low, high)[i % 2]) for i in range(count + 1)]
    return svg.polyline(points(corners), class_="loops")


def cut(corners: Points, fill: str = WOOD) -> str:
    """Return a cut part: outlined thick; corners (n, 2) [px]."""
    return svg.polygon(corners, class_="cut", fill=fill)
