"""The outline of convex polygons taken together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from noonmark.shape.polygon import Points, area, points

Piece = tuple[Points, Points]


def united(polygons: Sequence[Points]) -> list[Points]:
    """Return the outline of convex polygons taken together, as rings (n, 2).

    Outer rings run counter-clockwise and holes clockwise, so that the areas of
    the rings add up to that of the union. Each edge keeps what lies in no other
    polygon (M. Cyrus, J. Beck, Computers & Graphics 3 (1978) 23-28, from memory); of edges that
    lie on each other one is kept.
    """
    sized = [_without_repeats(p) for p in polygons if abs(area(p)) > 1e-12]
    whole = [p if area(p) > 0.0 else p[::-1] for p in sized]
    pieces = [
        piece
        for index, polygon in enumerate(whole)
        for start, end in zip(polygon, np.roll(polygon, -1, axis=0), strict=True)
        for piece in _outside(start, end, whole, index)
    ]
    return list(_rings(pieces))


def _without_repeats(polygon: Points) -> Points:
    """Return a polygon without corners that stand on the one before, as clipping leaves them."""
    steps = np.hypot(*(polygon - np.roll(polygon, 1, axis=0)).T)
    return points(polygon[steps > 1e-10])


def _outside(start: Points, end: Points, polygons: Sequence[Points], own: int) -> Iterator[Piece]:
    """Yield the pieces of an edge that lie in no other polygon."""
    spans = [(0.0, 0.0), (1.0, 1.0)]
    for index, polygon in enumerate(polygons):
        span = None if index == own else _inside(start, end, polygon, own > index)
        if span is not None:
            spans.append(span)
    reach = 0.0
    for first, last in sorted(spans):
        if first > reach + 1e-9:
            yield start + reach * (end - start), start + first * (end - start)
        reach = max(reach, last)


def _inside(
    start: Points, end: Points, polygon: Points, on_edge: bool
) -> tuple[float, float] | None:
    """Return the parameters between which an edge runs in a convex polygon.

    On an edge of it, the other way round, it lies between both; the same way
    round, it counts as inside if `on_edge`.
    """
    low, high = 0.0, 1.0
    way = end - start
    for corner, following in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        side = following - corner
        length = float(np.hypot(*side))
        left = float(side[0] * (start[1] - corner[1]) - side[1] * (start[0] - corner[0])) / length
        more = float(side[0] * way[1] - side[1] * way[0]) / length
        if abs(more) < 1e-12:
            along = float(side @ way) > 0.0
            if left < -1e-9 or (left <= 1e-9 and along and not on_edge):
                return None
        elif more > 0.0:
            low = max(low, -left / more)
        else:
            high = min(high, -left / more)
    return (low, high) if high > low + 1e-9 else None


def _rings(pieces: list[Piece]) -> Iterator[Points]:
    """Yield the rings that pieces make, each going on where the last one ends."""
    left = list(pieces)
    while left:
        first, here = left.pop()
        ring = [first]
        while left:
            gaps = [float(np.hypot(*(start - here))) for start, _ in left]
            nearest = int(np.argmin(gaps))
            if gaps[nearest] > float(np.hypot(*(first - here))):
                break
            start, here = left.pop(nearest)
            ring.append(start)
        if len(ring) > 2:
            yield points(ring)
