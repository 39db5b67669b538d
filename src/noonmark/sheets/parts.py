"""The parts of a section in metres, for every drawing of it.

x runs inwards from the outside face of the sunny wall, y up from the finished floor.
"""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.shape import WallSection
from noonmark.shape.polygon import Points, points, rectangle
from noonmark.shape.roof import RoofTriangle

PLATE = 0.038
"""Thickness of a framing plate: 1 1/2 inch [m]."""

BOARD = 0.03  # m, window frame as drawn
PANE = 0.05  # m, glass and frame through the wall as drawn, at most half of it
FASCIA = 0.03  # m, thickness of the fascia as drawn
SHEATHING = 0.012  # m, what closes the wall between plate and soffit
SOFFIT = 0.015  # m, thickness of the soffit board
CEILING = 0.013  # m, thickness of the ceiling board
CHORD = 0.089  # m, 3 1/2 inch: bottom chord and posts
WEB = 0.045  # m, half the drawn width of a web

_LEAST = 1e-6


@dataclass(frozen=True, eq=False)
class WallPiece:
    """A piece of framed wall: plates, or a header at its foot, and what fills it between."""

    outline: Points
    timbers: tuple[Points, ...]
    filling: Points | None


# --- on the ground -------------------------------------------------------------------------------


def outer(section: WallSection) -> float:
    """Return where the outside face of the back wall stands [m]."""
    return section.back_x + section.wall_thickness


def earth(section: WallSection, left: float, right: float, low: float) -> Points:
    """Return the ground outside and under the floor, down to `low`."""
    far, under = outer(section), section.underside
    return points(
        [
            (left, low),
            (left, section.ground),
            (0, section.ground),
            (0, under),
            (far, under),
            (far, section.ground),
            (right, section.ground),
            (right, low),
        ]
    )


def stems(section: WallSection, low: float) -> list[Points]:
    """Return what carries the walls, from the slab's underside down to `low`."""
    top, thick = -section.floor_thickness, section.wall_thickness
    return [rectangle(x, low, x + thick, top) for x in (0.0, section.back_x)]


def slab(section: WallSection) -> Points:
    """Return the floor."""
    return rectangle(0.0, -section.floor_thickness, outer(section), 0.0)


def underlay(section: WallSection) -> Points | None:
    """Return the insulation under the floor, between the stems."""
    low, high = section.underside, -section.floor_thickness
    if high - low < _LEAST:
        return None
    return rectangle(section.wall_thickness, low, section.back_x, high)


# --- walls ---------------------------------------------------------------------------------------


def wall_pieces(section: WallSection) -> list[WallPiece]:
    """Return the wall cut at its window, and the back wall."""
    plate, window = section.roof.plate, section.window
    pieces = [_piece(section, section.back_x, 0.0, plate)]
    if window is None:
        pieces.append(_piece(section, 0.0, 0.0, plate))
    else:
        header = min(window.header_depth, plate - window.head)
        pieces.append(_piece(section, 0.0, 0.0, window.sill))
        pieces.append(_piece(section, 0.0, window.head, plate, header))
    return [piece for piece in pieces if piece is not None]


def _piece(
    section: WallSection, x: float, low: float, high: float, header: float = 0.0
) -> WallPiece | None:
    thick = section.wall_thickness
    if high - low < _LEAST or thick < _LEAST:
        return None
    whole = rectangle(x, low, x + thick, high)
    foot, top = low + max(header, PLATE), high - PLATE
    if foot > top:
        return WallPiece(whole, (whole,), None)
    plates = [rectangle(x, a, x + thick, b) for a, b in ((low, foot), (top, high))]
    return WallPiece(whole, tuple(plates), rectangle(x, foot, x + thick, top))


def pane(section: WallSection, low: float, high: float) -> Points:
    """Return a stretch of the glass."""
    half = _half_pane(section)
    return rectangle(section.glass_x - half, low, section.glass_x + half, high)


def frames(section: WallSection) -> list[Points]:
    """Return the frame of the window at its sill and its head."""
    if section.window is None:
        return []
    half, x = 2.0 * _half_pane(section), section.glass_x
    heights = (section.window.sill, section.window.head - BOARD)
    return [rectangle(x - half, y, x + half, y + BOARD) for y in heights]


def _half_pane(section: WallSection) -> float:
    return min(PANE / 2.0, section.wall_thickness / 4.0)


