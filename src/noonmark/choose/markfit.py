"""Reads real sun marks back: where the wall looks, how the eave came out, how the clock goes.

Robust least squares over four unknowns, with what a builder can be off by as weak prior
knowledge; what the marks do not tell keeps the drawing's value, and its doubt widens the
bands of the others. Bands are Bonferroni's: all four hold together with 95 in 100.
Source: Huber, Robust Statistics (1981), for the loss; Gelman et al., Bayesian Data Analysis
(3rd ed. 2013), chapter 14, for prior knowledge as further observations.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.choose.markmodel import CLOCK, FACES, PROJECTION, SOFFIT, Reading, expected
from noonmark.study.marks import MarkedWall
from noonmark.study.results.marks import MarkFit, Told

FloatArray = NDArray[np.float64]

_BEND = 2.0
"""Residuals beyond so many of their spreads count linearly (Huber)."""

FAR = 5.0
"""Marks that lie off by more than so many spreads do not count."""

_STARTS = ((0.0, 0.0), (15.0, 0.0), (-15.0, 0.0), (0.0, 60.0), (0.0, -60.0))
"""Azimuth [deg] and clock [min] off the drawing from which the fit is tried, until one fits."""

_FITS = 1.5
"""The middle mark of a fit lies off by no more spreads than this."""

_MOST = 0.7
"""Share of the marks that must count for a fit to be one."""

_TAIL = 1.0 - 0.05 / 8.0
"""Of four bands with two ends each that all hold with 95 in 100."""

_FIRST_GUESS_SCALE = np.array([5.0, 0.1, 0.1, 10.0])


@dataclass(frozen=True)
class Fitted:
    """The unknowns `off` the drawing (4,), what is left (n,) in spreads, and which counted (n,).

    `strain` is half the sum of squares of `off` over the priors; `half` (4,) are half bands
    and `limits` (4,) those from which a size is no longer called told.
    """

    off: FloatArray
    left: FloatArray
    counted: NDArray[np.bool_]
    strain: float
    half: FloatArray
    limits: FloatArray

    @property
    def fits(self) -> bool:
        """Return whether what is left is what careful marks leave, but for a few."""
        return float(np.median(np.abs(self.left))) < _FITS and not self.lost

    @property
    def lost(self) -> bool:
        """Return whether so many marks do not count that the others prove nothing."""
        return float(self.counted.mean()) < _MOST


def priors(wall: MarkedWall) -> FloatArray:
    """Return how far sizes come out off a drawing (4,), standard deviations: deg, m, m, min.

    Common practice, no source: 8 deg of compass and iron, 5 cm and a tenth of the eave,
    10 cm of soffit, a quarter of an hour of clock.
    """
    return np.array([8.0, 0.05 + 0.1 * float(wall.edges[1, 0]), 0.1, 15.0])


def limits(wall: MarkedWall) -> FloatArray:
    """Return the half bands (4,) from which sizes are no longer called told: deg, m, m, min.

    Common practice, no source: what a builder would mend or shrug at.
    """
    return np.array([3.0, 0.02 + 0.04 * float(wall.edges[1, 0]), 0.03, 6.0])


def fit(wall: MarkedWall, reading: Reading) -> Fitted:
    """Return the unknowns that explain marks best."""
    prior = priors(wall)
    everything = np.ones(len(reading.marks), dtype=bool)
    off, least = np.zeros(4), np.inf
    for start in _starts():
        tried, cost = _least(wall, reading, prior, everything, start)
        if cost < least:
            off, least = tried, cost
        if np.median(np.abs(_left(wall, reading, off))) < _FITS:
            break
    counted = np.abs(_left(wall, reading, off)) < FAR
    if not counted.all() and counted.sum() >= 2:
        off, _ = _least(wall, reading, prior, counted, off)
        counted = np.abs(_left(wall, reading, off)) < FAR
    left = _left(wall, reading, off)
    return Fitted(
        off,
        left,
        counted,
        strain=0.5 * float(((off / prior) ** 2).sum()),
        half=_half_bands(wall, reading, prior, off, counted),
        limits=limits(wall),
    )


def as_drawn(wall: MarkedWall, reading: Reading) -> Fitted:
    """Return the drawing itself, with what is known of such walls without marks."""
    prior, off = priors(wall), np.zeros(4)
    left = _left(wall, reading, off)
    return Fitted(off, left, np.abs(left) < FAR, 0.0, _normal_reach() * prior, limits(wall))


def mark_fit(wall: MarkedWall, reading: Reading, found: Fitted) -> MarkFit:
    """Return a fit as values with bands."""
    drawn = np.array([reading.azimuth, float(wall.edges[1, 0]), wall.eave.soffit, 0.0])
    value, told = drawn + found.off, found.half <= found.limits
    value[FACES] %= 360.0
    sizes = [
        Told(float(v), (float(v - h), float(v + h)), bool(t))
        for v, h, t in zip(value, found.half, told, strict=True)
    ]
    return MarkFit(sizes[FACES], sizes[PROJECTION], sizes[SOFFIT], sizes[CLOCK])


def _starts() -> Iterable[FloatArray]:
    for faces, clock in _STARTS:
        start = np.zeros(4)
        start[FACES], start[CLOCK] = faces, clock
        yield start


def _left(wall: MarkedWall, reading: Reading, off: FloatArray) -> FloatArray:
    return (expected(wall, reading, off) - reading.heights) / reading.spreads


def _least(
    wall: MarkedWall,
    reading: Reading,
    prior: FloatArray,
    counted: NDArray[np.bool_],
    start: FloatArray,
    held: NDArray[np.bool_] | None = None,
) -> tuple[FloatArray, float]:
    """Return the unknowns of least robust cost, and that; `held` ones (4,) stay at the start."""
    from scipy.optimize import least_squares

    free = ~held if held is not None else np.ones(4, dtype=bool)
    marks = int(counted.sum())

    def residuals(part: FloatArray) -> FloatArray:
        off = start.copy()
        off[free] = part
        return np.concatenate([_left(wall, reading, off)[counted], (off / prior)[free]])

    def loss(squares: FloatArray) -> FloatArray:
        """Return Huber's loss and its two derivatives, for the marks alone."""
        rho = np.stack([squares, np.ones_like(squares), np.zeros_like(squares)])
        far = squares > _BEND**2
        far[marks:] = False
        root = np.sqrt(squares[far])
        rho[:, far] = 2.0 * _BEND * root - _BEND**2, _BEND / root, -0.5 * _BEND / root**3
        return rho

    solved = least_squares(
        residuals,
        start[free],
        x_scale=_FIRST_GUESS_SCALE[free],
        loss=loss,  # type: ignore[arg-type] # the stubs want a function of one float type more
        max_nfev=60,
    )
    off = start.copy()
    off[free] = solved.x
    return off, float(solved.cost)


