"""A glazing unit as a march needs it, from panes or from a catalogue row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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


@dataclass(frozen=True)
class Glazing:
    """One unit, centre of glass.

    `resistance` from outer to inner glass surface [m2K/W]; by angle over
    `ANGLES`: `transmittance` of the sun and the absorbed sun moved to the outer
    and the inner surface, so that a march with any films carries it correctly.
    """

    resistance: float
    transmittance: FloatArray
    absorbed_outer: FloatArray
    absorbed_inner: FloatArray

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

    def at(self, by_angle: FloatArray, cosine: FloatArray) -> FloatArray:
        """Return a table over `ANGLES` at the incidence cosines given, 0 behind the pane."""
        angle = np.degrees(np.arccos(np.clip(cosine, 0.0, 1.0)))
        return np.interp(angle, ANGLES, by_angle)


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
    inner_share = (middles / resistance)[:, None]
    return Glazing(
        resistance=resistance,
        transmittance=optics.transmittance,
        absorbed_outer=((1.0 - inner_share) * optics.absorptance).sum(axis=0),
        absorbed_inner=(inner_share * optics.absorptance).sum(axis=0),
    )


def ready_glazing(*, u_value: float, shgc: float, transmittance: float, panes: int) -> Glazing:
    """Return a unit known by its catalogue row: centre-of-glass values at right angles.

    `u_value` [W/m2K] with EN 673 films, `shgc` and solar `transmittance` 0..1.
    SHGC and transmittance fall with angle as those of the clear stack with as
    many panes, each pane averaged first: that is how the printed tables fall,
    coated units included (ASHRAE Handbook Fundamentals, fenestration chapter).
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
    return Glazing(
        resistance=resistance,
        transmittance=passed,
        absorbed_outer=np.zeros(ANGLES.size),
        absorbed_inner=(gained - passed) / share,
    )


def diffuse(glazing: Glazing) -> tuple[float, float, float]:
    """Return transmittance and absorbed outer and inner share for a uniform sky."""
    return (
        float(hemispherical(glazing.transmittance)),
        float(hemispherical(glazing.absorbed_outer)),
        float(hemispherical(glazing.absorbed_inner)),
    )
