"""Where the zones of a building stand beside each other."""

from __future__ import annotations

import math
from collections.abc import Iterator

from noonmark.design.derived import WallFace, neighbour, zone_corners
from noonmark.design.model import Building, Window
from noonmark.inside.box import Box


def boxes_of(building: Building) -> list[Box]:
    """Return the zones as boxes in the building's frame, in their order."""
    corners = zone_corners(building)
    return [
        Box(zone.length, zone.width, zone.height, *corners[name])
        for name, zone in building.zone.items()
    ]


def stretch_behind(building: Building, face: WallFace) -> tuple[float, float]:
    """Return where along an outside wall another zone meets it, and for how long [m].

    From its left end, for somebody inside; lengths along the wall's face leave that
    stretch out. Nothing for a wall of an azimuth of its own.
    """
    behind = None if face.side is None else neighbour(building, face.zone, face.side)
    if face.side is None or behind is None:
        return 0.0, 0.0
    boxes = dict(zip(building.zone, boxes_of(building), strict=True))
    box = boxes[face.zone]
    start = box.shared_from(face.side, boxes[behind])
    return start, box.wall_length(face.side) - face.length


def positions(face: WallFace) -> Iterator[tuple[Window, list[float]]]:
    """Yield each entry with the left edges of its windows [m from the wall's left end].

    Those without a place of their own are spread evenly, in the order of the file.
    """
    counts = [max(1, math.ceil(window.count)) for window in face.windows]
    widths = sum(count * window.width for count, window in zip(counts, face.windows, strict=True))
    space = (face.length - widths) / (sum(counts) + 1)
    left = 0.0
    for count, window in zip(counts, face.windows, strict=True):
        if window.left is not None:
            yield window, [window.left]
            continue
        lefts = []
        for index in range(count):
            left += space
            middle = face.length * (index + 0.5) / count - window.width / 2.0
            lefts.append(left if space >= 0.0 else max(0.0, middle))
            left += window.width
        yield window, lefts
