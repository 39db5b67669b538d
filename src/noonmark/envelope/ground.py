"""The slab on the ground: steady and yearly heat flow by EN ISO 13370:2017."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from noonmark.errors import PhysicsError, Problem

SURFACE_INSIDE = 0.17
SURFACE_OUTSIDE = 0.04
GROUND_LAYER_THICKNESS = 0.5
"""Soil that takes part hour by hour below the slab [m] (EN ISO 52016-1, 6.5.8)."""


@dataclass(frozen=True)
class Soil:
    """Undisturbed ground: conductivity [W/mK] and volumetric heat capacity [J/m3K]."""

    conductivity: float
    volumetric_heat_capacity: float

    @property
    def periodic_depth(self) -> float:
        """Return the depth of the yearly wave [m] (EN ISO 13370, annex)."""
        year = 365.0 * 86400.0
        return math.sqrt(year * self.conductivity / (math.pi * self.volumetric_heat_capacity))


@dataclass(frozen=True)
class EdgeInsulation:
    """Insulation along the slab edge: `width` under the slab or `depth` down the foundation.

    extent [m], thickness [m], conductivity [W/mK].
    """

    placing: Literal["horizontal", "vertical"]
    extent: float
    thickness: float
    conductivity: float

    @property
    def resistance(self) -> float:
        """Return the resistance of the strip [m2K/W]."""
        return self.thickness / self.conductivity


def equivalent_thickness(wall_thickness: float, floor_resistance: float, soil: Soil) -> float:
    """Return the equivalent ground thickness of the floor [m] (EN ISO 13370 eq. 3)."""
    return wall_thickness + soil.conductivity * (
        SURFACE_INSIDE + floor_resistance + SURFACE_OUTSIDE
    )


def slab_u_value(
    *,
    area: float,
    perimeter: float,
    wall_thickness: float,
    floor_resistance: float,
    soil: Soil,
) -> float:
    """Return the steady U-value of a slab on the ground, edges plain [W/m2K].

    area [m2], exposed perimeter [m], wall thickness [m], all-over floor
    resistance without surfaces [m2K/W]. Raises `PhysicsError` when area or
    perimeter is not positive. Source: EN ISO 13370:2017, 7.2.
    """
    if not (area > 0.0 and perimeter > 0.0):
        raise PhysicsError(
            Problem("envelope.slab_size", values={"area": area, "perimeter": perimeter})
        )
    characteristic = 2.0 * area / perimeter
    total = equivalent_thickness(wall_thickness, floor_resistance, soil)
    if total < characteristic:
        log = math.log(math.pi * characteristic / total + 1.0)
        return 2.0 * soil.conductivity / (math.pi * characteristic + total) * log
    return soil.conductivity / (0.457 * characteristic + total)


def edge_linear_transmittance(edge: EdgeInsulation, total: float, soil: Soil) -> float:
    """Return what an edge strip takes off (negative) per metre of perimeter [W/mK].

    `total` is the equivalent thickness of the floor [m]. Source: EN ISO 13370
    annex on edge insulation: the strip adds `d' = lambda (R_n - d_n / lambda)`.
    """
    added = soil.conductivity * (edge.resistance - edge.thickness / soil.conductivity)
    reach = edge.extent if edge.placing == "horizontal" else 2.0 * edge.extent
    return (
        -soil.conductivity
        / math.pi
        * (math.log(reach / total + 1.0) - math.log(reach / (total + added) + 1.0))
    )


def periodic_conductance(
    *, perimeter: float, total: float, soil: Soil, edge: EdgeInsulation | None
) -> float:
    """Return how the outdoor year reaches the slab [W/K] (EN ISO 13370 annex, H_pe).

    `total` is the equivalent thickness of the floor [m].
    """
    depth = soil.periodic_depth
    plain = math.log(depth / total + 1.0)
    if edge is None:
        return 0.37 * perimeter * soil.conductivity * plain
    added = soil.conductivity * (edge.resistance - edge.thickness / soil.conductivity)
    reach = edge.extent if edge.placing == "horizontal" else 2.0 * edge.extent
    fade = math.exp(-reach / depth)
    insulated = math.log(depth / (total + added) + 1.0)
    return 0.37 * perimeter * soil.conductivity * ((1.0 - fade) * insulated + fade * plain)


def monthly_virtual_temperature(
    *,
    heat_flow_conductance: float,
    outdoor_conductance: float,
    outdoor_mean: float,
    outdoor_amplitude: float,
    coldest_month: float,
) -> NDArray[np.float64]:
    """Return twelve temperatures below the virtual ground layer [degC], shape (12,).

    A room that keeps one temperature then loses through floor and virtual layer,
    of conductance `heat_flow_conductance` [W/K], what EN ISO 13370 gives for the
    month: the steady flow to the yearly mean outdoors, and the outdoor swing by
    `outdoor_conductance` [W/K] one month late. Which temperature it keeps does
    not matter. `coldest_month` counts from 0.5 = middle of January; `outdoor_mean`
    [degC], `outdoor_amplitude` [K].
    """
    month = np.arange(12) + 0.5
    lag = 1.0
    swing = outdoor_amplitude * np.cos(2.0 * math.pi * (month - coldest_month - lag) / 12.0)
    return np.asarray(outdoor_mean - outdoor_conductance / heat_flow_conductance * swing)
