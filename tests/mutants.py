"""Spoils a design file on purpose, in its values and in its text; same seed, same mutants."""

from __future__ import annotations

import copy
import datetime
import random
import tomllib
from collections.abc import Callable, Iterator
from importlib.resources import files
from typing import Any

import tomlkit

from noonmark import catalog

Data = dict[str, Any]
Place = tuple[str | int, ...]
Chance = random.Random

SAMPLE = files("noonmark.design").joinpath("data/larkspur.toml").read_text("utf-8")

FACTORS = (0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 1.05, 1.1, 1.25, 1.5, 2.0, 3.0)
UNITS = ("m", "ft", "in", "mm", "cm", "C", "F", "K", "W", "kW", "Btu/h", "ach", "cfm", "l/s", "deg")
NUMBERS: tuple[float, ...] = (
    0, -1, 1, 2, 3, 0.5, -0.0, 1e-9, 1e-4, 1e-320, 0.01, 10, 90, 100, 360, 1e3, 1e6, 1e9, 1e300,
    -1e300, 10**30, float("nan"), float("inf"), float("-inf"), 2**63,
)  # fmt: skip
WORDS = (
    "", " ", "-", "0", "x" * 5000, "ü" * 61, "٣ m", "4 foot long", "1e400 m", "1/0 m", "0/1 in",
    "-3 ft", "R-40", "R-0", "U-0.28", "5 kg", "2,1 m", "nan", "inf m", "\x00", "\x07\x1b[31m", "\n",
    '"', "{read}", "{}", "%s", "../..", "/etc", "\u202e\u2066", "🏠", "house", "rooms", "wall",
    "sunny", "back", "__class__", "12/12", "1000 deg", "90 deg", "-460 F", "1e-300 m",
)  # fmt: skip
TYPES: tuple[Any, ...] = (
    True, False, [], [1, 2], [[]], {}, {"a": 1}, [{}], [{"a": {}}], ["x"], datetime.date(2022, 1,
    1),
    datetime.datetime(2022, 1, 1, 12, tzinfo=datetime.UTC), datetime.time(12), list(range(200)),
)  # fmt: skip
SIDES = ("sunny", "left", "back", "right")


def sample() -> Data:
    return tomllib.loads(SAMPLE)


def leaves(node: Any, place: Place = ()) -> Iterator[Place]:
    """Yield the place of every single value."""
    items = node.items() if isinstance(node, dict) else enumerate(node)
    for key, value in items:
        if isinstance(value, dict | list) and value:
            yield from leaves(value, (*place, key))
        else:
            yield (*place, key)


def tables(node: Any, place: Place = ()) -> Iterator[Place]:
    """Yield the place of every table and list."""
    if isinstance(node, dict | list):
        yield place
        for key, value in node.items() if isinstance(node, dict) else enumerate(node):
            yield from tables(value, (*place, key))


def at(data: Data, place: Place) -> Any:
    node: Any = data
    for word in place:
        node = node[word]
    return node


def put(data: Data, place: Place, value: Any) -> None:
    at(data, place[:-1])[place[-1]] = value


def some_leaf(chance: Chance, data: Data) -> Place:
    return chance.choice(list(leaves(data)))


def vary(chance: Chance, table: Data, share: float, options: dict[str, list[Any]]) -> None:
    """Set some of the keys, each with probability `share`, to one of their options."""
    for key, values in options.items():
        if chance.random() < share:
            table[key] = chance.choice(values)


# --- one value ----------------------------------------------------------------------------------


def rescale(chance: Chance, data: Data) -> None:
    """Make one measure somewhat larger or smaller."""
    measures = [place for place in leaves(data) if _measure(at(data, place)) is not None]
    place = chance.choice(measures)
    number, unit = _measure(at(data, place)) or (0.0, "")
    new = float(f"{number * chance.choice(FACTORS):.6g}")
    put(data, place, f"{new} {unit}" if unit else new)


def _measure(value: Any) -> tuple[float, str] | None:
    if isinstance(value, bool | dict | list):
        return None
    if isinstance(value, int | float):
        return float(value), ""
    number, _, unit = str(value).partition(" ")
    try:
        return float(number), unit.split(" ")[0]
    except ValueError:
        return None


