"""Hours of the day and set-points by the clock, counted by hand."""

from __future__ import annotations

import numpy as np
import pytest

from noonmark.sources.schedule import hours_between, set_back


@pytest.mark.parametrize(
    ("begin", "end", "hours"),
    [
        (7, 18, range(7, 18)),
        (18, 7, [*range(7), *range(18, 24)]),
        (0, 24, range(24)),
        (22, 24, [22, 23]),
        (22, 0, [22, 23]),
        (24, 2, [0, 1]),
    ],
)
def test_hours_between(begin: int, end: int, hours: object) -> None:
    found = hours_between(begin, end)
    assert found.shape == (8760,)
    assert np.flatnonzero(found[:24]).tolist() == list(hours)  # type: ignore[call-overload]
    assert (found.reshape(365, 24) == found[:24]).all()


def test_set_back_without_ramp_jumps() -> None:
    day = set_back(20.0, 10.0, begin=23, end=7, days=1)
    assert day.tolist() == [10.0] * 7 + [20.0] * 16 + [10.0]


def test_ramp_counts_each_hour_with_its_mean() -> None:
    # a straight climb from 10 to 20 between 7 and 9 h has means of 12.5 and 17.5
    day = set_back(20.0, 10.0, begin=23, end=7, ramp=2, days=1)
    assert day.tolist() == [10.0] * 7 + [12.5, 17.5] + [20.0] * 14 + [10.0]


def test_ramp_past_midnight_and_into_the_next_set_back() -> None:
    day = set_back(20.0, 10.0, begin=1, end=23, ramp=4, days=1)
    # 23, 0 climb; 1, 2 are set back again
    assert day.tolist() == [13.75, *[10.0] * 22, 11.25]
