"""Stakes and squares of a building, and the command that says them."""

from __future__ import annotations

import io
import json
import math
from datetime import date, timedelta
from pathlib import Path

import pdfplumber
import pytest
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from command_line import Run
from designs import design, put, together
from drawing import boxes, collisions, outside, parsed
from noonmark.cards.speech import Speech
from noonmark.design import Homestead
from noonmark.design.derived import thickness, zone_corners
from noonmark.sheets.stakesheet import _pictures, stakeout_pdf
from noonmark.study.results.stakeout import Footprint, StakeoutResult
from noonmark.study.stakeout import stakeout
from noonmark.units import System
from noonmark.units.writing import taped
from sunspace import sunspace

DAY = date(2026, 11, 25)
FACES = [0.0, 37.0, 90.0, 163.0, 180.0, 205.0, 311.0]


def house(faces: float, *, south: bool = False) -> Homestead:
    where = {"latitude": -43.5, "longitude": 172.6, "altitude": 10, "time_zone": "Pacific/Auckland"}
    edits = [put("house.faces", faces), *([put("place", where)] if south else [])]
    return design(together(*edits)).homestead


def angled(faces: float) -> Homestead:
    """Return the sample with a smaller zone at its left, sunny walls in one line."""
    size = {"length": "4 m", "width": "5 m", "height": "9 ft"}
    return design(
        together(
            put("house.faces", faces),
            put("house.zone.sun room", size),
            put("house.wall", [{"side": "left", "next_to": "sun room"}]),
        )
    ).homestead


def footprint(homestead: Homestead, system: System = "metric") -> Footprint:
    return stakeout(homestead, DAY, system=system).buildings[0].footprints[0]


def outline(part: Footprint) -> Polygon:
    return Polygon([(stake.east_m, stake.north_m) for stake in part.stakes])


@pytest.mark.parametrize("south", [False, True])
@pytest.mark.parametrize("faces", FACES)
def test_stakes_stand_around_the_house(faces: float, south: bool) -> None:
    homestead = house(faces, south=south)
    building = homestead.buildings["house"]
    wall = thickness(homestead, building.wall_construction)
    zone = next(iter(building.zone.values()))
    part = footprint(homestead)
    assert part.length_m == pytest.approx(zone.length + 2 * wall)
    assert part.width_m == pytest.approx(zone.width + 2 * wall)
    shape = outline(part)
    assert shape.area == pytest.approx(part.length_m * part.width_m)
    assert not shape.exterior.is_ccw  # clockwise on a map
    a, b, c, d = part.stakes
    assert (a.east_m, a.north_m, a.from_a_m, b.from_b_m) == (0.0, 0.0, 0.0, 0.0)
    # who looks out of the sunny side has B at his right hand
    right = math.radians(faces + 90.0)
    assert (b.east_m, b.north_m) == pytest.approx(
        (part.length_m * math.sin(right), part.length_m * math.cos(right))
    )
    for start, end in ((a, b), (b, c), (c, d), (d, a)):
        way = end.east_m - start.east_m, end.north_m - start.north_m
        assert start.next_m == pytest.approx(math.hypot(*way))
        assert math.sin(math.radians(start.next_azimuth_deg)) == pytest.approx(
            way[0] / start.next_m, abs=1e-6
        )
        assert 0.0 <= start.next_azimuth_deg < 360.0
    assert c.from_a_m == pytest.approx(part.diagonal_m)
    assert d.from_b_m == pytest.approx(part.diagonal_m)
    # the sunny side looks where the file says: outwards from the middle of A and B
    outwards = math.radians(faces)
    middle = ((a.east_m + b.east_m) / 2, (a.north_m + b.north_m) / 2)
    away = middle[0] - shape.centroid.x, middle[1] - shape.centroid.y
    assert away[0] * math.sin(outwards) + away[1] * math.cos(outwards) == pytest.approx(
        part.width_m / 2
    )


