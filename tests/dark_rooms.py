"""Rooms by hand whose every surface takes up all the light that meets it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from noonmark.climate.year import HOURS
from noonmark.design.derived import WallFace
from noonmark.design.model import Side
from noonmark.envelope.modes import massless_element
from noonmark.glazing.unit import Side as GlassSide
from noonmark.inside.box import OPPOSITE, PLACES, Box
from noonmark.shading.plates import Opening
from noonmark.study.elements import InsideFace, Part, outdoor_part, partition_part
from noonmark.study.obstacles import Obstacles
from noonmark.study.sunny import LetIn, WallSun
from noonmark.sun.irradiance import PlaneIrradiance
from sample_house import golden

AZIMUTH: dict[Side, float] = {"sunny": 170.0, "right": 260.0, "back": 350.0, "left": 80.0}
"""A house that looks to 170 deg, told by the compass."""

Holes = Mapping[tuple[int, str], tuple[Opening, ...]]
NOTHING = np.zeros(HOURS)
NONE, ALL = np.zeros(91), np.ones(91)
BLACK = GlassSide(NONE, ALL, NONE)
OPEN = GlassSide(ALL, NONE, NONE)


def dark_part(zone: int, place: str, area: float, openings: tuple[Opening, ...] = ()) -> Part:
    """Return a wall, or black glass at `openings`."""
    return outdoor_part(
        golden(), kind="window" if openings else "wall", side=place, zone=zone, area=area,
        modes=massless_element(1.0), facing="wall", sky_view=0.5, absorbed=NOTHING,
        keeps=0.0 if openings else 1.0, place=place, openings=openings,
        glass=BLACK if openings else None,
    )  # fmt: skip


def dark_rooms(
    boxes: Sequence[Box], holes: Holes, without: Sequence[tuple[int, str]] = ()
) -> list[Part]:
    """Return floor, ceiling and walls of each box, then its windows; some left out."""
    parts = []
    for zone, box in enumerate(boxes):
        for place in PLACES:
            if (zone, place) in without:
                continue
            plate = box.surface(place)
            spans = sorted(high - low for low, high in (plate.x, plate.y, plate.w))
            here = holes.get((zone, place), ())
            glass = sum(hole.area for hole in here)
            parts.append(dark_part(zone, place, spans[1] * spans[2] - glass))
            if here:
                parts.append(dark_part(zone, place, glass, here))
    return parts


def open_wall(here: Box, there: Box, wall: Side) -> Part:
    """Return a pane that passes all, as large as the wall but for a millimetre around."""
    length, height = here.wall_length(wall), here.height
    near = Opening(0.001, length - 0.002, 0.001, height - 0.002)
    far = there.opening(OPPOSITE[wall], here.window(wall, near))
    return partition_part(
        modes=massless_element(1.0),
        here=InsideFace(0, near.area, 0.0, wall, (near,), OPEN),
        there=InsideFace(1, near.area, 0.0, OPPOSITE[wall], (far,), OPEN, outer_side=True),
    )


def wall_sun(side: Side, length: float, thickness: float = 0.0) -> WallSun:
    plane = PlaneIrradiance(*[NOTHING] * 5)
    face = WallFace("z", side, side, AZIMUTH[side], length, 2.6, "", 0.5, None, ())
    return WallSun(golden(), Obstacles(face, None), plane, thickness)


def beam_through(sun: WallSun, face: InsideFace) -> LetIn:
    """Return a watt of beam through a pane whenever the sun stands before the wall."""
    return LetIn(sun, face, np.ones(HOURS), np.where(sun.slopes[0], 1.0, 0.0), NOTHING)
