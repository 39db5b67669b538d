"""The season of a window: the days between full sun and full shade."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Turns:
    """Days of a year, from 0, on which a window's light turns; None where it never does.

    From midwinter on: the last of the days in full sun, the first half in shade,
    the first and the last in full shade, the first in full sun again.
    """

    full_sun_until: int | None
    half_shaded_on: int | None
    full_shade_from: int | None
    full_shade_to: int | None
    full_sun_from: int | None


FULL_SUN = 0.995
"""Lit share [-] that counts as all: what is missing lies within the blur of the sun's disc."""

FULL_SHADE = 0.0005
"""Lit share [-] that counts as none: a millimetre of a window, no more."""


def turns(
    share: FloatArray,
    *,
    midwinter: int,
    midsummer: int,
    full: float = FULL_SUN,
    none: float = FULL_SHADE,
) -> Turns:
    """Return when full sun and full shade begin and end.

    `share` (days,) is the lit share 0 to 1 of the glass, nan on days without sun
    on it, which count as shade; `midwinter` and `midsummer` are days of it. Full
    sun is the unbroken row of days around midwinter with a share of at least
    `full`; shade, at most `none`, and shade by half those around midsummer.
    """
    days = share.size
    lit = np.nan_to_num(share, nan=0.0)
    sun_from, sun_until = _row(lit >= full, midwinter)
    shade_from, shade_to = _row(lit <= none, midsummer)
    half_from, _ = _row(lit <= 0.5, midsummer)
    return Turns(*(None if d is None else d % days for d in (
        sun_until, half_from, shade_from, shade_to, sun_from
    )))  # fmt: skip


def _row(holds: NDArray[np.bool_], middle: int) -> tuple[int | None, int | None]:
    """Return first and last day of the row of days around `middle`; none if it is all or nothing.

    The days may lie before or after the year's own.
    """
    if holds.all() or not holds[middle]:
        return None, None
    after = np.roll(holds, -middle)
    last = middle + int(np.argmin(after)) - 1
    first = middle - int(np.argmin(np.roll(after[::-1], 1)))
    return first + 1, last
