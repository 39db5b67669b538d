"""The workshop sheet of a shade of boards, by its geometry and its words."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import date, time
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from designs import design, put
from drawing import boxes, classed, collisions, corners, outside, parsed
from mutants import SAMPLE, Data
from noonmark.cards.speech import Speech
from noonmark.choose.slats import Boards, Hours, size_slats
from noonmark.cli.app import run_words
from noonmark.sheets.slatdetail import boards_of, clip_line
from noonmark.sheets.slatwords import slats_sheet
from noonmark.study.results.shade import SlatsResult
from noonmark.units import System

INCH = 0.0254
FLAT = Boards(3.5 * INCH, 0.75 * INCH)
UPRIGHT = Boards(0.14, 0.02, upright=True)
AFTERNOON = Hours(date(2022, 5, 15), date(2022, 9, 1), time(15), time(18))
EVENING = Hours(date(2022, 5, 15), date(2022, 7, 20), time(18), time(19))
DAWN = Hours(date(2022, 5, 15), date(2022, 7, 20), time(6), time(7))
MIDDAY = Hours(date(2022, 5, 15), date(2022, 8, 1), time(12), time(14))
SOUTHERN = Hours(date(2022, 11, 15), date(2022, 3, 1), time(15), time(18))


@cache
def shade(name: str) -> tuple[SlatsResult, Hours]:
    """Return a shade of the sample's windows, by the name of its case."""
    window, hours, boards = {
        "west": ("west", AFTERNOON, FLAT),
        "west, upright": ("west", EVENING, UPRIGHT),
        "east, upright": ("kitchen", DAWN, UPRIGHT),
        "sunny": ("living room", MIDDAY, Boards(0.09, 0.02)),
        "southern": ("kitchen", SOUTHERN, FLAT),
        "narrow": ("west", AFTERNOON, Boards(0.09, 0.03)),
        "wide": ("living room", MIDDAY, Boards(0.4, 0.02)),
        "narrow, upright": ("west", EVENING, Boards(0.06, 0.003, upright=True)),
    }[name]
    place = {
        "latitude": -35.0, "longitude": 149.0, "altitude": 600, "time_zone": "Australia/Sydney",
    }  # fmt: skip

    def changed(data: Data) -> None:
        put("house.window.3.width", "1 ft" if "narrow" in name else "3 ft")(data)
        put("house.window.0.width", "8 ft" if name == "wide" else "6 ft")(data)
        if name == "southern":
            put("place", place)(data)
            put("house.faces", 0)(data)

    return size_slats(design(changed), window, hours, boards), hours


def drawn(name: str, plan: int = -1, system: System = "metric") -> ElementTree.Element:
    result, hours = shade(name)
    chosen = replace(result, recommended=plan % len(result.plans))
    return parsed(slats_sheet(chosen, hours, title="Larkspur", speech=Speech(system)).sheet())


NAMES = (
    "west", "west, upright", "east, upright", "sunny", "southern", "narrow", "wide",
    "narrow, upright",
)  # fmt: skip


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_words_keep_apart_on_the_sheet_and_off_the_pictures(name: str, system: System) -> None:
    for plan in range(len(shade(name)[0].plans)):
        root = drawn(name, plan, system)
        assert collisions(root) == []
        assert outside(root) == []
        pictures = [
            Polygon(corners(part))
            for kind in ("board", "side", "cut", "beam", "strip")
            for part in classed(root, "polygon", kind)
        ]
        on = [b.content for b in boxes(root) for p in pictures if b.shape.intersection(p).area > 1]
        assert on == []


def spread_of(part: ElementTree.Element) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = Polygon(corners(part)).bounds
    return (x0, y0, x1, y1)


