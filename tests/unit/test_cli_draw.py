"""The command that draws: which files it writes, and what it refuses."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pdfplumber
import pytest

from command_line import Run
from designs import put, sample_text, together
from mutants import SAMPLE

WALLS = ("east", "north", "south", "west")
SUNNY = ("1-living-room", "2-bedroom-sunny", "3-kitchen", "4-west")
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
    walls = [f"elevation-{wall}" for wall in WALLS]
    names = [
        f"house-{kind}-{day}.svg"
        for day in ("03-20", "12-21")
        for kind in ("section", "plan", *walls)
    ]
    names += ["house-sheets.pdf", *(f"house-{kind}.dxf" for kind in ("section", *walls))]
    names += [f"house-outlook-{window}.svg" for window in SUNNY]
    assert sorted(Path(name).name for name in told["files"]) == sorted(names)
    for path in map(Path, told["files"]):
        if path.suffix == ".svg":
            assert ElementTree.parse(path).getroot().tag.endswith("svg")
        else:
            start = {".pdf": b"%PDF-1.7", ".dxf": b"  0\nSECTION"}[path.suffix]
            assert path.read_bytes().startswith(start)


@pytest.mark.parametrize(
    ("words", "wide"),
    [((), 792.0), (("--units", "metric"), 841.9), (("--paper", "a4"), 841.9),
     (("--units", "metric", "--paper", "letter"), 792.0)],
)  # fmt: skip
def test_paper_is_that_of_the_units_or_the_one_asked_for(
    run: Run, file: Path, tmp_path: Path, words: tuple[str, ...], wide: float
) -> None:
    code, _, _ = run("draw", file, "--out", tmp_path, "--date", "3-20", *words)
    assert code == 0
    with pdfplumber.open(tmp_path / "house-sheets.pdf") as document:
        assert document.pages[0].width == pytest.approx(wide, abs=0.1)
        assert len(document.pages) == 11  # section, plan, four walls, four views, windows


def test_same_command_writes_the_same_files(run: Run, file: Path, tmp_path: Path) -> None:
    for folder in ("first", "second"):
        assert run("draw", file, "--out", tmp_path / folder, "--date", "3-20")[0] == 0
    first, second = (
        {path.name: path.read_bytes() for path in (tmp_path / folder).iterdir()}
        for folder in ("first", "second")
    )
    assert first == second


def test_help_loads_neither_press_nor_models() -> None:
    code = (
        "import sys; from noonmark.cli.app import run_words; run_words(['draw', '--help']); "
        "assert not {'typst', 'ezdxf', 'fontTools'} & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "--paper" in done.stdout


def test_walls_that_look_the_same_way_have_files_of_their_own(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "bay.toml"
    window = {"width": 1, "sill": 1, "head": 2, "glazing": "double clear"}
    edit = together(
        put("house.wall", [{"azimuth": 180, "length": 3, "height": 2.5, "name": "bay"}]),
        put("house.window", [window | {"side": "sunny"}, window | {"wall": "bay"}]),
    )
    file.write_text(sample_text(edit), "utf-8")
    code, said, err = run("draw", file, "--out", tmp_path / "o", "--date", "3-20", "--json")
    assert (code, err) == (0, "")
    names = {Path(name).name for name in json.loads(said)["files"]}
    assert {f"house-elevation-south-{wall}-03-20.svg" for wall in ("sunny", "bay")} < names
    assert {f"house-elevation-south-{wall}.dxf" for wall in ("sunny", "bay")} < names


def test_a_house_without_windows_is_drawn(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "blind.toml"
    file.write_text(sample_text(put("house.window", [])), "utf-8")
    code, _, _ = run("draw", file, "--out", tmp_path, "--date", "3-20")
    assert code == 0
    with pdfplumber.open(tmp_path / "house-sheets.pdf") as document:
        assert "The design has no windows." in document.pages[-1].extract_text()


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
    wrote = [line for line in err.splitlines() if "section" in line and line.endswith(".svg")]
    assert [line.removesuffix(".svg")[-5:] for line in wrote] == days


def test_dates_may_follow_each_other(run: Run, file: Path, tmp_path: Path) -> None:
    code, said, _ = run("draw", file, "--out", tmp_path, "--date", "3-20", "6-21", "--json")
    assert code == 0
    assert len(json.loads(said)["files"]) == 12 + 1 + 5 + 5


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
