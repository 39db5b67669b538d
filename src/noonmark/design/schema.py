"""Writes the keys of a design file down from the model: `python -m noonmark.design.schema FILE`."""

from __future__ import annotations

import json
import sys
import types
from collections.abc import Mapping
from inspect import cleandoc
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin

import annotated_types
from pydantic.fields import FieldInfo

from noonmark.design import model, outdoors, services
from noonmark.design.part import Part
from noonmark.design.quantities import day_of_year, measure_of, parts_of
from noonmark.units import write
from noonmark.units.table import EXAMPLES

_HEAD = """# Every key of a design file

<!-- Written from src/noonmark/design/model.py and schema.py; change them, then run `make docs`. -->

A design is one TOML file. Its first line is `schema = 1`; unknown keys are refused. Measures are
written as a builder writes them (`"4 ft 6 in"`, `"R-40"`, `"20 C"`); a bare number counts in the SI
unit of its kind. Heights are above the finished floor, azimuths clockwise from true north, sizes of
zones inside dimensions. Sides are named from inside looking out of the sunny side: `sunny`, `left`,
`back`, `right`.
"""

SECTIONS: Mapping[type[Part], str] = {
    model.Homestead: "The top of the file",
    model.Place: "[place]",
    model.Climate: "[climate]",
    model.OwnMaterial: "[material.NAME]",
    model.Construction: "[construction.NAME]",
    model.LayerPart: "[[construction.NAME.layers]]",
    model.GlazingUnit: "[glazing.NAME]",
    model.Building: "[NAME], such as [house]",
    model.Zone: "[house.zone.NAME]",
    model.Wall: "[[house.wall]]",
    model.Window: "[[house.window]]",
    model.Hood: "[house.window.hood]",
    model.Fins: "[house.window.fins]",
    outdoors.Awning: "[house.window.awning]",
    outdoors.Slats: "[house.window.slats]",
    outdoors.Canopy: "[[house.canopy]]",
    outdoors.Tree: "[[house.tree]]",
    outdoors.Neighbour: "[[house.neighbour]]",
    model.Eave: "[house.eave]",
    model.Gutter: "[house.eave.gutter]",
    model.Roof: "[house.roof]",
    model.Floor: "[house.floor]",
    model.EdgeStrip: "[house.floor.edge]",
    services.FloorHeating: "[house.floor.heating]",
    services.Air: "[house.air]",
    services.Fan: "[house.air.fan]",
    services.Passage: "[[house.passage]]",
    services.Cover: "[house.cover.NAME]",
    model.Inside: "[house.inside]",
    services.Use: "[house.use]",
    services.Heating: "[house.heating]",
    services.Stove: "[house.heating.stove]",
    services.SetBack: "[[house.heating.setback]]",
    services.Cooling: "[house.cooling]",
    model.Goals: "[house.goals]",
}

_CLOCK = {
    "from": "hour of the day it starts, standard time",
    "to": "hour of the day it stops; the next morning if not after `from`",
    "months": "only in these, 1 to 12",
}

_SEASON = {
    "put_up": "first day it stands, such as `5-15`; it stays all year if left out",
    "take_down": "last day it stands",
}

