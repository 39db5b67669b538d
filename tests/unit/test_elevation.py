"""Walls seen from outdoors: what lies left and right, and the shade on them by the hour."""

from __future__ import annotations

from datetime import date
from functools import cache

import numpy as np
import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from designs import design, put, together
from noonmark.design import Homestead
from noonmark.design.derived import wall_faces
from noonmark.shading.plates import Opening
from noonmark.study.elevation import Elevation, elevations
from noonmark.study.obstacles import obstacles_of
from noonmark.study.wallrun import sides_beside, wall_run
from sample_house import sample

WINTER, EQUINOX, SUMMER = date(2022, 12, 21), date(2022, 3, 20), date(2022, 6, 21)


@cache
def walls(day: date, *, busy: bool = False) -> dict[str, Elevation]:
    home = busy_house() if busy else sample()
    return {item.face.name: item for item in elevations(home, "house", day)}


@cache
def busy_house() -> Homestead:
    block = {"azimuth": 150, "distance": 8, "width": 6, "depth": 6, "top": 5}
    return design(
        together(
            put("house.window.0.reveal", "10 cm"),
            put("house.window.1.fins", {"projection": "40 cm"}),
            put("house.window.1.reveal", "5 cm"),
            put("house.neighbour", [block]),
        )
    ).homestead


def bounds(elevation: Elevation) -> tuple[float, float]:
    corners = np.concatenate(elevation.walls)
    return float(corners[:, 0].min()), float(corners[:, 0].max())


def test_from_outdoors_west_is_left_on_a_wall_that_faces_south() -> None:
    """The file's order runs to the right of somebody inside, who has the west at his right."""
    names = [(pane.name, pane.hole[:, 0].mean()) for pane in walls(EQUINOX)["sunny"].panes]
    assert min(names, key=lambda item: item[1])[0] == "bedroom, sunny"  # the last of the file


def test_wall_runs_from_corner_to_corner() -> None:
    low, high = bounds(walls(EQUINOX)["sunny"])
    thick = 0.0127 + 0.1397 + 0.0111125 + 0.1016 + 0.01905  # the layers of the sample's walls
    assert (low, high) == pytest.approx((-thick, 12.5 + thick))


@pytest.mark.parametrize(
    ("side", "beside"),
    [
        ("sunny", ("left", "right")),
        ("right", ("sunny", "back")),
        ("back", ("right", "left")),
        ("left", ("back", "sunny")),
    ],
)
def test_hands_of_who_looks_out(side: str, beside: tuple[str, str]) -> None:
    assert sides_beside(side) == beside  # type: ignore[arg-type]


def test_morning_sun_comes_past_the_eaves_end_at_the_east() -> None:
    """In the morning it stands east, at the right hand of who looks at a south wall."""
    hours = {hour.hour: hour for hour in walls(EQUINOX)["sunny"].hours}
    low, high = bounds(walls(EQUINOX)["sunny"])
    for hour, at_right in ((8, True), (16, False)):
        (wall,) = hours[hour].wall
        shade = unary_union([Polygon(ring) for ring in wall.shade])
        left, _, right, _ = shade.intersection(box(low, 1.9, high, 2.0)).bounds
        gaps = (high - right, left - low)
        lit, dark = gaps if at_right else gaps[::-1]
        assert lit > 0.5
        assert dark == pytest.approx(0.0, abs=1e-6)


def test_afternoon_mirrors_the_morning() -> None:
    hours = {hour.hour: hour for hour in walls(SUMMER)["back"].hours}
    assert sorted(hours) == [5, 6, 7, 17, 18, 19]
    for morning, evening in ((5, 19), (6, 18), (7, 17)):
        assert hours[morning].shares == pytest.approx(hours[evening].shares[::-1], abs=0.01)
    east, west = walls(SUMMER)["left"].hours, walls(SUMMER)["right"].hours
    assert [24 - hour.hour for hour in east] == [hour.hour for hour in west][::-1]


def test_at_most_nine_hours_with_the_highest_sun() -> None:
    hours = [hour.hour for hour in walls(EQUINOX)["sunny"].hours]
    assert hours == list(range(8, 17))
    assert walls(WINTER)["back"].hours == ()
    assert walls(WINTER)["back"].fullest is None


