"""The sunny wall of a building cut open: what stands where in its section."""

from __future__ import annotations

from itertools import takewhile

from noonmark.design.derived import material_of, roof_triangle, thickness
from noonmark.design.model import Building, Homestead, LayerPart, Window
from noonmark.design.truss import over_wall
from noonmark.errors import InputError, PhysicsError, Problem
from noonmark.shape.section import Opening, WallSection

GROUND = -0.2
"""Ground outside below the finished floor [m] (common practice, no source)."""

THIN_FLOOR = 0.1
"""Thickness drawn for a floor whose layers are resistances alone [m]."""

INSULATING = 0.065
"""Conductivity below which a layer is drawn as insulation [W/mK] (common practice)."""


def wall_section(homestead: Homestead, building: Building) -> WallSection:
    """Return the section through the largest window of the sunny wall, or through the bare wall.

    Raises `InputError` when the parts can not stand together.
    """
    window = largest_sunny(building)
    zone = (
        building.zone[window.zone] if window and window.zone else next(iter(building.zone.values()))
    )
    insulation = _underlay(homestead, building.floor.construction)
    slab = thickness(homestead, building.floor.construction) - insulation
    try:
        return WallSection(
            roof=roof_triangle(homestead, building),
            wall_thickness=thickness(homestead, building.wall_construction),
            floor_thickness=slab or THIN_FLOOR,
            ground=GROUND,
            ceiling=zone.height,
            room_depth=zone.width,
            ceiling_insulation=over_wall(homestead, building).ceiling,
            window=Opening(window.sill, window.head, building.roof.header_depth)
            if window
            else None,
            floor_insulation=insulation,
        )
    except PhysicsError as error:
        raise InputError(
            [Problem(p.code, path="section", values=p.values) for p in error.problems]
        ) from error


def _underlay(homestead: Homestead, construction: str) -> float:
    """Return how thick the insulation at the underside of a construction is [m]."""
    layers = homestead.construction[construction].layers
    below = takewhile(lambda layer: _insulates(homestead, layer), reversed(layers))
    return sum(layer.thickness or 0.0 for layer in below)


def _insulates(homestead: Homestead, layer: LayerPart) -> bool:
    if layer.material is None:
        return False
    return material_of(homestead, layer.material).conductivity < INSULATING


def largest_sunny(building: Building) -> Window | None:
    """Return the window entry with the most glass on the sunny side, None without any."""
    sunny = [window for window in building.window if window.side == "sunny"]
    return max(sunny, key=lambda w: w.count * w.width * (w.head - w.sill), default=None)
