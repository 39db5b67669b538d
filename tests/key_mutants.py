"""Adds keys to a design that the sample leaves out, rightly or wrongly; same seed, same mutants."""

from __future__ import annotations

import copy
from collections.abc import Callable, Sequence
from typing import Any

import tomlkit

from mutants import VALUE_MUTATIONS, Chance, Data, sample, vary

HOURS = (0, 1, 6, 7, 12, 18, 22, 23, 24, 25, -1, 7.5, "18:00", True)


def clock(chance: Chance) -> Data:
    return {"from": chance.choice(HOURS), "to": chance.choice(HOURS)}


def own_material(chance: Chance, data: Data) -> None:
    name = chance.choice(["hemp", "eps", "concrete", ""])
    data["material"] = {
        name: {
            "conductivity": chance.choice([1e-9, 0.03, 2, 500, 501, 0, "0.28 Btu in/h ft2 F"]),
            "density": chance.choice([0, 1e-9, 30, 2300, 25_000, -1, "145 lb/ft3"]),
            "specific_heat": chance.choice([0, 1, 1000, 5000, 6000]),
        }
    }
    construction = chance.choice(list(data["construction"].values()))
    construction["layers"][0] = {"material": name, "thickness": chance.choice([1e-4, 0.1, 5])}


def glass_by_resistance(chance: Chance, data: Data) -> None:
    unit: Data = {"panes": chance.choice([1, 2, 2, 3, 4]), "resistance": 0.2}
    vary(
        chance,
        unit,
        0.4,
        {
            "resistance": [1e-9, 0.006, 0.0061, 0.198, 50, "R-1"],
            "pane": ["clear 3 mm", "low-iron 6 mm", "clear"],
            "pane_transmittance": [1e-9, 0.01, 0.5, 0.9, 0.91, 0.92, 1, 0],
            "gaps": [[0.016]],
        },
    )
    data["glazing"] = {"mine": unit}
    chance.choice(data["house"]["window"])["glazing"] = "mine"


def bare_windows(chance: Chance, data: Data) -> None:
    for window in data["house"]["window"]:
        if chance.random() < 0.6:
            window["frame"] = "none"


def zone_uses(chance: Chance, data: Data) -> None:
    house = data["house"]
    if chance.random() < 0.7:
        house["zone"]["sun room"] = {"length": "12.5 m", "width": 2.5, "height": "9 ft"}
        house["wall"] = [{"side": "back", "next_to": "sun room"}]
        house["window"] = house["window"][: chance.choice([0, 2, 3])]
    for zone in house["zone"].values():
        vary(
            chance,
            zone,
            0.4,
            {
                "heated": [True, False, False, "no", 0],
                "lived_in": [True, False, False, None],
                "wall_construction": ["slab", "ceiling", "brick"],
                "roof_construction": ["slab", "wall"],
                "floor_construction": ["wall", "ceiling", ""],
                "furniture": [0],
            },
        )


def flat_roof(chance: Chance, data: Data) -> None:
    house = data["house"]
    house["roof"] |= {"attic": chance.choice([False, True]), "pitch": chance.choice([0, 0, "6/12"])}
    if chance.random() < 0.6:
        house["eave"].pop("soffit_height", None)
    vary(
        chance,
        house["eave"],
        0.5,
        {
            "sides": [[], ["sunny"], ["back"], ["sunny", "sunny"], ["left"], "sunny"],
            "ends": [-0.1, "-28.4 cm", "-1 ft", -1, -1.1],
            "projection": [0, 1],
        },
    )


def floor_over(chance: Chance, data: Data) -> None:
    months = [chance.choice(["10 C", 5, "-3 C", 20]) for _ in range(12)]
    if chance.random() < 0.8:
        data["house"]["floor"].pop("edge", None)
    data["house"]["floor"]["below"] = chance.choice(
        ["10 C", -60, 60, 61, [10], [], [10, 10], months, [*months, 1], [[1]], {}, "cold", [1e300]]
    )