MEANINGS: Mapping[type[Part], Mapping[str, str]] = {
    model.Homestead: {
        "schema": "version of the file's rules",
        "title": "what you call it",
        "units": "how results are written; `--units` overrides it",
        "place": "where it stands",
        "climate": "the weather year",
        "material": "materials of your own by name; those of the catalogue need no table",
        "construction": "layers by name",
        "glazing": "glazing units of your own by name; ready ones need no table",
        "buildings": "every other table with a `kind` is a building, called by its name",
    },
    model.Place: {
        "name": "what the place is called",
        "latitude": "degrees, north positive",
        "longitude": "degrees, east positive, west negative",
        "altitude": "above the sea",
        "time_zone": "such as `America/Denver`",
        "ground_albedo": "share of the sun the ground throws back, see `climate.albedo`",
        "terrain": "what the wind comes over",
        "skyline": "pairs of azimuth and height of hills and woods far off [deg], once round, \
such as `[[90, 4], [180, 12], [270, 6]]`",
    },
    model.Climate: {
        "year": "a shipped weather year",
        "file": "a TMY3 file, plain or .gz, found from the design's folder; overrides `year`",
        "albedo": "whose ground counts: the file's, where it tells, or always the place's",
    },
    model.OwnMaterial: {
        "conductivity": "how well it conducts",
        "density": "mass of a cubic metre; 0 for one that stores no heat",
        "specific_heat": "heat that warms a kilogram by one kelvin",
    },
    model.Construction: {"layers": "the layers, inside first"},
    model.LayerPart: {
        "material": "a material of the file or of the catalogue; needs `thickness`",
        "thickness": "how thick, at least 0.1 mm",
        "resistance": "instead of a material: a layer that only resists, at least 0.001 m2K/W",
        "studs": "material that pierces the layer",
        "stud_fraction": "share of the area that is studs",
    },
    model.GlazingUnit: {
        "panes": "how many panes",
        "u_value": "maker's centre-of-glass value; goes with `shgc` and `transmittance`",
        "shgc": "share of the sun that ends up inside, at right angles",
        "transmittance": "share of the sun that passes straight through, at right angles",
        "gaps": "widths of the gaps of plain panes, outermost first: one fewer than panes",
        "resistance": "from outer to inner glass surface, instead of `gaps`",
        "pane": "each pane, a pane of the catalogue",
        "pane_transmittance": "share of the sun one pane passes at right angles; else the pane's",
        "gas": "what fills the gaps",
        "gas_share": "how much of the filling is that gas, the rest is air",
    },
    model.Building: {
        "kind": "what it is",
        "faces": "azimuth its sunny side looks to",
        "wall_construction": "name of the walls' construction",
        "wall_absorptance": "share of the sun the siding takes up: light 0.3, dark 0.8",
        "partition_construction": "construction between two zones; the walls' own if left out",
        "zone": "up to four boxes of air by name, beside, before or behind each other (`next_to`)",
        "wall": "what is special about single walls",
        "window": "the windows",
        "cover": "shutters, blinds and night covers by name, for windows to name",
        "passage": "doorways and fans between two zones",
        "canopy": "roofs, balconies and trellises on its walls",
        "tree": "trees that stand in its sun",
        "neighbour": "buildings, walls and hedges that stand in its sun",
        "eave": "the eave along the sunny and the back side",
        "roof": "the roof over a flat insulated ceiling",
        "floor": "the slab on the ground, or over a cellar",
        "air": "leaks, ventilation, opened windows, a fan",
        "inside": "how light the walls are inside, and how air takes their heat",
        "use": "people and appliances",
        "heating": "the heater; there is one unless its capacity is 0",
        "cooling": "a cooler; none if left out",
        "goals": "what you want held; the run ends with 1 when it is not",
    },
    model.Zone: {
        "length": "inside length along the sunny side",
        "width": "inside depth from the sunny to the back side",
        "height": "floor to ceiling",
        "furniture": "heat stored in furniture and lining [J/m2K of floor]",
        "heated": "whether heater and cooler serve it; not so in a sun room",
        "lived_in": "whether people, appliances and ventilation are in it, and goals count it",
        "wall_construction": "of its outside walls, if not the building's own",
        "roof_construction": "of its ceiling, if not the building's own",
        "floor_construction": "of its floor, if not the building's own",
    },
    model.Wall: {
        "zone": "whose wall; the first zone's if left out",
        "side": "which side; or give `azimuth`",
        "azimuth": "for a wall that lies on no side; needs `length`",
        "name": "what windows call it in `wall`; its side if left out",
        "length": "inside length; the zone's own if left out; of a partition: how much is shared",
        "height": "inside height; the zone's own if left out",
        "construction": "its construction; the zone's or the building's own if left out",
        "absorptance": "share of the sun it takes up; the building's own if left out",
        "next_to": "the zone behind it: the wall between two zones, written once",
    },
    model.Window: {
        "name": "what you call it",
        "zone": "whose window; the first zone's if left out",
        "side": "the side it lies in; or give `wall`",
        "wall": "the name of the wall it lies in; so it can lie between two zones",
        "width": "rough width",
        "head": "height of the head above the finished floor",
        "sill": "height of the sill above the finished floor",
        "count": "how many equal ones, a whole number",
        "left": "its left edge from the wall's left end, seen from inside; for a single one",
        "reveal": "how far the glass lies behind the wall's outside face",
        "hood": "a plate over it, which shades together with the eave",
        "fins": "plates at its sides",
        "awning": "cloth over it",
        "slats": "boards before it",
        "glazing": "a glazing of the catalogue, or one of the file's own",
        "frame": "a frame of the catalogue",
        "casements": "sashes side by side",
        "safety_glass": "whether it is safety glass",
        "escape": "whether it is an escape window",
        "cover": "its shutter, blind or night cover, by name; none if left out",
    },
    model.Hood: {
        "projection": "level, from the wall's outside face",
        "gap": "how far above the head",
        "left": "how far it runs past the window's left edge, seen from inside",
        "right": "how far it runs past the window's right edge, seen from inside",
    },
    model.Fins: {
        "projection": "level, from the wall's outside face",
        "gap": "how far from the window's edge",
        "top": "how far they reach above the head",
        "bottom": "how far they reach below the sill",
    },
    model.Eave: {
        "projection": "level, from the outside face of the wall",
        "soffit_height": "its lower outer edge above the finished floor; or give `roof.heel`",
        "soffit": "level, or sloped along the underside of the tails",
        "fascia_drop": "how far the fascia's foot hangs below the soffit's outer edge",
        "gutter": "a gutter on the fascia; none if left out",
        "ends": "how far the roof runs past the end walls, less than zero if it stops short",
        "sides": "along which sides it runs",
    },
    model.Gutter: {
        "width": "how far it stands out of the fascia",
        "depth": "from its lip down to its foot",
        "drop": "how far its lip hangs below the roof's edge",
    },
    model.Roof: {
        "construction": "name of the ceiling's construction",
        "attic": "false: no attic, the layers lie flat in the sun; then `pitch = 0`",
        "pitch": "rise over run",
        "truss": "how the eave is made",
        "heel": "upper edge of the top chord above the plate, at the outside face of the wall",
        "end_heel": "the same at the fascia line, of a truss that cantilevers; or give `heel`",
        "bearing": "how far inside the wall's outside face the trusses bear, such as on the inner \
of two walls",
        "measured_from": "the face of the wall that the truss line counts from",
        "finish": "what lies outside that face when it is the sheathing; by the wall's layers if \
left out",
        "chord_depth": "depth of the top chord, square to the slope",
        "header_depth": "depth of the beam over the windows; heads stay below it",
        "absorptance": "share of the sun the roofing takes up",
    },
    model.Floor: {
        "construction": "name of the floor's construction",
        "below": "one or twelve monthly temperatures right under it, instead of the ground",
        "soil": "the ground under it",
        "edge": "insulation at the slab's edge; none if left out",
        "heating": "pipes or cables in it; none if left out",
        "absorptance": "share of the sun the bare floor takes up",
        "carpet": "share of the floor under carpet",
        "carpet_resistance": "resistance of that carpet",
    },
    model.EdgeStrip: {
        "placing": "flat under the edge, or standing down the foundation",
        "extent": "how far it reaches in or down",
        "thickness": "how thick",
        "material": "a material of the catalogue",
    },
    outdoors.Awning: {
        **_SEASON,
        "projection": "of its outer edge, level from the outside face of the wall",
        "drop": "how far it falls to its outer edge",
        "gap": "from the head of the window up to its line on the wall",
        "left": "how far it runs past the window",
        "right": "how far it runs past the window",
        "passes": "share of the sun that comes through the cloth",
    },
    outdoors.Slats: {
        **_SEASON,
        "depth": "of a board, edge to edge",
        "spacing": "from board to board",
        "tilt": "how far the outer edge hangs down, or lies to the left [deg]",
        "upright": "boards stand upright",
        "stand_off": "from the outside face of the wall to their inner edges",
        "left": "how far they run past the window",
        "right": "how far they run past the window",
        "top": "how far they run up past the head",
    },
    outdoors.Canopy: {
        "name": "what you call it",
        "zone": "the zone of its wall; the first one if left out",
        "side": "side of the zone",
        "wall": "name of the wall, instead of `side`",
        "left": "from the inside of the wall's left end, seen from inside",
        "width": "along the wall",
        "height": "of its outer edge",
        "projection": "level, from the outside face of the wall",
        "rise": "how much higher it meets the wall",
        "passes": "share of the sun that passes it",
        "leafed": "share that passes in the months with leaves; `passes` if left out",
        "leaf_months": "months with leaves, 1 to 12; the warm half of the year if left out",
        "railing": "how high a railing stands on its outer edge",
        "railing_passes": "share of the sun that passes the railing",
    },
    outdoors.Tree: {
        "name": "what you call it",
        "azimuth": "where it stands, true bearing from the middle of the sunny wall",
        "distance": "from there to the trunk",
        "top": "height of its top above the finished floor",
        "crown_bottom": "height at which its crown begins",
        "crown_width": "width of its crown",
        "bare": "share of the sun that passes the bare crown",
        "leafed": "share that passes it in leaf",
        "leaf_months": "months in leaf, 1 to 12, all twelve for an evergreen; \
the warm half of the year if left out",
    },
    outdoors.Neighbour: {
        "name": "what you call it",
        "azimuth": "where it stands, true bearing from the middle of the sunny wall",
        "distance": "from there to the middle of its near side",
        "width": "of its near side",
        "depth": "from its near to its far side",
        "top": "height of its walls above your finished floor",
        "ridge": "height of its ridge, which runs along its width; flat if left out",
        "faces": "where its near side looks; back here if left out",
        "passes": "share of the sun that passes it, such as through a hedge",
    },
    services.Air: {
        "leakage": "by blower door at 50 Pa",
        "infiltration": "steady air changes through leaks, instead of `leakage`",
        "shelter": "how the wind finds it",
        "storeys": "how many floors above each other",
        "ventilation": "steady mechanical ventilation",
        "recovery": "share of its heat that is won back",
        "bypass_above": "nothing is won back above this while it is cooler outside; \
`open_above` if left out",
        "open_above": "windows are opened above this while it is cooler outside",
        "open_air_changes": "air changes an hour with windows fully open",
        "open_area": "free area of all opened windows, shared by floor area; instead of \
`open_air_changes`, with `open_height`",
        "open_height": "height of those openings",
        "fan": "a fan with a clock; none if left out",
    },
    services.Fan: {
        "airflow": "outdoor air it brings, shared over the zones lived in by floor area",
        "months": _CLOCK["months"],
        "above": "it runs only while the room is above this and it is cooler outside",
        "from": "hour of the day it starts, standard time",
        "to": "hour of the day it stops; the next morning if not after `from`",
    },
    model.Inside: {
        "films": "by the temperature difference, or fixed",
        "walls": "share of the sun the walls keep: white 0.2, dark wood 0.7",
        "ceiling": "share of the sun the ceiling keeps",
    },
    services.Passage: {
        **_CLOCK,
        "zones": "the two zones; a fan blows from the first to the second",
        "kind": "what it is",
        "width": "clear width of an opening",
        "height": "clear height of an opening",
        "airflow": "air a fan moves",
        "difference": "how much warmer the first zone must be for the fan to run",
        "below": "the fan stands once the second zone is this warm; never if left out",
    },
    services.Cover: {
        **_CLOCK,
        "inside": "whether it hangs inside the glass",
        "resistance": "what it adds to glass and frame when closed; nothing if left out",
        "passes": "share of the sun it lets through when closed",
        "absorbs": "share of the sun it takes up; the rest it throws back",
        "sun_above": "closed only with more sun than this on the wall [per area, before shade]",
        "colder_than": "closed only while it is colder outdoors",
        "warmer_than": "closed only while the room is warmer",
    },
    services.Use: {
        "people": "how many live in it",
        "appliances": "mean power over the year; all heat inside at most 50 W/m2 of floor",
        "steady": "heat at every hour",
        "steady_radiant": "share of it that warms surfaces first",
    },
    services.Heating: {
        "setpoint": "air temperature the heater holds",
        "capacity": "most it gives; without limit if left out",
        "fuel": "a fuel of the catalogue",
        "efficiency": "of stove or boiler over the year",
        "basis": "heating value the efficiency counts from: net in Europe, gross in North America",
        "stove": "a stove in its place, fed by charges; none if left out",
        "setback": "hours with a lower set-point",
    },
    services.Stove: {
        "charge": "wood of one filling",
        "burns": "hours from lighting to the last ember",
        "lowest": "least heat it gives until it is out",
        "radiant": "share of its heat that warms surfaces first",
        "zone": "where it stands; the first heated zone if left out",
        "from": "hour of the day from which somebody feeds it, standard time",
        "to": "hour of the day until which somebody feeds it",
    },
    services.FloorHeating: {
        "layer": "place of the heated layer in the floor's construction, inside first",
        "power": "most heat for each area of floor",
        "setpoint": "air temperature it holds",
        "band": "how far below the set-point it reaches full power",
    },
    services.SetBack: {
        "from": "hour of the day it begins, standard time",
        "to": "hour of the day it ends; the next morning if not after `from`",
        "setpoint": "air temperature the heater holds meanwhile",
        "ramp": "hours from `to` on through which the set-point climbs back evenly",
    },
    services.Cooling: {
        "setpoint": "air temperature the cooler holds",
        "capacity": "most it takes out; without limit if left out",
        "from": "hour of the day it may start, standard time",
        "to": "hour of the day it stops; the next morning if not after `from`",
    },
    model.Goals: {
        "heating_kwh": "most heat from the heater in a year [kWh]",
        "hours_above_26_c": "most hours above 26 degC in the warmest zone lived in",
    },
}


