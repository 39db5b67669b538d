"""A glazing unit as a march needs it, from panes or from a catalogue row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from noonmark.errors import PhysicsError, Problem
from noonmark.glazing.gap import INSIDE_FILM, OUTSIDE_FILM, Gap, gap_conductances
from noonmark.glazing.optics import (
    ANGLES,
    PaneOptics,
    hemispherical,
    pane_with_transmittance,
    stack_optics,
)

FloatArray = NDArray[np.float64]

GLASS_CONDUCTIVITY = 1.0
GLASS_EMISSIVITY = 0.837
"""Soda-lime glass, EN 673 [W/mK and no unit]."""

_CLEAR_PANE_TRANSMITTANCE = 0.834
_CLEAR_PANE_THICKNESS = 0.003
_CLEAR_GAP = 6.0
_NOTHING = 1e-12


@dataclass(frozen=True)
class Side:
    """What a unit does with light that meets one side, by angle over `ANGLES` (a,).

    It passes `transmittance`, takes up a share moved to the surface that is met
    (`near`) and to the other (`far`), and throws the rest back.
    """

    transmittance: FloatArray
    near: FloatArray
    far: FloatArray

    @property
    def reflectance(self) -> FloatArray:
        """Return the share thrown back (a,)."""
        return np.asarray(1.0 - self.transmittance - self.near - self.far)

    def at(self, cosine: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return transmittance, near and far share at incidence cosines, as at 90 deg behind."""
        angle = np.degrees(np.arccos(np.clip(cosine, 0.0, 1.0)))
        passed, near, far = (
            np.interp(angle, ANGLES, by_angle)
            for by_angle in (self.transmittance, self.near, self.far)
        )
        return passed, near, far

    @cached_property
    def even(self) -> tuple[float, float, float]:
        """Return transmittance, near and far share for even light."""
        passed, near, far = (hemispherical(x) for x in (self.transmittance, self.near, self.far))
        return float(passed), float(near), float(far)


@dataclass(frozen=True)
class Glazing:
    """One unit, centre of glass.

    `resistance` from outer to inner glass surface [m2K/W]; by angle over
    `ANGLES`: `transmittance` of the sun and the absorbed sun moved to the outer
    and the inner surface, so that a march with any films carries it correctly.
    `from_inside` is the same for light that meets it from the room.
    """

    resistance: float
    transmittance: FloatArray
    absorbed_outer: FloatArray
    absorbed_inner: FloatArray
    from_inside: Side

    @property
    def from_outside(self) -> Side:
        """Return what the unit does with light that meets its outer side."""
        return Side(self.transmittance, self.absorbed_outer, self.absorbed_inner)

    def u_value(self, outside: float = OUTSIDE_FILM, inside: float = INSIDE_FILM) -> float:
        """Return the centre-of-glass U-value with the films given [W/m2K]."""
        return 1.0 / (1.0 / outside + self.resistance + 1.0 / inside)

    def shgc(self, outside: float = OUTSIDE_FILM, inside: float = INSIDE_FILM) -> FloatArray:
        """Return the solar heat gain coefficient over `ANGLES` (a,) with the films given."""
        u = self.u_value(outside, inside)
        from_outer = u / outside
        from_inner = u * (1.0 / outside + self.resistance)
        return (
            self.transmittance + from_outer * self.absorbed_outer + from_inner * self.absorbed_inner
        )


def plain_glazing(
    panes: Sequence[PaneOptics],
    *,
    pane_thickness: float,
    gaps: Sequence[Gap] = (),
    gap_conductance: Sequence[float] | None = None,
    keep_polarisation: bool = True,
) -> Glazing:
    """Return a unit of uncoated panes, outermost first.

    `pane_thickness` [m]; gap conductances follow EN 673 unless given [W/m2K].
    The heat absorbed in a pane is placed at the pane's middle and shared
    between the two outer surfaces by the resistances towards them, which is
    exact for a stack without heat capacity.
    """
    between = list(gap_conductance) if gap_conductance is not None else gap_conductances(gaps)
    if len(between) != len(panes) - 1:
        raise PhysicsError(
            Problem("glazing.gaps", values={"panes": len(panes), "gaps": len(between)})
        )
    glass = pane_thickness / GLASS_CONDUCTIVITY
    middles = np.array(
        [glass * (i + 0.5) + sum(1.0 / h for h in between[:i]) for i in range(len(panes))]
    )
    resistance = glass * len(panes) + sum(1.0 / h for h in between)
    optics = stack_optics(panes, keep_polarisation=keep_polarisation)
    reverse = stack_optics(panes[::-1], keep_polarisation=keep_polarisation)
    inner_share = (middles / resistance)[:, None]
    met_inside = reverse.absorptance[::-1]
    return Glazing(
        resistance=resistance,
        transmittance=optics.transmittance,
        absorbed_outer=((1.0 - inner_share) * optics.absorptance).sum(axis=0),
        absorbed_inner=(inner_share * optics.absorptance).sum(axis=0),
        from_inside=Side(
            reverse.transmittance,
            near=(inner_share * met_inside).sum(axis=0),
            far=((1.0 - inner_share) * met_inside).sum(axis=0),
        ),
    )


def ready_glazing(*, u_value: float, shgc: float, transmittance: float, panes: int) -> Glazing:
    """Return a unit known by its catalogue row: centre-of-glass values at right angles.

    `u_value` [W/m2K] with EN 673 films, `shgc` and solar `transmittance` 0..1.
    SHGC and transmittance fall with angle as those of the clear stack with as
    many panes, each pane averaged first: that is how the printed tables fall,
    coated units included (ASHRAE Handbook Fundamentals, fenestration chapter).
    A row does not tell what the unit throws back into the room: it is taken as
    that of the clear stack, and the pane it warms likewise.
    Raises `PhysicsError` when the row contradicts itself.
    """
    resistance = 1.0 / u_value - 1.0 / OUTSIDE_FILM - 1.0 / INSIDE_FILM
    inward = shgc - transmittance
    if not (resistance > 0.0 and transmittance > 0.0 and 0.0 <= inward <= 1.0 - transmittance):
        raise PhysicsError(
            Problem(
                "glazing.row", values={"u": u_value, "shgc": shgc, "transmittance": transmittance}
            )
        )
    clear = plain_glazing(
        [pane_with_transmittance(_CLEAR_PANE_TRANSMITTANCE)] * panes,
        pane_thickness=_CLEAR_PANE_THICKNESS,
        gap_conductance=[_CLEAR_GAP] * (panes - 1),
        keep_polarisation=False,
    )
    passed = transmittance * clear.transmittance / clear.transmittance[0]
    gained = shgc * clear.shgc() / clear.shgc()[0]
    share = u_value * (1.0 / OUTSIDE_FILM + resistance)
    back = clear.from_inside
    kept = np.maximum(0.0, 1.0 - passed - back.reflectance)
    taken = np.maximum(back.near + back.far, _NOTHING)
    return Glazing(
        resistance=resistance,
        transmittance=passed,
        absorbed_outer=np.zeros(ANGLES.size),
        absorbed_inner=(gained - passed) / share,
        from_inside=Side(passed, near=kept * back.near / taken, far=kept * back.far / taken),
    )
