"""A window entry of a design as glass and frame, wherever it stands."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark import catalog
from noonmark.design.model import Homestead, Window
from noonmark.glazing.gap import INSIDE_FILM, OUTSIDE_FILM
from noonmark.glazing.unit import Glazing
from noonmark.glazing.window import window_parts
from noonmark.study.constructions import glazing_of

ABSORPTANCE_FRAME = 0.5
"""Of a frame as seen from a room, for the sun (common practice, no source)."""

_LEAST_RESISTANCE = 0.005


@dataclass(frozen=True)
class WindowUnit:
    """Glass and frame of all windows of an entry: areas [m2].

    `frame_resistance` [m2K/W] is that of the frame and the glass edge without
    films, `frame_absorptance` 0..1 its outside for the sun. No frame, no area.
    """

    glazing: Glazing
    glass_area: float
    frame_area: float
    frame_resistance: float
    frame_absorptance: float


def window_unit(homestead: Homestead, window: Window) -> WindowUnit:
    """Return glass and frame of a window entry."""
    frame = catalog.find(catalog.Frame, window.frame)
    parts = window_parts(
        width=window.width,
        height=window.head - window.sill,
        frame_width=frame.width,
        casements=window.casements,
    )
    resistance = 0.0
    if frame.width > 0.0:
        edge = frame.edge * parts.edge_length / parts.frame_area
        resistance = _between_films(frame.u_value + edge)
    return WindowUnit(
        glazing=glazing_of(homestead, window.glazing),
        glass_area=window.count * parts.glass_area,
        frame_area=window.count * parts.frame_area if resistance else 0.0,
        frame_resistance=resistance,
        frame_absorptance=frame.absorptance,
    )


def _between_films(u_value: float) -> float:
    """Return the resistance of a frame without its films [m2K/W]; bare metal has next to none."""
    return max(1.0 / u_value - 1.0 / OUTSIDE_FILM - 1.0 / INSIDE_FILM, _LEAST_RESISTANCE)
