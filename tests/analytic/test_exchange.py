"""What rectangles see of each other, against printed values and direct integration."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from noonmark.inside.box import PLACES, Box
from noonmark.inside.exchange import exchange_areas
from noonmark.inside.spread import received, with_unplaced
from noonmark.shading.plates import Opening, Plate

sizes = st.floats(0.5, 20.0)


def room(length: float, width: float, height: float) -> list[Plate]:
    return [Box(length, width, height, 3.0, -2.0).surface(place) for place in PLACES]


def test_a_cube_sees_a_fifth_of_each_side() -> None:
    """Opposite 0.19982, beside 0.20004 (Howell, C-11 and C-14, ratio 1)."""
    seen = exchange_areas(room(1.0, 1.0, 1.0))
    assert seen[0, 1] == pytest.approx(0.199825, abs=1e-6)
    assert seen[0, 2:] == pytest.approx(np.full(4, 0.200044), abs=1e-6)
    assert seen.diagonal().max() == 0.0


@given(sizes, sizes, sizes)
def test_a_box_sees_itself_all_around(length: float, width: float, height: float) -> None:
    plates = room(length, width, height)
    seen = exchange_areas(plates)
    areas = [length * width] * 2 + [length * height, width * height] * 2
    np.testing.assert_allclose(seen.sum(axis=1), areas, rtol=1e-9)
    np.testing.assert_array_equal(seen, seen.T)


def by_integration(one: Plate, other: Plate, points: int = 16) -> float:
    """Integrate cos cos / (pi r2) over both rectangles with Gauss points."""
    nodes, weights = np.polynomial.legendre.leggauss(points)

    def spots(plate: Plate) -> tuple[np.ndarray, np.ndarray]:
        spans = [plate.x, plate.y, plate.w]
        along = [k for k in range(3) if k != plate.axis]
        places = np.zeros((points, points, 3))
        places[..., plate.axis] = spans[plate.axis][0]
        scale = np.outer(weights, weights)
        for k, shape in zip(along, ((points, 1), (1, points)), strict=True):
            low, high = spans[k]
            places[..., k] = (0.5 * (low + high) + 0.5 * (high - low) * nodes).reshape(shape)
            scale = scale * 0.5 * (high - low)
        return places.reshape(-1, 3), scale.ravel()

    (here, first), (there, second) = spots(one), spots(other)
    away = there[None] - here[:, None]
    square = (away**2).sum(axis=2)
    cosines = np.abs(away[..., one.axis] * away[..., other.axis])
    return float((cosines / (np.pi * square**2) * first[:, None] * second).sum())


@settings(deadline=None, max_examples=40)
@given(st.randoms(use_true_random=False), st.sampled_from(PLACES), st.sampled_from(PLACES))
def test_random_pieces_of_a_room_agree_with_integration(rng, one: str, other: str) -> None:  # type: ignore[no-untyped-def]
    if one == other:
        return
    box = Box(rng.uniform(3, 9), rng.uniform(3, 9), rng.uniform(2.2, 4.0))

    def piece(place: str) -> Plate:
        spans = []
        for low, high in (lambda p: (p.x, p.y, p.w))(box.surface(place)):
            a, b = sorted(rng.uniform(low, high) for _ in range(2))
            # some way off the edges, where the integrand has no peak
            spans.append(
                (low, high)
                if low == high
                else (0.8 * a + 0.1 * (low + high), 0.8 * b + 0.1 * (low + high) + 0.01)
            )
        return Plate(*spans)

    first, second = piece(one), piece(other)
    got = exchange_areas([first, second])[0, 1]
    assert got == pytest.approx(by_integration(first, second), rel=2e-3, abs=1e-7)


def test_pieces_add_up_to_the_whole() -> None:
    floor, *_ = room(6.0, 5.0, 2.5)
    wall = Box(6.0, 5.0, 2.5, 3.0, -2.0)
    strips = [
        wall.window("left", Opening(left, right - left, 0.0, 2.5))
        for left, right in pairwise((0.0, 1.0, 3.5, 5.0))
    ]
    seen = exchange_areas([floor, wall.surface("left"), *strips])
    assert seen[0, 2:].sum() == pytest.approx(seen[0, 1], rel=1e-12)
    assert seen[1, 2:] == pytest.approx(np.zeros(3))


def test_all_bounces_are_the_sum_of_the_single_ones() -> None:
    exchange = exchange_areas(room(6.0, 5.0, 2.5))
    thrown = np.diag([0.3, 0.8, 0.5, 0.6, 0.7, 0.4])
    met = exchange / exchange.sum(axis=1)
    total, flight = np.zeros((6, 6)), met
    for _ in range(200):
        total, flight = total + flight, met @ thrown @ flight
    np.testing.assert_allclose(received(exchange, thrown), total, rtol=1e-9)
    # every watt is taken up in the end
    np.testing.assert_allclose((1.0 - thrown.diagonal()) @ total, np.ones(6), rtol=1e-9)


def test_a_grey_sphere_gives_the_textbook_gain() -> None:
    """In an integrating sphere a surface meets 1 / (1 - rho) of what is sent, by area."""
    areas = np.array([1.0, 2.0, 5.0])
    exchange = np.outer(areas, areas) / 8.0
    got = received(exchange, np.diag([0.9] * 3))
    np.testing.assert_allclose(got, np.outer(areas / 8.0, np.ones(3)) / 0.1)


def test_surfaces_without_a_place_are_seen_by_area() -> None:
    box = exchange_areas(room(6.0, 5.0, 2.5))
    mixed = with_unplaced(box, np.array([4.0, 6.0]))
    areas = np.concatenate([box.sum(axis=1), [4.0, 6.0]])
    np.testing.assert_allclose(mixed.sum(axis=1), areas)
    np.testing.assert_allclose(mixed, mixed.T)
    np.testing.assert_allclose(with_unplaced(box, np.zeros(0)), box)
