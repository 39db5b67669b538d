"""Elevation and plan as drawings: their words, apart and on the sheet, and where things stand."""

from __future__ import annotations

import math
from datetime import date
from xml.etree import ElementTree

import numpy as np
import pytest

from designs import design, put, together
from drawing import boxes, classed, collisions, corners, outside, parsed
from noonmark.cards.speech import Speech
from noonmark.design import Homestead
from noonmark.design.model import Side
from noonmark.sheets.sunparts import Label, rows_of
from noonmark.sheets.sunwords import elevation_sheet, plan_sheet
from noonmark.study.elevation import elevations
from noonmark.study.plan import plan_of
from noonmark.units import System
from sample_house import sample
from sunspace import sunspace

PLACES = {
    "Golden": (39.73, -105.18, "America/Denver", 180.0),
    "Sydney": (-33.9, 151.2, "Australia/Sydney", 20.0),
    "Svalbard": (78.2, 15.6, "Arctic/Longyearbyen", 215.0),
    "pole": (90.0, 0.0, "UTC", 180.0),
    "equator": (0.0, 0.0, "UTC", 90.0),
}
DATES = [date(2022, 12, 21), date(2022, 3, 20), date(2022, 6, 21)]


def busy(place: str) -> Homestead:
    """Return the sample elsewhere, with shades of every kind."""
    latitude, longitude, zone, faces = PLACES[place]
    where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
    tree = {"azimuth": faces - 20.0, "distance": 9, "top": 8, "crown_bottom": 2, "crown_width": 6}
    canopy = {"side": "left", "left": 2, "width": 4, "height": 2.4, "projection": 2, "passes": 0.5}
    return design(
        together(
            put("place", where),
            put("house.faces", faces),
            put("house.tree", [tree]),
            put("house.canopy", [canopy]),
            put("house.window.0.awning", {"projection": 1.0, "drop": 0.4}),
            put("house.window.1.hood", {"projection": 0.5}),
            put("house.window.1.fins", {"projection": 0.5}),
            put("house.window.3.slats", {"depth": 0.08, "spacing": 0.08}),
            put("house.eave.gutter", {}),
        )
    ).homestead


def drawn(home: Homestead, day: date, system: System = "us") -> dict[str, ElementTree.Element]:
    speech, building = Speech(system), home.buildings["house"]
    alone = len(building.zone) == 1
    sheets = {
        f"{item.face.zone} {item.face.name}": elevation_sheet(
            item, title="Larkspur", day=day, alone=alone, speech=speech
        ).sheet()
        for item in elevations(home, "house", day)
    }
    plan = plan_of(home, "house", day)
    sheets["plan"] = plan_sheet(
        plan, building, title="Larkspur", name="house", day=day, speech=speech
    ).sheet()
    assert not any("nan" in sheet or "inf" in sheet for sheet in sheets.values())
    return {name: parsed(sheet) for name, sheet in sheets.items()}


def words(root: ElementTree.Element) -> list[str]:
    return [item.content for item in boxes(root)]


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("day", DATES, ids=str)
@pytest.mark.parametrize("place", PLACES)
def test_no_words_collide_or_leave_the_sheet(place: str, day: date, system: System) -> None:
    for name, root in drawn(busy(place), day, system).items():
        assert collisions(root) == [], name
        assert outside(root) == [], name


@pytest.mark.parametrize("side", ["sunny", "left", "back"])
def test_zones_before_and_beside_each_other(side: Side) -> None:
    for name, root in drawn(sunspace(side), DATES[0]).items():
        assert collisions(root) == [], name
        assert outside(root) == [], name


def test_elevation_says_from_where_it_is_seen_and_how_much_is_lit() -> None:
    said = words(drawn(sample(), DATES[1])["rooms sunny"])
    assert said[0] == "Larkspur: south wall, seen from outside, 20 Mar"
    assert said[1] == "large: 12 h by the sun, 13:08 by the clock, sun 50.3° above the horizon"
    assert {"living room", "bedroom, sunny", "soffit 9' 0\"", "sill 2' 0\""} <= set(said)
    # tan(50.27°) times 2 1/2 feet under the soffit's nine: 5' 11 3/4" of sun up from the floor
    lit = (9 - 2.5 * math.tan(math.radians(50.27)) - 2) / (7 + 2 / 12 - 2)
    assert said.count(f"{100 * lit:.0f} %") >= 3
    assert sum(word.endswith(" by the sun, 13:08") for word in said) == 1
    dark = words(drawn(sample(), DATES[0])["rooms back"])
    assert dark[1] == "no sun on this wall on this day"
    assert not any("%" in word for word in dark)


def test_a_zone_of_several_is_named() -> None:
    said = words(drawn(sunspace(), DATES[1])["sun room sunny"])
    assert said[0] == "Larkspur: south wall of sun room, seen from outside, 20 Mar"


def test_plan_names_hours_sizes_and_windows() -> None:
    said = words(drawn(sample(), DATES[0], "metric")["plan"])
    assert {"N", "09:00", "15:00", "noon 11:58", "sunrise 07:18", "sunset 16:39"} <= set(said)
    # 12.5 and 8 m inside, two walls of 284.2 mm
    assert {"13.068 m", "8.568 m"} <= set(said)
    assert "solar noon, 11:58 by the clock: 18.6 m² of floor in the sun" in said
    summer = words(drawn(sample(), DATES[2])["plan"])
    assert "solar noon, 13:02 by the clock: no sun on the floor" in summer


