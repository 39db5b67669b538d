"""Each rule of a design fires on a case of its own, and stays still on a near one."""

from __future__ import annotations

import pytest

from designs import Edit, drop, put, refused, sample_text, together

WALL = {"azimuth": 45, "length": 4, "name": "bay"}
SUN_ROOM = put("house.zone.sun room", {"length": "12.5 m", "width": 2.5, "height": "9 ft"})
LAYERS = "construction.wall.layers"
HIGH_HEAD = together(put("house.roof.header_depth", 0.1), put("house.window.0.head", "8 ft 8 in"))
CANTILEVER = put("house.roof.truss", "cantilever")
SHEATHED = put("house.roof.measured_from", "sheathing")
MINE = put("house.window.0.glazing", "mine")


def walls(*entries: dict[str, object]) -> Edit:
    return put("house.wall", list(entries))


def mine(**unit: object) -> Edit:
    return together(put("glazing", {"mine": unit}), MINE)


def outer_layer(changes: dict[str, object]) -> Edit:
    """Return an edit of the board outside the sheathing."""
    return together(*(put(f"{LAYERS}.3.{key}", value) for key, value in changes.items()))


def two_rooms(**wall: object) -> Edit:
    """Return an edit that puts a sun room behind the left wall, which loses its window."""
    partition = {"side": "left", "next_to": "sun room", **wall}
    return together(SUN_ROOM, walls(partition), drop("house.window.2"))


def inner(**more: object) -> Edit:
    """Return an edit that moves the first window into the wall between two rooms."""
    only = together(put("house.window.0.wall", "inner"), put("house.window.0.count", 1))
    extra = [put(f"house.window.0.{key}", value) for key, value in more.items()]
    return together(only, drop("house.window.0.side"), *extra)


def also_wall(entry: dict[str, object]) -> Edit:
    return lambda data: data["house"]["wall"].append(entry)


NO_EDGE = drop("house.floor.edge")
HEMP = {"conductivity": 0.07, "density": 330, "specific_heat": 1500}
NIGHT = {"from": 22, "to": 6, "setpoint": "16 C"}
ONE = put("house.window.0.count", 1)
MAKERS: dict[str, object] = {"u_value": 1.1, "shgc": 0.6, "transmittance": 0.5}

