"""Where the sun inside lands: on the floor first, then on everything."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.drive import hourly_values
from noonmark.climate.year import HOURS
from noonmark.study.elements import Part

FloatArray = NDArray[np.float64]


def share_out(
    parts: list[Part], beam: FloatArray, scattered: FloatArray
) -> tuple[list[Part], list[FloatArray]]:
    """Put the sun inside on the surfaces of each zone.

    The beam meets the floor first; what the floor throws back, and all
    scattered light, spreads over all surfaces by area and by the share each
    keeps, windows losing it outdoors. Returns the parts with their sources and,
    for each zone, the share (h,) of the sun let in that stays.
    """
    sources = [[np.zeros(HOURS), np.zeros(HOURS)] for _ in parts]
    stays = []
    for zone in range(len(beam)):
        spots = [
            (i, part.kind, face)
            for i, part in enumerate(parts)
            for face in part.faces
            if face.zone == zone
        ]
        taken = sum(face.area * (face.keeps + face.loses) for _, _, face in spots)
        floors = [(i, face) for i, kind, face in spots if kind == "floor"]
        floor_area = sum(face.area for _, face in floors)
        first = {i: face.keeps / floor_area for i, face in floors}
        thrown_back = 1.0 - sum(face.area * face.keeps for _, face in floors) / floor_area
        spread = scattered[zone] + thrown_back * beam[zone]
        for i, _, face in spots:
            per_area = spread * face.keeps / taken + first.get(i, 0.0) * beam[zone]
            sources[i][1 if face.outer_side else 0] += per_area
        lost = spread * sum(face.area * face.loses for _, _, face in spots) / taken
        entered = beam[zone] + scattered[zone]
        stays.append(1.0 - np.divide(lost, entered, out=np.zeros(HOURS), where=entered > 0.0))
    lit = []
    for part, (inner, outer) in zip(parts, sources, strict=True):
        element = replace(
            part.element,
            inside_source=hourly_values(part.element.inside_source, HOURS) + inner,
            outside_drive=hourly_values(part.element.outside_drive, HOURS) + outer,
        )
        lit.append(replace(part, element=element))
    return lit, stays
