"""The wall between two zones, and the windows in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from noonmark.design.derived import WallFace
from noonmark.design.model import Building, Homestead
from noonmark.envelope.modes import massless_element
from noonmark.glazing.unit import GLASS_EMISSIVITY
from noonmark.inside.box import OPPOSITE, Box
from noonmark.shading.plates import Opening
from noonmark.study.constructions import layers_of, modes_of
from noonmark.study.elements import InsideFace, Part, partition_part
from noonmark.study.layout import positions
from noonmark.study.window_unit import ABSORPTANCE_FRAME, window_unit


def inner_wall_parts(
    homestead: Homestead, building: Building, face: WallFace, boxes: Sequence[Box]
) -> Iterator[Part]:
    """Yield the wall between two zones, then glass and frame of each window entry in it.

    A window's inner side looks into the zone whose wall it is.
    """
    names = list(building.zone)
    zone, other = names.index(face.zone), names.index(face.next_to or "")
    place = face.side or ""
    opposite = OPPOSITE.get(place, "")
    keeps = building.inside.walls
    yield partition_part(
        modes=modes_of(layers_of(homestead, face.construction, "horizontal")),
        here=InsideFace(zone, face.opaque_area, keeps, place),
        there=InsideFace(other, face.opaque_area, keeps, opposite, outer_side=True),
    )
    start = boxes[zone].shared_from(place, boxes[other])
    for window, lefts in positions(face):
        unit = window_unit(homestead, window)
        tall = window.head - window.sill
        near = tuple(Opening(start + left, window.width, window.sill, tall) for left in lefts)
        far = tuple(
            boxes[other].opening(opposite, boxes[zone].window(place, opening)) for opening in near
        )
        here = InsideFace(zone, unit.glass_area, 0.0, place, near, unit.glazing.from_inside)
        there = InsideFace(
            other, unit.glass_area, 0.0, opposite, far, unit.glazing.from_outside, outer_side=True
        )
        yield partition_part(
            modes=massless_element(1.0 / unit.glazing.resistance),
            here=here,
            there=there,
            emissivity=GLASS_EMISSIVITY,
        )
        if unit.frame_area > 0.0:
            yield partition_part(
                modes=massless_element(1.0 / unit.frame_resistance),
                here=replace(here, area=unit.frame_area, keeps=ABSORPTANCE_FRAME, glass=None),
                there=replace(there, area=unit.frame_area, keeps=ABSORPTANCE_FRAME, glass=None),
            )
