"""The parts of a building as balance elements, before the sun inside is shared out."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from noonmark.air.films import (
    EMISSIVITY,
    Facing,
    natural_film,
    outside_exchange,
    radiative_coefficient,
)
from noonmark.balance.enclosure import OUTDOORS, Element
from noonmark.envelope.modes import WallModes
from noonmark.study.site import Site

FloatArray = NDArray[np.float64]

INSIDE_TEMPERATURE = 20.0
"""Temperature at which the long-wave exchange inside is linearised [degC]."""

ABSORPTANCE_WALLS = 0.4
ABSORPTANCE_CEILING = 0.3
ABSORPTANCE_CARPET = 0.6
"""Light paint, white ceiling, mid-tone carpet for the sun (common practice, no source)."""


@dataclass(frozen=True)
class InsideFace:
    """A surface that catches sun inside: of which zone, how much it keeps, how much goes out."""

    zone: int
    area: float
    keeps: float
    loses: float = 0.0
    outer_side: bool = False


@dataclass(frozen=True)
class Part:
    """An element with its meaning: what it is, which side, and its faces for the sun inside."""

    kind: str
    side: str
    element: Element
    faces: tuple[InsideFace, ...] = field(default=())


def outdoor_part(
    site: Site,
    *,
    kind: str,
    side: str,
    zone: int,
    area: float,
    modes: WallModes,
    facing: Facing,
    sky_view: float,
    absorbed: FloatArray,
    keeps: float,
    loses: float = 0.0,
    emissivity: float = EMISSIVITY,
    inside_source: FloatArray | None = None,
) -> Part:
    """Return a part between a zone and the outdoors.

    `absorbed` (h,) [W/m2] at its outside, `sky_view` 0..1 of the sky; inside it
    `keeps` and `loses` a share of the sun that meets it.
    """
    film, drive = outside_exchange(
        air=site.weather.temp_air,
        sky=site.sky,
        wind=site.wind,
        sky_view=sky_view,
        absorbed=absorbed,
        emissivity=emissivity,
    )
    element = Element(
        name=f"{kind} {side}".strip(),
        area=area,
        modes=modes,
        zone_inside=zone,
        convection=(natural_film(facing), 0.0),
        radiation=(inside_radiation(emissivity), 0.0),
        outside_film=film,
        outside_drive=drive,
        inside_source=np.zeros_like(film) if inside_source is None else inside_source,
        zone_outside=OUTDOORS,
    )
    return Part(kind, side, element, (InsideFace(zone, area, keeps, loses),))


def ground_part(
    *,
    zone: int,
    area: float,
    modes: WallModes,
    conductance: float,
    temperature: FloatArray,
    keeps: float,
) -> Part:
    """Return a floor on the ground: `conductance` [W/m2K] to `temperature` (h,) [degC] below."""
    film = np.full_like(temperature, conductance)
    element = Element(
        name="floor",
        area=area,
        modes=modes,
        zone_inside=zone,
        convection=(natural_film("floor"), 0.0),
        radiation=(inside_radiation(), 0.0),
        outside_film=film,
        outside_drive=film * temperature,
        inside_source=np.zeros_like(film),
    )
    return Part("floor", "", element, (InsideFace(zone, area, keeps),))


def partition_part(*, zone: int, other: int, area: float, modes: WallModes, hours: int) -> Part:
    """Return a wall between two zones."""
    convection, radiation = natural_film("wall"), inside_radiation()
    nothing = np.zeros(hours)
    element = Element(
        name="partition",
        area=area,
        modes=modes,
        zone_inside=zone,
        convection=(convection, convection),
        radiation=(radiation, radiation),
        outside_film=nothing,
        outside_drive=nothing,
        inside_source=nothing,
        zone_outside=other,
    )
    faces = (
        InsideFace(zone, area, ABSORPTANCE_WALLS),
        InsideFace(other, area, ABSORPTANCE_WALLS, outer_side=True),
    )
    return Part("partition", "", element, faces)


def inside_radiation(emissivity: float = EMISSIVITY) -> float:
    """Return the long-wave coefficient of a surface towards its zone [W/m2K]."""
    return float(radiative_coefficient(INSIDE_TEMPERATURE, emissivity))
