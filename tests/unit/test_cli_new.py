"""`noonmark new`: a design to start from, in the builder's units, never over an old file."""

from __future__ import annotations

import json
import math
import tomllib
from pathlib import Path

import pytest

from command_line import NORTH, SOUTH, Run
from mutants import SAMPLE


@pytest.mark.parametrize(
    ("words", "faces"), [(NORTH, "180"), ((*SOUTH, "--units", "us", "--fuel", "oak"), "0")]
)
def test_new_design_stands_and_faces_the_equator(
    run: Run, tmp_path: Path, words: tuple[str, ...], faces: str
) -> None:
    path = tmp_path / "new.toml"
    code, out, err = run("new", path, "--title", 'My "own"\\house\x07', *words)
    assert (code, out, err) == (0, "", f"wrote {path}\n")
    assert f"\nfaces = {faces} " in path.read_text("utf-8")
    code, out, err = run("check", path)
    assert "Truss line" in out
    # the shipped year was measured in the north
    south = faces == "0"
    assert (code, "the other half of the earth" in err) == ((2, True) if south else (0, False))


def test_new_design_runs(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    place = ("--latitude", "40.0", "--longitude", "-105.3", "--altitude", "1700 m")
    assert run("new", path, *place, "--time-zone", "America/Denver")[0] == 0
    code, out, _ = run("run", path, "--json")
    assert code == 0
    assert math.isfinite(json.loads(out)["buildings"][0]["heating_kwh"])


@pytest.mark.parametrize("area", ["10 m2", "25 m2", "60 m2", "1100 sq ft", "400 m2", "2000 m2"])
def test_new_design_stands_at_every_size(run: Run, tmp_path: Path, area: str) -> None:
    path = tmp_path / "new.toml"
    assert run("new", path, *NORTH, "--floor-area", area) == (0, "", f"wrote {path}\n")
    assert run("check", path)[0] == 0


def test_new_design_speaks_the_builders_units_and_counts_a_stove(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    own = ("--units", "us", "--fuel", "oak", "--setpoint", "68 F", "--floor-area", "1200 sq ft")
    assert run("new", path, *NORTH, *own)[0] == 0
    written = tomllib.loads(path.read_text("utf-8"))
    house = written["house"]
    assert house["zone"]["rooms"] == {
        "length": "43 ft 10 in",
        "width": "27 ft 5 in",
        "height": "8 ft 6 in",
    }
    assert house["eave"]["projection"] == "2 ft"
    assert house["heating"] == {
        "setpoint": "68 F",
        "fuel": "oak",
        "efficiency": 0.7,
        "basis": "gross",
    }
    thick = [layer["thickness"] for layer in written["construction"]["slab"]["layers"]]
    assert thick == ["4 in", "6 in"]
    assert run("new", tmp_path / "metric.toml", *NORTH)[0] == 0
    metric = tomllib.loads((tmp_path / "metric.toml").read_text("utf-8"))["house"]
    assert metric["zone"]["rooms"]["height"] == "2.6 m"
    assert (metric["heating"]["efficiency"], metric["heating"]["basis"]) == (1.0, "net")


def test_new_never_overwrites(run: Run, file: Path) -> None:
    code, out, err = run("new", file, *NORTH)
    assert (code, out) == (2, "")
    assert "already there; nothing was written" in err
    assert file.read_text("utf-8") == SAMPLE
    dangling = file.parent / "link.toml"
    dangling.symlink_to(file.parent / "nowhere")
    assert run("new", dangling, *NORTH)[0] == 2
    assert dangling.is_symlink()
    assert run("new", file.parent, *NORTH)[0] == 2


@pytest.mark.parametrize(
    ("answer", "value", "said"),
    [
        ("--latitude", "north", '--latitude: can not read "north" as an angle'),
        ("--latitude", "95", "--latitude: 95 must be at most 90"),
        (
            "--longitude",
            "-151",
            "--longitude: longitude -151 does not fit a clock of UTC1",
        ),
        ("--altitude", "9 kg", '--altitude: "9 kg" is a mass, but a length belongs here'),
        ("--altitude", "9 km", "--altitude: 9 km must be at most 6000 m"),
        (
            "--time-zone",
            "Mars",
            '--time-zone: no time zone is called "Mars"; nearest: nothing like',
        ),
        ("--time-zone", "Europe/Rom", "--time-zone: no time zone is called"),
        ("--floor-area", "5", "--floor-area: 5 is outside 10 m2 to 2000 m2"),
        ("--floor-area", "30 ft", '--floor-area: "30 ft" is a length, but an area belongs here'),
        ("--setpoint", "200 C", "--setpoint: 200 C must be at most 60.0 °C"),
        ("--setpoint", "68", "--setpoint: 68 counts as 68.0 °C here, and must be at most 60.0 °C"),
        ("--setpoint", "warm", "--setpoint: can not read"),
        ("--fuel", "coal", '--fuel: no "coal" among the fuels'),
        ("--title", "x" * 121, "--title: this text is longer than 120 letters"),
        ("--weather", "none.csv", "--weather: there is no such weather file"),
        ("--units", "imperial", "imperial"),
    ],
)
def test_bad_answers_are_named(
    run: Run, tmp_path: Path, answer: str, value: str, said: str
) -> None:
    given = {**dict(zip(NORTH[::2], NORTH[1::2], strict=True)), answer: value}
    words = [word for pair in given.items() for word in pair]
    code, out, err = run("new", tmp_path / "new.toml", *words)
    assert (code, out) == (2, "")
    assert said in err
    assert list(tmp_path.iterdir()) == []


def test_new_into_a_folder_that_is_not_there(run: Run, tmp_path: Path) -> None:
    code, _, err = run("new", tmp_path / "no" / "new.toml", *NORTH)
    assert code == 2
    assert "can not write here: No such file or directory" in err
