"""The parts of a building as balance elements, before the sun inside is shared out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from noonmark.air.films import (
    EMISSIVITY,
    Facing,
    Film,
    inside_convection,
    natural_film,
    outside_exchange,
    radiative_coefficient,
)
from noonmark.balance.enclosure import OUTDOORS, Element
from noonmark.climate.year import HOURS
from noonmark.envelope.modes import WallModes
from noonmark.glazing.unit import Side as GlassSide
from noonmark.shading.plates import Opening
from noonmark.study.site import Site

FloatArray = NDArray[np.float64]

INSIDE_TEMPERATURE = 20.0
"""Temperature at which the long-wave exchange inside is linearised [degC]."""

ABSORPTANCE_CARPET = 0.6
"""Mid-tone carpet for the sun (common practice, no source)."""

_FACING: dict[str, Facing] = {"roof": "ceiling", "floor": "floor"}


@dataclass(frozen=True)
class InsideFace:
    """A surface that catches sun inside: of which zone, where there, and what it keeps.

    `place` is floor, ceiling or the side of its wall, empty when it has none in
    the box; a window lies at its `openings`. `glass` tells what a pane does with
    the light that meets it here; it `keeps` nothing then.
    """

    zone: int
    area: float
    keeps: float
    place: str = ""
    openings: tuple[Opening, ...] = ()
    glass: GlassSide | None = None
    outer_side: bool = False

    @property
    def loses(self) -> float:
        """Return the share of even light that passes out through it."""
        return 0.0 if self.glass is None else self.glass.even[0]


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
    keeps: float = 0.0,
    place: str = "",
    openings: tuple[Opening, ...] = (),
    glass: GlassSide | None = None,
    azimuth: float | None = None,
    emissivity: float = EMISSIVITY,
    inside_source: FloatArray | None = None,
) -> Part:
    """Return a part between a zone and the outdoors, facing an `azimuth` [deg] or up.

    `absorbed` (h,) [W/m2] at its outside, `sky_view` 0..1 of the sky; for the
    sun inside see `InsideFace`.
    """
    film, drive = outside_exchange(
        air=site.weather.temp_air,
        sky=site.sky,
        convection=site.outside_convection(azimuth),
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
    face = InsideFace(zone, area, keeps, place, openings, glass)
    return Part(kind, side, element, (face,))


def ground_part(
    *,
    zone: int,
    area: float,
    modes: WallModes,
    conductance: float,
    temperature: FloatArray,
    keeps: float,
) -> Part:
    """Return a floor with `conductance` [W/m2K] to a `temperature` (h,) [degC] below it."""
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
    return Part("floor", "", element, (InsideFace(zone, area, keeps, "floor"),))


def partition_part(
    *, modes: WallModes, here: InsideFace, there: InsideFace, emissivity: float = EMISSIVITY
) -> Part:
    """Return a wall, or a pane, between two zones: its inside `here`, its outside `there`."""
    convection, radiation = natural_film("wall"), inside_radiation(emissivity)
    nothing = np.zeros(HOURS)
    element = Element(
        name="partition",
        area=here.area,
        modes=modes,
        zone_inside=here.zone,
        convection=(convection, convection),
        radiation=(radiation, radiation),
        outside_film=nothing,
        outside_drive=nothing,
        inside_source=nothing,
        zone_outside=there.zone,
    )
    return Part("partition", "", element, (here, there))


def with_fixed_films(part: Part) -> Part:
    """Return a part whose films towards zones know no temperature (EN ISO 6946)."""
    film = Film.steady(inside_convection(_FACING.get(part.kind, "wall")))
    outer = film if part.element.zone_outside != OUTDOORS else part.element.convection[1]
    return replace(part, element=replace(part.element, convection=(film, outer)))


def inside_radiation(emissivity: float = EMISSIVITY) -> float:
    """Return the long-wave coefficient of a surface towards its zone [W/m2K]."""
    return float(radiative_coefficient(INSIDE_TEMPERATURE, emissivity))
