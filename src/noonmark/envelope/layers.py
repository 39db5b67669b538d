"""Opaque layers: resistance and U-value by EN ISO 6946."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

Direction = Literal["upward", "horizontal", "downward"]

OUTSIDE_RESISTANCE = 0.04
"""External surface resistance [m2K/W], EN ISO 6946 table 7."""

_INSIDE_RESISTANCE: dict[Direction, float] = {"upward": 0.10, "horizontal": 0.13, "downward": 0.17}


@dataclass(frozen=True)
class Layer:
    """One plane layer of one material, possibly pierced by a second (studs in wool).

    thickness [m], conductivity [W/mK], density [kg/m3], specific_heat [J/kgK].
    `stud_fraction` of the area has `stud_conductivity`, `stud_density` and
    `stud_specific_heat` instead.
    """

    thickness: float
    conductivity: float
    density: float = 0.0
    specific_heat: float = 0.0
    stud_fraction: float = 0.0
    stud_conductivity: float = 0.0
    stud_density: float = 0.0
    stud_specific_heat: float = 0.0

    @property
    def mean_conductivity(self) -> float:
        """Return the area-weighted conductivity [W/mK]."""
        share = self.stud_fraction
        return (1.0 - share) * self.conductivity + share * self.stud_conductivity

    @property
    def resistance(self) -> float:
        """Return the resistance with heat spreading freely between the parts [m2K/W]."""
        return self.thickness / self.mean_conductivity

    @property
    def areal_heat_capacity(self) -> float:
        """Return the heat capacity of one square metre [J/m2K]."""
        clear = (1.0 - self.stud_fraction) * self.density * self.specific_heat
        stud = self.stud_fraction * self.stud_density * self.stud_specific_heat
        return self.thickness * (clear + stud)


def resistance_layer(resistance: float) -> Layer:
    """Return a layer that only resists (an air space, a carpet) [m2K/W]."""
    return Layer(thickness=1.0, conductivity=1.0 / resistance)


def inside_resistance(direction: Direction) -> float:
    """Return the internal surface resistance for heat flow in `direction` [m2K/W].

    Source: EN ISO 6946 table 7.
    """
    return _INSIDE_RESISTANCE[direction]


def total_resistance(layers: Sequence[Layer]) -> float:
    """Return the lower-limit resistance, surface to surface [m2K/W]."""
    return sum(layer.resistance for layer in layers)


def upper_resistance(layers: Sequence[Layer]) -> float:
    """Return the resistance of parallel paths that never exchange heat sideways [m2K/W].

    Surface resistances must be among the layers. Several pierced layers are
    taken as standing in line (studs behind studs) up to the smallest fraction,
    which is how a frame is nailed together. Source: EN ISO 6946, 6.7.2.3.
    """
    cuts = sorted({0.0, 1.0, *(layer.stud_fraction for layer in layers)})
    conductance = 0.0
    for start, end in pairwise(cuts):
        path = sum(
            layer.thickness
            / (layer.stud_conductivity if layer.stud_fraction >= end else layer.conductivity)
            for layer in layers
        )
        conductance += (end - start) / path
    return 1.0 / conductance


def combined_resistance(
    layers: Sequence[Layer], *, inside: float, outside: float = OUTSIDE_RESISTANCE
) -> float:
    """Return the total resistance with both surfaces [m2K/W].

    The mean of the upper and the lower limit: the combined method of
    EN ISO 6946, 6.7.2. `inside` and `outside` are surface resistances [m2K/W].
    """
    whole = [*layers]
    whole += [resistance_layer(r) for r in (inside, outside) if r > 0.0]
    return 0.5 * (upper_resistance(whole) + total_resistance(whole))


def u_value(layers: Sequence[Layer], *, direction: Direction = "horizontal") -> float:
    """Return the U-value between two airs [W/m2K] (EN ISO 6946, combined method)."""
    return 1.0 / combined_resistance(layers, inside=inside_resistance(direction))


def homogenised(layers: Sequence[Layer], *, direction: Direction = "horizontal") -> list[Layer]:
    """Return plain layers with the same heat capacity and the same combined U-value.

    A one-dimensional march needs plain layers; the conductivity of pierced
    layers is changed in one proportion so that the total resistance agrees.
    """
    inside = inside_resistance(direction)
    wanted = combined_resistance(layers, inside=inside) - inside - OUTSIDE_RESISTANCE
    pierced = sum(layer.resistance for layer in layers if layer.stud_fraction > 0.0)
    plain = total_resistance(layers) - pierced
    scale = (wanted - plain) / pierced if pierced > 0.0 else 1.0
    return [
        layer
        if layer.stud_fraction == 0.0
        else Layer(
            thickness=layer.thickness,
            conductivity=layer.mean_conductivity / scale,
            density=layer.areal_heat_capacity / layer.thickness / 1000.0,
            specific_heat=1000.0,
        )
        for layer in layers
    ]