def test_polar_night_and_polar_day() -> None:
    night = words(drawn(busy("Svalbard"), DATES[0])["plan"])
    assert "the sun does not rise on this day" in night
    assert not any("by the clock:" in word for word in night)
    day = words(drawn(busy("Svalbard"), DATES[2])["plan"])
    assert not any(word.startswith(("sunrise", "sunset")) for word in day)
    assert any(word.startswith("solar noon") for word in day)


@pytest.mark.parametrize("place", ["Golden", "Sydney", "Svalbard", "equator"])
def test_suns_stand_around_the_house_as_around_a_map(place: str) -> None:
    """North up to half a turn, east at the right hand of it; noon's sun as the arrow has it."""
    home = busy(place)
    plan = plan_of(home, "house", DATES[1])
    root = drawn(home, DATES[1])["plan"]
    north = plan.direction(0.0)
    assert north[1] >= -1e-9
    east = plan.direction(90.0)
    assert (east[0], east[1]) == pytest.approx((north[1], -north[0]))
    middle, radius = _circle(root)
    discs = classed(root, "circle", "disc")
    assert len(discs) == len(plan.rays)
    for ray, disc in zip(plan.rays, discs, strict=True):
        at = (float(disc.get("cx", "")), float(disc.get("cy", "")))
        azimuth = np.radians(ray.moment.azimuth)
        side = np.sin(azimuth) * np.array(east) + np.cos(azimuth) * np.array(north)
        expected = middle + radius * side * [1, -1]
        assert at == pytest.approx(tuple(expected), abs=0.2)


def _circle(root: ElementTree.Element) -> tuple[np.ndarray, float]:
    ring = max(root.iter("{http://www.w3.org/2000/svg}circle"), key=lambda c: float(c.get("r", "")))
    return np.array([float(ring.get("cx", "")), float(ring.get("cy", ""))]), float(
        ring.get("r", "")
    )


@pytest.mark.parametrize("faces", [180.0, 0.0, 215.0, 90.0])
def test_sun_lies_away_from_the_sun(faces: float) -> None:
    """The middle of a patch lies further from the sun than its window's middle, on the sheet."""
    home = design(put("house.faces", faces)).homestead
    for day in DATES:
        plan = plan_of(home, "house", day)
        holes = {hole.number: hole.hole.mean(axis=0) for hole in plan.holes}
        names = {w.name: n for n, w in enumerate(home.buildings["house"].window, start=1)}
        for shot in plan.shots:
            sun = np.array(plan.direction(shot.ray.moment.azimuth))
            for patch in shot.patches:
                number = names[patch.window]
                if home.buildings["house"].window[number - 1].count == 1:
                    step = patch.lit.whole.mean(axis=0) - holes[number]
                    assert step @ sun < 0.0


def test_plan_cuts_the_walls_at_their_windows() -> None:
    """Rings of the cut walls: as many as there are windows, less none for corners."""
    plan = plan_of(sample(), "house", DATES[0])
    assert len(plan.holes) == len(plan.walls) == 8
    whole = 13.0683250 * 8.5683250 - 12.5 * 8.0
    cut = sum(np.ptp(h.hole, axis=0).prod() for h in plan.holes)
    x, y = (sum(_area(ring) for ring in plan.walls), whole - cut)
    assert x == pytest.approx(y, rel=1e-6)


def _area(ring: np.ndarray) -> float:
    x, y = ring.T
    return abs(0.5 * float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))


def test_wall_given_by_its_azimuth_is_drawn_and_missing_in_the_plan() -> None:
    wall = {"azimuth": 140, "length": "3 m", "name": "bay"}
    window = {"wall": "bay", "width": 1, "sill": 1, "head": 2, "glazing": "double clear"}
    home = design(
        together(put("house.wall", [wall]), put("house.window", [window | {"name": "bay window"}]))
    ).homestead
    sheets = drawn(home, DATES[1])
    assert words(sheets["rooms bay"])[0].startswith("Larkspur: south-east wall")
    assert any("bay window" in word for word in words(sheets["plan"]))


def test_labels_take_as_few_rows_as_keep_them_apart() -> None:
    close = [Label(100, "77 %"), Label(110, "20 %"), Label(300, "5 %")]
    rows = rows_of(close, 20, 0, 400)
    assert [[label.words for label in row] for row in rows] == [["77 %", "5 %"], ["20 %"]]
    (edge,) = rows_of([Label(0, "bedroom")], 20, 36, 400)
    assert edge[0].x == pytest.approx(36 + 7 * 20 * 0.54 / 2)


def test_titles_from_a_file_are_escaped() -> None:
    home = sample()
    (first, *_) = elevations(home, "house", DATES[1])
    drawing = elevation_sheet(
        first, title="<script>", day=DATES[1], alone=True, speech=Speech("us")
    ).sheet()
    assert "<script" not in drawing
    assert corners(classed(parsed(drawing), "polygon", "glass")[0])


@pytest.mark.parametrize("many", [(4, 4), (8, 3), (1, 12)])
def test_numbers_of_crowded_windows_stand_apart(many: tuple[int, int]) -> None:
    """Close windows of one entry share a number; each entry keeps its own."""
    entries, count = many
    windows = [
        {
            "side": side,
            "width": 0.4,
            "sill": 1,
            "head": 2,
            "count": count,
            "glazing": "double clear",
        }
        for side in ("back", "right")
        for _ in range(entries if side == "back" else 1)
    ]
    root = drawn(design(put("house.window", windows)).homestead, DATES[0])["plan"]
    assert collisions(root) == []
    numbers = {word for word in words(root) if word.isdecimal()}
    assert numbers == {str(number) for number in range(1, entries + 2)}
