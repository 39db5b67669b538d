"""Every caution is said where it belongs, and only there."""

from __future__ import annotations

import pytest

from designs import Edit, design, drop, put, together
from noonmark.cards.speech import Speech, sentences
from noonmark.design.cautions import cautions
from noonmark.errors import Sentence

NO_ESCAPE = put("house.window.1.escape", False)
CANTILEVER = put("house.roof.truss", "cantilever")
ESCAPE = "house.window.1"

SLATS = {"depth": "4 in", "spacing": "4 in"}
BLIND = put("house.cover", {"blind": {"inside": False, "passes": 0.1}})
TREE = {
    "azimuth": 180, "distance": "8 m", "top": "9 m", "crown_bottom": "2 m", "crown_width": "5 m",
}  # fmt: skip
BLOCK = {"azimuth": 90, "distance": "8 m", "width": "9 m", "depth": "9 m", "top": "6 m"}

DOOR: dict[str, object] = {"zones": ["rooms", "sun room"], "width": 0.9, "height": 2}


def canopy(projection: str) -> Edit:
    part = {
        "side": "left", "left": 0, "width": "2 m", "height": "2.2 m", "projection": projection,
    }  # fmt: skip
    return put("house.canopy", [part])


def two_and_a_stove(*passages: dict[str, object]) -> Edit:
    """Return an edit that adds a heated zone, and a stove in the first."""
    return together(
        put("house.zone.sun room", {"length": "3 m", "width": "8 m", "height": "9 ft"}),
        put("house.wall", [{"side": "left", "next_to": "sun room"}]),
        drop("house.window.2"),
        drop("house.heating.capacity"),
        put("house.heating.stove", {"charge": "3 kg"}),
        put("house.passage", list(passages)),
    )


OF_A_RUN = ("stamps", "weather_far", "short_heater", "hot_floor", "awning_snow")
"""Cautions that need the weather or the year."""

OF_STAKING = ("sun_eyes", "dig_call", "boundary", "needle", "rod")
"""Cautions that are said with every stake-out, see test_stakeout."""