@pytest.mark.parametrize("day", [WINTER, EQUINOX])
def test_glass_in_the_sun_is_the_share_written_beside_it(day: date) -> None:
    elevation = walls(day, busy=True)["sunny"]
    seen = set()
    for hour in elevation.hours:
        for pane, lit, share in zip(elevation.panes, hour.panes, hour.shares, strict=True):
            hole = Polygon(pane.hole)
            assert lit.area / hole.area == pytest.approx(share, abs=1e-6)
            assert hole.buffer(1e-9).covers(Polygon(lit.whole))
            seen.add(round(share, 2))
    assert len(seen) > 5


@pytest.mark.parametrize("name", ["sunny", "left"])
def test_shade_of_a_wall_is_the_exact_one(name: str) -> None:
    """Light on the rectangle below the plate, row by row, against the polygons."""
    home = busy_house()
    building = home.buildings["house"]
    face = next(face for face in wall_faces(building) if face.name == name)
    obstacles, run = obstacles_of(home, building, face), wall_run(home, building, face)
    elevation = next(e for e in elevations(home, "house", EQUINOX) if e.face.name == name)
    area = Opening(0.0, face.length, 0.0, 2.7)
    below = box(0, 0, face.length, 2.7)
    assert run.length == face.length
    for hour in elevation.hours:
        way = hour.moment.before(face.azimuth)
        assert way is not None
        sideways, rise = (np.array([slope]) for slope in way)
        expected = obstacles.lit(sideways, rise, np.array([hour.moment.day]), area)[0]
        shade = unary_union([Polygon(ring).buffer(0) for ring in hour.wall[0].shade])
        share = 1.0 - shade.intersection(below).area / below.area
        assert share == pytest.approx(expected, abs=1e-6)


def test_gable_follows_the_roof() -> None:
    """Ridge and eaves of the roof triangle: pitch 1/2 over half of 8 m and two walls."""
    (wall,) = walls(EQUINOX)["right"].walls
    levels = walls(EQUINOX)["right"].levels
    (board,) = walls(EQUINOX)["right"].boards
    assert board[:, 1].max() == pytest.approx(levels["ridge"])
    half = 4.0 + 0.2841625
    assert wall[:, 1].max() - np.sort(wall[:, 1])[-2] == pytest.approx(0.5 * half)
    assert board[:, 0].min() == pytest.approx(-0.2841625 - 0.762)  # walls and eave


def test_a_zone_before_the_wall_is_left_out_of_it() -> None:
    """4 m of sun room in the middle of 12.5 m: shade on both stretches, none between."""
    home = sunroom()
    wall = next(
        e for e in elevations(home, "house", EQUINOX)
        if (e.face.zone, e.face.side) == ("rooms", "sunny")
    )  # fmt: skip
    assert len(wall.walls) == 2
    (block,) = wall.meets
    assert (block[:, 0].min(), block[:, 0].max()) == pytest.approx((4.25, 8.25))
    for part in wall.walls:
        assert not 4.25 + 1e-6 < part[:, 0].mean() < 8.25 - 1e-6
    hours = {hour.hour: hour for hour in wall.hours}
    sizes = {hour: [lit.area for lit in hours[hour].wall] for hour in (9, 15)}
    # stretches run to the right of somebody inside: first the east one, lit in the morning
    assert sizes[9][0] > sizes[9][1] + 1.0
    assert sizes[15][1] > sizes[15][0] + 1.0


def sunroom() -> Homestead:
    inner = {"side": "sunny", "zone": "rooms", "next_to": "sun room", "name": "inner"}
    return design(
        together(
            put("house.zone.sun room", {"length": "4 m", "width": "3 m", "height": "9 ft"}),
            put("house.wall", [inner]),
            put(
                "house.window",
                [
                    {"side": "sunny", "width": 1.0, "sill": 0.5, "head": 2.0, "left": left,
                     "glazing": "double clear"}
                    for left in (1.0, 6.0)
                ],
            ),
        )
    ).homestead  # fmt: skip


def test_the_roof_over_a_gable_does_not_stand_before_its_wall() -> None:
    """It is drawn as boards; broken lines are for a tree."""
    assert all(elevation.before == () for elevation in walls(EQUINOX).values())
    tree = {"azimuth": 90, "distance": 6, "top": 6, "crown_bottom": 2, "crown_width": 3}
    home = design(put("house.tree", [tree])).homestead
    assert any(item.before for item in elevations(home, "house", EQUINOX))
