"""Fixtures that every test may use."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Record = Callable[..., None]


@pytest.fixture
def record() -> Record:
    """Return a function that notes a checked value and asserts that it holds."""

    def check(
        id: str,  # noqa: A002
        topic: str,
        source: str,
        status: str,
        *,
        expected: float | None = None,
        low: float | None = None,
        high: float | None = None,
        got: float,
        tol: float | None = None,
    ) -> None:
        lowest = low if expected is None else expected - (tol or 0.0)
        highest = high if expected is None else expected + (tol or 0.0)
        assert lowest is not None or highest is not None, f"{id}: nothing to compare with"
        assert lowest is None or got >= lowest, f"{id}: {got} is below {lowest}"
        assert highest is None or got <= highest, f"{id}: {got} is above {highest}"

    return check