def air_by_the_clock(chance: Chance, data: Data) -> None:
    air = data["house"]["air"]
    if chance.random() < 0.7:
        air.pop("leakage", None)
        air["infiltration"] = chance.choice([1e-9, 0.5, 50, 0, "0.5 ach", "1 cfm"])
    if chance.random() < 0.7:
        flow = chance.choice([0, "1 cfm", "1703 m3/h", 10, 11])
        air["fan"] = {"airflow": flow, **clock(chance)}


def plant_by_the_clock(chance: Chance, data: Data) -> None:
    house = data["house"]
    back = {"setpoint": chance.choice([-60, 10, "16 C", 19.9, 20, 21]), **clock(chance)}
    vary(chance, back, 0.5, {"ramp": [0, 1, 5, 12, 13, -1, 0.5]})
    house["heating"]["setback"] = [copy.deepcopy(back)] * chance.choice([0, 1, 1, 2, 7])
    if chance.random() < 0.6:
        house["cooling"] = {"setpoint": chance.choice([26, 30]), **clock(chance)}


def heat_and_light(chance: Chance, data: Data) -> None:
    house = data["house"]
    vary(
        chance,
        house["use"],
        0.5,
        {"steady": [0, 200, "4.9 kW", 1e6, -1], "steady_radiant": [0, 0.6, 1, "60 %", 1.1]},
    )
    house["inside"] = {
        "films": chance.choice(["natural", "fixed", "still"]),
        "walls": chance.choice([0, 0.5, 1, 2]),
        "ceiling": chance.choice([0, 1]),
    }
    if chance.random() < 0.3:
        house["floor"]["absorptance"] = 0
    data["climate"]["albedo"] = chance.choice(["file", "place", "snow"])
    data["place"]["ground_albedo"] = chance.choice([0, 0.2, 1])


def covers(chance: Chance, data: Data) -> None:
    house = data["house"]
    cover = {} if chance.random() < 0.3 else clock(chance)
    vary(
        chance,
        cover,
        0.35,
        {
            "inside": [True, False, "yes"],
            "resistance": ["R-3", 0.5, 0, 1e-9, 50],
            "passes": [0, 0.1, "15 %", 1, 1.1],
            "absorbs": [0, 0.5, 1, -0.1],
            "sun_above": [0, "150 W/m2", 2000, -1],
            "colder_than": ["0 C", -60, 61],
            "warmer_than": ["24 C", 0, "75 F"],
            "months": [[1, 12], [], [13], [0], [6, 6], 6],
        },
    )
    house["cover"] = {"blind": cover}
    for window in house["window"]:
        if chance.random() < 0.6:
            window["cover"] = chance.choice(["blind", "blind", "blind", "shutter"])


def passages(chance: Chance, data: Data) -> None:
    zone_uses(chance, data)
    passage: Data = {"zones": ["rooms", "sun room"]}
    kinds: list[Data] = [
        {"width": "0.9 m", "height": chance.choice(["2 m", "3 m", 0])},
        {"kind": "fan", "airflow": chance.choice(["200 m3/h", 0, 10, 11])},
        {"kind": chance.choice(["fan", "opening", "door"])},
    ]
    passage |= chance.choice(kinds)
    vary(
        chance,
        passage,
        0.3,
        {
            "zones": [
                ["sun room", "rooms"],
                ["rooms", "rooms"],
                ["rooms"],
                ["rooms", "x"],
                "rooms",
            ],
            "difference": [0, "5 K", 50, -1],
            "below": ["24 C", -60, "x"],
            "from": [0, 8, 24],
            "to": [0, 17, 24],
            "months": [[1, 2, 3], []],
        },
    )
    data["house"]["passage"] = [copy.deepcopy(passage)] * chance.choice([1, 1, 2, 21])


def opened_windows(chance: Chance, data: Data) -> None:
    air = data["house"]["air"]
    if chance.random() < 0.8:
        air.pop("open_air_changes", None)
    vary(
        chance,
        air,
        0.6,
        {
            "open_area": ["1 m2", "10 ft2", 200, 201, 0, 1e-9],
            "open_height": ["1.2 m", 12, 0],
            "bypass_above": ["22 C", "24 C", 20, 60, -60],
        },
    )
    if chance.random() < 0.5:
        fan = {"airflow": 0.2, "above": chance.choice(["20 C", "22 C", 60, "warm"])}
        air["fan"] = {**fan, **clock(chance), "months": [6, 7, 8]}


