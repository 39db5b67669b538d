"""What follows from the model by arithmetic: its wall faces, roof triangle and soffit."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeGuard

from noonmark import catalog
from noonmark.design.model import SIDE_TURN, Building, Eave, Homestead, Side, Wall, Window
from noonmark.design.services import Heating
from noonmark.errors import InputError, PhysicsError, Problem
from noonmark.shape.roof import RoofTriangle, heel_for_soffit
from noonmark.shape.trim import Gutter, Trim
from noonmark.sources.stove import WOOD_HEAT
from noonmark.units import Quantity

OPPOSITE: dict[Side, Side] = {"sunny": "back", "back": "sunny", "left": "right", "right": "left"}

_SAME = 0.005
"""Two ways of giving a height contradict each other from here on [m]."""


@dataclass(frozen=True)
class WallFace:
    """One wall of one zone: azimuth [deg], inside length and height [m], windows in it.

    `side` is None for a wall given by azimuth; `next_to` names the zone behind
    a partition, which is listed once.
    """

    zone: str
    name: str
    side: Side | None
    azimuth: float
    length: float
    height: float
    construction: str
    absorptance: float
    next_to: str | None
    windows: tuple[Window, ...]

    @property
    def window_area(self) -> float:
        """Return the rough area of all its windows [m2]."""
        return sum(window_area(window) for window in self.windows)

    @property
    def opaque_area(self) -> float:
        """Return what is left for the wall itself [m2]."""
        return self.length * self.height - self.window_area


def window_area(window: Window) -> float:
    """Return the rough area of a window entry, all its windows together [m2]."""
    return window.count * window.width * (window.head - window.sill)


def wall_faces(building: Building) -> tuple[WallFace, ...]:
    """Return every wall of the building, partitions once.

    Raises `InputError` when a wall or window names a zone, side or wall that is not there.
    """
    faces = [face for zone in building.zone for face in _zone_faces(building, zone)]
    placed = {id(window) for face in faces for window in face.windows}
    for index, window in enumerate(building.window, start=1):
        if id(window) not in placed:
            zone = window.zone or next(iter(building.zone))
            walls = [
                f.name for f in faces if f.zone == zone and not (f.next_to and f.name == f.side)
            ]
            values = {"zone": zone, "walls": walls}
            raise InputError(
                Problem("design.window_nowhere", path=f"window.{index}", values=values)
            )
    return tuple(faces)


def wall_of(building: Building, window: Window) -> WallFace:
    """Return the wall that holds a window of the building."""
    return next(f for f in wall_faces(building) if any(w is window for w in f.windows))


def find_window(homestead: Homestead, name: str, building: str | None = None) -> tuple[str, int]:
    """Return the building and the number, from 1, of the window of a name.

    Looks in one `building` alone if it is given. One without a name goes by its number.
    Raises `InputError` when none or several are called so.
    """
    named = [
        (key, number, window.name or str(number))
        for key, house in homestead.buildings.items()
        if building in (None, key)
        for number, window in enumerate(house.window, start=1)
    ]
    found = [(key, number) for key, number, called in named if called == name]
    if len(found) != 1:
        code = "window.twice" if found else "window.unknown"
        values = {"read": name, "known": list(dict.fromkeys(called for *_, called in named))}
        raise InputError(Problem(code, path="--window", values=values))
    return found[0]


def stove_zone(building: Building) -> str | None:
    """Return the zone the stove stands in, None without a stove."""
    if building.heating is None or building.heating.stove is None:
        return None
    heated = [name for name, zone in building.zone.items() if zone.heated]
    return building.heating.stove.zone or heated[0]


def charge_heat(heating: Heating) -> float:
    """Return the heat that one charge of the heater's stove gives [Wh].

    Wood bought by the cord gives the same by weight, whatever its kind.
    """
    if heating.stove is None:
        return 0.0
    fuel = catalog.find(catalog.Fuel, heating.fuel)
    net = WOOD_HEAT if fuel.cords else fuel.kwh_net
    by_basis = net if heating.basis == "net" else net * fuel.kwh_gross / fuel.kwh_net
    return 1e3 * heating.stove.charge * by_basis * heating.efficiency


def thickness(homestead: Homestead, construction: str) -> float:
    """Return the thickness of a construction [m]."""
    return sum(layer.thickness or 0.0 for layer in homestead.construction[construction].layers)


def material_of(homestead: Homestead, name: str) -> catalog.Material:
    """Return a material of the file or of the catalogue.

    Raises `InputError` with the nearest names when there is none.
    """
    own = homestead.material.get(name)
    if own is None:
        return catalog.find(catalog.Material, name)
    vapour = math.nan if own.vapour is None else own.vapour
    return catalog.Material(name, own.conductivity, own.density, own.specific_heat, vapour)


def roof_triangle(homestead: Homestead, building: Building) -> RoofTriangle:
    """Return the roof over the sunny wall; soffit and heels follow from each other.

    The joists of a roof without attic lie on the plate unless a heel is given; the
    top chord of a cantilevered truss comes down onto its bottom chord unless one is.
    Raises `InputError` when neither or both are given and do not agree, or when
    the parts can not close.
    """
    plate = max(zone.height for zone in building.zone.values())
    wall = thickness(homestead, building.wall_construction)
    roof = building.roof
    cantilever = roof.truss == "cantilever"
    heel = _cantilever_heel(building, plate) if cantilever else _tail_heel(building, plate)
    try:
        return RoofTriangle(
            span=building_depth(building) + 2.0 * wall,
            pitch=roof.pitch,
            projection=building.eave.projection,
            heel=heel,
            plate=plate,
            chord_depth=roof.chord_depth,
            truss=roof.truss,
            bearing=roof.bearing,
            trim=_trim(building.eave),
        )
    except PhysicsError as error:
        raise InputError(
            [p.at(path=_PLACES.get(p.path, "roof")) for p in error.problems]
        ) from error


_PLACES = {"bearing": "roof.bearing", "trim": "eave.soffit"}
"""Keys of the file that parts of the roof triangle come from; others follow from several."""


def _trim(eave: Eave) -> Trim:
    gutter = eave.gutter
    hung = Gutter(gutter.width, gutter.depth, gutter.drop) if gutter else None
    return Trim(eave.soffit == "sloped", eave.fascia_drop, hung)


def _tail_heel(building: Building, plate: float) -> float:
    """Return the heel of trusses with tails, from itself or the soffit [m]."""
    roof, eave = building.roof, building.eave
    if roof.end_heel is not None:
        raise InputError(Problem("design.end_heel_of_tail", path="roof.end_heel"))
    if eave.soffit_height is None:
        if roof.heel is not None:
            return roof.heel
        if not roof.attic:
            return _plumb(building)
        raise InputError(Problem("design.no_heel", path="roof.heel"))
    wanted = heel_for_soffit(
        eave.soffit_height,
        pitch=roof.pitch,
        projection=eave.projection,
        plate=plate,
        chord_depth=roof.chord_depth,
    )
    if _contradicts(roof.heel, wanted):
        lengths = {"heel": roof.heel, "needed": wanted, "soffit": eave.soffit_height}
        values = {key: Quantity(length, "length") for key, length in lengths.items()}
        raise InputError(Problem("design.heel_and_soffit", path="roof.heel", values=values))
    return wanted


def _cantilever_heel(building: Building, plate: float) -> float:
    """Return the height of the roof over the wall's outside face, from it or the end heel [m]."""
    roof, eave = building.roof, building.eave
    if _contradicts(eave.soffit_height, plate):
        lengths = {"soffit": eave.soffit_height, "plate": plate}
        values = {key: Quantity(length, "length") for key, length in lengths.items()}
        place = "eave.soffit_height"
        raise InputError(Problem("design.soffit_off_plate", path=place, values=values))
    if roof.end_heel is None and roof.heel is not None:
        return roof.heel
    end = _plumb(building) if roof.end_heel is None else roof.end_heel
    wanted = end + eave.projection * roof.pitch
    if _contradicts(roof.heel, wanted):
        lengths = {"heel": roof.heel, "needed": wanted, "end": end}
        values = {key: Quantity(length, "length") for key, length in lengths.items()}
        raise InputError(Problem("design.heel_and_end_heel", path="roof.heel", values=values))
    return wanted


