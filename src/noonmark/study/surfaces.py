"""The surfaces of zones that light inside can meet, and what they see of each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from noonmark.inside.box import PLACES, WALLS, Box
from noonmark.inside.exchange import exchange_areas
from noonmark.inside.spread import received, with_unplaced
from noonmark.shading.plates import Opening, Plate
from noonmark.study.elements import InsideFace, Part

FloatArray = NDArray[np.float64]
Key = tuple[str, tuple[Opening, ...], int]

_LEAST_WALL = 0.001
"""Share of a wall that windows leave free, or they have no places in it."""


@dataclass(frozen=True)
class Spot:
    """A face of a part on a surface; `number` counts the openings of a window."""

    part: int
    face: InsideFace
    number: int = 0


@dataclass(eq=False)
class Surface:
    """A piece of a zone's bound, with the faces that share it by area.

    `rectangle` in the building's frame, None without a place in the box; a wall
    counts without its windows. `other` is the surface at the other side of a
    pane between zones, -1 if there is none.
    """

    zone: int
    place: str
    rectangle: Plate | None
    window: bool = False
    spots: list[Spot] = field(default_factory=list)
    other: int = -1

    @property
    def area(self) -> float:
        """Return the area of its faces [m2]."""
        return sum(_area(spot) for spot in self.spots)

    def shares(self) -> Iterator[tuple[Spot, float]]:
        """Yield its faces with their shares of its area."""
        area = self.area
        for spot in self.spots:
            yield spot, _area(spot) / area

    @property
    def thrown_back(self) -> float:
        """Return the share of even light it throws back; all of it without a face."""
        kept = sum(
            share * (spot.face.keeps if spot.face.glass is None else sum(spot.face.glass.even))
            for spot, share in self.shares()
        )
        return 1.0 - kept

    @property
    def passed(self) -> float:
        """Return the share of even light that passes its glass."""
        return sum(share * spot.face.loses for spot, share in self.shares())


def _area(spot: Spot) -> float:
    return spot.face.area / max(1, len(spot.face.openings))


def surfaces_of(boxes: Sequence[Box], parts: Sequence[Part]) -> list[Surface]:
    """Return all surfaces of all zones; those of a zone start with `PLACES`.

    A window stands in its wall as wide as its area asks for, about its middle:
    the unshaped twin has parts of windows.
    """
    found: list[Surface] = []
    for zone, box in enumerate(boxes):
        planes = {place: Surface(zone, place, box.surface(place)) for place in PLACES}
        windows: dict[Key, Surface] = {}
        loose: list[Surface] = []
        for index, part in enumerate(parts):
            for face in part.faces:
                if face.zone != zone:
                    continue
                if face.place in planes and not face.openings:
                    planes[face.place].spots.append(Spot(index, face))
                for number in range(len(face.openings)):
                    key = (face.place, face.openings, number)
                    windows.setdefault(key, Surface(zone, face.place, None, window=True))
                    windows[key].spots.append(Spot(index, face, number))
                if face.place not in planes and not face.openings:
                    loose.append(Surface(zone, "", None, spots=[Spot(index, face)]))
        _place_windows(box, windows)
        found += [*planes.values(), *windows.values(), *loose]
    _join(found)
    return found


def _place_windows(box: Box, windows: dict[Key, Surface]) -> None:
    """Give windows their rectangles in each wall that has room for them."""
    for wall in WALLS:
        here = [(key, surface) for key, surface in windows.items() if key[0] == wall]
        whole = box.wall_length(wall) * box.height
        if sum(surface.area for _, surface in here) > (1.0 - _LEAST_WALL) * whole:
            continue
        for (_, openings, number), surface in here:
            opening = openings[number]
            width = surface.area / opening.height
            middle = opening.left + 0.5 * opening.width
            own = replace(opening, left=middle - 0.5 * width, width=width)
            fits = own.left >= -1e-6 and own.left + width <= box.wall_length(wall) + 1e-6
            if fits and own.bottom >= -1e-6 and own.bottom + own.height <= box.height + 1e-6:
                surface.rectangle = box.window(wall, own)


def _join(surfaces: Sequence[Surface]) -> None:
    """Tell the two sides of each pane between zones of each other."""
    seen: dict[tuple[int, int], int] = {}
    for index, surface in enumerate(surfaces):
        for spot in surface.spots:
            if spot.face.glass is not None:
                other = seen.setdefault((spot.part, spot.number), index)
                if other != index:
                    surface.other, surfaces[other].other = other, index


def spread_of(surfaces: Sequence[Surface]) -> FloatArray:
    """Return the power each surface meets in the end for a watt sent out by each, (n, n)."""
    count = len(surfaces)
    exchange, thrown = np.zeros((count, count)), np.zeros((count, count))
    for zone in {surface.zone for surface in surfaces}:
        own = [i for i, surface in enumerate(surfaces) if surface.zone == zone]
        order, areas = _exchange([surfaces[i] for i in own])
        index = np.array(own)[order]
        exchange[np.ix_(index, index)] = areas
    for i, surface in enumerate(surfaces):
        thrown[i, i] = surface.thrown_back
        if surface.other >= 0:
            thrown[surface.other, i] = surface.passed
    return received(exchange, thrown)


def _exchange(surfaces: Sequence[Surface]) -> tuple[list[int], FloatArray]:
    """Return exchange areas between a zone's surfaces and the order they come in: placed first."""
    rectangles = [surface.rectangle for surface in surfaces]
    placed = [i for i, rectangle in enumerate(rectangles) if rectangle is not None]
    loose = [i for i, rectangle in enumerate(rectangles) if rectangle is None]
    whole = exchange_areas([r for r in rectangles if r is not None])
    net = np.eye(len(placed))
    for column, i in enumerate(placed):
        if surfaces[i].window:
            net[PLACES.index(surfaces[i].place), column] = -1.0
    box = np.maximum(0.0, net @ whole @ net.T)
    areas = np.array([surfaces[i].area for i in loose])
    return [*placed, *loose], with_unplaced(box, areas)
