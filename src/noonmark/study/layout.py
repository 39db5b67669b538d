"""Where the zones of a building stand beside each other."""

from __future__ import annotations

from noonmark.design.derived import WallFace, neighbour, zone_corners
from noonmark.design.model import Building
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
