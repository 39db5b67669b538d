"""Rules of covers, passages, opened windows, stove and heated floor: each fires and rests."""

from __future__ import annotations

import pytest

from designs import Edit, drop, put, refused, sample_text, together
from noonmark.cards.speech import Speech

COVER = "house.cover"
ROOMS = {"length": "3 m", "width": "8 m", "height": "9 ft"}
TWO = together(
    lambda data: data["house"]["zone"].update({"sun room": dict(ROOMS)}),
    put("house.wall", [{"side": "left", "next_to": "sun room", "name": "inner"}]),
    drop("house.window.2"),
)
DOOR: dict[str, object] = {"zones": ["rooms", "sun room"], "width": "0.9 m", "height": "2 m"}
FAN: dict[str, object] = {"zones": ["sun room", "rooms"], "kind": "fan", "airflow": "200 m3/h"}
STOVE = {"charge": "6 kg"}
PIPES = {"power": "40 W/m2"}
NO_CAPACITY = drop("house.heating.capacity")


def shade(**cover: object) -> Edit:
    return together(put(COVER, {"blind": cover}), put("house.window.0.cover", "blind"))


def passage(entry: dict[str, object], **more: object) -> Edit:
    return together(TWO, put("house.passage", [{**entry, **more}]))


def without(entry: dict[str, object], key: str) -> dict[str, object]:
    return {name: value for name, value in entry.items() if name != key}


def stove(**more: object) -> Edit:
    return together(NO_CAPACITY, put("house.heating.stove", {**STOVE, **more}))


def pipes(**more: object) -> Edit:
    return put("house.floor.heating", {**PIPES, **more})


def area(**more: object) -> Edit:
    return together(
        drop("house.air.open_air_changes"),
        *(put(f"house.air.{key}", value) for key, value in more.items()),
    )


CASES: list[tuple[str, str, Edit, Edit]] = [
    (
        "design.no_cover",
        "house.window.1.cover",
        together(shade(), put("house.window.0.cover", "blnd")),
        shade(),
    ),
    (
        "design.cover_sun",
        "house.cover.blind",
        shade(passes=0.5, absorbs=0.6),
        shade(passes=0.4, absorbs=0.6),
    ),
    (
        "design.cover_between",
        "house.window.1.cover",
        together(TWO, shade(), put("house.window.0.count", 1), drop("house.window.0.side"),
                 put("house.window.0.wall", "inner")),
        together(TWO, shade()),
    ),
    ("design.no_hours", "house.cover.blind", shade(**{"from": 7, "to": 7}), shade()),
    (
        "design.above", "house.cover.blind.months.2",
        shade(months=[1, 13]), shade(months=[1, 12]),
    ),
    (
        "design.no_zone", "house.passage.1.zones",
        passage(DOOR, zones=["rooms", "porch"]), passage(DOOR),
    ),
    (
        "design.passage_to_itself", "house.passage.1.zones",
        passage(DOOR, zones=["rooms", "rooms"]), passage(DOOR),
    ),
    ("design.passage_size", "house.passage.1", passage(without(DOOR, "width")), passage(DOOR)),
    (
        "design.passage_too_tall", "house.passage.1",
        passage(DOOR, height="9.1 ft"), passage(DOOR, height="9 ft"),
    ),
    ("design.missing", "house.passage.1", passage(without(FAN, "airflow")), passage(FAN)),
    ("design.no_hours", "house.passage.1", passage(DOOR, **{"from": 24, "to": 0}), passage(FAN)),
    (
        "design.open_half", "house.air",
        area(open_area="1 m2"), area(open_area="1 m2", open_height=1),
    ),
    (
        "design.opened_twice", "house.air.open_area",
        together(put("house.air.open_area", "1 m2"), put("house.air.open_height", 1)),
        area(open_area="1 m2", open_height=1),
    ),
    (
        "design.opens_while_heating", "house.air.open_above",
        together(area(open_area="1 m2", open_height=1), put("house.air.open_above", "20 C"),
                 put("house.air.recovery", 0)),
        area(open_area="1 m2", open_height=1, open_above="20.5 C"),
    ),
    (
        "design.bypass_while_heating", "house.air",
        put("house.air.bypass_above", "20 C"), put("house.air.bypass_above", "20.1 C"),
    ),
    (
        "design.fan_while_heating", "house.air.fan.above",
        put("house.air.fan", {"airflow": "1 cfm", "from": 22, "to": 6, "above": "20 C"}),
        put("house.air.fan", {"airflow": "1 cfm", "from": 22, "to": 6, "above": "21 C"}),
    ),
    (
        "design.stove_capacity", "house.heating.capacity",
        put("house.heating.stove", STOVE), stove(),
    ),
    ("design.no_zone", "house.heating.stove.zone", stove(zone="porch"), stove(zone="rooms")),
    (
        "design.stove_unheated", "house.heating.stove.zone",
        together(TWO, put("house.zone.sun room.heated", False), stove(zone="sun room")),
        together(TWO, stove(zone="sun room")),
    ),
    (
        "design.stove_fuel", "house.heating.fuel",
        together(stove(), put("house.heating.fuel", "propane")),
        together(stove(), put("house.heating.fuel", "pellets")),
    ),
    (
        # 6 kg x 4.2664 kWh/kg x 0.72 over 6 h: 3072 W
        "design.charge_too_small", "house.heating.stove.lowest",
        stove(lowest="3.08 kW"), stove(lowest="3.07 kW"),
    ),
    (
        # 8 kg in one hour: 24.6 kWh; 10 kg: 30.7 kWh
        "design.charge_too_large", "house.heating.stove.charge",
        stove(charge="10 kg", burns=1), stove(charge="8 kg", burns=1),
    ),
    ("design.no_hours", "house.heating.stove", stove(**{"from": 5, "to": 5}), stove()),
    ("design.heated_layer", "house.floor.heating.layer", pipes(layer=3), pipes(layer=1)),
    (
        "design.heated_layer", "house.floor.heating.layer",
        together(pipes(), put("construction.slab.layers.0", {"resistance": 1})), pipes(),
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "path", "wrong", "right"),
    CASES,
    ids=[f"{i} {c[0]} {c[1]}" for i, c in enumerate(CASES)],
)
def test_rule_fires_and_stays_still(code: str, path: str, wrong: Edit, right: Edit) -> None:
    assert [(p.code, p.path) for p in refused(sample_text(wrong))] == [(code, path)]
    assert refused(sample_text(right)) == []


def test_an_opening_needs_a_wall_that_both_zones_share() -> None:
    apart = together(passage(DOOR), put("house.wall", []))
    found = refused(sample_text(apart))
    assert ("design.passage_no_wall", "house.passage.1") in [(p.code, p.path) for p in found]
    assert refused(sample_text(together(passage(FAN), put("house.wall", [])))) == []


def test_problems_are_said_in_plain_words() -> None:
    (problem,) = refused(sample_text(shade(passes=0.5, absorbs=0.6)))
    assert "let 0.5 of the sun through and take 0.6 up" in Speech().explain(problem)
    (problem,) = refused(sample_text(stove(lowest="4 kW")))
    assert "a charge gives 3072 W over 6 hours" in Speech().explain(problem)
