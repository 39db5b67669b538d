"""Where the sun inside lands: first where its beam meets the room, then on everything.

A zone is a box. Beam past a window meets floor, walls and other windows by the
sun's way, and passes inner glass into the next zone; what all surfaces throw
back, and all scattered light, goes on by view factors until it is taken up or
has left through glass.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.drive import hourly_values
from noonmark.balance.enclosure import OUTDOORS
from noonmark.climate.year import HOURS
from noonmark.inside.box import Box
from noonmark.shading.lit import lit_areas
from noonmark.shading.plates import Plate
from noonmark.study.elements import Part
from noonmark.study.sunny import LetIn
from noonmark.study.surfaces import Spot, Surface, spread_of, surfaces_of

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Source:
    """What one window entry brings to the parts.

    Light comes as beam in the `hours` (d,) with sun and as `scattered` (h,) [W].
    `beam` (2 p, d) [W/m2] and `even` (2 p,) [1/m2] are what parts take up, first
    at the inside of each, then at the outside; `kept` (z, d) [W] and `kept_even`
    (z,) what stays in each zone on all but the panes of outside windows; `lost`
    (d,) [W] and `lost_even` what leaves through those.
    """

    hours: NDArray[np.intp]
    scattered: FloatArray
    beam: FloatArray
    even: FloatArray
    kept: FloatArray
    kept_even: FloatArray
    lost: FloatArray
    lost_even: float

    def at(self, part: int, *, outside: bool = False) -> FloatArray:
        """Return what a part takes up at its inside (or outside) surface (h,) [W/m2]."""
        row = part + (self.even.size // 2 if outside else 0)
        return self._year(self.beam[row], self.even[row])

    def stays(self, zone: int) -> FloatArray:
        """Return what stays in a zone (h,) [W]."""
        return self._year(self.kept[zone], self.kept_even[zone])

    def leaves(self) -> FloatArray:
        """Return what goes out through glass again (h,) [W]."""
        return self._year(self.lost, self.lost_even)

    def _year(self, beam: FloatArray, even: float) -> FloatArray:
        found = even * self.scattered
        found[self.hours] += beam
        return np.asarray(found)


def land(boxes: Sequence[Box], parts: Sequence[Part], entered: Sequence[LetIn]) -> list[Source]:
    """Return what the light let in by each window entry brings to the parts.

    `boxes` are the zones in the building's frame.
    """
    inside = _Inside(boxes, parts)
    return [inside.land(light) for light in entered]


def lit_parts(parts: Sequence[Part], sources: Sequence[Source]) -> list[Part]:
    """Return the parts with what all sources bring to them."""
    lit = []
    touched = [(source.even > 0.0) | source.beam.any(axis=1) for source in sources]
    for index, part in enumerate(parts):
        element = part.element
        inner = hourly_values(element.inside_source, HOURS).copy()
        outer = hourly_values(element.outside_drive, HOURS).copy()
        for source, rows in zip(sources, touched, strict=True):
            for row, total in ((index, inner), (index + len(parts), outer)):
                if rows[row]:
                    total += source.even[row] * source.scattered
                    total[source.hours] += source.beam[row]
        lit.append(
            replace(part, element=replace(element, inside_source=inner, outside_drive=outer))
        )
    return lit


@dataclass(frozen=True)
class _Sun:
    """The sun before a wall: hours (d,), slopes, and the cosine on planes square to x, y, w."""

    hours: NDArray[np.intp]
    sideways: FloatArray
    rise: FloatArray

    def cosine(self, axis: int) -> FloatArray:
        slope = (np.abs(self.sideways), self.rise, np.ones(self.rise.size))[axis]
        return np.asarray(slope / np.sqrt(1.0 + self.sideways**2 + self.rise**2))


class _Inside:
    """All surfaces of all zones, and how light goes between them."""

    def __init__(self, boxes: Sequence[Box], parts: Sequence[Part]) -> None:
        self.boxes = boxes
        self.parts = parts
        self.surfaces = surfaces_of(boxes, parts)
        self.zones = self._zones()
        spread = spread_of(self.surfaces)
        out = np.array([s.passed if s.other < 0 else 0.0 for s in self.surfaces])
        # of a watt sent out evenly by each surface: taken up [1/m2], and lost
        self.taken = self._taken() @ spread
        self.lost = out @ spread

    def _taken(self) -> FloatArray:
        """Return what parts take up for each watt of even light that meets a surface, (2 p, n)."""
        found = np.zeros((2 * len(self.parts), len(self.surfaces)))
        for i, surface in enumerate(self.surfaces):
            for spot, share in surface.shares():
                glass = spot.face.glass
                near, far = (spot.face.keeps, 0.0) if glass is None else glass.even[1:]
                met, behind = self.rows(spot)
                found[met, i] += share * near / spot.face.area
                found[behind, i] += share * far / spot.face.area
        return found

    def _zones(self) -> FloatArray:
        """Return the area [m2] by which each row of a source counts for each zone, (z, 2 p)."""
        found = np.zeros((len(self.boxes), 2 * len(self.parts)))
        for i, part in enumerate(self.parts):
            element = part.element
            pane = any(face.glass is not None for face in part.faces)
            if pane and element.zone_outside == OUTDOORS:
                continue
            found[element.zone_inside, i] = element.area
            if element.zone_outside != OUTDOORS:
                found[element.zone_outside, i + len(self.parts)] = element.area
        return found

    def rows(self, spot: Spot) -> tuple[int, int]:
        """Return the rows of a source for the side of a part that is met, and the other."""
        inner, outer = spot.part, spot.part + len(self.parts)
        return (outer, inner) if spot.face.outer_side else (inner, outer)

    def land(self, light: LetIn) -> Source:
        """Return what a window entry's light brings."""
        own = [i for i, s in enumerate(self.surfaces) if any(p.face is light.face for p in s.spots)]
        even = self.taken[:, own].mean(axis=1)
        before, sideways, rise = light.sun.slopes
        bright = light.beam[before] > 0.0
        sun = _Sun(np.flatnonzero(before)[bright], sideways[bright], rise[bright])
        beam = _Beam(self, sun)
        targets = self._met_first(light, own, sun)
        for target in targets:
            if target.pane is None:
                beam.meets(target, [t for t in targets if t.pane is target])
        power = light.beam[sun.hours]
        sent = list(beam.sent)
        again = np.stack([beam.sent[i] for i in sent])
        taken = power * (beam.taken + self.taken[:, sent] @ again)
        return Source(
            hours=sun.hours,
            scattered=light.scattered,
            beam=taken,
            even=even,
            kept=self.zones @ taken,
            kept_even=self.zones @ even,
            lost=power * (beam.lost + self.lost[sent] @ again),
            lost_even=float(self.lost[own].mean()),
        )

    def _met_first(self, light: LetIn, own: list[int], sun: _Sun) -> list[_Target]:
        """Return what the beam of an entry meets first, and behind inner panes."""
        zone, place = light.face.zone, light.face.place
        if any(self.surfaces[i].rectangle is None for i in own):
            floor = self._index(zone, "floor")
            return [_Target(floor, self.boxes[zone].surface("floor"), None, np.ones(sun.rise.size))]
        openings = light.face.openings
        lit = light.lit[sun.hours] * sum(opening.area for opening in openings)
        depth = max(light.sun.thickness, openings[0].depth)
        targets = list(self._targets(zone, place, depth))
        receivers = [(t.plate, None if t.pane is None else t.pane.plate) for t in targets]
        ends = sum(
            lit_areas(
                sun.sideways,
                sun.rise,
                replace(opening, depth=depth),
                light.sun.obstacles.plates,
                receivers,
            )[:, 1:].T
            for opening in openings
        )
        for target, area in zip(targets, np.asarray(ends), strict=True):
            target.share = area / lit
        self._take_windows_off(targets)
        rest = 1.0 - np.sum([t.share for t in targets if t.pane is None], axis=0)
        wall = self._index(zone, place)  # its reveal behind the glass
        return [*targets, _Target(wall, self.boxes[zone].surface("floor"), None, rest)]

    def _index(self, zone: int, place: str) -> int:
        """Return the surface of a floor, ceiling or wall."""
        return next(i for i, s in enumerate(self.surfaces) if (s.zone, s.place) == (zone, place))

    def _targets(self, zone: int, wall: str, depth: float) -> Iterator[_Target]:
        """Yield what light from a wall can meet, in its frame: in the zone, then behind panes."""
        first = list(self._within(zone, wall, zone, wall, depth))
        yield from first
        for pane in first:
            other = self.surfaces[pane.surface].other
            if other >= 0 and self.surfaces[other].rectangle is not None:
                behind = self.surfaces[other]
                for target in self._within(behind.zone, behind.place, zone, wall, depth):
                    target.pane = pane
                    yield target

    def _within(
        self, zone: int, entered: str, origin: int, wall: str, depth: float
    ) -> Iterator[_Target]:
        """Yield the surfaces of a zone but for ceiling and the wall through which light came."""
        for index, surface in enumerate(self.surfaces):
            here = surface.zone == zone and surface.place not in (entered, "ceiling")
            if here and surface.rectangle is not None:
                yield _Target(index, self.boxes[origin].seen_from(wall, surface.rectangle, depth))

    def _take_windows_off(self, targets: Sequence[_Target]) -> None:
        """Take off each wall what falls on its windows."""
        walls: dict[tuple[int, str, int], _Target] = {}
        for target in targets:
            surface = self.surfaces[target.surface]
            key = (surface.zone, surface.place, id(target.pane))
            if surface.window:
                walls[key].share = walls[key].share - target.share
            else:
                walls[key] = target


