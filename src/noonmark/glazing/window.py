"""Glass, frame and edge to a whole window: EN ISO 10077-1."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.errors import PhysicsError, Problem
from noonmark.glazing.gap import OUTSIDE_FILM
from noonmark.units import Quantity


@dataclass(frozen=True)
class WindowParts:
    """Areas of a rectangular window [m2] and the length of the glass edge [m]."""

    glass_area: float
    frame_area: float
    edge_length: float


def window_parts(
    *, width: float, height: float, frame_width: float, casements: int = 1
) -> WindowParts:
    """Split a rough size [m] with equal `casements` side by side into glass and frame.

    Raises `PhysicsError` (glazing.frame_too_wide) when no glass is left.
    """
    glass_width = width / casements - 2.0 * frame_width
    glass_height = height - 2.0 * frame_width
    if not (glass_width > 0.0 and glass_height > 0.0):
        sizes = {"width": width, "height": height, "frame": frame_width}
        values = {name: Quantity(size, "length") for name, size in sizes.items()}
        raise PhysicsError(Problem("glazing.frame_too_wide", values=values))
    glass = casements * glass_width * glass_height
    return WindowParts(
        glass_area=glass,
        frame_area=width * height - glass,
        edge_length=2.0 * casements * (glass_width + glass_height),
    )


def window_u_value(
    parts: WindowParts, *, glass_u: float, frame_u: float, edge_transmittance: float
) -> float:
    """Return the whole-window U-value [W/m2K].

    glass_u, frame_u [W/m2K], edge_transmittance (spacer) [W/mK].
    Source: EN ISO 10077-1:2017 equation 1.
    """
    lost = (
        parts.glass_area * glass_u
        + parts.frame_area * frame_u
        + parts.edge_length * edge_transmittance
    )
    return lost / (parts.glass_area + parts.frame_area)


def window_shgc(
    parts: WindowParts, *, glass_shgc: float, frame_u: float, frame_absorptance: float
) -> float:
    """Return the whole-window solar heat gain coefficient [-].

    The frame passes on what of the sun it takes up by the share of its resistance that
    lies outside. frame_u [W/m2K]. Source: ISO 15099:2003 section 4.2.1, from memory, the
    frame as wide as its face.
    """
    frame_shgc = frame_absorptance * frame_u / OUTSIDE_FILM
    gained = parts.glass_area * glass_shgc + parts.frame_area * frame_shgc
    return gained / (parts.glass_area + parts.frame_area)
