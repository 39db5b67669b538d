from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonmark.sheets.spread import spread

PLACES = st.lists(st.floats(-50, 150), max_size=20)


@given(PLACES, st.floats(0.5, 4.9))
def test_labels_keep_their_distance_order_and_bounds(wanted: list[float], gap: float) -> None:
    places = spread(wanted, gap, 0, 100)
    assert len(places) == len(wanted)
    assert all(-1e-9 <= place <= 100 + 1e-9 for place in places)
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(sorted(places)))
    before = sorted(range(len(wanted)), key=lambda i: wanted[i])
    after = sorted(range(len(wanted)), key=lambda i: places[i])
    assert before == after


@given(st.lists(st.integers(0, 20), unique=True, max_size=20))
def test_labels_with_room_enough_stay(steps: list[int]) -> None:
    wanted = [5.0 * step for step in steps]
    assert spread(wanted, 5.0, 0, 100) == pytest.approx(wanted)


def test_three_labels_on_one_place() -> None:
    assert spread([50, 50, 50], 10, 0, 100) == pytest.approx([40, 50, 60])
    assert spread([0, 0, 0], 10, 0, 100) == pytest.approx([0, 10, 20])


def test_too_many_labels_stand_evenly() -> None:
    assert spread([7, 7, 7], 10, 0, 12) == pytest.approx([0, 6, 12])