def _plumb(building: Building) -> float:
    """Return the depth of the top chord measured plumb, the least heel there is [m]."""
    return building.roof.chord_depth * math.hypot(1.0, building.roof.pitch)


def _contradicts(given: float | None, wanted: float) -> TypeGuard[float]:
    return given is not None and abs(given - wanted) > _SAME


def building_depth(building: Building) -> float:
    """Return the inside depth from sunny to back side [m], zones behind each other added."""
    corners = zone_corners(building)
    ends = [corner[1] + building.zone[name].width for name, corner in corners.items()]
    return max(ends) - min(w for _, w in corners.values())


def building_length(building: Building) -> float:
    """Return the inside length along the sunny side [m], zones beside each other added."""
    corners = zone_corners(building)
    ends = [corner[0] + building.zone[name].length for name, corner in corners.items()]
    return max(ends) - min(x for x, _ in corners.values())


def neighbour(building: Building, zone: str, side: Side) -> str | None:
    """Return the zone behind a partition at a side of `zone`, whichever entry names it."""
    for wall in building.wall:
        if wall.side is None or wall.next_to is None:
            continue
        if _zone_of(building, wall) == zone and wall.side == side:
            return wall.next_to
        if wall.next_to == zone and OPPOSITE[wall.side] == side:
            return _zone_of(building, wall)
    return None