def stove(chance: Chance, data: Data) -> None:
    heating = data["house"]["heating"]
    if chance.random() < 0.8:
        heating.pop("capacity", None)
    fire: Data = {"charge": chance.choice(["6 kg", "12 lb", 0, 1e-9, 200, 201])}
    vary(
        chance,
        fire,
        0.3,
        {
            "burns": [1, 5, 24, 25, 0, 2.5],
            "lowest": [0, "1 kW", 1e6],
            "radiant": [0, 1, 1.1],
            "zone": ["rooms", "sun room", ""],
            "from": [0, 6, 24],
            "to": [0, 22, 24],
        },
    )
    heating["stove"] = fire
    heating["fuel"] = chance.choice(["pine", "oak", "pellets", "electricity", "propane"])


def heated_floor(chance: Chance, data: Data) -> None:
    pipes: Data = {"power": chance.choice(["40 W/m2", 1e-9, 200, 201, 0])}
    vary(
        chance,
        pipes,
        0.4,
        {
            "layer": [1, 2, 3, 20, 21, 0],
            "setpoint": ["22 C", -60, 60],
            "band": ["0.5 K", 10, 1e-9, 0],
        },
    )
    data["house"]["floor"]["heating"] = pipes
    data["house"]["heating"]["capacity"] = chance.choice([0, "6 kW"])


def truss_and_trim(chance: Chance, data: Data) -> None:
    house = data["house"]
    if chance.random() < 0.5:
        house["eave"].pop("soffit_height", None)
    vary(
        chance,
        house["roof"],
        0.4,
        {
            "truss": ["cantilever", "cantilever", "tail", "scissor", 1],
            "heel": [0, "20 in", 3],
            "end_heel": [0, "8 in", 3, 3.1],
            "bearing": [0, "10 in", 4.2, 5, -1],
            "measured_from": ["sheathing", "finish", "siding"],
            "finish": [0, "3/4 in", 1, 1.1],
        },
    )
    vary(
        chance,
        house["eave"],
        0.4,
        {
            "soffit": ["level", "sloped", "boxed"],
            "fascia_drop": [0, "2 in", 1, 1.1],
            "gutter": [{}, {"width": 0.6, "depth": 0.6, "drop": 0.6}, {"width": 0}, 1, []],
        },
    )


SEASON: dict[str, list[Any]] = {
    "put_up": ["5-15", "11-1", "02-29", "13-1", 5, ""],
    "take_down": ["9-1", "3-15", "9-31", None],
}
DEGREES = (0, 90, 180, 270, 360, 359.9, -1, 361, "south", "E")


def skyline(chance: Chance, data: Data) -> None:
    data["place"]["skyline"] = chance.choice(
        [[], [[0, 5]], [[180, 89.9]], [[180, 90]], [[0, 5], [90, 20], [270, -5]],
         [[90, 5], [90, 6]],
         [[350, 5], [10, 6], [200, 0]], [[200, 1], [100, 1], [150, 2]], [[0]], [[0, 1, 2]], 5, [[]],
         [[0, 60], [120, 60], [240, 60]], [["south", 5]], [[0, 5], [360, 5]]]
    )  # fmt: skip


def trees(chance: Chance, data: Data) -> None:
    tree: Data = {
        "azimuth": chance.choice(DEGREES), "distance": chance.choice([0, 0.1, "8 m", 2000, 2001]),
        "top": chance.choice(["9 m", 0.5, 300, -50]), "crown_bottom": "2 m", "crown_width": "5 m",
    }  # fmt: skip
    vary(
        chance,
        tree,
        0.3,
        {
            "crown_bottom": [0, -50, "9 m"],
            "crown_width": [1e-9, 200, 0],
            "bare": [0, 1, 1.1],
            "leafed": [0, 1, "20 %"],
            "leaf_months": [[], [1, 12], [13], [6, 6], 6],
            "name": ["oak", 5],
        },
    )
    data["house"]["tree"] = [copy.deepcopy(tree)] * chance.choice([1, 1, 3, 41])