@pytest.mark.parametrize("faces", FACES)
def test_stakes_of_an_angled_house(faces: float) -> None:
    homestead = angled(faces)
    building = homestead.buildings["house"]
    wall = thickness(homestead, building.wall_construction)
    part = footprint(homestead)
    assert len(part.stakes) == 6
    boxes = [
        box(x - wall, w - wall, x + zone.length + wall, w + zone.width + wall)
        for (x, w), zone in zip(
            zone_corners(building).values(), building.zone.values(), strict=True
        )
    ]
    expected = unary_union(boxes)
    shape = outline(part)
    assert shape.is_valid
    assert shape.area == pytest.approx(expected.area)
    assert shape.length == pytest.approx(expected.length)
    left, low, right, high = expected.bounds
    assert (part.length_m, part.width_m) == pytest.approx((right - left, high - low))
    for stake in part.stakes:
        to_a = math.hypot(stake.east_m, stake.north_m)
        b = part.stakes[1]
        to_b = math.hypot(stake.east_m - b.east_m, stake.north_m - b.north_m)
        assert (stake.from_a_m, stake.from_b_m) == pytest.approx((to_a, to_b), abs=1e-6)


@pytest.mark.parametrize(("system", "unit"), [("metric", 0.5), ("us", 0.3048)])
def test_three_four_five_is_round_square_and_the_largest(system: System, unit: float) -> None:
    part = footprint(house(180.0), system)
    short, long = sorted((part.length_m, part.width_m))
    assert math.hypot(part.three_m, part.four_m) == pytest.approx(part.five_m)
    times = part.three_m / 3.0 / unit
    assert times == pytest.approx(round(times))
    assert part.three_m <= short
    assert part.four_m <= long
    assert part.three_m + 3 * unit > short or part.four_m + 4 * unit > long


def test_lengths_to_a_sixteenth_and_a_millimetre() -> None:
    assert taped(8.568325, "us") == "28' 1 5/16\""  # 337.335 in
    assert taped(8.568325, "metric") == "8.568 m"
    assert taped(0.0, "us") == '0"'
    assert taped(-0.0254 / 16, "us") == '−1/16"'


def test_a_minute_at_noon_and_the_longer_side() -> None:
    result = stakeout(house(180.0), DAY)
    item = result.buildings[0]
    turn = math.radians(result.noons[0].turn_deg_per_min)
    assert item.off_the_line_m == pytest.approx(item.footprints[0].length_m * math.sin(turn))


def answer(run: Run, file: Path, *words: str) -> dict[str, object]:
    code, out, err = run("stakeout", file, *words, "--json")
    assert (code, err) == (0, "")
    found: dict[str, object] = json.loads(out)
    return found


def test_the_tree_is_printed(run: Run, file: Path) -> None:
    result = answer(run, file, "--date", "2026-11-25")
    assert result["format"] == "noonmark.stakeout/1"
    assert result["day"] == "2026-11-25"
    today = answer(run, file)
    assert date.fromisoformat(str(today["day"])) - date.today() in (timedelta(0), timedelta(-1))
    this_year = answer(run, file, "--date", "3-20")
    assert this_year["day"] == f"{date.today().year}-03-20"


def test_said_in_words(run: Run, file: Path) -> None:
    code, out, err = run("stakeout", file, "--date", "2026-11-25")
    assert (code, err) == (0, "")
    said = " ".join(out.split())
    assert "Your needle points 7.6° EAST of true north: true south is where the compass" in said
    assert "reads 172.4°" in said
    assert "11:47:47 MST" in said
    assert "Never look at the sun" in said
    summer = " ".join(run("stakeout", file, "--date", "2026-07-01")[1].split())
    assert "MDT" in summer


WEST = ("--set", "place.longitude=-70", "--set", "place.time_zone=America/New_York",
        "--set", "place.latitude=44")  # fmt: skip
SOUTH = ("--set", "place.latitude=-43.5", "--set", "place.longitude=172.6",
         "--set", "place.time_zone=Pacific/Auckland", "--set", "house.faces=20")  # fmt: skip
POLE = ("--set", "place.latitude=84", "--set", "place.longitude=160",
        "--set", "place.time_zone=Asia/Magadan")  # fmt: skip
NEAR = ("--set", "place.latitude=78", "--set", "place.longitude=-120",
        "--set", "place.time_zone=America/Yellowknife")  # fmt: skip


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (WEST, "WEST of true north: true south is where the compass reads 19"),
        (SOUTH, "true north is where the compass reads 335.3°"),
        (SOUTH, "falls to the south"),
        (POLE, "No compass here"),
        (POLE, "does not come clear of the horizon"),
        (NEAR, "a needle is weak and unsteady"),
        (("--date", "2033-05-01"), "1 May 2033 lies outside the years the model holds for"),
        (("--date", "2033-05-01"), "31 Dec 2029"),
        (("--date", "2019-05-01"), "1 Jan 2025"),
    ],
)
def test_what_differs_by_place_and_day(
    run: Run, file: Path, words: tuple[str, ...], said: str
) -> None:
    day = () if "--date" in words else ("--date", "2026-12-21")
    code, out, err = run("stakeout", file, *words, *day)
    assert (code, err) == (0, "")
    assert said in " ".join(out.split())
    if words is POLE:
        assert "compass reads" not in out


