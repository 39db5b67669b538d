"""An hourly quantity as numbers times hourly arrays, which many designs can share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Drive:
    """A sum over `terms`: a number times an hourly array (h,), or times one where it is None.

    `covered` terms (cover, number, array) count by how far that cover of a
    window is closed, 0 to 1.
    """

    terms: tuple[tuple[float, FloatArray | None], ...] = ()
    covered: tuple[tuple[int, float, FloatArray], ...] = ()

    def __add__(self, other: Drive) -> Drive:
        """Return the sum of two quantities."""
        return Drive((*self.terms, *other.terms), (*self.covered, *other.covered))


Hourly: TypeAlias = "Drive | FloatArray | float"
"""A quantity by the hour: one array, one number for all hours, or a `Drive`."""


def as_drive(value: Hourly) -> Drive:
    """Return a quantity as a sum of terms."""
    if isinstance(value, Drive):
        return value
    if isinstance(value, np.ndarray):
        return Drive(((1.0, value),))
    return Drive(((float(value), None),)) if value else Drive()


def hourly_values(value: Hourly, hours: int) -> FloatArray:
    """Return a quantity with all covers open (hours,); an array as it is."""
    if isinstance(value, np.ndarray):
        return value
    total = np.zeros(hours)
    for number, array in as_drive(value).terms:
        total += number if array is None else number * array
    return total