@dataclass(eq=False)
class _Target:
    """A surface as beam meets it, in the frame of the window's wall.

    `share` (d,) of an entry's beam goes that way; `pane` is the inner window
    that it would pass before.
    """

    surface: int
    plate: Plate
    pane: _Target | None = None
    share: FloatArray = field(default_factory=lambda: np.zeros(0))


class _Beam:
    """The beam of one entry as it is taken up (2 p, d), sent on evenly (d,) and lost (d,)."""

    def __init__(self, inside: _Inside, sun: _Sun) -> None:
        self.inside = inside
        self.sun = sun
        count = sun.hours.size
        self.taken = np.zeros((2 * len(inside.parts), count))
        self.sent: dict[int, FloatArray] = defaultdict(lambda: np.zeros(count))
        self.lost = np.zeros(count)

    def meets(self, target: _Target, behind: Sequence[_Target] = ()) -> None:
        """Take up what a surface meets, send the rest on; `behind` is what lies behind a pane."""
        index, hit = target.surface, target.share
        surface = self.inside.surfaces[index]
        when = np.flatnonzero(hit)
        if not surface.spots:
            self.sent[index] += hit
        for spot, share in surface.shares():
            here = share * hit
            area = spot.face.area
            met, far_side = self.inside.rows(spot)
            if spot.face.glass is None:
                self.taken[met] += spot.face.keeps / area * here
                self.sent[index] += (1.0 - spot.face.keeps) * here
            elif when.size:
                passed, near, far = spot.face.glass.at(self.sun.cosine(target.plate.axis)[when])
                here = here[when]
                self.taken[met, when] += near * here / area
                self.taken[far_side, when] += far * here / area
                self.sent[index][when] += (1.0 - passed - near - far) * here
                self._passes(surface, passed * here, share * passed, when, behind)

    def _passes(
        self,
        surface: Surface,
        power: FloatArray,
        share: FloatArray,
        when: NDArray[np.intp],
        behind: Sequence[_Target],
    ) -> None:
        """Lose outdoors what passes a pane, or carry it on into the zone behind.

        Where the zone behind has no place for it, it goes on as even light.
        """
        if surface.other < 0:
            self.lost[when] += power
            return
        for target in behind:
            onward = np.zeros(self.sun.rise.size)
            onward[when] = share * target.share[when]
            power = power - onward[when]
            self.meets(replace(target, share=onward))
        self.sent[surface.other][when] += power