def design_file_markdown() -> str:
    """Return the page that describes every key of a design file."""
    return _HEAD + "".join(_section(part, title) for part, title in SECTIONS.items())


def _section(part: type[Part], title: str) -> str:
    heading = f"`{title}`" if title.startswith("[") else title
    rows = []
    for name, field in part.model_fields.items():
        key = field.alias or name
        cells = [f"`{key}`", _kind(field), _default(field), _limits(field), MEANINGS[part][key]]
        rows.append("| " + " | ".join(cells) + " |")
    table = ["| key | value | default | limits | meaning |", "|---|---|---|---|---|", *rows]
    about = cleandoc(part.__doc__ or "")
    return f"\n## {heading}\n\n{about}\n\n" + "\n".join(table) + "\n"


def _kind(field: FieldInfo) -> str:
    pieces = [p for p in parts_of(field) if p not in (None, types.NoneType, Union, types.UnionType)]
    many = "list of " if list in pieces else "tables of " if dict in pieces else ""
    if kind := measure_of(field):
        return f"{many}{kind.replace('_', ' ')}, such as `{EXAMPLES[kind][-1]}`"
    for item in pieces:
        if get_origin(item) is Literal:
            return many + " or ".join(_toml(value) for value in get_args(item))
        if item in SECTIONS:
            return f"{many}`{SECTIONS[item].partition(',')[0]}`"
    if day_of_year in pieces:
        return "day of the year, such as `5-15`"
    plain = {bool: "true or false", int: "whole number", float: "number", str: "text"}
    return many + next(word for item, word in plain.items() if item in pieces)


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "needed"
    value = field.default
    if value is None or value in ([], {}):
        return "none"
    if isinstance(value, Part):
        return "as below"
    kind = measure_of(field)
    if kind is None or kind in ("ratio", "pitch"):
        return _toml(value)
    return f'`"{write(value, kind, "metric", digits=_digits(value))}"`'


