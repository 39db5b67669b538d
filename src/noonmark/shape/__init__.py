"""Plane geometry, solved once for shading, drawings and page alike."""

from __future__ import annotations

from noonmark.shape.roof import RoofTriangle, heel_for_insulation, heel_for_soffit
from noonmark.shape.section import (
    Opening,
    WallSection,
    beam_polygon,
    floor_reach,
    shade_line,
    sunlit_glass,
)

__all__ = [
    "Opening",
    "RoofTriangle",
    "WallSection",
    "beam_polygon",
    "floor_reach",
    "heel_for_insulation",
    "heel_for_soffit",
    "shade_line",
    "sunlit_glass",
]