def _half_bands(
    wall: MarkedWall,
    reading: Reading,
    prior: FloatArray,
    off: FloatArray,
    counted: NDArray[np.bool_],
) -> FloatArray:
    """Return half bands (4,): of the spread, and of what the marks leave in doubt."""
    from scipy import stats

    left = _left(wall, reading, off)[counted]
    freedom = max(1, left.size - 4)
    scale = max(1.0, float(np.sqrt((left**2).sum() / freedom)))
    reach = _normal_reach() if scale == 1.0 else float(stats.t.ppf(_TAIL, freedom))
    slopes = _slopes(wall, reading, off)[counted]
    precision = slopes.T @ slopes / scale**2 + np.diag(prior**-2.0)
    half = reach * np.sqrt(np.diag(np.linalg.inv(precision)))
    for unknown in np.flatnonzero(half > limits(wall)):
        held = np.arange(4) == unknown
        for side in (-1.0, 1.0):
            start = off.copy()
            start[unknown] += side * min(half[unknown], 2.0 * prior[unknown])
            moved, _ = _least(wall, reading, prior, counted, start, held)
            half = np.where(held, half, np.maximum(half, np.abs(moved - off)))
    return half


def _normal_reach() -> float:
    from scipy import stats

    return float(stats.norm.ppf(_TAIL))


def _slopes(wall: MarkedWall, reading: Reading, off: FloatArray) -> FloatArray:
    """Return how what is left changes with each unknown, (n, 4), by central differences."""
    steps = np.array([0.05, 1e-3, 1e-3, 0.1])
    columns = [
        (_left(wall, reading, off + step) - _left(wall, reading, off - step)) / (2.0 * step.sum())
        for step in np.diag(steps)
    ]
    return np.column_stack(columns)
