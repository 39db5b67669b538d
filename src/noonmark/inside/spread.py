"""Light thrown from surface to surface until it is taken up or gone."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def with_unplaced(exchange: FloatArray, unplaced: FloatArray) -> FloatArray:
    """Return exchange areas (n + m, n + m) [m2] with surfaces that have no place in the box.

    `exchange` (n, n) are those of the box, `unplaced` (m,) the areas [m2] of the
    others. Each surface sees them by their share of all area, and they see all
    by area, themselves too: rows add up to the areas, and the matrix is symmetric.
    """
    placed = exchange.sum(axis=1)
    areas = np.concatenate([placed, unplaced])
    mixed = np.outer(areas, areas) / areas.sum()
    n = placed.size
    mixed[:n, :n] = exchange * (placed.sum() / areas.sum())
    return np.asarray(mixed)


def received(exchange: FloatArray, thrown: FloatArray) -> FloatArray:
    """Return the power (n, n) each surface meets in the end for a watt sent out by each other.

    `exchange` (n, n) [m2] are areas times view factors, `thrown` (n, n) the
    power that surface i sends out for each watt that j meets: what it throws
    back, or what passes to it through glass. All light is taken as even
    (radiosity), so that all bounces are one linear system.
    Source: R. Siegel, J. R. Howell, Thermal Radiation Heat Transfer, ch. 5.
    """
    met = exchange / exchange.sum(axis=1)[None, :]
    return np.asarray(np.linalg.solve(np.eye(len(met)) - met @ thrown, met))
