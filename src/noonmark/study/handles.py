"""A building as somebody takes hold of it: its section, its sunny windows, and what can be dragged.

All lengths in m; heights above the finished floor.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from noonmark import catalog
from noonmark.design.derived import (
    WallFace,
    material_of,
    rows_of_zones,
    thickness,
    wall_faces,
    zone_corners,
)
from noonmark.design.model import (
    Building,
    Eave,
    Gutter,
    Homestead,
    LayerPart,
    Roof,
    Window,
    Zone,
)
from noonmark.design.part import Part
from noonmark.design.quantities import limits_of, measure_of
from noonmark.errors import Sentence
from noonmark.shape.roof import RoofTriangle
from noonmark.study.cut import largest_sunny, wall_section
from noonmark.study.layout import positions
from noonmark.study.wallrun import wall_run
from noonmark.units import Kind

APART = 2.0
"""Air between zones of which nobody knows how they stand to each other [m]."""


Keeps = Literal["soffit", "heel", "end_heel", "chord"]
"""What stays when projection, pitch or plate change: a height that the file gives, or the end heel
as deep as the chord cut plumb."""

_Worth = Callable[[Homestead, LayerPart], float]


@dataclass(frozen=True)
class Handle:
    """Where a value stands in the file, and how far it may go [SI].

    `path` is None when another value of the file holds it; `locked` says why it can
    not be dragged.
    """

    path: str | None
    value: float
    kind: Kind
    least: float
    most: float
    locked: Sentence | None = None


@dataclass(frozen=True)
class RoofShape:
    """The roof over the sunny wall."""

    span: float
    pitch: float
    projection: float
    heel: float
    plate: float
    chord_depth: float
    truss: str
    bearing: float
    sloped: bool
    fascia_drop: float
    gutter: Gutter | None


@dataclass(frozen=True)
class SunnyWindow:
    """A window entry of the sunny wall; `number` counts all of the building's, from 1.

    `lefts`: left edge of each window, from the left end of the wall's outside seen
    from outdoors. `ceiling` and `room_depth` are those of the zone behind it;
    `frames` is how much of width and of height its frames take.
    """

    number: int
    name: str
    side: str
    azimuth: float
    zone: str
    sill: float
    head: float
    width: float
    count: int
    lefts: tuple[float, ...]
    ceiling: float
    room_depth: float
    frames: tuple[float, float]


@dataclass(frozen=True)
class BuildingShape:
    """What a page needs to draw a building's sunny side and to let its parts be dragged.

    `wall_length` is that of the sunny side's outside, `ends` how far the roof runs
    past it; `keeps` is what of the roof stays when other sizes of it change; `shown`
    is the number of the window that the section is cut through.
    """

    name: str
    kind: str
    faces: float
    wall_length: float
    wall_height: float
    ends: float
    roof: RoofShape
    keeps: Keeps
    wall_thickness: float
    floor_thickness: float
    floor_insulation: float
    ceiling_insulation: float
    ground: float
    header_depth: float
    windows: tuple[SunnyWindow, ...]
    shown: int | None
    handles: dict[str, Handle]
    window_limits: dict[str, tuple[float, float]]
    zones: tuple[str, ...]


def building_shape(homestead: Homestead, name: str) -> BuildingShape:
    """Return the shape of a building with its handles.

    Raises `InputError` when the parts of its section can not stand together.
    """
    building = homestead.buildings[name]
    section = wall_section(homestead, building)
    shown = largest_sunny(building)
    return BuildingShape(
        name=name,
        kind=building.kind,
        faces=building.faces,
        wall_length=_outside_length(homestead, building),
        wall_height=section.roof.plate,
        ends=building.eave.ends,
        roof=_roof_shape(section.roof, building.eave),
        keeps=_keeps(building),
        wall_thickness=section.wall_thickness,
        floor_thickness=section.floor_thickness,
        floor_insulation=section.floor_insulation,
        ceiling_insulation=section.ceiling_insulation,
        ground=section.ground,
        header_depth=building.roof.header_depth,
        windows=tuple(_sunny_windows(homestead, building)),
        shown=None if shown is None else _number(building, shown),
        handles=_handles(homestead, name, section.roof),
        window_limits={key: _limits(Window, key) for key in ("head", "sill", "width")}
        | {"ceiling": _limits(Zone, "height")},
        zones=tuple(building.zone),
    )


def _keeps(building: Building) -> Keeps:
    roof = building.roof
    if roof.truss == "tail":
        return "heel" if building.eave.soffit_height is None else "soffit"
    if roof.end_heel is not None:
        return "end_heel"
    return "chord" if roof.heel is None else "heel"


def _roof_shape(roof: RoofTriangle, eave: Eave) -> RoofShape:
    return RoofShape(
        span=roof.span,
        pitch=roof.pitch,
        projection=roof.projection,
        heel=roof.heel,
        plate=roof.plate,
        chord_depth=roof.chord_depth,
        truss=roof.truss,
        bearing=roof.bearing,
        sloped=roof.trim.sloped,
        fascia_drop=roof.trim.fascia_drop,
        gutter=eave.gutter,
    )


# --- windows ------------------------------------------------------------------------------------


def _sunny_windows(homestead: Homestead, building: Building) -> Iterator[SunnyWindow]:
    """Yield the entries of all sunny walls, in the order of the file."""
    starts = _starts(building)
    end = max(starts[name] + zone.length for name, zone in building.zone.items())
    end += thickness(homestead, building.wall_construction)
    found = [
        _sunny_window(homestead, building, face, end - starts[face.zone], window, lefts)
        for face in wall_faces(building)
        if face.side == "sunny" and face.next_to is None
        for window, lefts in positions(face)
    ]
    yield from sorted(found, key=lambda window: window.number)


def _sunny_window(
    homestead: Homestead,
    building: Building,
    face: WallFace,
    end: float,
    window: Window,
    lefts: list[float],
) -> SunnyWindow:
    """Return a window; `end` is how far right of its zone's left end the wall's outside ends."""
    run = wall_run(homestead, building, face)
    number, zone = _number(building, window), building.zone[face.zone]
    frame = catalog.find(catalog.Frame, window.frame).width
    return SunnyWindow(
        number=number,
        name=window.name or str(number),
        side="sunny",
        azimuth=face.azimuth,
        zone=face.zone,
        sill=window.sill,
        head=window.head,
        width=window.width,
        count=len(lefts),
        lefts=tuple(sorted(end - left - run.shift(left) - window.width for left in lefts)),
        ceiling=zone.height,
        room_depth=zone.width,
        frames=(2.0 * window.casements * frame, 2.0 * frame),
    )


def _number(building: Building, window: Window) -> int:
    return next(i for i, item in enumerate(building.window, start=1) if item is window)


def _starts(building: Building) -> dict[str, float]:
    """Return how far right of the building's left end inside each zone begins.

    Zones that share no wall stand beside each other, `APART`.
    """
    corners = zone_corners(building)
    starts: dict[str, float] = {}
    first = 0.0
    for group in rows_of_zones(building):
        lowest = min(corners[name][0] for name in group)
        starts |= {name: first + corners[name][0] - lowest for name in group}
        first = APART + max(starts[name] + building.zone[name].length for name in group)
    return starts


def _outside_length(homestead: Homestead, building: Building) -> float:
    starts = _starts(building)
    inside = max(starts[name] + zone.length for name, zone in building.zone.items())
    return inside + 2.0 * thickness(homestead, building.wall_construction)


# --- handles ------------------------------------------------------------------------------------


def _handles(homestead: Homestead, name: str, roof: RoofTriangle) -> dict[str, Handle]:
    building = homestead.buildings[name]
    flat = None if building.roof.attic else Sentence("handle.no_attic")
    return {
        "projection": _handle(Eave, (name, "eave", "projection"), roof.projection),
        "soffit": _soffit(building, name, roof),
        "heel": _heel(building, name, roof),
        "pitch": _handle(Roof, (name, "roof", "pitch"), roof.pitch, flat),
        "wall": _layer(homestead, building.wall_construction, _insulating),
        "floor": _layer(homestead, building.floor.construction, _weighing),
        "attic": _layer(homestead, building.roof.construction, _insulating),
    }


def _soffit(building: Building, name: str, roof: RoofTriangle) -> Handle:
    locked = None
    if roof.truss == "cantilever":
        locked = Sentence("handle.level_with_plate")
    elif building.eave.soffit_height is not None and building.roof.heel is not None:
        locked = Sentence("handle.heel_and_soffit")
    held = building.eave.soffit_height is not None and locked is None
    return _handle(Eave, (name, "eave", "soffit_height"), roof.soffit, locked, held=held)


def _heel(building: Building, name: str, roof: RoofTriangle) -> Handle:
    given = building.roof.heel is not None
    locked, held = None, True
    if roof.truss == "tail" and building.eave.soffit_height is not None:
        held = False
        locked = Sentence("handle.heel_and_soffit") if given else None
    elif building.roof.end_heel is not None:
        locked = Sentence("handle.end_heel")
    elif not (given or building.roof.attic):
        locked = Sentence("handle.joists_on_plate")
    return _handle(Roof, (name, "roof", "heel"), roof.heel, locked, held=held)


def _layer(homestead: Homestead, construction: str, worth: _Worth) -> Handle:
    """Return the thickness of the layer of a construction that is worth most."""
    layers = homestead.construction[construction].layers
    rated = [(worth(homestead, layer), -i) for i, layer in enumerate(layers) if layer.material]
    if not rated:
        locked, total = Sentence("handle.no_layer"), thickness(homestead, construction)
        return _handle(LayerPart, ("thickness",), total, locked)
    index = -max(rated)[1]
    path = ("construction", construction, "layers", str(index + 1), "thickness")
    return _handle(LayerPart, path, layers[index].thickness or 0.0)


def _insulating(homestead: Homestead, layer: LayerPart) -> float:
    """Return the resistance of a layer [m2K/W]."""
    assert layer.material is not None
    return (layer.thickness or 0.0) / material_of(homestead, layer.material).conductivity


def _weighing(homestead: Homestead, layer: LayerPart) -> float:
    """Return the mass of a layer [kg/m2]."""
    assert layer.material is not None
    return (layer.thickness or 0.0) * material_of(homestead, layer.material).density


def _handle(
    part: type[Part],
    words: tuple[str, ...],
    value: float,
    locked: Sentence | None = None,
    *,
    held: bool = True,
) -> Handle:
    """Return the handle of a value at the words of a path, the last its key in `part`.

    `held` tells that the file holds it; a locked one has no path.
    """
    kind = measure_of(part.model_fields[words[-1]])
    assert kind is not None
    if locked is None and any("." in word or "=" in word for word in words):
        locked = Sentence("handle.name_with_mark")
    path = ".".join(words) if held and locked is None else None
    return Handle(path, value, kind, *_limits(part, words[-1]), locked)


def _limits(part: type[Part], key: str) -> tuple[float, float]:
    least, most = limits_of(part.model_fields[key])
    assert math.isfinite(least + most)
    return least, most
