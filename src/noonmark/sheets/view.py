"""From metres in a section to points on the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.shape.polygon import Points, clip_convex, points, rectangle


@dataclass(frozen=True)
class View:
    """A picture: what lies between `left`, `right`, `low` and `high` [m].

    `scale` [px/m]; the left and upper edges stand at `x0` and `y0` [px].
    """

    left: float
    right: float
    low: float
    high: float
    scale: float
    x0: float
    y0: float

    def x(self, metres: float) -> float:
        """Return the place across the sheet [px]."""
        return self.x0 + (metres - self.left) * self.scale

    def metres(self, x: float) -> float:
        """Return the place in the section of a point across the sheet [m]."""
        return self.left + (x - self.x0) / self.scale

    def y(self, metres: float) -> float:
        """Return the place down the sheet of a height [px]."""
        return self.y0 + (self.high - metres) * self.scale

    @property
    def bottom(self) -> float:
        """The lower edge of the picture [px]."""
        return self.y(self.low)

    def inside(self, polygon: Points) -> Points:
        """Return the part of a polygon (n, 2) [m] within the picture, as corners [px]."""
        window = rectangle(self.left, self.low, self.right, self.high)
        return points([(self.x(x), self.y(y)) for x, y in clip_convex(polygon, window)])

    def drawn(self, corners: Points) -> Points:
        """Return corners (n, 2) [m], inside the picture or not, in px."""
        return points([(self.x(x), self.y(y)) for x, y in corners])

    def box(self, x0: float, y0: float, x1: float, y1: float) -> Points:
        """Return a rectangle between two corners [m] within the picture, in px."""
        return self.inside(rectangle(x0, y0, x1, y1))
