"""What covers, stove, heated floor and passages say in the tables of a year."""

from __future__ import annotations

from designs import Edit, design, drop, put, together
from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table, year_tables
from noonmark.study import run_year


def tables(*edits: Edit) -> dict[str, Table]:
    result = run_year(design(*edits).homestead).result
    return {table.title: table for table in year_tables(result, Speech("metric"))}


def test_covers_tell_how_long_they_are_closed() -> None:
    found = tables(
        put("house.cover", {"shutter": {"from": 20, "to": 6}}),
        put("house.window.2.cover", "shutter"),
        put("house.window.3.cover", "shutter"),
        drop("house.window.3.name"),
    )
    table = found["How long shutters and blinds are closed"]
    rows = {("shutter: kitchen", "3,650"), ("shutter: west windows", "3,650")}
    assert set(table.rows) == rows
    assert "How long shutters and blinds are closed" not in tables()


def test_a_stove_tells_its_fillings() -> None:
    stove = together(drop("house.heating.capacity"), put("house.heating.stove", {"charge": "3 kg"}))
    found = tables(stove)
    (fuel,) = (row for row in found["house"].rows if row[0] == "wood or fuel to buy")
    assert fuel[1].endswith("fillings")
    assert "full cords (pine), " in fuel[1]
    gains = [row[0] for row in found["Where it comes from"].rows]
    assert "stove" in gains


def test_a_heated_floor_and_air_between_zones_have_their_rows() -> None:
    found = tables(
        put("house.heating.capacity", "500 W"),  # or the floor would have nothing to do
        put("house.floor.heating", {"power": "40 W/m2"}),
        put(
            "house.zone.sun room",
            {"length": "3 m", "width": "8 m", "height": "9 ft", "heated": False},
        ),
        put("house.wall", [{"side": "left", "next_to": "sun room"}]),
        drop("house.window.2"),
        put("house.passage", [{"zones": ["rooms", "sun room"], "width": 0.9, "height": 2}]),
    )
    rows = {title: [row[0] for row in table.rows] for title, table in found.items()}
    assert "heated floor" in rows["Where it comes from: rooms"]
    assert "air of other zones" in rows["Where the heat goes in the heating months: rooms"]
    assert "air of other zones" in rows["Where it comes from: sun room"]