@pytest.mark.parametrize("name", NAMES)
def test_front_is_the_frame_mirrored(name: str) -> None:
    """Window, frame and boards lie to scale; the left of somebody inside lies on the right."""
    result, _ = shade(name)
    for number, plan in enumerate(result.plans):
        root = drawn(name, number)
        (window,) = classed(root, "polygon", "window")
        x0, y0, x1, y1 = spread_of(window)
        scale = (x1 - x0) / result.window_width_m
        assert (y1 - y0) / result.window_height_m == pytest.approx(scale, rel=5e-3)
        front = [part for part in classed(root, "polygon", "side") if len(corners(part)) == 4][:2]
        bounds = np.array([spread_of(part) for part in front])
        left, top, right, low = (
            float(end) for end in (*bounds[:, :2].min(axis=0), *bounds[:, 2:].max(axis=0))
        )
        past = np.array([x0 - left, right - x1, y0 - top, low - y1]) / scale
        expected = [plan.right_m, plan.left_m, plan.top_m, plan.bottom_m]
        np.testing.assert_allclose(past, expected, atol=1.2 / scale)
        boards = classed(root, "polygon", "board")
        assert len(boards) == plan.pieces[0].count
        middles = [(a + c) / 2 if result.upright else (b + d) / 2
                   for a, b, c, d in map(spread_of, boards)]  # fmt: skip
        steps = np.abs(np.diff(middles)) / scale
        np.testing.assert_allclose(steps, plan.spacing_m, atol=1.2 / scale)
        frame = Polygon([(left, top), (right, top), (right, low), (left, low)]).buffer(0.3)
        assert all(frame.covers(Polygon(corners(part))) for part in boards)


@pytest.mark.parametrize("name", NAMES)
def test_the_boards_fit_in_the_sides_and_the_frame_round_the_window(name: str) -> None:
    result, _ = shade(name)
    for plan in result.plans:
        half = 0.5 * result.thickness_m * math.cos(math.radians(plan.tilt_deg))
        hung = result.depth_m * math.sin(math.radians(plan.tilt_deg)) + half
        board, side = plan.pieces
        assert plan.first_m > hung
        assert side.length_m - plan.first_m - plan.marks_m[-1] > half
        wide = plan.left_m + result.window_width_m + plan.right_m
        tall = plan.bottom_m + result.window_height_m + plan.top_m
        along, across = (tall, wide) if result.upright else (wide, tall)
        assert side.length_m == pytest.approx(across)
        assert board.length_m + 2.0 * result.thickness_m == pytest.approx(along)


@pytest.mark.parametrize("name", NAMES)
def test_the_ray_brushes_one_board_and_ends_on_the_next(name: str) -> None:
    result, _ = shade(name)
    for number in range(len(result.plans)):
        root = drawn(name, number)
        shapes = [Polygon(corners(part)) for part in classed(root, "polygon", "cut")]
        assert len(shapes) in (2, 3)
        (part,) = classed(root, "polyline", "stopped")
        begin, end = corners(part)
        ray = LineString([begin, end])
        lower, upper = shapes[0], shapes[1]
        assert ray.distance(upper) < 0.3
        assert ray.intersection(upper).length < 8.0  # px: it touches, and does not cut
        assert lower.distance(LineString([end, end])) < 0.3
        assert ray.intersection(lower).length < 1.0
        out, along = abs(end[0] - begin[0]), abs(end[1] - begin[1])
        if result.upright:
            out, along = along, out
        assert math.degrees(math.atan2(along, out)) == pytest.approx(result.stopped_deg, abs=0.3)


@pytest.mark.parametrize("name", NAMES)
def test_boards_do_not_run_into_each_other(name: str) -> None:
    result, _ = shade(name)
    for plan in result.plans:
        boards = boards_of(result, plan)
        one, other = (Polygon(boards.corners(number)) for number in (0, 1))
        assert one.intersection(other).area < 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_no_ray_of_the_lowest_sun_passes_the_boards(name: str) -> None:
    """Rays at the angle written, all the way along: each meets a board (shapely)."""
    result, _ = shade(name)
    for plan in result.plans:
        boards = boards_of(result, plan)
        shapes = [Polygon(boards.corners(k)) for k in range(4)]
        for part in np.linspace(0.01, 0.99, 60):
            along = (1.0 + part) * plan.spacing_m
            ray = LineString([(0.0, along), (1.0, along + boards.slope)])
            assert any(ray.intersects(shape) for shape in shapes)
        wider = replace(boards, spacing=2.2 * plan.spacing_m)
        shapes = [Polygon(wider.corners(k)) for k in range(4)]
        rays = [
            LineString([(0.0, along), (1.0, along + wider.slope)])
            for along in np.linspace(1.01, 1.99, 60) * wider.spacing
        ]
        assert any(not any(ray.intersects(s) for s in shapes) for ray in rays)


