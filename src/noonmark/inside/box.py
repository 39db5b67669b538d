"""A room as a box, and its surfaces as seen from one of its walls.

Frame of a building: x [m] to the right of somebody inside who looks out of the
sunny side, y up, w from the sunny to the back side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from noonmark.shading.plates import Opening, Plate
from noonmark.shape.polygon import Points

Wall = Literal["sunny", "right", "back", "left"]
WALLS: tuple[Wall, ...] = ("sunny", "right", "back", "left")
OPPOSITE: dict[str, Wall] = {"sunny": "back", "back": "sunny", "left": "right", "right": "left"}
PLACES = ("floor", "ceiling", *WALLS)

_LOOKING_BACK = ("back", "left")
"""Walls whose left end, for somebody who looks out, is the far end of the building's frame."""

_TURNS = {
    "sunny": ((1, 0), (0, 1)),
    "right": ((0, -1), (1, 0)),
    "back": ((-1, 0), (0, -1)),
    "left": ((0, 1), (-1, 0)),
}
"""From the frame of each wall to the building's, of (x, w)."""


@dataclass(frozen=True)
class Box:
    """A room: inside sizes [m], and where its left sunny corner lies in the building's frame."""

    length: float
    width: float
    height: float
    x: float = 0.0
    w: float = 0.0

    def surface(self, place: str) -> Plate:
        """Return the floor, the ceiling or a whole wall in the building's frame."""
        x, y, w = (self.x, self.x + self.length), (0.0, self.height), (self.w, self.w + self.width)
        if place in ("floor", "ceiling"):
            level = y[place == "ceiling"]
            return Plate(x, (level, level), w)
        if place in ("sunny", "back"):
            across = w[place == "back"]
            return Plate(x, y, (across, across))
        along = x[place == "right"]
        return Plate((along, along), y, w)

    def along(self, wall: str) -> tuple[float, float]:
        """Return where a wall runs from and to in the building's frame [m]."""
        if wall in ("sunny", "back"):
            return self.x, self.x + self.length
        return self.w, self.w + self.width

    def wall_length(self, wall: str) -> float:
        """Return the inside length of a wall [m]."""
        return self.length if wall in ("sunny", "back") else self.width

    def window(self, wall: str, opening: Opening) -> Plate:
        """Return an opening of a wall in the building's frame."""
        start, end = self.along(wall)
        left = start + opening.left
        if wall in _LOOKING_BACK:
            left = end - opening.left - opening.width
        y = (opening.bottom, opening.bottom + opening.height)
        plane = self.surface(wall)
        if wall in ("sunny", "back"):
            return Plate((left, left + opening.width), y, plane.w)
        return Plate(plane.x, y, (left, left + opening.width))

    def opening(self, wall: str, plate: Plate) -> Opening:
        """Return the opening of a wall that lies at a place in the building's frame."""
        start, end = self.along(wall)
        low, high = plate.x if wall in ("sunny", "back") else plate.w
        left = end - high if wall in _LOOKING_BACK else low - start
        return Opening(left, high - low, plate.y[0], plate.y[1] - plate.y[0])

    def shared_from(self, wall: str, other: Box) -> float:
        """Return how far from the left end of a wall the stretch begins that is shared [m]."""
        (start, end), (first, last) = self.along(wall), other.along(wall)
        return max(0.0, end - last if wall in _LOOKING_BACK else first - start)

    def seen_from(self, wall: str, plate: Plate, depth: float) -> Plate:
        """Return a plate of the building in the frame of a wall, whose inner face lies at `depth`.

        The frame of a wall is that of `noonmark.shading.plates`.
        """
        x = (plate.x[0] - self.x, plate.x[1] - self.x)
        w = (plate.w[0] - self.w, plate.w[1] - self.w)
        if wall in _LOOKING_BACK:
            w = _turned(w, self.width)
        if wall in ("back", "right"):
            x = _turned(x, self.length)
        along, away = (x, w) if wall in ("sunny", "back") else (w, x)
        return Plate(along, plate.y, (away[0] + depth, away[1] + depth))

    def frame_of(self, wall: str, depth: float) -> tuple[Points, Points]:
        """Return the way back from the frame of a wall: of (x, w) there, seen from above.

        A turn (2, 2) and a step (2,) that lead to (x, w) in the building's frame.
        """
        turn = np.array(_TURNS[wall], dtype=float)
        corner = (self.length * (wall in ("back", "right")), self.width * (wall in _LOOKING_BACK))
        return turn, corner + np.array([self.x, self.w]) - turn @ [0.0, depth]

    def point_from(
        self, wall: str, point: tuple[float, float, float], depth: float
    ) -> tuple[float, float, float]:
        """Return a point (x, y, w) of the building in the frame of a wall, as `seen_from` does."""
        x, y, w = point
        seen = self.seen_from(wall, Plate((x, x), (y, y), (w, w)), depth)
        return seen.x[0], seen.y[0], seen.w[0]


def _turned(span: tuple[float, float], length: float) -> tuple[float, float]:
    return length - span[1], length - span[0]
