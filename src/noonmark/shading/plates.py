"""Openings in a wall, and plates square to it: what stands out, and what light ends on.

Frame of a wall: x [m] along it to the right of somebody inside who looks out,
y [m] up, w [m] into the room, 0 in the wall's outer plane and negative outdoors.
The sun's ray through (x, y) of that plane passes (x - w tx, y - w ty) at depth w.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from noonmark.errors import PhysicsError, Problem


@dataclass(frozen=True)
class Opening:
    """A rectangle of glass in a wall [m]; `depth` is how far it lies behind the outer face.

    Raises `PhysicsError` shading.geometry unless it can be built.
    """

    left: float
    width: float
    bottom: float
    height: float
    depth: float = 0.0

    @property
    def area(self) -> float:
        """Return its area [m2]."""
        return self.width * self.height

    def __post_init__(self) -> None:
        """Refuse what has no size."""
        for item in fields(self):
            length = getattr(self, item.name)
            sized = item.name in ("width", "height")
            if not np.isfinite(length) or (sized and length <= 0.0) or self.depth < 0.0:
                values = {"read": length}
                raise PhysicsError(Problem("shading.geometry", path=item.name, values=values))


@dataclass(frozen=True)
class Plate:
    """A rectangle square to one axis: its extent along x, y and w [m], one of them a point.

    Level plates may be endless along x. Raises `PhysicsError` shading.geometry.
    """

    x: tuple[float, float]
    y: tuple[float, float]
    w: tuple[float, float]

    def __post_init__(self) -> None:
        """Refuse what ends before it starts."""
        for name in ("x", "y", "w"):
            low, high = getattr(self, name)
            if not low <= high or (name != "x" and not np.isfinite(high - low)):
                values = {"read": high - low}
                raise PhysicsError(Problem("shading.geometry", path=name, values=values))

    @property
    def axis(self) -> int:
        """Return the axis it stands square to: 0 for x, 1 for y, 2 for w."""
        if self.w[0] == self.w[1]:
            return 2
        return 0 if self.x[0] == self.x[1] else 1


def level_plate(*, height: float, projection: float, left: float, right: float) -> Plate:
    """Return an eave or a hood: at `height`, standing out by `projection`, from `left` to `right`.

    All [m] in the frame of the wall; the ends may be infinite.
    """
    return Plate((left, right), (height, height), (-projection, 0.0))


def upright_plate(*, place: float, projection: float, bottom: float, top: float) -> Plate:
    """Return a fin: at `place` along the wall, standing out by `projection` [m]."""
    return Plate((place, place), (bottom, top), (-projection, 0.0))
