"""The roof in the section: truss with tails or cantilevered, insulation, deck, eave and gutter."""

from __future__ import annotations

from noonmark.shape import WallSection
from noonmark.shape.polygon import Points, points, rectangle
from noonmark.shape.roof import LEAST_VENT_GAP, RoofTriangle
from noonmark.sheets import svg
from noonmark.sheets.hatch import BULGE, cut, serpentine, steps
from noonmark.sheets.paper import INK, WOOD
from noonmark.sheets.view import View

FASCIA = 0.03  # m, thickness of the fascia as drawn
SHEATHING = 0.012  # m, what closes the wall between plate and soffit
SOFFIT = 0.015  # m, thickness of the soffit board
CHORD = 0.089  # m, 3 1/2 inch: bottom chord and posts
WEB = 0.045  # m, half the drawn width of a web
BEARING = 11.0  # px, height of the mark of a bearing line


def roof(view: View, section: WallSection) -> list[str]:
    """Return truss, insulation, ceiling, soffit, fascia and gutter."""
    truss = section.roof
    wood = [*_webs(truss), *_posts(truss), _bottom_chord(truss), _top_chords(truss)]
    return [
        _attic(view, section),
        *(svg.polygon(view.inside(part), class_="seen") for part in wood),
        *_skin(view, section),
        *_eave(view, truss),
    ]


def _ends(roof: RoofTriangle) -> float:
    """Return how far past the wall's outside face the bottom chord runs [m]."""
    return roof.projection if roof.truss == "cantilever" else 0.0


def _bottom_chord(roof: RoofTriangle) -> Points:
    """Return the bottom chord, no deeper than the truss is at its end."""
    end = _ends(roof)
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


def _attic(view: View, section: WallSection) -> str:
    """Return the insulation over the ceiling, up to its depth or the air gap under the deck."""
    roof = section.roof
    low = roof.plate + CHORD + BULGE
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


def _eave(view: View, roof: RoofTriangle) -> list[str]:
    """Return soffit, fascia board and gutter; the boards where the eave is deeper than one."""
    closed = max(roof.plate, roof.soffit_at_wall)
    boards = [cut(view.box(0, roof.plate, SHEATHING, closed), WOOD)] if closed > roof.plate else []
    if roof.projection >= FASCIA:
        tip, wall = (-roof.projection, roof.soffit), (0.0, roof.soffit_at_wall)
        up = [(x, y + SOFFIT) for x, y in (wall, tip)]
        fascia = view.box(tip[0], roof.fascia_foot, tip[0] + FASCIA, roof.fascia_top)
        boards += [
            svg.polygon(view.inside(points([tip, wall, *up])), fill=INK, class_="soffit"),
            cut(fascia, WOOD),
        ]
    return boards + _gutter(view, roof)


def _gutter(view: View, roof: RoofTriangle) -> list[str]:
    gutter = roof.trim.gutter
    if gutter is None:
        return []
    lip, tip = roof.fascia_top - gutter.drop, -roof.projection
    foot = lip - gutter.depth
    sheet = [(tip, lip), (tip, foot), (-roof.reach, foot), (-roof.reach, lip)]
    drawn = points([(view.x(x), view.y(y)) for x, y in sheet])
    return [svg.polyline(drawn, stroke=INK, stroke_width=3, class_="gutter")]


def bearings(view: View, section: WallSection) -> list[str]:
    """Return a mark under each line the truss bears on, when that is not the outside face."""
    roof = section.roof
    places = (roof.bearing, roof.span - roof.bearing) if roof.bearing > 0 else ()
    y = view.y(roof.plate)
    return [
        svg.polygon(
            points([(x, y), (x + BEARING / 2, y + BEARING), (x - BEARING / 2, y + BEARING)]),
            fill=INK,
            class_="bearing",
        )
        for x in (view.x(place) for place in places if place < view.right)
    ]
