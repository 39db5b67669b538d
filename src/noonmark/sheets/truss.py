"""The roof in the section: truss with tails or cantilevered, insulation, deck, eave and gutter."""

from __future__ import annotations

from noonmark.shape import WallSection
from noonmark.shape.polygon import points
from noonmark.shape.roof import LEAST_VENT_GAP, RoofTriangle
from noonmark.sheets import parts, svg
from noonmark.sheets.hatch import BULGE, cut, serpentine, steps
from noonmark.sheets.paper import INK, WOOD
from noonmark.sheets.view import View

BEARING = 11.0  # px, height of the mark of a bearing line


def roof(view: View, section: WallSection) -> list[str]:
    """Return truss, insulation, ceiling, soffit, fascia and gutter."""
    truss = section.roof
    return [
        _attic(view, section),
        *(svg.polygon(view.inside(part), class_="seen") for part in parts.truss_wood(truss)),
        *_skin(view, section),
        *_eave(view, truss),
    ]


def _attic(view: View, section: WallSection) -> str:
    """Return the insulation over the ceiling, up to its depth or the air gap under the deck."""
    roof = section.roof
    low = roof.plate + parts.CHORD + BULGE
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
    deck = view.drawn(parts.deck(roof, min(roof.span + roof.projection, view.right)))
    return [
        svg.polyline(deck, stroke=INK, stroke_width=8, stroke_linejoin="round"),
        svg.polygon(view.inside(parts.ceiling(section)), fill=INK),
    ]


def _eave(view: View, roof: RoofTriangle) -> list[str]:
    """Return soffit, fascia board and gutter; the boards where the eave is deeper than one."""
    closing, soffit, fascia = parts.closing(roof), parts.soffit(roof), parts.fascia(roof)
    drawn = [] if closing is None else [cut(view.inside(closing), WOOD)]
    if soffit is not None:
        drawn.append(svg.polygon(view.inside(soffit), fill=INK, class_="soffit"))
    if fascia is not None:
        drawn.append(cut(view.inside(fascia), WOOD))
    sheet = parts.gutter(roof)
    if sheet is not None:
        drawn.append(svg.polyline(view.drawn(sheet), stroke=INK, stroke_width=3, class_="gutter"))
    return drawn


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