def _digits(value: float) -> int:
    """Return how many digits after the point a default needs."""
    return len(f"{value:g}".partition(".")[2])


def _toml(value: object) -> str:
    if isinstance(value, str):
        return f'`"{value}"`'
    if isinstance(value, list):
        return f"`{json.dumps(value)}`"
    return f"`{value:g}`" if isinstance(value, float) else f"`{str(value).lower()}`"


_LOW = (annotated_types.Gt, annotated_types.Ge, annotated_types.MinLen)
_HIGH = (annotated_types.Lt, annotated_types.Le, annotated_types.MaxLen)
_WORDS: Mapping[type, str] = dict(
    zip(
        (*_LOW, *_HIGH),
        ("more than", "at least", "at least", "less than", "at most", "at most"),
        strict=True,
    )
)


def _limits(field: FieldInfo) -> str:
    """Return the narrowest limits; "more than" before "at least" where both are the same."""
    pieces = parts_of(field)
    low = [(_limit(item), item) for item in pieces if isinstance(item, _LOW)]
    high = [(_limit(item), item) for item in pieces if isinstance(item, _HIGH)]
    found: list[tuple[float, Any]] = []
    if low:
        found.append(max(low, key=lambda pair: (pair[0], isinstance(pair[1], annotated_types.Gt))))
    if high:
        found.append(
            min(high, key=lambda pair: (pair[0], not isinstance(pair[1], annotated_types.Lt)))
        )
    return ", ".join(f"{_WORDS[type(item)]} {_figure(limit, field)}" for limit, item in found)


def _limit(item: Any) -> float:
    """Return the one number a limit holds."""
    value = getattr(item, item.__slots__[0])
    return float(value)


def _figure(limit: float, field: FieldInfo) -> str:
    kind = measure_of(field)
    if kind is None or kind in ("ratio", "pitch"):
        return f"{limit:g}"
    return write(limit, kind, "metric", digits=_digits(limit))


def main(words: list[str]) -> None:
    """Write the page to the file named."""
    (name,) = words
    Path(name).write_text(design_file_markdown(), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