@pytest.mark.parametrize(
    ("words", "problem"),
    [(("--date", "31-31"), "as a day"), (("--building", "barn"), "no building is called")],
)
def test_refused(run: Run, file: Path, words: tuple[str, ...], problem: str) -> None:
    code, out, err = run("stakeout", file, *words)
    assert (code, out) == (2, "")
    assert problem in err


SHEETS = {
    "Larkspur": house(180.0),
    "turned south": house(20.0, south=True),
    "east": house(90.0),
    "angled": angled(205.0),
    "sunspace": sunspace(),
}


def result_of(name: str, system: System) -> StakeoutResult:
    return stakeout(SHEETS[name], DAY, system=system)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", SHEETS)
def test_sketches_hold_their_words(name: str, system: System) -> None:
    result = result_of(name, system)
    for building in result.buildings:
        for file, drawing in _pictures(result, building, Speech(system, fine=True)):
            root = parsed(drawing.decode())
            assert outside(root) == [], file
            assert collisions(root) == [], file


@pytest.mark.parametrize("name", SHEETS)
def test_the_sheet_says_what_the_terminal_says(name: str) -> None:
    result = result_of(name, "us")
    made = stakeout_pdf(result, result.buildings[0], Speech("us", fine=True), "letter")
    assert made == stakeout_pdf(result, result.buildings[0], Speech("us", fine=True), "letter")
    with pdfplumber.open(io.BytesIO(made)) as document:
        assert len(document.pages) <= 3
        words = " ".join(" ".join(page.extract_text().split()) for page in document.pages)
    for part in result.buildings[0].footprints:
        assert taped(part.diagonal_m, "us") in words
    assert "Never look at the sun" in words
    assert words.count("MST") >= 1 or name == "turned south"


def test_sheets_are_written(run: Run, file: Path, tmp_path: Path) -> None:
    out = tmp_path / "sheets"
    code, _, err = run("stakeout", file, "--date", "2026-11-25", "--out", out)
    assert code == 0
    assert "house-stakeout.pdf" in err
    with pdfplumber.open(out / "house-stakeout.pdf") as document:
        assert document.pages[0].width == pytest.approx(612.0, abs=0.1)
    assert run("stakeout", file, "--paper", "a4", "--out", out)[0] == 0
    with pdfplumber.open(out / "house-stakeout.pdf") as document:
        assert document.pages[0].width == pytest.approx(595.3, abs=0.1)


def test_a_noon_overhead_draws_no_line_that_a_minute_could_turn(run: Run, file: Path) -> None:
    """At the equator in March the shadow turns by 70 degrees a minute: nobody lays out by it."""
    where = ("--set", "place.latitude=0")
    code, out, _ = run("stakeout", file, *where, "--date", "2027-03-21")
    assert (code, "minute's error" in out) == (0, False)
    assert "minute's error" in run("stakeout", file, "--date", "2027-03-21")[1]


@pytest.mark.parametrize("latitude", [0.0, -43.5, 39.7])
def test_word_of_the_rod_stands_clear_of_its_shadows(latitude: float) -> None:
    """Shadows due west and east at the equator, to the south beyond it."""
    where = {"latitude": latitude, "longitude": 0.0, "altitude": 10, "time_zone": "UTC"}
    home = design(put("place", where)).homestead
    result = stakeout(home, date(2027, 3, 21))
    circle = dict(_pictures(result, result.buildings[0], Speech()))["circle.svg"].decode()
    root = parsed(circle)
    rod = next(item for item in boxes(root) if item.content == "rod").shape
    thick = [el for el in root.iter() if el.get("opacity") == ".45"]
    assert len(thick) == 2
    for el in thick:
        ends = [(float(el.get(f"x{n}", "")), float(el.get(f"y{n}", ""))) for n in (1, 2)]
        assert LineString(ends).buffer(4.5).intersection(rod).area < 1.0


def test_what_can_hurt_is_said_with_every_stake_out() -> None:
    keys = [sentence.key for sentence in stakeout(design().homestead, date(2026, 11, 25)).cautions]
    assert sorted(keys) == sorted(
        f"caution.{key}" for key in ("sun_eyes", "dig_call", "boundary", "needle", "rod")
    )
