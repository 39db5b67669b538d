"""The roof triangle of a symmetrical gable truss, solved in one place.

Heights are above the finished floor, x runs inwards from the outside face of the
wall (x = 0), all in metres. The upper edge of the top chord is the line

    y(x) = plate + heel + pitch * x        from x = -projection to mid-span.

*Heel* is therefore the height of the top chord's upper edge above the plate, at
the outside face of the wall. A deep eave over thick insulation is made in one of
two ways:

* `tail`: the bottom chord ends over the wall and the top chord runs on as a tail,
  cut plumb at the fascia line; the soffit hangs at the foot of that cut;
* `cantilever`: the whole truss runs out, its level bottom chord to the fascia
  line, so that the soffit lies level with the plate. The heel that the truss
  itself has at its end, the *end heel*, stands at the fascia line.

Source: plane geometry; words as in the truss trade.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from noonmark.errors import PhysicsError, Problem
from noonmark.shape.trim import PLAIN, Trim
from noonmark.units import Kind, Quantity

Truss = Literal["tail", "cantilever"]
"""How the eave is made, see the module."""

LEAST_VENT_GAP = 0.0254
"""Air gap under the roof deck, square to it [m]: 1 inch, IRC 2021 section R806.3."""

_SLACK = 1e-9


@dataclass(frozen=True)
class RoofTriangle:
    """A gable truss: all lengths in m, `pitch` rise over run.

    `span`: outside of wall to outside of wall. `projection`: level, from the
    outside face of the wall to the outer face of the fascia line. `heel` and
    `truss`: see the module. `plate`: top of the wall plate above the floor.
    `chord_depth`: depth of the top chord, square to the slope. `bearing`: how far
    inside the outside face of the wall the line lies on which the truss bears.
    `trim`: how the eave is closed.

    Raises PhysicsError when the parts can not close: `shape.not_positive`,
    `shape.negative`, `shape.heel_too_low` or `shape.end_heel_too_low` (the heel
    does not hold the chord), `shape.soffit_below_floor`,
    `shape.bearing_past_ridge`, `shape.sloped_under_chord` (a sloped soffit under a
    level bottom chord).
    """

    span: float
    pitch: float
    projection: float
    heel: float
    plate: float
    chord_depth: float
    truss: Truss = "tail"
    bearing: float = 0.0
    trim: Trim = PLAIN

    def __post_init__(self) -> None:
        """Refuse parts that can not close."""
        for name in ("span", "plate", "chord_depth"):
            if not getattr(self, name) > 0:
                raise _problem("shape.not_positive", self, name)
        for name in ("pitch", "projection", "bearing"):
            if not getattr(self, name) >= 0:
                raise _problem("shape.negative", self, name)
        held = "end_heel" if self.truss == "cantilever" else "heel"
        if not getattr(self, held) >= self.chord_plumb - _SLACK:
            raise _problem(f"shape.{held}_too_low", self, held, least=self.chord_plumb)
        if not self.soffit > 0:
            raise _problem("shape.soffit_below_floor", self, "soffit")
        if not self.bearing < self.run:
            raise _problem("shape.bearing_past_ridge", self, "bearing", limit=self.run)
        if self.trim.sloped and self.truss == "cantilever":
            raise PhysicsError(Problem("shape.sloped_under_chord", path="trim"))

    @property
    def slope_factor(self) -> float:
        """Length along the slope for a level metre [-]."""
        return math.hypot(1.0, self.pitch)

    @property
    def chord_plumb(self) -> float:
        """Depth of the top chord measured plumb [m]."""
        return self.chord_depth * self.slope_factor

    @property
    def run(self) -> float:
        """Half the span [m]."""
        return self.span / 2

    @property
    def rise(self) -> float:
        """Climb of the top chord from the outside face of the wall to the ridge [m]."""
        return self.pitch * self.run

    @property
    def ridge(self) -> float:
        """Height of the top chords' upper edges where they meet, above the floor [m]."""
        return self.plate + self.heel + self.rise

    @property
    def tail(self) -> float:
        """Length of the tail along the slope, outside face of the wall to the cut [m]."""
        return self.projection * self.slope_factor

    @property
    def fascia_top(self) -> float:
        """Height of the top chord's upper edge at the fascia line [m]."""
        return self.top_edge(-self.projection)

    @property
    def soffit(self) -> float:
        """Height of the soffit's outer edge above the floor [m].

        With a tail it is plate + heel - projection * pitch - chord depth measured
        plumb; a cantilevered truss keeps it level with the plate.
        """
        return self.plate if self.truss == "cantilever" else self.fascia_top - self.chord_plumb

    @property
    def soffit_at_wall(self) -> float:
        """Height of the soffit at the outside face of the wall above the floor [m]."""
        return self.soffit + (self.projection * self.pitch if self.trim.sloped else 0.0)

    @property
    def fascia_foot(self) -> float:
        """Height of the fascia's lower edge above the floor [m]."""
        return self.soffit - self.trim.fascia_drop

    @property
    def reach(self) -> float:
        """Level distance from the outside face of the wall to all that hangs out [m]."""
        return self.projection + (self.trim.gutter.width if self.trim.gutter else 0.0)

    @property
    def end_heel(self) -> float:
        """Height of the top chord's upper edge above the plate's level, at the fascia line [m].

        The heel that a cantilevered truss has at its own end.
        """
        return self.heel_at(-self.projection)

    @property
    def overhang(self) -> float:
        """Level distance from the bearing line to the fascia line [m]."""
        return self.projection + self.bearing

    @property
    def bearing_span(self) -> float:
        """Distance between the bearing lines of both walls [m]."""
        return self.span - 2 * self.bearing

    def top_edge(self, x: float) -> float:
        """Return the height of the top chord's upper edge at x [m], past the ridge too."""
        level = self.run - abs(self.run - x)
        return self.plate + self.heel + self.pitch * level

    def heel_at(self, x: float) -> float:
        """Return the height of the top chord's upper edge above the plate at x [m]."""
        return self.top_edge(x) - self.plate

    def insulation_depth(self, vent_gap: float = LEAST_VENT_GAP, *, x: float = 0.0) -> float:
        """Return the depth of insulation that fits over the wall at x [m].

        It fills from the plate up, between the chords, and leaves `vent_gap` [m],
        square to the slope, under the deck. x = 0 is the outside face of the wall.
        """
        return max(0.0, self.heel_at(x) - vent_gap * self.slope_factor)


def heel_for_soffit(
    soffit: float, *, pitch: float, projection: float, plate: float, chord_depth: float
) -> float:
    """Return the heel [m] that hangs a level soffit at a wanted height above the floor [m].

    The inverse of `RoofTriangle.soffit`; whether such a truss can be built is
    checked by `RoofTriangle`.
    """
    return soffit - plate + projection * pitch + chord_depth * math.hypot(1.0, pitch)


def heel_for_insulation(depth: float, *, pitch: float, vent_gap: float = LEAST_VENT_GAP) -> float:
    """Return the heel [m] that lets insulation of `depth` [m] run out over the whole wall.

    The inverse of `RoofTriangle.insulation_depth` at the outside face.
    """
    return depth + vent_gap * math.hypot(1.0, pitch)


def _problem(code: str, roof: RoofTriangle, name: str, **limits: float) -> PhysicsError:
    kind: Kind = "pitch" if name == "pitch" else "length"
    values: dict[str, object] = {"part": name, "value": Quantity(getattr(roof, name), kind)}
    values |= {key: Quantity(limit, "length") for key, limit in limits.items()}
    return PhysicsError(Problem(code, path=name, values=values))
