"""The yardstick: how fast this machine multiplies and adds, right now."""

from __future__ import annotations

import numba
import numpy as np


@numba.njit(fastmath=True)
def _multiply_add(values: np.ndarray, rounds: int) -> float:
    for _ in range(rounds):
        for i in range(values.size):
            values[i] = values[i] * 0.999999 + 1e-6
    return float(values[0])


def peak_loop() -> None:
    """Do 5 million fused multiply-adds on an array that stays in the nearest cache."""
    _multiply_add(np.ones(1000), 5000)
