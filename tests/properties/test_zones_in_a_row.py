"""Three and four zones: where they stand, what they share, and a year of them."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import numpy as np
import pytest

from designs import Edit, design, drop, put, refused, sample_text, together
from mutants import Data
from noonmark.design import Homestead
from noonmark.design.derived import building_depth, building_length, wall_faces, zone_corners
from noonmark.design.model import Building, Side
from noonmark.study.assemble import assemble
from noonmark.study.layout import boxes_of
from noonmark.study.twin import unshaped_twin
from noonmark.study.year import building_year
from sample_house import golden

LENGTHS = {"rooms": 6.0, "middle": 4.0, "east": 2.5}
WIDTH = 8.0
OPPOSITE: dict[Side, Side] = {"left": "right", "right": "left", "sunny": "back", "back": "sunny"}


def wall(zone: str, side: str, other: str) -> dict[str, Any]:
    return {"zone": zone, "side": side, "next_to": other}


def row(*walls: dict[str, Any], **porch: Any) -> Edit:
    """Return an edit that cuts the sample's 12.5 m into three zones, west to east."""

    def edit(data: Data) -> None:
        house = data["house"]
        # somebody inside who looks out to the south has the east at his left
        house["zone"] = {
            name: {"length": length, "width": WIDTH, "height": "9 ft"}
            for name, length in LENGTHS.items()
        }
        if porch:
            house["zone"]["porch"] = {"height": "9 ft", **porch}
        house["wall"] = list(walls) or [
            wall("rooms", "left", "middle"), wall("middle", "left", "east"),
        ]  # fmt: skip
        sunny = {
            "side": "sunny", "width": "1.5 m", "sill": 0.6, "head": 2.1,
            "glazing": "double high gain",
        }  # fmt: skip
        house["window"] = [{**sunny, "zone": name} for name in LENGTHS]

    return edit


def house(*edits: Edit) -> tuple[Homestead, Building]:
    homestead = design(*edits).homestead
    return homestead, homestead.buildings["house"]


def test_zones_stand_in_a_row_whoever_names_the_walls() -> None:
    wanted = {"rooms": (0.0, 0.0), "middle": (-4.0, 0.0), "east": (-6.5, 0.0)}
    entries = [
        (wall("rooms", "left", "middle"), wall("middle", "right", "rooms")),
        (wall("middle", "left", "east"), wall("east", "right", "middle")),
    ]
    for first in entries[0]:
        for second in entries[1]:
            for walls in permutations((first, second)):
                _, building = house(row(*walls))
                assert zone_corners(building) == wanted
                assert building_length(building) == pytest.approx(12.5)
                assert building_depth(building) == pytest.approx(WIDTH)
                inner = [face for face in wall_faces(building) if face.next_to]
                assert [face.length for face in inner] == [WIDTH, WIDTH]
                outer = [face for face in wall_faces(building) if not face.next_to]
                assert sum(face.length for face in outer) == pytest.approx(2 * 12.5 + 2 * WIDTH)


def test_a_zone_before_one_of_the_row() -> None:
    walls = [*(wall(*w) for w in (("rooms", "left", "middle"), ("middle", "left", "east")))]
    porch = {"length": 6.0, "width": 2.0, "heated": False, "lived_in": False}
    _, building = house(row(*walls, wall("rooms", "sunny", "porch"), **porch), drop_window(0))
    boxes = dict(zip(building.zone, boxes_of(building), strict=True))
    assert (boxes["porch"].x, boxes["porch"].w) == (0.0, -2.0)
    assert building_depth(building) == pytest.approx(WIDTH + 2.0)
    assert building_length(building) == pytest.approx(12.5)


def drop_window(index: int) -> Edit:
    return drop(f"house.window.{index}")


def test_three_zones_need_what_one_long_one_does() -> None:
    """The same shell, cut by thin walls: heat and sun but for what partitions change."""
    thin = together(
        put("construction.paper", {"layers": [{"resistance": 0.01}]}),
        put("house.partition_construction", "paper"),
        put("house.heating.capacity", "20 kW"),
    )
    sunny = {
        "side": "sunny", "width": "1.5 m", "sill": 0.6, "head": 2.1, "glazing": "double high gain",
    }  # fmt: skip
    # in one long wall the same windows stand where they stood in three
    lefts = [0.5 * 2.5 - 0.75, 2.5 + 2.0 - 0.75, 6.5 + 3.0 - 0.75]
    windows = [{**sunny, "left": left} for left in lefts]
    one, _ = building_year(house(thin, put("house.window", windows))[0], "house", golden())
    homestead, building = house(row(), thin)
    three, year = building_year(homestead, "house", golden())
    assert three.closure_error < 1e-6
    assert three.heating_kwh == pytest.approx(one.heating_kwh, rel=0.03)
    (whole,) = one.zones
    for part in ("wall", "roof", "window"):
        lost = sum(f.kwh for zone in three.zones for f in zone.losses if f.part == part)
        assert lost == pytest.approx(sum(f.kwh for f in whole.losses if f.part == part), rel=0.05)
    # what passes a partition leaves one zone and comes to the other
    passed = sum(f.kwh for zone in three.zones for f in zone.losses if f.part == "partition")
    assert passed == pytest.approx(0.0, abs=5.0)
    ready = assemble(homestead, building, golden())
    assert len(ready.zones) == 3
    assert year.air.shape[1] == 3


def test_the_eave_goes_on_over_all_zones_beside() -> None:
    """Windows in the middle see the eave that they see in one long wall."""
    middle = {
        "side": "sunny", "width": "1.5 m", "sill": 0.6, "head": 2.1, "glazing": "double high gain",
    }  # fmt: skip
    homestead, building = house(row())
    three = assemble(homestead, building, golden())
    long, alone = house(put("house.window", [{**middle, "left": 2.5 + 2.0 - 0.75}]))
    one = assemble(long, alone, golden())
    lit = next(light for light in three.entered if light.face.zone == 1)
    np.testing.assert_allclose(lit.lit, one.entered[0].lit, atol=1e-9)
    np.testing.assert_allclose(lit.scattered, one.entered[0].scattered, rtol=1e-9, atol=1e-9)


def test_twin_of_a_row_turns_its_long_side_east() -> None:
    homestead, _ = house(row())  # 12.5 m long, though no zone is longer than 6 m
    assert unshaped_twin(homestead).buildings["house"].faces == 90.0


def problems(*edits: Edit) -> list[tuple[str, str]]:
    return [(p.code, p.path) for p in refused(sample_text(*edits))]


def test_what_can_not_be_drawn_is_refused() -> None:
    chain = [wall("rooms", "left", "middle"), wall("middle", "left", "east")]
    assert problems(row(*chain)) == []
    ring = row(*chain, wall("east", "left", "rooms"))
    assert problems(ring) == [("design.partition_ring", "house.wall.3")]
    twice = row(*chain, wall("east", "right", "middle"))
    assert problems(twice) == [("design.partition_zones", "house.wall.3")]
    # a porch before all three would stand wall to wall with the middle one
    porch = {"length": 12.5, "width": 2.0}
    broad = row(*chain, wall("rooms", "sunny", "porch"), **porch)
    assert ("design.zones_meet", "house.zone") in problems(broad)
    # and one before each of two neighbours with itself
    narrow = row(*chain, wall("rooms", "sunny", "porch"), length=6.0, width=2.0)
    assert problems(narrow, drop_window(0)) == []
