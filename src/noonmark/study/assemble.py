"""A building at a site as zones and elements, with the sun inside shared out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.enclosure import Element, Passage, Year, Zone
from noonmark.climate.year import HOURS
from noonmark.design.derived import WallFace, wall_faces
from noonmark.design.model import Building, Homestead
from noonmark.design.model import Zone as ZonePart
from noonmark.envelope.layers import resistance_layer
from noonmark.place.site import azimuth_name
from noonmark.study.constructions import layers_of, modes_of
from noonmark.study.covers import Covered, as_marched, covered_parts, covered_window
from noonmark.study.elements import Part, outdoor_part, with_fixed_films
from noonmark.study.inner import inner_wall_parts
from noonmark.study.landing import Source, land, lit_parts
from noonmark.study.layout import boxes_of
from noonmark.study.rooms import passages_of, zones_of
from noonmark.study.site import Site
from noonmark.study.slab import floor_parts
from noonmark.study.sunny import (
    LetIn,
    WallInSun,
    cold_sky_view,
    wall_in_sun,
    window_parts_of,
)
from noonmark.study.window_unit import window_unit

FloatArray = NDArray[np.float64]

ATTIC_RESISTANCE = 0.2
"""A ventilated attic under a tight roof [m2K/W] (EN ISO 6946, unheated roof spaces)."""


@dataclass(frozen=True)
class Assembled:
    """Zones and parts ready to march.

    `entered` is what each window entry lets in, `sources` where it ends,
    `covered` the entries with a cover, in the order of the march's covers.
    """

    zones: list[Zone]
    parts: list[Part]
    entered: list[LetIn]
    sources: list[Source]
    covered: list[Covered]
    passages: list[Passage]

    @cached_property
    def by_side(self) -> list[dict[str, FloatArray]]:
        """Return for each zone the sun kept inside, by the side it came from (h,) [W].

        All covers are open.
        """
        return self.kept(np.zeros((HOURS, len(self.covered))))

    def kept(self, closed: FloatArray) -> list[dict[str, FloatArray]]:
        """Return the same with covers `closed` (h, k)."""
        kept: list[dict[str, FloatArray]] = [{} for _ in self.zones]
        for light, source in zip(self.entered, self.sources, strict=True):
            side = azimuth_name(light.sun.face.azimuth)
            passed = self._past_covers(light, closed)
            for zone, sides in enumerate(kept):
                sides[side] = sides.get(side, np.zeros(HOURS)) + passed * source.stays(zone)
        return kept

    def brought(self, face: WallFace, year: Year) -> FloatArray:
        """Return what the windows of a wall brought in a marched year (h,) [W].

        Sun kept inside, what the panes took up of it, less the heat that left through
        glass and frame.
        """
        zone = [item.name for item in self.zones].index(face.zone)
        side = azimuth_name(face.azimuth)
        net = np.zeros(HOURS)
        for light, source in zip(self.entered, self.sources, strict=True):
            if light.sun.face == face:
                stays = sum((source.stays(z) for z in range(len(self.zones))), np.zeros(HOURS))
                net += self._past_covers(light, year.closed) * stays
        for column, part in enumerate(self.parts):
            element = part.element
            if (part.kind, part.side, element.zone_inside) == ("window", side, zone):
                net += element.area * as_marched(element.inside_source, year.closed)
                net -= year.flow_inside[:, column]
        return net

    def _past_covers(self, light: LetIn, closed: FloatArray) -> FloatArray:
        """Return the share of some light that covers `closed` (h, k) let pass (h,)."""
        for column, item in enumerate(self.covered):
            if item.light is light:
                return np.asarray(1.0 - (1.0 - item.part.passes) * closed[:, column])
        return np.ones(HOURS)

    @property
    def let_in(self) -> list[dict[str, FloatArray]]:
        """Return for each zone the sun past its outside glass, by side (h,) [W]."""
        came: list[dict[str, FloatArray]] = [{} for _ in self.zones]
        for light in self.entered:
            sides, side = came[light.face.zone], azimuth_name(light.sun.face.azimuth)
            sides[side] = sides.get(side, np.zeros(HOURS)) + light.beam + light.scattered
        return came

    @property
    def solar(self) -> list[FloatArray]:
        """Return for each zone all the sun kept inside (h,) [W]."""
        return [sum(sides.values(), np.zeros(HOURS)) for sides in self.by_side]

    @property
    def elements(self) -> list[Element]:
        """Return the elements in the order of the parts."""
        return [part.element for part in self.parts]


WallsInSun = Mapping[tuple[str, str], WallInSun]
"""Outside walls in the sun by their zone and name."""


def assemble(
    homestead: Homestead, building: Building, site: Site, known: WallsInSun | None = None
) -> Assembled:
    """Return a building as a march needs it.

    `known` are walls in the sun of a building that differs in nothing but glass.
    """
    names = list(building.zone)
    parts: list[Part] = []
    entered: list[LetIn] = []
    covered: list[Covered] = []
    boxes = boxes_of(building)
    for face in wall_faces(building):
        zone = names.index(face.zone)
        if face.next_to is not None:
            parts += inner_wall_parts(homestead, building, face, boxes)
            continue
        if known is None:
            wall = wall_in_sun(homestead, building, site, face)
        else:
            wall = known[face.zone, face.name].with_glass_of(face)
        found, let_in, hidden = _outer_wall(homestead, building, wall, zone)
        parts += found
        entered += let_in
        covered += hidden
    for index, part in enumerate(building.zone.values()):
        parts.append(_ceiling(homestead, building, site, part, index))
        parts += floor_parts(homestead, building, site, part, index)
    if building.inside.films == "fixed":
        parts = [with_fixed_films(part) for part in parts]
    sources = land(boxes, parts, entered)
    behind = [
        source
        for item in covered
        for light, source in zip(entered, sources, strict=True)
        if light is item.light
    ]
    return Assembled(
        zones=zones_of(building, site),
        parts=covered_parts(lit_parts(parts, sources), parts, covered, behind),
        entered=entered,
        sources=sources,
        covered=covered,
        passages=passages_of(building, site),
    )


def _outer_wall(
    homestead: Homestead, building: Building, wall: WallInSun, zone: int
) -> tuple[list[Part], list[LetIn], list[Covered]]:
    sun, face = wall.sun, wall.sun.face
    parts = [
        outdoor_part(
            sun.site,
            kind="wall",
            side=azimuth_name(face.azimuth),
            azimuth=face.azimuth,
            zone=zone,
            area=face.opaque_area,
            modes=modes_of(layers_of(homestead, face.construction, "horizontal")),
            facing="wall",
            sky_view=cold_sky_view(wall.sky_share),
            absorbed=face.absorptance * wall.received,
            keeps=building.inside.walls,
            place=sun.place,
        )
    ]
    entered, covered = [], []
    for item in wall.placed:
        found, let_in = window_parts_of(homestead, sun, item, zone)
        parts += found
        entered.append(let_in)
        unit = window_unit(homestead, item.window)
        if hidden := covered_window(building, sun, item, unit, let_in):
            covered.append(hidden)
    return parts, entered, covered


def _ceiling(
    homestead: Homestead, building: Building, site: Site, zone: ZonePart, index: int
) -> Part:
    roof = building.roof
    layers = layers_of(homestead, zone.roof_construction or roof.construction, "upward")
    attic = [resistance_layer(ATTIC_RESISTANCE)] if roof.attic else []
    return outdoor_part(
        site,
        kind="roof",
        side="",
        zone=index,
        area=zone.floor_area,
        modes=modes_of([*layers, *attic]),
        facing="ceiling",
        sky_view=1.0,
        absorbed=roof.absorptance * site.plane(0.0, 180.0).total,
        keeps=building.inside.ceiling,
        place="ceiling",
    )
