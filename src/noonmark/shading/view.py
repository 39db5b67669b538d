"""How much of the even sky, of the skyline and of the ground a plane sees."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from noonmark.shading.lit import lit_areas
from noonmark.shading.plates import Opening, Plate
from noonmark.shading.screens import Screen
from noonmark.shading.skyline import Skyline

FloatArray = NDArray[np.float64]

_PAST_PLATES, _PAST_SCREENS = (120, 24), (60, 16)
"""How many profile angles and angles to the side are looked along."""

_SKYLINE = np.tan(np.radians(0.5))
"""The band at the horizon is looked at half a degree up."""


@dataclass(frozen=True)
class Seen:
    """What an opening still sees past all, each as a share of what it would see without.

    Numbers, or arrays (h,) where it changes through the year.
    """

    dome: FloatArray | float = 1.0
    horizon: FloatArray | float = 1.0
    ground: FloatArray | float = 1.0


def summed(parts: Iterable[tuple[FloatArray | float, Seen]]) -> Seen:
    """Return the sum of views, each times its weight."""
    weighted = list(parts)
    return Seen(
        *(
            sum(weight * getattr(view, key.name) for weight, view in weighted)
            for key in fields(Seen)
        )
    )


def sky_view_factor(tilt: float) -> float:
    """Return the share of an open sky dome that a plane of `tilt` [deg] sees: 0.5 for a wall."""
    return float((1.0 + np.cos(np.radians(tilt))) / 2.0)


def ground_view_factor(tilt: float) -> float:
    """Return the share of level, open ground that a plane of `tilt` [deg] sees: 0.5 for a wall."""
    return 1.0 - sky_view_factor(tilt)


def seen(
    opening: Opening,
    plates: Sequence[Plate],
    screens: Sequence[Screen] = (),
    skyline: Skyline | None = None,
) -> Seen:
    """Return what an opening sees of the even sky, the horizon and the level ground.

    The lit share is averaged over the directions before the wall with the
    weight of the incidence cosine: over the profile angle, and over the angle to
    the side of the section. Good to 0.0005, to 0.01 past `screens`. `skyline`
    counts its azimuths from the wall's. What all these throw back themselves is
    not counted.
    """
    right, up = opening.left, opening.bottom
    return _seen(
        replace(opening, left=0.0, bottom=0.0),
        tuple(_moved_plate(plate, right, up) for plate in plates),
        tuple(_moved_screen(screen, right, up) for screen in screens),
        skyline,
    )


def _moved_plate(plate: Plate, right: float, up: float) -> Plate:
    x, y = (plate.x[0] - right, plate.x[1] - right), (plate.y[0] - up, plate.y[1] - up)
    return replace(plate, x=x, y=y)


def _moved_screen(screen: Screen, right: float, up: float) -> Screen:
    return replace(screen, points=tuple((x - right, y - up, w) for x, y, w in screen.points))


@lru_cache(maxsize=4096)
def _seen(
    opening: Opening,
    plates: tuple[Plate, ...],
    screens: tuple[Screen, ...],
    skyline: Skyline | None,
) -> Seen:
    if not plates and not screens and skyline is None and opening.depth == 0.0:
        return Seen()
    profiles, sides = _PAST_SCREENS if screens else _PAST_PLATES
    profile = (np.arange(profiles)[:, None] + 0.5) / profiles * np.pi / 2.0
    aside = ((np.arange(sides)[None, :] + 0.5) / sides - 0.5) * np.pi
    weight = (np.cos(profile) * np.cos(aside) ** 2).ravel()
    sideways = (np.tan(aside) / np.cos(profile)).ravel()
    rise = (np.tan(profile) + 0.0 * aside).ravel()
    level = np.tan(aside[0])
    low = np.full_like(level, _SKYLINE)

    def mean(sideways: FloatArray, rise: FloatArray, weight: FloatArray) -> float:
        lit = lit_areas(sideways, rise, opening, plates, screens=screens)[:, 0]
        if skyline is not None and rise[0] > 0.0:
            lit = np.where(skyline.hides(sideways, rise), 0.0, lit)
        return float((lit * weight).sum() / (opening.area * weight.sum()))

    beside = opening.depth > 0.0 or screens or any(plate.axis == 0 for plate in plates)
    return Seen(
        dome=mean(sideways, rise, weight),
        horizon=mean(level, low, np.cos(aside[0])),
        ground=mean(sideways, -rise, weight) if beside else 1.0,
    )
