"""The eave in the section: every edge that can throw shade on the wall below it.

Metres; heights above the finished floor, x = 0 at the outside face of the wall,
outdoors is x < 0. Source: plane geometry.
"""

from __future__ import annotations

import math

from noonmark.shape.polygon import Points, points
from noonmark.shape.roof import RoofTriangle


def eave_outline(roof: RoofTriangle) -> Points:
    """Return every edge that can throw shade, from the wall outwards, shape (n, 2) [m].

    Underside of the soffit from the wall (x = 0) to the fascia line, foot of the
    fascia, foot and lip of the gutter; no two corners in a row are the same. With a
    level soffit alone there are two, without any eave one. What lies above these
    edges, the face of the fascia and the roof, throws its shade within theirs, but for
    a sliver past the ends of a finite eave.
    """
    tip = -roof.projection
    corners = [(0.0, roof.soffit_at_wall), (tip, roof.soffit), (tip, roof.fascia_foot)]
    if gutter := roof.trim.gutter:
        lip = roof.fascia_top - gutter.drop
        foot = lip - gutter.depth
        corners += [(tip, foot), (-roof.reach, foot), (-roof.reach, lip)]
    return points([c for i, c in enumerate(corners) if i == 0 or c != corners[i - 1]])


def shading_edge(roof: RoofTriangle, profile_angle: float) -> tuple[float, float]:
    """Return the corner (x, y) [m] of the eave's outline whose shade reaches deepest.

    `profile_angle` in degrees, 0 to 90 without the ends.
    """
    slope = math.tan(math.radians(profile_angle))
    outline = eave_outline(roof)
    x, y = outline[(outline[:, 1] + outline[:, 0] * slope).argmin()]
    return float(x), float(y)