def rows_of_zones(building: Building) -> list[list[str]]:
    """Return the zones in groups that partitions hold together, each from its first zone on."""
    groups: list[list[str]] = []
    for name in building.zone:
        if any(name in group for group in groups):
            continue
        group = [name]
        for zone in group:
            beside = [neighbour(building, zone, side) for side in SIDE_TURN]
            group += [other for other in dict.fromkeys(beside) if other and other not in group]
        groups.append(group)
    return groups


def zone_corners(building: Building) -> dict[str, tuple[float, float]]:
    """Return where the left sunny corner of each zone lies, to the right and to the back [m].

    A zone behind a partition stands flush against it: middle to middle where
    it lies before or behind, sunny walls in one line where it lies beside.
    Groups of zones that share no wall each begin at their first zone.
    """
    corners: dict[str, tuple[float, float]] = {}
    for group in rows_of_zones(building):
        corners[group[0]] = (0.0, 0.0)
        for name in group:
            here, (x, w) = building.zone[name], corners[name]
            for side in SIDE_TURN:
                other = neighbour(building, name, side)
                if other is None or other in corners:
                    continue
                there = building.zone[other]
                middle = 0.5 * (here.length - there.length)
                right, back = {
                    "sunny": (middle, -there.width),
                    "back": (middle, here.width),
                    "left": (-there.length, 0.0),
                    "right": (here.length, 0.0),
                }[side]
                corners[other] = (x + right, w + back)
    return {name: corners[name] for name in building.zone}


def _zone_faces(building: Building, zone_name: str) -> Iterator[WallFace]:
    special = {
        wall.side: wall
        for wall in building.wall
        if wall.side and _zone_of(building, wall) == zone_name
    }
    for side in SIDE_TURN:
        shared = _partition_length(building, zone_name, side)
        wall = special.get(side, Wall(side=side))
        if wall.next_to:
            yield _face(building, zone_name, wall, side, shared)
        left = _side_length(building, zone_name, side, wall) - shared
        if left > 1e-6:
            name = None if wall.next_to else wall.name
            outer = wall.model_copy(update={"next_to": None, "length": left, "name": name})
            yield _face(building, zone_name, outer, side, left)
    for wall in building.wall:
        if wall.side is None and _zone_of(building, wall) == zone_name:
            yield _face(building, zone_name, wall, None, wall.length or 0.0)


def _face(
    building: Building, zone_name: str, wall: Wall, side: Side | None, length: float
) -> WallFace:
    name = wall.name or side or "wall"
    partition = building.partition_construction or building.wall_construction
    own = building.zone[zone_name].wall_construction or building.wall_construction
    usual = partition if wall.next_to else own
    return WallFace(
        zone=zone_name,
        name=name,
        side=side,
        azimuth=building.azimuth(side) if side else wall.azimuth or 0.0,
        length=length,
        height=wall.height or building.zone[zone_name].height,
        construction=wall.construction or usual,
        absorptance=building.wall_absorptance if wall.absorptance is None else wall.absorptance,
        next_to=wall.next_to,
        windows=tuple(
            item
            for item in building.window
            # a wall between zones has windows by a name of its own only
            if _lies_in(
                building,
                item,
                zone_name,
                None if wall.next_to else side,
                wall.name if wall.next_to else name,
            )
        ),
    )


def _lies_in(
    building: Building, window: Window, zone_name: str, side: Side | None, name: str | None
) -> bool:
    zone = window.zone or next(iter(building.zone))
    if zone != zone_name:
        return False
    return window.wall == name if window.wall else window.side is not None and window.side == side


def _zone_of(building: Building, wall: Wall) -> str:
    return wall.zone or next(iter(building.zone))


def _side_length(building: Building, zone_name: str, side: Side, wall: Wall) -> float:
    zone = building.zone[zone_name]
    if wall.length is not None and not wall.next_to:
        return wall.length
    return zone.length if side in ("sunny", "back") else zone.width


def _partition_length(building: Building, zone_name: str, side: Side) -> float:
    """Return how much of a side is a partition, whichever zone's entry names it [m]."""
    for wall in building.wall:
        if wall.side is None or wall.next_to is None:
            continue
        owner = _zone_of(building, wall)
        here = owner == zone_name and wall.side == side
        there = wall.next_to == zone_name and OPPOSITE[wall.side] == side
        if here or there:
            lengths = [
                zone.length if side in ("sunny", "back") else zone.width
                for zone in (building.zone[owner], building.zone[wall.next_to])
            ]
            return min(*lengths, wall.length or lengths[0])
    return 0.0
