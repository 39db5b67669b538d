"""How much of the even sky and of the ground a plane sees."""

from __future__ import annotations

import numpy as np

from noonmark.shading.eave import sunlit_fraction

_PROFILES, _SIDES = 180, 60


def sky_view_factor(tilt: float) -> float:
    """Return the share of an open sky dome that a plane of `tilt` [deg] sees: 0.5 for a wall."""
    return float((1.0 + np.cos(np.radians(tilt))) / 2.0)


def ground_view_factor(tilt: float) -> float:
    """Return the share of level, open ground that a plane of `tilt` [deg] sees: 0.5 for a wall."""
    return 1.0 - sky_view_factor(tilt)


def dome_view_factor(
    *,
    width: float,
    height: float,
    gap: float,
    eave_projection: float,
    left_extension: float = np.inf,
    right_extension: float = np.inf,
) -> float:
    """Return the view factor from a rectangle in a wall to the even sky past its eave.

    The lengths [m] are those of `sunlit_fraction`. 0.5 without an eave; divide
    by 0.5 for the unshaded share of the dome's light. Good to 0.0002.
    Raises `PhysicsError` shading.geometry.

    The sunlit share is averaged over the quarter sphere before the wall with the
    weight of the incidence cosine: over the profile angle, and over the angle to
    the side of the section.
    """
    profile = (np.arange(_PROFILES)[:, None] + 0.5) / _PROFILES * np.pi / 2.0
    aside = ((np.arange(_SIDES)[None, :] + 0.5) / _SIDES - 0.5) * np.pi
    weight = np.cos(profile) * np.cos(aside) ** 2
    altitude = np.degrees(np.arcsin(np.cos(aside) * np.sin(profile)))
    turn = np.degrees(np.arctan2(np.sin(aside), np.cos(aside) * np.cos(profile)))
    share = sunlit_fraction(
        altitude,
        turn,
        wall_azimuth=0.0,
        width=width,
        height=height,
        gap=gap,
        eave_projection=eave_projection,
        left_extension=left_extension,
        right_extension=right_extension,
    )
    return float(sky_view_factor(90.0) * (share * weight).sum() / weight.sum())
