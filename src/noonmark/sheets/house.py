"""The house in the section: earth, floor, walls, window; its roof stands in `truss`."""

from __future__ import annotations

from noonmark.shape import WallSection
from noonmark.shape.polygon import points
from noonmark.sheets import svg
from noonmark.sheets.hatch import PLATE, batt, cut, timber, zigzag
from noonmark.sheets.paper import GLASS, ROOM, SHADED
from noonmark.sheets.view import View

BOARD = 0.03  # m, window frame as drawn


def ground(view: View, section: WallSection) -> list[str]:
    """Return earth, stem walls, slab and the insulation between the stems."""
    outer = section.back_x + section.wall_thickness
    under, slab_foot = section.underside, -section.floor_thickness
    earth = points(
        [
            (view.left, view.low),
            (view.left, section.ground),
            (0, section.ground),
            (0, under),
            (outer, under),
            (outer, section.ground),
            (view.right, section.ground),
            (view.right, view.low),
        ]
    )
    surface = [
        svg.line(view.x(a), view.y(section.ground), view.x(b), view.y(section.ground), class_="cut")
        for a, b in ((view.left, 0), (outer, view.right))
        if a < b
    ]
    stems = [
        cut(view.box(x, view.low, x + section.wall_thickness, slab_foot), "url(#nm-concrete)")
        for x in (0, section.back_x)
        if x < view.right
    ]
    slab = cut(view.box(0, slab_foot, outer, 0), "url(#nm-concrete)")
    dug = svg.polygon(view.inside(earth), fill="url(#nm-earth)")
    return [dug, *surface, *_boards(view, section), *stems, slab]


def _boards(view: View, section: WallSection) -> list[str]:
    """Return the insulation under the slab, a zigzag from side to side."""
    low, high = section.underside, -section.floor_thickness
    if high - low < 1e-6:
        return []
    box = view.box(section.wall_thickness, low, section.back_x, high)
    left, right = float(box[:, 0].min()), float(box[:, 0].max())
    pad = min(2.5, (view.y(low) - view.y(high)) / 4)
    return [
        svg.polygon(box, class_="seen boards"),
        zigzag(left, right, view.y(low) - pad, view.y(high) + pad),
    ]


def room(view: View, section: WallSection) -> str:
    """Return the light of the room behind everything."""
    box = view.box(section.wall_thickness, 0, section.back_x, section.ceiling)
    return svg.polygon(box, fill=ROOM)


def walls(view: View, section: WallSection) -> list[str]:
    """Return the wall cut at its window, and the back wall."""
    plate = section.roof.plate
    back = _wall_piece(view, section.back_x, section.wall_thickness, 0, plate)
    if section.window is None:
        return [*_wall_piece(view, 0, section.wall_thickness, 0, plate), *back]
    sill, head = section.window.sill, section.window.head
    below = _wall_piece(view, 0, section.wall_thickness, 0, sill)
    header = min(section.window.header_depth, plate - head)
    above = _wall_piece(view, 0, section.wall_thickness, head, plate, header)
    return [*below, *above, *back]


def _wall_piece(
    view: View, x: float, thickness: float, low: float, high: float, header: float = 0.0
) -> list[str]:
    """Return a piece of framed wall [m]: plates, or a header at its foot, and batts."""
    if high - low < 1e-6 or thickness < 1e-6 or x >= view.right:
        return []
    parts = [cut(view.box(x, low, x + thickness, high))]
    foot, top = low + max(header, PLATE), high - PLATE
    if foot > top:
        return [*parts, timber(view, x, low, x + thickness, high)]
    filling = batt(view, x, foot, x + thickness, top)
    plates = [timber(view, x, a, x + thickness, b) for a, b in ((low, foot), (top, high))]
    return [*parts, *plates, filling]


def window(view: View, section: WallSection, lit: tuple[float, float]) -> list[str]:
    """Return the glass with its lit and shaded part, and the frame around it."""
    if section.window is None:
        return []
    sill, head = section.window.sill, section.window.head
    half = min(0.025, section.wall_thickness / 4)
    left, right = section.glass_x - half, section.glass_x + half
    panes = ((lit[0], lit[1], GLASS), (lit[1], head, SHADED))
    frames = (sill, head - BOARD)
    return [
        *(
            svg.polygon(view.box(left, low, right, high), class_="pane", fill=fill)
            for low, high, fill in panes
            if high > low
        ),
        *(
            svg.polygon(view.box(left - half, y, right + half, y + BOARD), class_="seen")
            for y in frames
        ),
    ]