CASES: list[tuple[str, Edit, Edit]] = [
    ("caution.no_escape", NO_ESCAPE, put("title", "")),
    ("caution.escape_small", put(f"{ESCAPE}.width", "18 in"), put("title", "")),
    ("caution.escape_small", put(f"{ESCAPE}.casements", 3), put(f"{ESCAPE}.casements", 2)),
    ("caution.escape_small", put(f"{ESCAPE}.casements", 6), put(f"{ESCAPE}.casements", 1)),
    (
        "caution.escape_small",  # wide and low: area enough, height not
        together(
            put(f"{ESCAPE}.width", "9 ft"), put(f"{ESCAPE}.sill", 1.1), put(f"{ESCAPE}.head", 1.75)
        ),
        together(
            put(f"{ESCAPE}.width", "9 ft"), put(f"{ESCAPE}.sill", 1.1), put(f"{ESCAPE}.head", 1.85)
        ),
    ),
    (
        "caution.escape_small",  # narrow and high: area enough, width not
        together(put(f"{ESCAPE}.width", "22 in"), put(f"{ESCAPE}.sill", 0.5)),
        together(put(f"{ESCAPE}.width", "25 in"), put(f"{ESCAPE}.sill", 0.5)),
    ),
    ("caution.escape_small", put(f"{ESCAPE}.sill", "45 in"), put(f"{ESCAPE}.sill", "43 in")),
    (
        "caution.safety_glass",
        put("house.window.0.sill", "17 in"),
        put("house.window.0.sill", "18 in"),
    ),
    (
        "caution.safety_glass",
        put("house.window.0.sill", "10 in"),
        together(put("house.window.0.sill", "10 in"), put("house.window.0.safety_glass", True)),
    ),
    (
        "caution.long_eave",
        put("house.eave.projection", "2 ft 1 in"),
        put("house.eave.projection", "2 ft"),
    ),
    (
        "caution.long_overhang",  # 20 in of eave and 5 in of wall to the bearing
        together(put("house.eave.projection", "20 in"), put("house.roof.bearing", "5 in")),
        together(put("house.eave.projection", "20 in"), put("house.roof.bearing", "4 in")),
    ),
    ("caution.cantilever", CANTILEVER, put("title", "")),
    (
        "caution.long_shade",
        put("house.window.3.awning", {"projection": "2 ft 1 in"}),
        put("house.window.3.awning", {"projection": "2 ft"}),
    ),
    (
        "caution.long_shade",
        put("house.window.3.hood", {"projection": "62 cm"}),
        put("house.window.3.hood", {"projection": "61 cm"}),
    ),
    ("caution.long_canopy", canopy("62 cm"), canopy("61 cm")),
    (
        "caution.escape_shaded",
        put(f"{ESCAPE}.slats", SLATS),
        put("house.window.0.slats", SLATS),
    ),
    (
        "caution.escape_shaded",
        put(f"{ESCAPE}.awning", {"projection": "2 ft"}),
        put("house.window.0.awning", {"projection": "2 ft"}),
    ),
    (
        "caution.escape_shaded",
        together(BLIND, put(f"{ESCAPE}.cover", "blind")),
        together(BLIND, put("house.window.0.cover", "blind")),
    ),
    ("caution.not_yours", put("house.tree", [TREE]), put("house.tree", [])),
    ("caution.not_yours", put("house.neighbour", [BLOCK]), canopy("1 m")),
    ("caution.stove_elsewhere", two_and_a_stove(), two_and_a_stove(DOOR)),
    ("caution.fire", put("title", ""), put("house.heating.fuel", "electricity")),
    ("caution.fire", put("house.heating.fuel", "natural gas"), drop("house.heating")),
    ("caution.tight_fire", put("house.air.leakage", 2.9), put("house.air.leakage", 3.1)),
    ("caution.tight_fire", put("title", ""), put("house.heating.fuel", "electricity")),
    ("caution.carpet", put("house.floor.carpet", 0.5), put("house.floor.carpet", 0.2)),
    (
        "caution.carpet",
        put("house.floor.carpet", 0.5),
        together(put("house.floor.carpet", 0.5), drop("house.window.1"), drop("house.window.0")),
    ),
    ("caution.looks_away", put("house.faces", 211), put("house.faces", 210)),
    ("caution.looks_away", put("house.faces", 149), put("house.faces", 150)),
    (
        "caution.low_gain",
        put("house.window.0.glazing", "double low gain"),
        together(
            put("house.window.0.glazing", "double low gain"), put("house.window.0.side", "right")
        ),
    ),
    (
        "caution.deep_attic",
        put("title", ""),
        put("construction.ceiling.layers.2.thickness", "9 in"),
    ),
    (
        # 16.5 in on the ceiling; heel 17.2 and 18.2 in less 1.1 in of vent space
        "caution.squeezed",
        put("house.eave.soffit_height", "8 ft 8 in"),
        put("house.eave.soffit_height", "8 ft 9 in"),
    ),
    (
        # 21 1/2 in and 1.12 in of vent space; 30 in of eave take 15 in off: 7.62 in at the fascia
        "caution.squeezed_cantilever",
        together(CANTILEVER, put("construction.ceiling.layers.2.thickness", "18 in")),
        together(
            CANTILEVER,
            put("construction.ceiling.layers.2.thickness", "18 in"),
            put("house.roof.end_heel", "7 3/4 in"),
        ),
    ),
    (
        "caution.no_thickness",
        put("construction.wall.layers", [{"resistance": "R-40"}]),
        put("construction.wall.layers", [{"resistance": "R-40", "thickness": "12 in"}]),
    ),
]


def said(edit: Edit) -> list[Sentence]:
    return cautions(design(edit).homestead)


@pytest.mark.parametrize(
    ("key", "yes", "no"), CASES, ids=[f"{i} {case[0]}" for i, case in enumerate(CASES)]
)
def test_caution_and_its_negative(key: str, yes: Edit, no: Edit) -> None:
    found = [sentence for sentence in said(yes) if sentence.key == key]
    assert len(found) == 1
    words = Speech().say(found[0])
    assert words.startswith("house: ")
    assert "?" not in words
    assert key not in {sentence.key for sentence in said(no)}


def test_south_of_the_equator_north_is_the_sunny_side() -> None:
    place = {"latitude": -33.9, "longitude": 151.2, "altitude": 3, "time_zone": "Australia/Sydney"}
    south = put("place", place)
    assert "caution.looks_away" in {s.key for s in said(south)}
    assert "caution.looks_away" not in {
        s.key for s in said(together(south, put("house.faces", 350)))
    }


def test_no_promise_is_always_said_and_every_caution_has_a_case() -> None:
    assert [s.key for s in said(put("title", ""))].count("caution.no_promise") == 1
    tried = {key for key, _, _ in CASES} | {"caution.no_promise"}
    known = {key for key in sentences("en") if key.startswith("caution.")}
    elsewhere = {f"caution.{key}" for key in (*OF_A_RUN, *OF_STAKING)}
    assert known - tried == {"caution.title", *elsewhere}


def test_each_building_is_named() -> None:
    twice = design(lambda data: data.update(shed=data["house"]))
    names = {str(sentence.values["building"]) for sentence in cautions(twice.homestead)}
    assert names == {"house", "shed"}
