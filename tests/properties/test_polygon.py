"""Polygons against shapely, an independent geometry library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import union_all
from shapely.geometry import MultiPoint, Polygon

from noonmark.shape.polygon import (
    Points,
    area,
    clip_convex,
    clip_half_plane,
    convex_hull,
    points,
)
from noonmark.shape.polygon import rectangle as box
from noonmark.shape.union import united

CENTRES = st.tuples(st.floats(-3, 3), st.floats(-3, 3))


@st.composite
def stars(draw: st.DrawFn) -> Points:
    """A simple polygon, seldom convex: corners around a centre at any distance."""
    count = draw(st.integers(3, 9))
    radii = np.array(draw(st.lists(st.floats(0.3, 4), min_size=count, max_size=count)))
    x, y = draw(CENTRES)
    turns = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return points(np.column_stack([x + radii * np.cos(turns), y + radii * np.sin(turns)]))


@st.composite
def convex(draw: st.DrawFn) -> Points:
    """Corners on a circle, running either way round."""
    count = draw(st.integers(3, 8))
    steps = draw(st.lists(st.floats(0.3, 1), min_size=count, max_size=count))
    turns = np.cumsum(steps) / sum(steps) * 2 * math.pi
    x, y = draw(CENTRES)
    corners = points(np.column_stack([x + 2 * np.cos(turns), y + 2 * np.sin(turns)]))
    return corners[::-1] if draw(st.booleans()) else corners


@given(stars(), st.floats(-1e3, 1e3))
def test_area(polygon: Points, shift: float) -> None:
    moved = polygon + shift
    other = Polygon(moved)
    assert area(moved) == pytest.approx(other.area, rel=1e-9)
    assert area(moved[::-1]) == pytest.approx(-other.area, rel=1e-9)


@given(stars(), convex())
def test_clip_to_convex(polygon: Points, window: Points) -> None:
    shared = Polygon(polygon).intersection(Polygon(window))
    clipped = clip_convex(polygon, window)
    assert area(clipped) == pytest.approx(shared.area, abs=1e-9)
    if shared.area > 1e-3:
        middle = Polygon(clipped).centroid
        assert (middle.x, middle.y) == pytest.approx(
            (shared.centroid.x, shared.centroid.y), abs=1e-6
        )


@given(stars(), st.floats(0, 2 * math.pi), st.floats(-3, 3))
def test_half_planes_share_the_polygon(polygon: Points, turn: float, c: float) -> None:
    a, b = math.cos(turn), math.sin(turn)
    over = polygon @ np.array([a, b]) - c
    assume(np.abs(over).min() > 1e-9)
    near, far = clip_half_plane(polygon, a, b, c), clip_half_plane(polygon, -a, -b, -c)
    assert area(near) + area(far) == pytest.approx(area(polygon), rel=1e-9)
    assert (near @ np.array([a, b]) <= c + 1e-9).all()


def test_nothing_stays_nothing() -> None:
    square = box(0, 0, 1, 1)
    assert clip_convex(square, box(2, 2, 3, 3)).shape == (0, 2)
    assert clip_convex(points([]), square).shape == (0, 2)
    assert area(points([(0, 0), (1, 1)])) == 0.0


@given(st.lists(st.tuples(st.floats(-3, 3), st.floats(-3, 3)), min_size=3, max_size=12))
def test_hull(corners: list[tuple[float, float]]) -> None:
    hull = convex_hull(points(corners))
    other = MultiPoint(corners).convex_hull
    assert area(hull) == pytest.approx(other.area, abs=1e-9)


@given(st.lists(convex(), min_size=1, max_size=6))
def test_outline_of_several(polygons: list[Points]) -> None:
    rings = united(polygons)
    whole = union_all([Polygon(p) for p in polygons])
    assert sum(area(ring) for ring in rings) == pytest.approx(whole.area, abs=1e-6)
    length = sum(Polygon(ring).exterior.length for ring in rings)
    assert length == pytest.approx(whole.length, abs=1e-5)


def test_outline_of_polygons_that_share_edges() -> None:
    left, right, same = box(0, 0, 1, 1), box(1, 0, 2, 1), box(0, 0, 1, 1)
    (ring,) = united([left, right, same])
    assert area(ring) == pytest.approx(2.0)
    assert Polygon(ring).length == pytest.approx(6.0)
    frame = [box(0, 0, 3, 1), box(0, 2, 3, 3), box(0, 0, 1, 3), box(2, 0, 3, 3)]
    rings = united(frame)
    assert sorted(round(area(ring), 9) for ring in rings) == [-1.0, 9.0]
    assert united([]) == []


def test_a_corner_given_twice_is_one() -> None:
    """Clipping leaves corners on each other; an edge without length has no direction."""
    twice = points([(0, 0), (2, 0), (2, 0), (2, 1), (0, 1), (0, 1)])
    rings = united([twice, points([(1, 0), (3, 0), (3, 1), (1, 1)])])
    assert sum(area(ring) for ring in rings) == pytest.approx(3.0)