def neighbours(chance: Chance, data: Data) -> None:
    block: Data = {
        "azimuth": chance.choice(DEGREES), "distance": chance.choice([0, 1, "10 m", 2000]),
        "width": chance.choice(["9 m", 1e-9, 2000, 0]), "depth": "9 m", "top": "6 m",
    }  # fmt: skip
    vary(
        chance,
        block,
        0.3,
        {
            "top": [-50, 0, 300, 301],
            "depth": [1e-9, 2000, -1],
            "ridge": ["8 m", "5 m", 300],
            "faces": [0, 180, 359.9, "north", 400],
            "passes": [0, 1, 0.5, -0.1],
        },
    )
    data["house"]["neighbour"] = [copy.deepcopy(block)] * chance.choice([1, 1, 2])


def canopies(chance: Chance, data: Data) -> None:
    part: Data = {
        "side": chance.choice(["sunny", "left", "back", "right", "front"]),
        "left": chance.choice([0, -20, 200, "2 m"]), "width": "3 m",
        "height": chance.choice([2, "2.4 m", 0, 30, "9 ft 6 in"]), "projection": "1 m",
    }  # fmt: skip
    vary(
        chance,
        part,
        0.25,
        {
            "wall": ["sunny", "bay"],
            "side": [None],
            "zone": ["rooms", "sun room"],
            "width": [1e-9, 200],
            "projection": [1e-9, 20, 0],
            "rise": [-10, 10, 0.2],
            "passes": [0, 1, 2],
            "leafed": [0, 0.3, 1],
            "leaf_months": [[], [5, 6]],
            "railing": [0, 1, 3],
            "railing_passes": [0, 1],
        },
    )
    data["house"]["canopy"] = [copy.deepcopy(part)] * chance.choice([1, 1, 2])


def awnings_and_slats(chance: Chance, data: Data) -> None:
    for window in data["house"]["window"]:
        if chance.random() < 0.5:
            cloth: Data = {"projection": chance.choice(["1 m", 1e-9, 6, 0])}
            vary(
                chance,
                cloth,
                0.3,
                {"drop": [0, 0.5, 6], "gap": [0, 0.2, 4], "left": [20], "right": [0.3], **SEASON},
            )
            window["awning"] = cloth
        if chance.random() < 0.5:
            boards: Data = {"depth": chance.choice(["4 in", 1e-9, 5]), "spacing": "3 in"}
            vary(
                chance,
                boards,
                0.3,
                {
                    "spacing": [1e-9, 5, 0],
                    "tilt": [-80, 80, 81, 45],
                    "upright": [True, True, "yes"],
                    "stand_off": [0, 2, -1],
                    "left": [0, 5],
                    "right": [5],
                    "top": [0, 5],
                    **SEASON,
                },
            )
            window["slats"] = boards


OUTDOORS: list[Callable[[Chance, Data], None]] = [
    skyline,
    trees,
    neighbours,
    canopies,
    awnings_and_slats,
]

KEYS: list[Callable[[Chance, Data], None]] = [
    own_material,
    glass_by_resistance,
    bare_windows,
    zone_uses,
    flat_roof,
    floor_over,
    air_by_the_clock,
    plant_by_the_clock,
    heat_and_light,
    covers,
    passages,
    opened_windows,
    stove,
    heated_floor,
    truss_and_trim,
    *OUTDOORS,
]


def added_keys(chance: Chance, keys: Sequence[Callable[[Chance, Data], None]] = KEYS) -> str:
    """Return the sample with one to four groups of keys added, and perhaps a value spoiled."""
    data = sample()
    deeds = chance.choices(keys, k=chance.choice([1, 1, 2, 4]))
    if chance.random() < 0.2:
        deeds.append(chance.choice([deed for deed, _ in VALUE_MUTATIONS]))
    for deed in deeds:
        try:
            deed(chance, data)
        except (KeyError, TypeError, IndexError, AttributeError, ValueError):
            continue  # an earlier change took away what this one works on
    return tomlkit.dumps(_without_none(data))


def _without_none(data: Data) -> Data:
    """Return the data without keys set to nothing, which TOML can not say."""

    def bare(value: Any) -> Any:
        if isinstance(value, dict):
            return _without_none(value)
        return [bare(item) for item in value] if isinstance(value, list) else value

    return {key: bare(value) for key, value in data.items() if value is not None}
