"""The house in the section: earth, floor, walls, window, roof, from the ground up."""

from __future__ import annotations

from noonmark.shape import WallSection
from noonmark.shape.polygon import Points, points
from noonmark.shape.roof import LEAST_VENT_GAP
from noonmark.sheets import svg
from noonmark.sheets.hatch import BULGE, PLATE, batt, cut, serpentine, steps, timber, zigzag
from noonmark.sheets.paper import GLASS, INK, ROOM, SHADED, WOOD
from noonmark.sheets.view import View

BOARD = 0.03  # m, fascia and window frame as drawn
BOTTOM_CHORD = 0.089  # m, 3 1/2 inch
WEB = 0.045  # m, half the drawn width of a web


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


def roof(view: View, section: WallSection) -> list[str]:
    """Return truss, insulation, ceiling, soffit and fascia."""
    return [
        _attic(view, section),
        *_webs(view, section),
        svg.polygon(view.inside(_top_chords(section)), class_="seen"),
        svg.polygon(view.inside(_bottom_chord(section)), class_="seen"),
        *_skin(view, section),
        *_eave(view, section),
    ]


def _bottom_chord(section: WallSection) -> Points:
    """Return the bottom chord, its upper corners cut along the roof."""
    plate, span = section.roof.plate, section.roof.span
    depth = min(BOTTOM_CHORD, section.roof.heel)
    return points([(0, plate), (span, plate), (span, plate + depth), (0, plate + depth)])


def _top_chords(section: WallSection) -> Points:
    roof = section.roof
    tail, foot = -roof.projection, roof.soffit
    far = roof.span + roof.projection
    upper = [(tail, roof.fascia_top), (roof.run, roof.ridge), (far, roof.fascia_top)]
    lower = [(far, foot), (roof.run, roof.ridge - roof.chord_plumb), (tail, foot)]
    return points(upper + lower)


def _webs(view: View, section: WallSection) -> list[str]:
    """Return the four webs of the truss, seen behind the cut."""
    roof = section.roof
    span, foot = roof.span, roof.plate + BOTTOM_CHORD / 2
    places = [(1 / 3, 1 / 4), (1 / 3, 1 / 2), (2 / 3, 1 / 2), (2 / 3, 3 / 4)]
    strips = [
        _strip((a * span, foot), (b * span, roof.top_edge(b * span) - 0.7 * roof.chord_plumb))
        for a, b in places
    ]
    return [svg.polygon(view.inside(strip), class_="seen") for strip in strips]


def _strip(foot: tuple[float, float], head: tuple[float, float]) -> Points:
    (x0, y0), (x1, y1) = foot, head
    length = max(1e-9, ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
    dx, dy = (y1 - y0) / length * WEB, (x0 - x1) / length * WEB
    return points([(x0 + dx, y0 + dy), (x1 + dx, y1 + dy), (x1 - dx, y1 - dy), (x0 - dx, y0 - dy)])


def _attic(view: View, section: WallSection) -> str:
    """Return the insulation over the ceiling, up to its depth or the air gap under the deck."""
    roof = section.roof
    low = roof.plate + BOTTOM_CHORD + BULGE
    gap = LEAST_VENT_GAP * roof.slope_factor

    def top(place: float) -> float:
        filled = roof.plate + section.ceiling_insulation
        return min(filled, roof.top_edge(place) - gap) - BULGE

    places = [x for x in steps(0, min(roof.span, view.right)) if top(x) > low]
    return serpentine(
        [view.x(x) for x in places],
        lambda along: (view.y(low), view.y(top(view.metres(along)))),
        lambda along, across: (along, across),
    )


def _skin(view: View, section: WallSection) -> list[str]:
    """Return deck and ceiling board as thick lines."""
    roof = section.roof
    end = min(roof.span + roof.projection, view.right)
    tops = [-roof.projection, *([roof.run] if roof.run < end else []), end]
    deck = points([(view.x(x), view.y(roof.top_edge(x))) for x in tops])
    ceiling = view.box(
        section.wall_thickness, section.ceiling - 0.013, section.back_x, section.ceiling
    )
    return [
        svg.polyline(deck, stroke=INK, stroke_width=8, stroke_linejoin="round"),
        svg.polygon(ceiling, fill=INK),
    ]


def _eave(view: View, section: WallSection) -> list[str]:
    """Return fascia board and soffit, where there is an eave."""
    roof = section.roof
    if roof.projection < BOARD:
        return []
    fascia = view.box(-roof.projection, roof.soffit, -roof.projection + BOARD, roof.fascia_top)
    soffit = view.box(-roof.projection, roof.soffit, 0, roof.soffit + 0.015)
    return [svg.polygon(soffit, fill=INK), cut(fascia, WOOD)]
