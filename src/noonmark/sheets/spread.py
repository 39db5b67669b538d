"""Moves labels apart no further than they need."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return places for labels at least `gap` apart within low..high, in the order given.

    The sum of squared moves from the `wanted` places is least; when all do not
    fit they stand evenly, closer than `gap`. Any unit, the same throughout.
    Source: pooling of adjacent violators (Ayer et al. 1955, Annals of
    Mathematical Statistics 26).
    """
    count = len(wanted)
    if count == 0:
        return []
    step = min(gap, (high - low) / max(1, count - 1))
    order = np.argsort(wanted, kind="stable")
    ranks = np.arange(count) * step
    level = np.clip(_rising(np.asarray(wanted)[order] - ranks), low, high - ranks[-1])
    places = np.empty(count)
    places[order] = level + ranks
    return [float(place) for place in places]


def _rising(values: np.ndarray) -> np.ndarray:
    """Return the nearest sequence that never falls (least squares)."""
    pools: list[tuple[float, int]] = []
    for value in values:
        mean, size = float(value), 1
        while pools and pools[-1][0] > mean:
            before, many = pools.pop()
            mean = (mean * size + before * many) / (size + many)
            size += many
        pools.append((mean, size))
    return np.concatenate([np.full(size, mean) for mean, size in pools])
