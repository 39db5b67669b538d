"""How much of the even sky, of the skyline and of the ground a plane sees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from noonmark.shading.lit import lit_areas
from noonmark.shading.plates import Opening, Plate

FloatArray = NDArray[np.float64]

_PROFILES, _SIDES = 120, 24
_SKYLINE = np.tan(np.radians(0.5))
"""The skyline is looked at half a degree up."""


@dataclass(frozen=True)
class Seen:
    """What an opening still sees past plates, each as a share of what it would see without."""

    dome: float = 1.0
    horizon: float = 1.0
    ground: float = 1.0


def sky_view_factor(tilt: float) -> float:
    """Return the share of an open sky dome that a plane of `tilt` [deg] sees: 0.5 for a wall."""
    return float((1.0 + np.cos(np.radians(tilt))) / 2.0)


def ground_view_factor(tilt: float) -> float:
    """Return the share of level, open ground that a plane of `tilt` [deg] sees: 0.5 for a wall."""
    return 1.0 - sky_view_factor(tilt)


def seen(opening: Opening, plates: Sequence[Plate]) -> Seen:
    """Return what an opening sees of the even sky, the skyline and the level ground.

    The lit share is averaged over the directions before the wall with the
    weight of the incidence cosine: over the profile angle, and over the angle to
    the side of the section. Good to 0.0005. What plates and reveal throw back
    themselves is not counted.
    """
    moved = tuple(_moved(plate, opening.left, opening.bottom) for plate in plates)
    return _seen(replace(opening, left=0.0, bottom=0.0), moved)


def _moved(plate: Plate, right: float, up: float) -> Plate:
    x, y = (plate.x[0] - right, plate.x[1] - right), (plate.y[0] - up, plate.y[1] - up)
    return replace(plate, x=x, y=y)


@lru_cache(maxsize=4096)
def _seen(opening: Opening, plates: tuple[Plate, ...]) -> Seen:
    if not plates and opening.depth == 0.0:
        return Seen()
    profile = (np.arange(_PROFILES)[:, None] + 0.5) / _PROFILES * np.pi / 2.0
    aside = ((np.arange(_SIDES)[None, :] + 0.5) / _SIDES - 0.5) * np.pi
    weight = np.cos(profile) * np.cos(aside) ** 2
    sideways, rise = np.tan(aside) / np.cos(profile), np.tan(profile) + 0.0 * aside
    level = np.tan(aside[0])
    beside = opening.depth > 0.0 or any(plate.axis == 0 for plate in plates)
    return Seen(
        dome=_mean(opening, plates, sideways, rise, weight),
        horizon=_mean(opening, plates, level, np.full_like(level, _SKYLINE), np.cos(aside[0])),
        ground=_mean(opening, plates, sideways, -rise, weight) if beside else 1.0,
    )


def _mean(
    opening: Opening,
    plates: tuple[Plate, ...],
    sideways: FloatArray,
    rise: FloatArray,
    weight: FloatArray,
) -> float:
    lit = lit_areas(sideways.ravel(), rise.ravel(), opening, plates)[:, 0]
    return float((lit * weight.ravel()).sum() / (opening.area * weight.sum()))