def other_unit(chance: Chance, data: Data) -> None:
    put(data, some_leaf(chance, data), f"{chance.choice(NUMBERS[2:20])} {chance.choice(UNITS)}")


def odd_number(chance: Chance, data: Data) -> None:
    put(data, some_leaf(chance, data), chance.choice(NUMBERS))


def odd_word(chance: Chance, data: Data) -> None:
    put(data, some_leaf(chance, data), chance.choice(WORDS))


def odd_type(chance: Chance, data: Data) -> None:
    put(data, some_leaf(chance, data), copy.deepcopy(chance.choice(TYPES)))


def table_for_value(chance: Chance, data: Data) -> None:
    places = [place for place in tables(data) if place]
    put(data, chance.choice(places), chance.choice([*WORDS, *NUMBERS, *copy.deepcopy(TYPES)]))


def swap(chance: Chance, data: Data) -> None:
    one, two = some_leaf(chance, data), some_leaf(chance, data)
    first, second = at(data, one), at(data, two)
    put(data, one, second)
    put(data, two, first)


def remove(chance: Chance, data: Data) -> None:
    places = [*leaves(data), *(place for place in tables(data) if place)]
    place = chance.choice(places)
    del at(data, place[:-1])[place[-1]]


def rename(chance: Chance, data: Data) -> None:
    keyed = [place for place in leaves(data) if isinstance(place[-1], str)]
    keyed += [place for place in tables(data) if place and isinstance(place[-1], str)]
    place = chance.choice(keyed)
    table = at(data, place[:-1])
    word = str(place[-1])
    new = chance.choice(
        [word[:-1], word + "s", word.upper(), "ü", "", "a.b", 'q"', "x" * 300, "kind"]
    )
    table[new] = table.pop(word)


def repeat(chance: Chance, data: Data) -> None:
    lists = [place for place in tables(data) if place and isinstance(at(data, place), list)]
    node = at(data, chance.choice(lists))
    if node:
        node += [copy.deepcopy(chance.choice(node)) for _ in range(chance.choice([1, 1, 2, 30]))]


# --- the building -------------------------------------------------------------------------------


def other_name(chance: Chance, data: Data) -> None:
    """Take another name of the catalogue, rightly or wrongly."""
    names = {
        "material": list(catalog.table(catalog.Material)),
        "glazing": list(catalog.table(catalog.ReadyGlazing)),
        "frame": list(catalog.table(catalog.Frame)),
        "soil": list(catalog.table(catalog.Soil)),
        "fuel": list(catalog.table(catalog.Fuel)),
    }
    key = chance.choice(list(names))
    places = [place for place in leaves(data) if place[-1] == key]
    if places:
        put(data, chance.choice(places), chance.choice([*names[key], "no such thing"]))


def share(chance: Chance, data: Data) -> None:
    value = chance.choice([0.0, 1e-12, 0.01, 0.5, 0.99, 1.0, "0 %", "100 %", "101 %", "-1 %"])
    table, key = chance.choice(
        [
            (("house",), "wall_absorptance"),
            (("house", "roof"), "absorptance"),
            (("house", "floor"), "absorptance"),
            (("house", "floor"), "carpet"),
            (("house", "air"), "recovery"),
            (("place",), "ground_albedo"),
            (("house", "heating"), "efficiency"),
        ]
    )
    at(data, table)[key] = value


def extreme_layers(chance: Chance, data: Data) -> None:
    construction = chance.choice(list(data["construction"].values()))
    layers = construction["layers"]
    layer: Data = {
        "material": chance.choice(list(catalog.table(catalog.Material))),
        "thickness": chance.choice([1e-9, 1e-4, 1e-3, 0.1, 0.5, 1.0, 5.0]),
    }
    if chance.random() < 0.2:
        layer |= {"studs": "steel sheet", "stud_fraction": chance.choice([1e-9, 0.2, 0.99])}
    if chance.random() < 0.3:
        layer = {"resistance": chance.choice([1e-12, 1e-3, 0.2, 10.0, 50.0, "R-40"])}
    deed = chance.randrange(4)
    if deed == 0:
        construction["layers"] = [layer]
    elif deed == 1:
        construction["layers"] = [
            copy.deepcopy(layer) for _ in range(chance.choice([2, 10, 20, 21]))
        ]
    elif deed == 2:
        layers.insert(chance.randrange(len(layers) + 1), layer)
    else:
        layers[chance.randrange(len(layers))] = layer