# --- roof ----------------------------------------------------------------------------------------


def truss_wood(roof: RoofTriangle) -> list[Points]:
    """Return webs, posts and chords of the truss."""
    return [*_webs(roof), *_posts(roof), _bottom_chord(roof), _top_chords(roof)]


def _bottom_chord(roof: RoofTriangle) -> Points:
    """Return the bottom chord, no deeper than the truss is at its end."""
    end = roof.projection if roof.truss == "cantilever" else 0.0
    return rectangle(-end, roof.plate, roof.span + end, roof.plate + min(CHORD, roof.heel_at(-end)))


def _top_chords(roof: RoofTriangle) -> Points:
    tail, foot = -roof.projection, roof.fascia_top - roof.chord_plumb
    far = roof.span + roof.projection
    upper = [(tail, roof.fascia_top), (roof.run, roof.ridge), (far, roof.fascia_top)]
    lower = [(far, foot), (roof.run, roof.ridge - roof.chord_plumb), (tail, foot)]
    return points(upper + lower)


def _webs(roof: RoofTriangle) -> list[Points]:
    """Return the four webs of the truss, seen behind the cut."""
    span, foot = roof.span, roof.plate + CHORD / 2
    places = [(1 / 3, 1 / 4), (1 / 3, 1 / 2), (2 / 3, 1 / 2), (2 / 3, 3 / 4)]
    return [
        _strip((a * span, foot), (b * span, roof.top_edge(b * span) - 0.7 * roof.chord_plumb))
        for a, b in places
    ]


def _strip(foot: tuple[float, float], head: tuple[float, float]) -> Points:
    (x0, y0), (x1, y1) = foot, head
    length = max(1e-9, ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
    dx, dy = (y1 - y0) / length * WEB, (x0 - x1) / length * WEB
    return points([(x0 + dx, y0 + dy), (x1 + dx, y1 + dy), (x1 - dx, y1 - dy), (x0 - dx, y0 - dy)])


def _posts(roof: RoofTriangle) -> list[Points]:
    """Return the posts between the chords: over each bearing, and at the ends of a cantilever."""
    places = {roof.bearing} | ({-roof.projection} if roof.truss == "cantilever" else set())
    low = roof.plate + CHORD
    posts = []
    for x in sorted(places):
        inner = x + CHORD
        heads = [roof.top_edge(side) - roof.chord_plumb for side in (x, inner)]
        if heads[0] < low + WEB:
            continue
        post = points([(x, low), (inner, low), (inner, heads[1]), (x, heads[0])])
        posts += [post, points([(roof.span - a, b) for a, b in post])]
    return posts


def deck(roof: RoofTriangle, end: float) -> Points:
    """Return the line of the roof's deck from the near eave to `end`."""
    tops = [-roof.projection, *([roof.run] if roof.run < end else []), end]
    return points([(x, roof.top_edge(x)) for x in tops])


def ceiling(section: WallSection) -> Points:
    """Return the ceiling board."""
    low = section.ceiling - CEILING
    return rectangle(section.wall_thickness, low, section.back_x, section.ceiling)


def closing(roof: RoofTriangle) -> Points | None:
    """Return what closes the wall between plate and soffit."""
    high = max(roof.plate, roof.soffit_at_wall)
    return rectangle(0.0, roof.plate, SHEATHING, high) if high > roof.plate else None


def soffit(roof: RoofTriangle) -> Points | None:
    """Return the soffit board, where the eave is deeper than the fascia."""
    if roof.projection < FASCIA:
        return None
    tip, wall = (-roof.projection, roof.soffit), (0.0, roof.soffit_at_wall)
    return points([tip, wall, *((x, y + SOFFIT) for x, y in (wall, tip))])


def fascia(roof: RoofTriangle) -> Points | None:
    """Return the fascia board, where the eave is deeper than it."""
    if roof.projection < FASCIA:
        return None
    tip = -roof.projection
    return rectangle(tip, roof.fascia_foot, tip + FASCIA, roof.fascia_top)


def gutter(roof: RoofTriangle) -> Points | None:
    """Return the line of the gutter's sheet."""
    hung = roof.trim.gutter
    if hung is None:
        return None
    lip, tip = roof.fascia_top - hung.drop, -roof.projection
    foot = lip - hung.depth
    return points([(tip, lip), (tip, foot), (-roof.reach, foot), (-roof.reach, lip)])
