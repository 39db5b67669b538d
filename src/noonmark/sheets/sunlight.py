"""One sun in the section: its beam, the eave's shade, and the ray that parts them.

`profile_angle` is in degrees throughout; None, or a sun that is not on the wall,
draws nothing.
"""

from __future__ import annotations

import math

from noonmark.shape import (
    WallSection,
    beam_polygon,
    eave_outline,
    shade_line,
    shading_edge,
    sunlit_glass,
)
from noonmark.shape.polygon import Points, clip_half_plane, points
from noonmark.sheets import paper, svg
from noonmark.sheets.view import View

OPEN_AIR = 0.35
"""How much of the beam is shown before the eave [m]."""


def lit_glass(section: WallSection, profile_angle: float | None) -> tuple[float, float]:
    """Return the lit part of the glass (bottom, top) [m]; all of it when no sun is asked for."""
    if profile_angle is None and section.window:
        return (section.window.sill, section.window.head)
    return sunlit_glass(section, profile_angle or 0.0)


def draw_light(view: View, section: WallSection, profile_angle: float | None) -> list[str]:
    """Return the beam of sun, the eave's shade and the ray that parts them."""
    if profile_angle is None or not 0 < profile_angle < 90:
        return []
    beam = beam_polygon(section, profile_angle, outdoors=section.roof.reach + OPEN_AIR)
    sun = [svg.polygon(view.inside(beam), fill="url(#nm-beam)", class_="beam")] if len(beam) else []
    dark = [
        svg.polygon(view.inside(part), fill=paper.SHADE, fill_opacity=".42", class_="shade")
        for part in shades(section, profile_angle)
    ]
    ray = [_ray(view, section, profile_angle)] if section.roof.reach > 0 else []
    return [*sun, *dark, *ray]


def _ray(view: View, section: WallSection, profile_angle: float) -> str:
    """Return the ray past the eave's shading edge, down to wall or ground."""
    edge, slope = shade_line(section, profile_angle), math.tan(math.radians(profile_angle))
    x, y = shading_edge(section.roof, profile_angle)
    rise = min((x - view.left) * slope, view.high - y)
    low = max(edge, section.ground)
    corners = [
        (x - rise / slope, y + rise),
        ((edge - low) / slope, low),
    ]
    drawn = [(view.x(x), view.y(y)) for x, y in corners]
    return svg.polyline(points(drawn), class_="ray")


def shades(section: WallSection, profile_angle: float) -> list[Points]:
    """Return the shade under the eave and the one inside the upper reveal [m].

    `profile_angle` is that of a sun on the wall.
    """
    edge = shade_line(section, profile_angle)
    tip = shading_edge(section.roof, profile_angle)
    outline = [(float(x), float(y)) for x, y in eave_outline(section.roof)]
    under = points([*outline[: outline.index(tip) + 1], (0, edge)])
    found = [clip_half_plane(under, 0, -1, -section.ground)]
    if section.window:
        sill, head = section.window.sill, section.window.head
        lit = sunlit_glass(section, profile_angle)[1]
        entry = min(head, max(sill, edge))
        found.append(
            points([(0, entry), (0, head), (section.glass_x, head), (section.glass_x, lit)])
        )
    return found


def draw_leader(
    view: View, section: WallSection, profile_angle: float | None, start: float
) -> list[str]:
    """Return the dotted line from the dimensions to the shade line on the wall."""
    if profile_angle is None or not 0 < profile_angle < 90:
        return []
    edge = shade_line(section, profile_angle)
    if not section.ground <= edge < section.roof.soffit_at_wall:
        return []
    return [svg.line(start, view.y(edge), view.x(0), view.y(edge), class_="now")]
