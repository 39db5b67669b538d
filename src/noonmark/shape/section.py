"""A wall cut open, square to it: where the sun at a profile angle gets in.

Metres; heights above the finished floor; x runs inwards from the outside face of
the wall (x = 0), outdoors is x < 0. A ray of profile angle p is the line
y = c - x tan p, so one number names it: the height c at which it meets the plane
of the wall's outside face. The glass stands in the middle of the wall's
thickness. Source: plane geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from noonmark.errors import PhysicsError, Problem
from noonmark.shape.eave import shading_edge
from noonmark.shape.polygon import Points, points
from noonmark.shape.roof import RoofTriangle
from noonmark.units import Quantity


@dataclass(frozen=True)
class Opening:
    """A window in the section: glass from `sill` to `head` [m above the floor].

    `header_depth`: height of the beam that carries the wall above it [m].
    """

    sill: float
    head: float
    header_depth: float = 0.0


@dataclass(frozen=True)
class WallSection:
    """What the drawing and the sun need to know of one wall, in m.

    `roof` gives plate, projection, heel and soffit. `ground` is the height of the
    ground outside (0 or less when the floor lies above it); `ceiling` the height
    of the ceiling; `room_depth` runs from the inner face of the wall to the back
    wall; `ceiling_insulation` lies on the ceiling, `floor_insulation` under the floor.

    Raises PhysicsError `shape.not_positive`, `shape.negative` or, when heights
    stand in the wrong order, `shape.out_of_order`.
    """

    roof: RoofTriangle
    wall_thickness: float
    floor_thickness: float
    ground: float
    ceiling: float
    room_depth: float
    ceiling_insulation: float
    window: Opening | None = None
    floor_insulation: float = 0.0

    def __post_init__(self) -> None:
        """Refuse sizes below nothing and heights in the wrong order."""
        for name in ("floor_thickness", "room_depth"):
            if not getattr(self, name) > 0:
                raise _problem("shape.not_positive", part=name, value=getattr(self, name))
        for name in ("wall_thickness", "ceiling_insulation", "floor_insulation"):
            if not getattr(self, name) >= 0:
                raise _problem("shape.negative", part=name, value=getattr(self, name))
        _check_order(ceiling=self.ceiling, plate=self.roof.plate)
        if self.window:
            sill, head = self.window.sill, self.window.head
            _check_order(floor=0.0, sill=sill, head=head, ceiling=self.ceiling)
            _check_order(head=head, soffit=self.roof.soffit_at_wall)

    @property
    def soffit(self) -> float:
        """Height of the soffit's outer edge [m]."""
        return self.roof.soffit

    @property
    def projection(self) -> float:
        """Level distance of that edge from the outside face of the wall [m]."""
        return self.roof.projection

    @property
    def insulation_over_plate(self) -> float:
        """Depth of the ceiling's insulation over the wall's outside face [m]."""
        return min(self.ceiling_insulation, self.roof.insulation_depth())

    @property
    def glass_x(self) -> float:
        """Place of the glass plane, the middle of the wall [m]."""
        return self.wall_thickness / 2

    @property
    def underside(self) -> float:
        """Height of the earth under floor and insulation [m]."""
        return -self.floor_thickness - self.floor_insulation

    @property
    def back_x(self) -> float:
        """Place of the back wall's face [m]."""
        return self.wall_thickness + self.room_depth


def _check_order(**heights: float) -> None:
    for (below, low), (above, high) in pairwise(heights.items()):
        if not low <= high:
            parts = {"below": below, "above": above}
            raise _problem("shape.out_of_order", **parts, below_height=low, above_height=high)


def _problem(code: str, **values: object) -> PhysicsError:
    spoken = {
        name: Quantity(value, "length") if isinstance(value, float) else value
        for name, value in values.items()
    }
    return PhysicsError(Problem(code, values=spoken))


def shade_line(section: WallSection, profile_angle: float) -> float:
    """Return the height of the eave's shade edge on the wall's outside face [m].

    The deepest shade that soffit, fascia and gutter throw: everything above it is in
    the eave's shade; it may lie below the ground. `profile_angle` in degrees, 0 to 90
    without the ends; raises PhysicsError `shape.sun_not_on_wall` otherwise.
    """
    if not _on_wall(profile_angle):
        value = Quantity(profile_angle, "angle")
        raise PhysicsError(Problem("shape.sun_not_on_wall", values={"profile_angle": value}))
    x, y = shading_edge(section.roof, profile_angle)
    return y + x * _tan(profile_angle)


def sunlit_glass(section: WallSection, profile_angle: float) -> tuple[float, float]:
    """Return the lit part of the glass as heights (bottom, top) [m]; equal when none is.

    Eave and upper reveal cut from above; a sun that is not on the wall lights
    nothing; a wall without window gives (0, 0). `profile_angle` in degrees.
    """
    window = section.window
    if window is None:
        return (0.0, 0.0)
    if not _on_wall(profile_angle):
        return (window.sill, window.sill)
    top = _highest_ray(section, window, profile_angle) - section.glass_x * _tan(profile_angle)
    return (window.sill, max(window.sill, top))


def floor_reach(section: WallSection, profile_angle: float) -> float:
    """Return how deep the sun reaches into the room [m], from the wall's inner face.

    At most `room_depth`, where it climbs the back wall; 0 when it lights no more
    than the sill. `profile_angle` in degrees.
    """
    beam = beam_polygon(section, profile_angle)
    if len(beam) == 0:
        return 0.0
    return max(0.0, float(beam[:, 0].max()) - section.wall_thickness)


def beam_polygon(
    section: WallSection, profile_angle: float, *, outdoors: float | None = None
) -> Points:
    """Return the beam of sun let in by the window, shape (n, 2) [m]; (0, 2) when none is.

    Its corners run from `outdoors` metres before the wall (default: from all that
    hangs out of the eave) along the upper ray to where that lands, back over floor, inner sill
    and foot of the glass, and out along the lower ray. `profile_angle` in degrees.
    """
    bottom, top = sunlit_glass(section, profile_angle)
    if section.window is None or top <= bottom:
        return points([])
    slope = _tan(profile_angle)
    start = section.roof.reach if outdoors is None else outdoors
    lowest, highest = (y + section.glass_x * slope for y in (bottom, top))
    corners = [
        (-start, highest + start * slope),
        *_landing(section, section.window, slope, highest),
    ]
    corners += [(section.glass_x, bottom), (-start, lowest + start * slope)]
    return points(corners)


def _landing(
    section: WallSection, window: Opening, slope: float, highest: float
) -> list[tuple[float, float]]:
    """Return where the beam lands, from its upper ray back to the inner edge of the sill."""
    sill, inner = window.sill, section.wall_thickness
    skimming = sill + inner * slope
    if highest <= skimming:
        return [((highest - sill) / slope, sill)]
    corner = section.back_x * slope
    between = [(section.back_x, 0.0)] if skimming < corner < highest else []
    lands = [_floor_or_back(section, slope, ray) for ray in (highest, skimming)]
    return [lands[0], *between, lands[1], (inner, sill)]


def _floor_or_back(section: WallSection, slope: float, ray: float) -> tuple[float, float]:
    height = ray - section.back_x * slope
    return (section.back_x, height) if height > 0 else (ray / slope, 0.0)


def _highest_ray(section: WallSection, window: Opening, profile_angle: float) -> float:
    return min(window.head, shade_line(section, profile_angle))


def _on_wall(profile_angle: float) -> bool:
    return 0 < profile_angle < 90


def _tan(profile_angle: float) -> float:
    return math.tan(math.radians(profile_angle))
