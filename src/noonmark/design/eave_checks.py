"""Checks of what stands out of a wall under an eave: hoods, fins, awnings, canopies."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.design.derived import roof_triangle, wall_faces
from noonmark.design.model import Building, Homestead, Window
from noonmark.design.outdoors import Canopy
from noonmark.design.quantities import spoken_length
from noonmark.errors import Problem
from noonmark.shape.eave import eave_outline
from noonmark.shape.roof import RoofTriangle

Edge = tuple[float, float]
"""How far out a point of a part stands, and how high [m]."""


def under_eave(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """What stands out of a wall keeps below soffit, fascia and gutter of the eave over it."""
    roof, sides = roof_triangle(homestead, building), building.eave.sides
    if building.eave.projection == 0.0:
        return
    for index, window in enumerate(building.window, start=1):
        if window.side in sides and window.head <= roof.soffit_at_wall + 1e-9:
            for key, edges in _parts(window):
                yield from _hit(roof, edges, f"{name}.window.{index}.{key}")
    sides_of = {(face.zone, face.name): (face.side, face.length) for face in wall_faces(building)}
    for index, part in enumerate(building.canopy, start=1):
        zone = part.zone or next(iter(building.zone))
        side, length = sides_of.get((zone, part.wall or part.side or ""), (None, 0.0))
        ends = max(0.0, building.eave.ends)
        beside = part.left >= length + ends or part.left + part.width <= -ends
        if side in sides and not beside:
            yield from _hit(roof, _canopy(part), f"{name}.canopy.{index}")


def _parts(window: Window) -> Iterator[tuple[str, tuple[Edge, ...]]]:
    """Yield what stands out over a window: its name, and its upper line from the wall out."""
    if hood := window.hood:
        level = window.head + hood.gap
        yield "hood", ((0.0, level), (hood.projection, level))
    if fins := window.fins:
        level = window.head + fins.top
        yield "fins", ((0.0, level), (fins.projection, level))
    if awning := window.awning:
        line = window.head + awning.gap
        yield "awning", ((0.0, line), (awning.projection, line - awning.drop))


def _canopy(part: Canopy) -> tuple[Edge, ...]:
    """Return the upper line of a canopy from the wall out, and up its railing."""
    edge = (part.projection, part.height)
    return (
        (0.0, part.height + part.rise),
        edge,
        *([(edge[0], edge[1] + part.railing)] if part.railing else []),
    )


def _hit(roof: RoofTriangle, edges: tuple[Edge, ...], path: str) -> Iterator[Problem]:
    """Yield the place where a part stands highest over the eave's underside."""
    over = [
        (y - limit, y, limit)
        for out in (0.0, roof.projection, roof.reach, edges[-1][0])
        for y in _heights(edges, out)
        for limit in _underside(roof, out, past=edges[-1][0] > roof.projection + 1e-9)
    ]
    most, top, limit = max(over)
    if most > 1e-9:
        values = {"top": spoken_length(top), "soffit": spoken_length(limit)}
        yield Problem("design.plate_above_soffit", path=path, values=values)


def _heights(edges: tuple[Edge, ...], out: float) -> Iterator[float]:
    """Yield how high a part stands at a distance from the wall; nothing past its end."""
    (_, y0), (x1, y1) = edges[:2]
    if out <= x1 + 1e-9:
        yield y0 + (y1 - y0) * out / x1
    if abs(out - x1) <= 1e-9:
        yield from (y for _, y in edges[2:])


def _underside(roof: RoofTriangle, out: float, *, past: bool) -> Iterator[float]:
    """Yield how low the eave hangs at a distance from the wall; `past`: its edge is passed."""
    if out <= roof.projection + 1e-9:
        yield roof.soffit_at_wall + (roof.soffit - roof.soffit_at_wall) * out / roof.projection
    if past and roof.projection - 1e-9 <= out <= roof.reach + 1e-9:
        yield float(eave_outline(roof)[1:, 1].min())
