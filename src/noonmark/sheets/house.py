"""The house in the section: earth, floor, walls, window; its roof stands in `truss`."""

from __future__ import annotations

from noonmark.shape import WallSection
from noonmark.sheets import parts, svg
from noonmark.sheets.hatch import batt, cut, timber, zigzag
from noonmark.sheets.paper import GLASS, ROOM, SHADED
from noonmark.sheets.view import View


def ground(view: View, section: WallSection) -> list[str]:
    """Return earth, stem walls, slab and the insulation between the stems."""
    earth = parts.earth(section, view.left, view.right, view.low)
    surface = [
        svg.line(view.x(a), view.y(section.ground), view.x(b), view.y(section.ground), class_="cut")
        for a, b in ((view.left, 0), (parts.outer(section), view.right))
        if a < b
    ]
    stems = [
        cut(view.inside(stem), "url(#nm-concrete)")
        for stem in parts.stems(section, view.low)
        if stem[:, 0].min() < view.right
    ]
    slab = cut(view.inside(parts.slab(section)), "url(#nm-concrete)")
    dug = svg.polygon(view.inside(earth), fill="url(#nm-earth)")
    return [dug, *surface, *_boards(view, section), *stems, slab]


def _boards(view: View, section: WallSection) -> list[str]:
    """Return the insulation under the slab, a zigzag from side to side."""
    underlay = parts.underlay(section)
    if underlay is None:
        return []
    box = view.inside(underlay)
    (left, high), (right, low) = box.min(axis=0), box.max(axis=0)
    pad = min(2.5, (low - high) / 4)
    return [
        svg.polygon(box, class_="seen boards"),
        zigzag(left, right, low - pad, high + pad),
    ]


def room(view: View, section: WallSection) -> str:
    """Return the light of the room behind everything."""
    box = view.box(section.wall_thickness, 0, section.back_x, section.ceiling)
    return svg.polygon(box, fill=ROOM)


def walls(view: View, section: WallSection) -> list[str]:
    """Return the wall cut at its window, and the back wall: outline, framing and batts."""
    drawn = []
    for piece in parts.wall_pieces(section):
        if piece.outline[:, 0].min() < view.right:
            drawn.append(cut(view.inside(piece.outline)))
            drawn += [timber(view.inside(wood)) for wood in piece.timbers]
            if piece.filling is not None:
                drawn.append(batt(view, piece.filling))
    return drawn


def window(view: View, section: WallSection, lit: tuple[float, float]) -> list[str]:
    """Return the glass with its lit and shaded part, and the frame around it."""
    if section.window is None:
        return []
    panes = ((lit[0], lit[1], GLASS), (lit[1], section.window.head, SHADED))
    return [
        *(
            svg.polygon(view.inside(parts.pane(section, low, high)), class_="pane", fill=fill)
            for low, high, fill in panes
            if high > low
        ),
        *(svg.polygon(view.inside(frame), class_="seen") for frame in parts.frames(section)),
    ]