def second_zone(chance: Chance, data: Data) -> None:
    house = data["house"]
    size = {"length": chance.choice(["12.5 m", 6, 3, 1, 0.1]), "width": chance.choice([2.5, 8, 1])}
    house["zone"]["sun room"] = {**size, "height": chance.choice(["9 ft", 2.4, 3.5, 1.6])}
    if chance.random() < 0.8:
        wall: Data = {"side": chance.choice(SIDES), "next_to": "sun room"}
        if chance.random() < 0.3:
            wall |= {"length": chance.choice([0.1, 2, "12.5 m", 100])}
        if chance.random() < 0.1:
            wall["zone"] = chance.choice(["rooms", "sun room", "nowhere"])
        house["wall"] = [*house.get("wall", []), wall]
    if chance.random() < 0.5:
        window = copy.deepcopy(house["window"][0])
        window |= {"zone": "sun room", "count": 1, "side": chance.choice(SIDES)}
        house["window"].append(window)


def third_zone(chance: Chance, data: Data) -> None:
    for number in range(chance.choice([1, 2, 5])):
        data["house"]["zone"][f"z{number}"] = {"length": 3, "width": 3, "height": 2.5}


def turned_wall(chance: Chance, data: Data) -> None:
    house = data["house"]
    wall: Data = {
        "azimuth": chance.choice([0, 45, 135.5, 225, 359.999, 360]),
        "length": chance.choice([0.01, 1, 4, "20 ft", 200]),
        "name": chance.choice(["bay", "sunny", "wall", ""]),
    }
    vary(
        chance,
        wall,
        0.25,
        {
            "height": [0.01, 2.5, 12],
            "construction": ["wall", "slab", "ceiling"],
            "absorptance": [0.0, 1.0],
            "side": ["sunny"],
        },
    )
    house["wall"] = [*house.get("wall", []), wall]
    if chance.random() < 0.6:
        window = copy.deepcopy(chance.choice(house["window"]))
        window.pop("side", None)
        window |= {"wall": wall["name"], "count": 1}
        house["window"].append(window)


def side_wall(chance: Chance, data: Data) -> None:
    wall: Data = {"side": chance.choice(SIDES)}
    vary(
        chance,
        wall,
        0.4,
        {
            "length": [0.001, 5, "12.5 m", 200],
            "height": [0.1, 1, 2.5, 12],
            "construction": ["slab", "ceiling", "nothing"],
            "absorptance": [0.0, 1.0],
            "name": ["back", "left", "x"],
        },
    )
    data["house"]["wall"] = [*data["house"].get("wall", []), wall]


def window_sizes(chance: Chance, data: Data) -> None:
    window = chance.choice(data["house"]["window"])
    vary(
        chance,
        window,
        0.3,
        {
            "count": [1, 2, 4, 0, 0.5, 1.5, 50, 51, 1e-9],
            "width": [0.02, 0.1, 0.11, 0.3, 1.0, 4.0, 12.49, 12.5],
            "sill": [0.0, 0.3, 1.9, 2.18, "7 ft 2 in"],
            "head": [0.1, 1.0, 2.0, 2.4, 2.48, 2.5],
            "casements": [1, 2, 6, 7, 1.5],
            "frame": list(catalog.table(catalog.Frame)),
        },
    )


def no_windows(chance: Chance, data: Data) -> None:
    data["house"]["window"] = data["house"]["window"][: chance.choice([0, 0, 1])]


