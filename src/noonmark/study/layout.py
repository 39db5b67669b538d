"""Where the zones of a building stand beside each other."""

from __future__ import annotations

from noonmark.design.derived import wall_faces
from noonmark.design.model import Building
from noonmark.inside.box import Box


def boxes_of(building: Building) -> list[Box]:
    """Return the zones as boxes in the building's frame, in their order.

    A zone behind a partition stands flush against it: middle to middle where
    it lies before or behind, sunny walls in one line where it lies beside.
    """
    boxes = {
        name: Box(zone.length, zone.width, zone.height) for name, zone in building.zone.items()
    }
    for face in wall_faces(building):
        if face.next_to is None or face.side is None:
            continue
        here, there = boxes[face.zone], boxes[face.next_to]
        middle = 0.5 * (here.length - there.length)
        x, w = {
            "sunny": (middle, -there.width),
            "back": (middle, here.width),
            "left": (-there.length, 0.0),
            "right": (here.length, 0.0),
        }[face.side]
        boxes[face.next_to] = Box(there.length, there.width, there.height, here.x + x, here.w + w)
    return list(boxes.values())