CASES: list[tuple[str, str, Edit, Edit]] = [
    (
        "place.unknown_zone",
        "place.time_zone",
        put("place.time_zone", "America/Dever"),
        put("place.time_zone", "America/Boise"),
    ),
    (
        "place.longitude_sign",
        "place.longitude",
        put("place.longitude", 105.18),
        put("place.longitude", -100.0),
    ),
    (
        "place.longitude_clock",
        "place.longitude",
        put("place.longitude", 10.0),
        put("place.longitude", -90.0),
    ),
    (
        "catalog.unknown",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0.material", "plasterbord"),
        put(f"{LAYERS}.0.material", "clay plaster"),
    ),
    (
        "catalog.unknown",
        "construction.wall.layers.2",
        put(f"{LAYERS}.1.studs", "soft wood"),
        put(f"{LAYERS}.1.studs", "hardwood"),
    ),
    (
        "design.layer_half",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0", {"material": "osb", "thickness": 0.01, "resistance": 1}),
        put(f"{LAYERS}.0", {"resistance": 1}),
    ),
    (
        "design.layer_half",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0", {}),
        put(f"{LAYERS}.0", {"material": "osb", "thickness": 0.01}),
    ),
    (
        "design.layer_thickness",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0", {"material": "osb"}),
        put(f"{LAYERS}.0", {"material": "osb", "thickness": "1 in"}),
    ),
    (
        "design.layer_thin",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0.thickness", "0.09 mm"),
        put(f"{LAYERS}.0.thickness", "0.1 mm"),
    ),
    (
        "design.layer_resists",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0", {"resistance": 0.0009}),
        put(f"{LAYERS}.0", {"resistance": 0.001}),
    ),
    (
        "design.layer_studs",
        "construction.wall.layers.2",
        drop(f"{LAYERS}.1.stud_fraction"),
        together(drop(f"{LAYERS}.1.stud_fraction"), drop(f"{LAYERS}.1.studs")),
    ),
    (
        "design.glazing_half",
        "glazing.mine",
        mine(panes=2, u_value=1.1, shgc=0.6),
        mine(panes=2, **MAKERS),
    ),
    (
        "design.glazing_half",
        "glazing.mine",
        mine(panes=2, gaps=[0.016], **MAKERS),
        mine(panes=2, gaps=[0.016]),
    ),
    (
        "design.glazing_gaps",
        "glazing.mine",
        mine(panes=3, gaps=[0.016]),
        mine(panes=3, gaps=[0.016, 0.016]),
    ),
    (
        "design.glazing_half",
        "glazing.mine",
        mine(panes=2, gaps=[0.016], resistance=0.2),
        mine(panes=2, resistance=0.2),
    ),
    (
        "design.glazing_half",
        "glazing.mine",
        mine(panes=1, resistance=0.2, **MAKERS),
        mine(panes=1),
    ),
    (
        "design.glazing_resistance",
        "glazing.mine",
        mine(panes=1, resistance=0.2),
        mine(panes=2, resistance=0.2),
    ),
    (
        # three panes of 4 mm at 1 W/mK
        "design.glazing_resistance",
        "glazing.mine",
        mine(panes=3, resistance=0.012),
        mine(panes=3, resistance=0.013),
    ),
    (
        "catalog.unknown",
        "construction.wall.layers.1",
        put(f"{LAYERS}.0.material", "hemp lime"),
        together(put("material", {"hemp lime": HEMP}), put(f"{LAYERS}.0.material", "hemp lime")),
    ),
    (
        "design.not_above",
        "material.hemp lime.conductivity",
        put("material", {"hemp lime": {**HEMP, "conductivity": 0}}),
        put("material", {"hemp lime": {**HEMP, "density": 0}}),
    ),
    (
        "design.no_construction",
        "house.zone.rooms.floor_construction",
        put("house.zone.rooms.floor_construction", "raft"),
        put("house.zone.rooms.floor_construction", "slab"),
    ),
    (
        "design.flat_roof",
        "house.roof.pitch",
        put("house.roof.attic", False),
        together(put("house.roof.attic", False), put("house.roof.pitch", 0)),
    ),
    (
        # the wall is 28.42 cm thick
        "design.eave_ends",
        "house.eave.ends",
        put("house.eave.ends", "-28.5 cm"),
        put("house.eave.ends", "-28.4 cm"),
    ),
    (
        "design.not_one_of",
        "house.eave.sides.1",
        put("house.eave.sides", ["left"]),
        put("house.eave.sides", ["back"]),
    ),
    (
        "design.setback_above",
        "house.heating.setback.1.setpoint",
        put("house.heating.setback", [{**NIGHT, "setpoint": "20 C"}]),
        put("house.heating.setback", [NIGHT]),
    ),
    (
        "design.no_hours",
        "house.heating.setback.1",
        put("house.heating.setback", [{**NIGHT, "to": 22}]),
        put("house.heating.setback", [{**NIGHT, "from": 0, "to": 24}]),
    ),
    (
        "design.no_hours",
        "house.air.fan",
        put("house.air.fan", {"airflow": "100 cfm", "from": 24, "to": 0}),
        put("house.air.fan", {"airflow": "100 cfm", "from": 22, "to": 0}),
    ),
    (
        "design.no_hours",
        "house.cooling",
        put("house.cooling", {"from": 7, "to": 7}),
        put("house.cooling", {"from": 7, "to": 8}),
    ),
    (
        "design.above",
        "house.air.fan.to",
        put("house.air.fan", {"airflow": "100 cfm", "from": 22, "to": 25}),
        put("house.air.fan", {"airflow": "100 cfm", "from": 22, "to": 24}),
    ),
    (
        "design.missing",
        "house.air.fan.airflow",
        put("house.air.fan", {"from": 22, "to": 2}),
        put("house.air.fan", {"airflow": "100 cfm", "from": 22, "to": 2}),
    ),
    (
        "design.nowhere",
        "house.zone",
        put("house.zone.rooms.heated", False),
        together(two_rooms(), put("house.zone.sun room.heated", False)),
    ),
    (
        "design.nowhere",
        "house.zone",
        put("house.zone.rooms.lived_in", False),
        together(two_rooms(), put("house.zone.sun room.lived_in", False)),
    ),
    (
        "design.leakage_twice",
        "house.air.infiltration",
        put("house.air.infiltration", "0.5 ach"),
        together(put("house.air.infiltration", "0.5 ach"), drop("house.air.leakage")),
    ),
    (
        "design.below_months",
        "house.floor.below",
        together(NO_EDGE, put("house.floor.below", [10, 11])),
        together(NO_EDGE, put("house.floor.below", [10] * 12)),
    ),
    (
        "design.below_months",
        "house.floor.below",
        together(NO_EDGE, put("house.floor.below", [])),
        together(NO_EDGE, put("house.floor.below", "50 F")),
    ),
    (
        "units.unreadable",
        "house.floor.below.2",
        together(NO_EDGE, put("house.floor.below", ["10 C", "cold", *["10 C"] * 10])),
        together(NO_EDGE, put("house.floor.below", ["10 C"])),
    ),
    (
        "design.below_edge",
        "house.floor.edge",
        put("house.floor.below", "10 C"),
        together(NO_EDGE, put("house.floor.below", "10 C")),
    ),
    (
        # 100 m2, two people 140 W: 50 W/m2 are 5 kW
        "design.inner_gain",
        "house.use",
        put("house.use.steady", "4.7 kW"),
        put("house.use.steady", "4.5 kW"),
    ),
    (
        "design.no_construction",
        "house.roof.construction",
        put("house.roof.construction", "roof"),
        put("house.roof.construction", "wall"),
    ),
    (
        "design.no_construction",
        "house.wall.1.construction",
        walls({"side": "back", "construction": "brick"}),
        walls({"side": "back", "construction": "slab"}),
    ),
    (
        "catalog.unknown",
        "house.window.1.glazing",
        put("house.window.0.glazing", "double hi gain"),
        put("house.window.0.glazing", "triple clear"),
    ),
    (
        "catalog.unknown",
        "house.window.1.frame",
        put("house.window.0.frame", "bone"),
        put("units", "us"),
    ),
    (
        "design.no_zone",
        "house.window.1.zone",
        put("house.window.0.zone", "room"),
        put("house.window.0.zone", "rooms"),
    ),
    (
        "catalog.unknown",
        "house.floor.soil",
        put("house.floor.soil", "moss"),
        put("house.floor.soil", "rock"),
    ),
    (
        "catalog.unknown",
        "house.heating.fuel",
        put("house.heating.fuel", "coal dust"),
        drop("house.heating"),
    ),
    (
        "catalog.unknown",
        "house.floor.edge.material",
        put("house.floor.edge.material", "styro"),
        drop("house.floor.edge"),
    ),
    (
        "design.wall_side_or_azimuth",
        "house.wall.1",
        walls({**WALL, "side": "back"}),
        walls(WALL),
    ),
    (
        "design.wall_side_or_azimuth",
        "house.wall.1",
        walls({"length": 3}),
        walls({"azimuth": 10, "length": 3}),
    ),
    ("design.missing", "house.wall.1", walls({"azimuth": 45}), walls({"azimuth": 45, "length": 4})),
    (
        "design.no_zone",
        "house.wall.1",
        walls({"side": "back", "zone": "cellar"}),
        walls({"side": "back"}),
    ),
    ("design.no_zone", "house.wall.1", walls({"side": "back", "next_to": "cellar"}), two_rooms()),
    (
        "design.next_to_itself",
        "house.wall.1",
        walls({"side": "back", "next_to": "rooms"}),
        two_rooms(),
    ),
    (
        "design.partition_side",
        "house.wall.1",
        together(SUN_ROOM, walls({**WALL, "next_to": "sun room"})),
        two_rooms(),
    ),
    (
        "design.partition_zones",
        "house.wall.2",
        together(two_rooms(), also_wall({"zone": "sun room", "side": "right", "next_to": "rooms"})),
        together(two_rooms(), also_wall({"zone": "sun room", "side": "back"})),
    ),
    (
        "design.wall_twice",
        "house.wall.2",
        walls({"side": "back"}, {"side": "back"}),
        walls({"side": "back"}, {"side": "left"}),
    ),
    (
        "design.inner_gain",
        "house.use",
        put("house.use.appliances", "6 kW"),
        put("house.use.people", 40),
    ),
    (
        "design.window_side_or_wall",
        "house.window.1",
        drop("house.window.0.side"),
        put("house.window.0.side", "left"),
    ),
    (
        "design.count_not_whole",
        "house.window.1.count",
        put("house.window.0.count", 1.5),
        put("house.window.0.count", 2.0),
    ),
    (
        "design.head_below_sill",
        "house.window.1.head",
        put("house.window.0.head", "2 ft"),
        put("house.window.0.head", "4 ft"),
    ),
    (
        "design.opens_while_heating",
        "house.air.open_above",
        put("house.air.open_above", "20 C"),
        put("house.air.open_above", "20.5 C"),
    ),
    (
        "design.cools_while_heating",
        "house.cooling.setpoint",
        put("house.cooling", {"setpoint": "20 C"}),
        put("house.cooling", {"setpoint": "25 C"}),
    ),
    (
        "design.head_above_header",
        "house.window.1.head",
        put("house.window.0.head", "8 ft 3 in"),
        put("house.window.0.head", "8 ft 2 in"),
    ),
    (
        "design.windows_too_wide",
        "house.window",
        put("house.window.2.width", "27 ft"),
        put("house.window.2.width", "8 ft"),
    ),
    (
        "design.windows_too_wide",
        "house.window",
        put("house.window.0.count", 7),
        put("house.window.0.count", 6),
    ),
    (
        "design.window_nowhere",
        "house.window.1",
        together(drop("house.window.0.side"), put("house.window.0.wall", "bay")),
        together(
            walls(WALL),
            drop("house.window.0.side"),
            put("house.window.0.wall", "bay"),
            put("house.window.0.count", 1),
        ),
    ),
    (
        "design.soffit_below_head",
        "house.window.1.head",
        together(HIGH_HEAD, put("house.eave.soffit_height", "8 ft 6 in")),
        together(HIGH_HEAD, put("house.eave.soffit_height", "8 ft 9 in")),
    ),
    (
        "design.plate_above_soffit",
        "house.window.1.hood",
        put("house.window.0.hood", {"projection": 0.5, "gap": 0.6}),
        put("house.window.0.hood", {"projection": 0.5, "gap": 0.5}),
    ),
    (
        "design.plate_above_soffit",
        "house.window.1.fins",
        put("house.window.0.fins", {"projection": 0.5, "top": 0.6}),
        put("house.window.2.fins", {"projection": 0.5, "top": 0.6}),
    ),
    (
        "design.reveal_too_deep",
        "house.window.1.reveal",
        put("house.window.0.reveal", "12 in"),
        put("house.window.0.reveal", "11 in"),
    ),
    (
        "design.left_of_many",
        "house.window.1.left",
        together(put("house.window.0.left", 1), put("house.window.1.left", 9)),
        together(ONE, put("house.window.0.left", 1), put("house.window.1.left", 9)),
    ),
    (
        "design.left_for_some",
        "house.window",
        put("house.window.1.left", 9),
        put("house.window.2.left", 2),
    ),
    (
        "design.window_past_wall",
        "house.window",
        put("house.window.2.left", "7.1 m"),
        put("house.window.2.left", "7.0 m"),
    ),
    (
        "design.windows_overlap",
        "house.window",
        together(ONE, put("house.window.0.left", 1), put("house.window.1.left", 2)),
        together(ONE, put("house.window.0.left", 1), put("house.window.1.left", 3)),
    ),
    (
        "design.shade_inside",
        "house.window.1",
        together(two_rooms(name="inner"), inner(reveal="2 in")),
        together(two_rooms(name="inner"), inner()),
    ),
    (
        "design.window_nowhere",
        "house.window.1",
        together(two_rooms(), inner()),
        together(two_rooms(name="inner"), inner()),
    ),
    (
        "design.end_heel_of_tail",
        "house.roof.end_heel",
        put("house.roof.end_heel", 0.2),
        together(put("house.roof.end_heel", 0.2), CANTILEVER),
    ),
    (
        "design.soffit_off_plate",
        "house.eave.soffit_height",
        together(CANTILEVER, put("house.eave.soffit_height", "8 ft 11 in")),
        CANTILEVER,
    ),
    (
        "design.heel_and_end_heel",  # 8 in at the fascia, 30 in out at 6/12: 23 in over the wall
        "house.roof.heel",
        together(CANTILEVER, put("house.roof.end_heel", "8 in"), put("house.roof.heel", "22 in")),
        together(CANTILEVER, put("house.roof.end_heel", "8 in"), put("house.roof.heel", "23 in")),
    ),
    (
        "shape.end_heel_too_low",  # 0.14 m of chord at 6/12 is 6.16 in cut plumb
        "house.roof",
        together(CANTILEVER, put("house.roof.end_heel", "6 in")),
        together(CANTILEVER, put("house.roof.end_heel", "6 1/4 in")),
    ),
    (
        "shape.sloped_under_chord",
        "house.eave.soffit",
        together(CANTILEVER, put("house.eave.soffit", "sloped")),
        put("house.eave.soffit", "sloped"),
    ),
    (
        "design.soffit_below_head",  # 8 ft at the fascia, 15 in more at the wall
        "house.window.1.head",
        together(HIGH_HEAD, put("house.eave.soffit_height", "8 ft")),
        together(
            HIGH_HEAD,
            put("house.eave.soffit_height", "8 ft"),
            put("house.eave.soffit", "sloped"),
        ),
    ),
    (
        "shape.bearing_past_ridge",  # half of 8.568 m
        "house.roof.bearing",
        put("house.roof.bearing", 4.29),
        put("house.roof.bearing", 4.28),
    ),
    (
        "design.no_sheathing",
        "house.roof.measured_from",
        together(SHEATHED, put(f"{LAYERS}.2.material", "wood fibre board")),
        SHEATHED,
    ),
    (
        "design.no_sheathing",  # studs stand outside the board
        "house.roof.measured_from",
        together(SHEATHED, outer_layer({"studs": "softwood", "stud_fraction": 0.1})),
        together(SHEATHED, outer_layer({})),
    ),
    (
        "design.no_sheathing",  # 6.44 in of wall up to the board, 7 3/4 in outside it
        "house.roof.measured_from",
        together(SHEATHED, outer_layer({"thickness": "7 in"})),
        together(SHEATHED, outer_layer({"thickness": "5 1/2 in"})),
    ),
    (
        "design.finish_too_thick",  # the wall is 11.19 in
        "house.roof.finish",
        together(SHEATHED, put("house.roof.finish", "11 1/4 in")),
        together(SHEATHED, put("house.roof.finish", "3/4 in")),
    ),
    (
        "design.heel_and_soffit",
        "house.roof.heel",
        put("house.roof.heel", 0.6),
        together(put("house.roof.heel", 0.6), drop("house.eave.soffit_height")),
    ),
    ("design.no_heel", "house.roof.heel", drop("house.eave.soffit_height"), put("title", "")),
    (
        "shape.heel_too_low",
        "house.roof",
        together(put("house.roof.heel", 0.1), drop("house.eave.soffit_height")),
        together(put("house.roof.heel", 0.2), drop("house.eave.soffit_height")),
    ),
    (
        "shape.soffit_below_floor",
        "house.roof",
        together(
            put("house.roof.heel", 0.5),
            put("house.roof.pitch", "18/12"),
            put("house.eave.projection", 3),
            put("house.window", []),
            drop("house.eave.soffit_height"),
        ),
        together(
            put("house.roof.heel", 0.5),
            put("house.roof.pitch", "6/12"),
            put("house.eave.projection", 3),
            put("house.window", []),
            drop("house.eave.soffit_height"),
        ),
    ),
    (
        "design.schema",
        "schema",
        put("schema", 2),
        put("schema", 1),
    ),
    ("design.schema_missing", "schema", drop("schema"), put("schema", 1)),
    (
        "design.list_too_short",
        "construction.wall.layers",
        put(LAYERS, []),
        put(LAYERS, [{"resistance": 2}]),
    ),
    (
        "design.list_too_long",
        "construction.wall.layers",
        put(LAYERS, [{"resistance": 1}] * 21),
        put(LAYERS, [{"resistance": 1}] * 20),
    ),
    (
        "design.not_above",
        "house.window.1.width",
        put("house.window.0.width", 0),
        put("house.window.0.width", 1),
    ),
    ("design.below", "place.latitude", put("place.latitude", -91), put("place.latitude", -90)),
    ("design.above", "house.faces", put("house.faces", "360.5 deg"), put("house.faces", "360 deg")),
    ("design.above_bare", "house.faces", put("house.faces", 360.5), put("house.faces", 360)),
    (
        "design.not_below",
        "construction.wall.layers.2.stud_fraction",
        put(f"{LAYERS}.1.stud_fraction", 1),
        put(f"{LAYERS}.1.stud_fraction", 0.99),
    ),
    ("design.not_one_of", "units", put("units", "imperial"), put("units", "metric")),
    (
        "design.wrong_type",
        "house.window.1.escape",
        put("house.window.0.escape", [1]),
        put("units", "us"),
    ),
    ("design.missing", "house.faces", drop("house.faces"), put("house.faces", 170)),
    (
        "design.unknown_key",
        "house.eave.projectoin",
        put("house.eave.projectoin", 1),
        put("title", "x"),
    ),
    ("design.unknown_key", "plaice", put("plaice", {"latitude": 3}), put("title", "x")),
]


@pytest.mark.parametrize(
    ("code", "path", "wrong", "right"),
    CASES,
    ids=[f"{i} {c[0]} {c[1]}" for i, c in enumerate(CASES)],
)
def test_rule_fires_and_stays_still(code: str, path: str, wrong: Edit, right: Edit) -> None:
    assert [(p.code, p.path) for p in refused(sample_text(wrong))] == [(code, path)]
    assert refused(sample_text(right)) == []