def own_glazing(chance: Chance, data: Data) -> None:
    if chance.random() < 0.5:
        unit: Data = {
            "panes": chance.choice([1, 2, 3, 4]),
            "u_value": chance.choice([0.01, 0.3, 1.1, 2.8, 5.7, 5.9, 10]),
            "shgc": chance.choice([0.0, 0.1, 0.5, 0.9, 1.0]),
            "transmittance": chance.choice([0.0, 0.05, 0.4, 0.8, 1.0]),
        }
    else:
        panes = chance.choice([1, 2, 3, 4, 5])
        unit = {
            "panes": panes,
            "gaps": [chance.choice(["16 mm", 0.001, 0.1, 1e-6, 5])]
            * chance.choice([panes - 1, 1, 0]),
            "gas": chance.choice(["air", "argon", "krypton", "helium"]),
            "gas_share": chance.choice([0.0, 0.9, 1.0]),
            "pane": chance.choice(["clear 3 mm", "clear 6 mm", "low-iron 4 mm", "window glass"]),
        }
    data["glazing"] = {"mine": unit}
    chance.choice(data["house"]["window"])["glazing"] = "mine"


def elsewhere(chance: Chance, data: Data) -> None:
    data["place"] |= chance.choice(
        [
            {"latitude": -39.7},
            {"latitude": chance.choice([90, -90, 0, 66.6, 89.999])},
            {"longitude": 105.18},
            {"longitude": chance.choice([180, -180, 0])},
            {
                "time_zone": chance.choice(
                    ["Europe/Berlin", "UTC", "", "../etc", "Mars/Base", "America"]
                )
            },
            {"altitude": chance.choice([-430, 0, 6000, "20000 ft"])},
            {"terrain": chance.choice(["open", "suburban", "city"])},
            {"latitude": -33.9, "longitude": 151.2, "time_zone": "Australia/Sydney", "altitude": 3},
            {"latitude": 69.6, "longitude": 18.9, "time_zone": "Europe/Oslo", "altitude": "10 m"},
        ]
    )


def other_climate(chance: Chance, data: Data) -> None:
    data["climate"] = chance.choice(
        [
            {"year": "Golden"}, {"file": "none.csv"}, {"file": ""}, {"file": "."},
            {"file": "/dev/null"},
            {"file": "\x00"}, {"file": "x" * 300}, {}, {"year": ""}, {"file": "design.toml"},
            {"year": "../golden"}, {"file": "~"},
        ]
    )  # fmt: skip


def turn(chance: Chance, data: Data) -> None:
    data["house"]["faces"] = chance.choice([0, 90, 135, 170, 200, 225, 270, 360, 361, "200 deg"])


def eave_and_roof(chance: Chance, data: Data) -> None:
    house = data["house"]
    if chance.random() < 0.4:
        house["eave"].pop("soffit_height", None)
        house["roof"]["heel"] = chance.choice([0, 0.1, 0.2, 0.3, 0.5, 1.0, 3.0])
    vary(
        chance,
        house["eave"],
        0.3,
        {
            "projection": [0, 1e-9, 0.05, 0.3, 1.0, 2.0, 4.0],
            "soffit_height": [0.01, 2.2, 2.4, 2.6, 3.0, 6.0, 15.0],
            "ends": [0, 1e-9, 2.0, 5.0],
        },
    )
    vary(
        chance,
        house["roof"],
        0.2,
        {
            "pitch": [0, "0/12", "1/12", "12/12", 3.0, "45 deg"],
            "chord_depth": [0.01, 0.2, 1.0, 5.0],
            "header_depth": [0, 0.1, 0.5, 2.0, 30],
        },
    )


def zone_sizes(chance: Chance, data: Data) -> None:
    zone = data["house"]["zone"]["rooms"]
    vary(
        chance,
        zone,
        0.3,
        {
            "length": [0.01, 0.5, 2, 10, 12, 15, 20, 200],
            "width": [0.01, 0.5, 2, 5, 9, 12, 20, 200],
            "height": [1.51, 2.5, 3.0, 5.0, 12],
            "furniture": [0, 1.0, 5e5, 20_000],
        },
    )


