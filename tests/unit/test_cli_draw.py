"""The command that draws: which files it writes, and what it refuses."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from command_line import Run
from designs import put, sample_text, together
from mutants import SAMPLE

WALLS = ("east", "north", "south", "west")
SUNNY = ("1-living room", "2-bedroom- sunny", "3-kitchen", "4-west")
"""Windows that get sun at midwinter or the equinox."""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "house.toml"
    path.write_text(SAMPLE, "utf-8")
    return path


def test_one_section_plan_and_elevation_of_each_wall_for_each_date(
    run: Run, file: Path, tmp_path: Path
) -> None:
    out = tmp_path / "drawn"
    code, said, err = run("draw", file, "--out", out, "--date", "3-20", "--date", "12-21", "--json")
    assert (code, err) == (0, "")
    told = json.loads(said)
    assert told["format"] == "noonmark.draw/1"
    names = [f"house-{kind}-{day}.svg" for day in ("03-20", "12-21") for kind in (
        "section", "plan", *(f"elevation-{wall}" for wall in WALLS)
    )]  # fmt: skip
    names += [f"house-outlook-{window}.svg" for window in SUNNY]
    assert sorted(Path(name).name for name in told["files"]) == sorted(names)
    for name in told["files"]:
        assert ElementTree.parse(name).getroot().tag.endswith("svg")


@pytest.mark.parametrize(
    ("latitude", "days"),
    [(39.73, ["12-21", "03-20", "06-21"]), (-39.73, ["06-21", "03-20", "12-21"])],
)
def test_usual_dates_are_midwinter_equinox_midsummer(
    run: Run, tmp_path: Path, latitude: float, days: list[str]
) -> None:
    file = tmp_path / "there.toml"
    file.write_text(sample_text(put("place.latitude", latitude)), "utf-8")
    code, _, err = run("draw", file, "--out", tmp_path)
    assert code == 0
    wrote = [line for line in err.splitlines() if "section" in line]
    assert [line.removesuffix(".svg")[-5:] for line in wrote] == days


def test_dates_may_follow_each_other(run: Run, file: Path, tmp_path: Path) -> None:
    code, said, _ = run("draw", file, "--out", tmp_path, "--date", "3-20", "6-21", "--json")
    assert code == 0
    assert len(json.loads(said)["files"]) == 12 + 5


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--date", "13-1"), "--date"),
        (("--date", "2-29"), "2-29"),
        (("--date", "3-20", "--date", "soon"), "soon"),
        (("--building", "barn"), "barn"),
        (("--set", "house.roof.heel=0"), "heel"),
    ],
)
def test_bad_input_is_refused_before_anything_is_written(
    run: Run, file: Path, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    out = tmp_path / "drawn"
    code, told, err = run("draw", file, "--out", out, *words)
    assert (code, told) == (2, "")
    assert said in err
    assert not out.exists()


def test_walls_of_several_zones_have_files_of_their_own(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "zones.toml"
    window = {"side": "sunny", "width": 1, "sill": 1, "head": 2, "glazing": "double clear"}
    edit = together(
        put("house.zone.east/room", {"length": 4, "width": 8, "height": "9 ft"}),
        put("house.wall", [{"side": "left", "next_to": "east/room"}]),
        put("house.window", [window, window | {"zone": "east/room"}]),
    )
    file.write_text(sample_text(edit), "utf-8")
    code, said, _ = run("draw", file, "--out", tmp_path / "o", "--date", "3-20", "--json")
    assert code == 0
    names = {Path(name).name for name in json.loads(said)["files"]}
    assert {f"house-elevation-south-{zone}-03-20.svg" for zone in ("rooms", "east-room")} < names
