"""Plane geometry, solved once for shading, drawings and page alike."""

from __future__ import annotations

from noonmark.shape.eave import eave_outline, shading_edge
from noonmark.shape.roof import RoofTriangle, heel_for_insulation, heel_for_soffit
from noonmark.shape.section import (
    Opening,
    WallSection,
    beam_polygon,
    floor_reach,
    shade_line,
    sunlit_glass,
)
from noonmark.shape.trim import Gutter, Trim

__all__ = [
    "Gutter",
    "Opening",
    "RoofTriangle",
    "Trim",
    "WallSection",
    "beam_polygon",
    "eave_outline",
    "floor_reach",
    "heel_for_insulation",
    "heel_for_soffit",
    "shade_line",
    "shading_edge",
    "sunlit_glass",
]