def air_and_use(chance: Chance, data: Data) -> None:
    house = data["house"]
    vary(
        chance,
        house["air"],
        0.3,
        {
            "leakage": [1e-9, 0.1, 3, "10 ach", 50],
            "ventilation": [0, "1 cfm", 10, "25 l/s"],
            "recovery": [0, 0.95, 0.96],
            "open_above": [-60, 0, 18, 24, 60],
            "open_air_changes": [0, 1e-9, 1, 50],
            "shelter": ["open", "light", "moderate", "heavy", "complete", "none"],
            "storeys": [1, 2, 3, 4],
        },
    )
    if chance.random() < 0.4:
        house["use"] = chance.choice(
            [{}, {"people": 0, "appliances": 0}, {"people": 200}, {"appliances": 1e6}]
        )


def plant(chance: Chance, data: Data) -> None:
    house = data["house"]
    deed = chance.randrange(5)
    if deed == 0:
        house.pop("heating", None)
    elif deed == 1:
        house["cooling"] = {"setpoint": chance.choice([-60, 10, 20, 24, 26, 60])}
    elif deed == 2:
        house["cooling"] = {"setpoint": 20, "capacity": chance.choice([0, 1, "5 kW", 1e6])}
    elif deed == 3:
        house["heating"]["capacity"] = chance.choice([0, 1e-9, 1, "2 kW", 1e6])
    else:
        house["heating"]["setpoint"] = chance.choice([-60, 0, 16, 22, 30, 60])
    if chance.random() < 0.2:
        house["goals"] = {
            "heating_kwh": chance.choice([0, 1e9]),
            "hours_above_26_c": chance.choice([0, 9000]),
        }


def floor_and_edge(chance: Chance, data: Data) -> None:
    floor = data["house"]["floor"]
    if chance.random() < 0.2:
        floor.pop("edge")
    else:
        floor["edge"] |= chance.choice(
            [
                {"placing": "horizontal"}, {"placing": "diagonal"}, {"extent": 1e-9},
                {"extent": 200},
                {"thickness": 1e-9}, {"thickness": 5}, {"material": "steel sheet"},
            ]
        )  # fmt: skip
    floor["carpet_resistance"] = chance.choice([1e-9, 0.2, 50, "R-1"])
    floor["carpet"] = chance.choice([0, 0.5, 1, 1e-12])


def second_building(chance: Chance, data: Data) -> None:
    name = chance.choice(["shed", "hen house", "ü", "a.b", "", "..", "/", "x" * 200, "2"])
    data[name] = copy.deepcopy(data["house"])


def far_away(chance: Chance, data: Data) -> None:
    data["units"] = chance.choice(["us", "metric", "imperial", 1])
    data["title"] = chance.choice(["", "x" * 120, "x" * 121, "<b>&", "{title}"])


VALUE_MUTATIONS: list[tuple[Callable[[Chance, Data], None], int]] = [
    (rescale, 8), (other_unit, 2), (odd_number, 3), (odd_word, 3), (odd_type, 2), (swap, 2),
    (table_for_value, 1), (remove, 2), (rename, 2), (repeat, 2), (other_name, 5), (share, 4),
    (extreme_layers, 5), (second_zone, 4), (third_zone, 1), (turned_wall, 4), (side_wall, 3),
    (window_sizes, 4), (no_windows, 1), (own_glazing, 4), (elsewhere, 2), (other_climate, 1),
    (turn, 2),
    (eave_and_roof, 3), (zone_sizes, 4), (air_and_use, 4), (plant, 4), (floor_and_edge, 3),
    (second_building, 1), (far_away, 1),
]  # fmt: skip


def spoiled_values(chance: Chance) -> str:
    """Return the sample with one to three values or parts of it changed."""
    deeds, weights = zip(*VALUE_MUTATIONS, strict=True)
    data = sample()
    for deed in chance.choices(deeds, weights, k=chance.choice([1, 1, 1, 2, 3])):
        try:
            deed(chance, data)
        except (KeyError, TypeError, IndexError, AttributeError, ValueError):
            continue  # an earlier change took away what this one works on
    return tomlkit.dumps(data)
