"""The corners of a building's outside as stakes on true east and north, and its squares."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from noonmark.design.derived import rows_of_zones, thickness, wall_faces
from noonmark.design.model import SIDE_TURN, Building, Homestead, Side
from noonmark.shape.polygon import Points, area, rectangle
from noonmark.shape.union import united
from noonmark.study.layout import boxes_of
from noonmark.study.results.stakeout import Footprint, Stake
from noonmark.units import System
from noonmark.units.table import FOOT

_UNIT_M: dict[System, float] = {"metric": 0.5, "us": FOOT}
"""What the legs of a 3-4-5 triangle are whole multiples of three and four of [m]."""

_LEAST, _DIGITS = 1e-6, 9


def footprints(homestead: Homestead, building: Building, system: System) -> Iterator[Footprint]:
    """Yield each group of zones that stand together, to the outside of their walls.

    Walls at an azimuth of their own have no place in it.
    """
    boxes = dict(zip(building.zone, boxes_of(building), strict=True))
    out = _thicknesses(homestead, building)
    for group in rows_of_zones(building):
        outsides = []
        for name in group:
            box = boxes[name]
            past = {side: out.get((name, side), 0.0) for side in SIDE_TURN}
            outsides.append(
                rectangle(
                    box.x - past["left"],
                    box.w - past["sunny"],
                    box.x + box.length + past["right"],
                    box.w + box.width + past["back"],
                )
            )
        ring = max(united(outsides), key=area)
        yield _footprint(tuple(group), _corners(ring), building.faces, system)


def _thicknesses(homestead: Homestead, building: Building) -> dict[tuple[str, Side], float]:
    """Return how thick each outside wall of each zone is [m]."""
    return {
        (face.zone, face.side): thickness(homestead, face.construction)
        for face in wall_faces(building)
        if face.side is not None and face.next_to is None
    }


def _corners(ring: Points) -> Points:
    """Return the corners of a ring that are turns, from the left sunny one on."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    corners = ring[np.abs(turn) > _LEAST]
    first = min(range(len(corners)), key=lambda i: (round(corners[i][1], 6), corners[i][0]))
    return np.roll(corners, -first, axis=0)


def _footprint(zones: tuple[str, ...], corners: Points, faces: float, system: System) -> Footprint:
    length, width = (float(extent) for extent in np.ptp(corners, axis=0))
    short, long = min(length, width), max(length, width)
    unit = _UNIT_M[system]
    times = unit * max(1, math.floor(min(short / 3.0, long / 4.0) / unit + _LEAST))
    return Footprint(
        zones=zones,
        stakes=tuple(_stakes(corners, faces)),
        length_m=length,
        width_m=width,
        diagonal_m=math.hypot(length, width),
        three_m=3.0 * times,
        four_m=4.0 * times,
        five_m=5.0 * times,
    )


def _stakes(corners: Points, faces: float) -> Iterator[Stake]:
    """Yield the corners, (x, w) in the building's frame, on true east and north."""
    right, back = np.radians(faces + 90.0), np.radians(faces + 180.0)
    to_map = np.array([[np.sin(right), np.cos(right)], [np.sin(back), np.cos(back)]])
    places = np.round((corners - corners[0]) @ to_map, _DIGITS) + 0.0
    for index, (place, following) in enumerate(
        zip(places, np.roll(places, -1, axis=0), strict=True)
    ):
        way = following - place
        yield Stake(
            name=_letter(index),
            east_m=float(place[0]),
            north_m=float(place[1]),
            from_a_m=math.dist(place, places[0]),
            from_b_m=math.dist(place, places[1]),
            next_m=math.hypot(*way),
            next_azimuth_deg=round(math.degrees(math.atan2(way[0], way[1])), _DIGITS) % 360.0,
        )


def _letter(index: int) -> str:
    return chr(ord("A") + index)