def test_the_sun_comes_from_its_side_as_seen_from_outdoors() -> None:
    """Evening sun stands north of a west wall: right of somebody inside, left from outdoors."""
    for name, side, from_left in (
        ("west, upright", "right", True),
        ("east, upright", "left", False),
    ):
        assert shade(name)[0].sun_side == side
        begin, end = corners(classed(drawn(name), "polyline", "stopped")[0])
        assert (begin[0] < end[0]) == from_left
        assert begin[1] > end[1]  # outdoors below
    begin, end = corners(classed(drawn("west"), "polyline", "stopped")[0])
    assert begin[0] < end[0]
    assert begin[1] < end[1]


def test_marks_stand_on_the_strip_by_the_quarter_inch() -> None:
    result, _ = shade("west")
    plan = result.plans[2]  # 2 1/2 inch
    marks = [part.text for part in classed(drawn("west", 2, "us"), "text", "mark")]
    assert marks[:6] == ["0", '2 1/2"', '5"', '7 1/2"', '10"', "1' 1/2\""]
    assert marks[-1] == "4' 2\""
    assert plan.marks_m[-1] == pytest.approx(50 * INCH)
    notches = [float(part.get("x1", "")) for part in classed(drawn("west", 2), "line", "notch")]
    steps = {round(b - a, 1) for a, b in pairwise(notches[:-1])}
    assert len(steps) == 1


def test_sizes_and_cut_list_are_written() -> None:
    texts = [box.content for box in boxes(drawn("west", 1, "us"))]
    whole = " ".join(texts)
    assert {'spacing 1 3/4"', 'board 3 1/2" by 3/4"', "lowest sun 16.8°"} <= set(texts)
    assert {'15°: outer edge 1" lower', "window 3' 0\"", "window 3' 8\""} <= set(texts)
    assert 'Cut 29 boards 3\' 2 1/2" long of 3 1/2" by 3/4".' in whole
    assert "Before an escape window" in whole
    level = {box.content for box in boxes(drawn("west", 0))}
    assert {"level", "spacing 0.025 m", "0.050 m off the wall"} <= level
    assert "square to the wall" in {box.content for box in boxes(drawn("east, upright", 0))}


def test_clipped_line_is_what_the_frame_holds() -> None:
    """Against shapely's intersection."""
    frame = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 6.0), (0.0, 6.0)])
    for ends in ([(-5.0, 1.0), (5.0, 3.0)], [(5.0, -9.0), (5.0, 3.0)], [(1.0, 1.0), (14.0, 5.5)]):
        found = clip_line(np.array(ends), frame)
        wanted = Polygon(frame).intersection(LineString(ends))
        assert LineString(found).symmetric_difference(wanted).length < 1e-6


WORDS = ("--window", "west", "--put-up", "5-15", "--take-down", "9-1", "--from", "15", "--to", "18")


def test_out_writes_the_sheet_and_tells(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "larkspur.toml"
    file.write_text(SAMPLE, "utf-8")
    out = tmp_path / "drawings"
    assert run_words(["slats", str(file), *WORDS, "--json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    assert not out.exists()
    assert "files" not in plain
    assert run_words(["slats", str(file), *WORDS, "--json", "--out", str(out)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told == {**plain, "files": [str(out / "house-slats-west.svg")]}
    assert outside(parsed((out / "house-slats-west.svg").read_text("utf-8"))) == []
    assert run_words(["slats", str(file), *WORDS, "--out", str(out)]) == 0
    assert "wrote" in capsys.readouterr().err
