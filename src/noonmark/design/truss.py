"""What the truss maker is told of a roof: which face counts, span, heels, overhang, insulation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from noonmark.design.derived import material_of, roof_triangle, thickness
from noonmark.design.model import Building, Homestead
from noonmark.errors import InputError, Problem, Sentence
from noonmark.place.site import azimuth_name
from noonmark.shape.roof import LEAST_VENT_GAP, RoofTriangle, heel_for_insulation
from noonmark.units import Quantity

SHEATHING = ("osb", "plywood", "softwood")
"""Materials that stiffen a stud wall from outside (common practice, no source)."""


def finish_thickness(homestead: Homestead, building: Building) -> float:
    """Return what lies outside the face of the wall that the truss line counts from [m].

    By `roof.finish`, else all layers outside the outermost one of `SHEATHING`. Raises
    `InputError` when there is none, when studs or more than half of the wall lie
    outside it, or when the finish is more than the wall.
    """
    roof = building.roof
    if roof.measured_from == "finish":
        return 0.0
    wall = thickness(homestead, building.wall_construction)
    if roof.finish is not None:
        if roof.finish > wall:
            lengths = {"finish": roof.finish, "wall": wall}
            values = {key: Quantity(length, "length") for key, length in lengths.items()}
            raise InputError(Problem("design.finish_too_thick", path="roof.finish", values=values))
        return roof.finish
    finish = 0.0
    for layer in reversed(homestead.construction[building.wall_construction].layers):
        if layer.material in SHEATHING and finish <= wall / 2:
            return finish
        if layer.studs:
            break
        finish += layer.thickness or 0.0
    named = {"construction": building.wall_construction}
    raise InputError(Problem("design.no_sheathing", path="roof.measured_from", values=named))


@dataclass(frozen=True)
class OverWall:
    """Insulation over the plate [m], the vent space under the deck kept.

    `ceiling`: its depth on the ceiling; `outside` and `inside`: what of it fits over
    the outside and the inside face of the wall; `conductivity` [W/mK] of its topmost
    layer, None when the file does not tell; `heel`: the least one that holds it all.
    """

    ceiling: float
    outside: float
    inside: float
    conductivity: float | None
    heel: float

    @property
    def fits(self) -> bool:
        """Return whether it keeps its depth, within 5 mm, out to the wall's outside face."""
        return self.outside > self.ceiling - 0.005


def over_wall(homestead: Homestead, building: Building) -> OverWall:
    """Return the insulation over the wall: all layers above the board of the deepest ceiling."""
    roof = roof_triangle(homestead, building)
    ceilings = [
        homestead.construction[zone.roof_construction or building.roof.construction].layers
        for zone in building.zone.values()
    ]
    depth, layers = max(
        ((sum(layer.thickness or 0.0 for layer in ceiling[1:]), ceiling) for ceiling in ceilings),
        key=lambda pair: pair[0],
    )
    wall = thickness(homestead, building.wall_construction)
    top = layers[-1]
    conductivity = material_of(homestead, top.material).conductivity if top.material else None
    if top.resistance and top.thickness:
        conductivity = top.thickness / top.resistance
    return OverWall(
        ceiling=depth,
        outside=min(depth, roof.insulation_depth()),
        inside=min(depth, roof.insulation_depth(x=wall)),
        conductivity=conductivity,
        heel=heel_for_insulation(depth, pitch=roof.pitch),
    )


def truss_line(homestead: Homestead, name: str) -> list[Sentence]:
    """Return what a building's truss maker is told, the line itself first."""
    building = homestead.buildings[name]
    roof = roof_triangle(homestead, building)
    finish = finish_thickness(homestead, building)
    return [
        _line(name, building, roof, finish),
        *_bearing(roof, finish),
        *_one_side(building),
        _insulation(homestead, building),
        Sentence("check.truss_engineer"),
    ]


def _line(name: str, building: Building, roof: RoofTriangle, finish: float) -> Sentence:
    values = {
        "building": name,
        "face": building.roof.measured_from,
        "span": _length(roof.span - 2 * finish),
        "pitch": Quantity(roof.pitch, "pitch"),
        "heel": _length(roof.heel_at(finish)),
        "overhang": _length(roof.projection + finish),
        "soffit": _length(roof.soffit),
    }
    if roof.truss == "cantilever":
        ends = {
            "length": _length(roof.span + 2 * roof.projection),
            "end_heel": _length(roof.end_heel),
        }
        return Sentence("check.truss_cantilever", values | ends)
    tail = (roof.projection + finish) * roof.slope_factor
    return Sentence("check.truss_tail", values | {"tail": _length(tail)})


def _bearing(roof: RoofTriangle, finish: float) -> Iterator[Sentence]:
    """Yield where the trusses bear, when that is not the face that counts."""
    if roof.bearing > finish:
        values = {
            "bearing": _length(roof.bearing - finish),
            "span": _length(roof.bearing_span),
            "overhang": _length(roof.overhang),
            "heel": _length(roof.heel_at(roof.bearing)),
        }
        yield Sentence("check.truss_bearing", values)


def _one_side(building: Building) -> Iterator[Sentence]:
    sides = set(building.eave.sides)
    if len(sides) == 1:
        values = {"side": azimuth_name(building.azimuth(sides.pop()))}
        yield Sentence("check.truss_one_side", values)


def _insulation(homestead: Homestead, building: Building) -> Sentence:
    over = over_wall(homestead, building)
    values: dict[str, object] = {
        "outside": _length(over.outside),
        "inside": _length(over.inside),
        "gap": _length(LEAST_VENT_GAP),
    }
    if over.conductivity is None:
        return Sentence("check.insulation", values)
    resistances = {
        "outside_r": Quantity(over.outside / over.conductivity, "thermal_resistance"),
        "inside_r": Quantity(over.inside / over.conductivity, "thermal_resistance"),
    }
    return Sentence("check.insulation_r", values | resistances)


def _length(metres: float) -> Quantity:
    return Quantity(metres, "length")
