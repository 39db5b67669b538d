"""The command line as a user meets it: what it prints where, how it ends, what it writes."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from command_line import NORTH, Run
from designs import put, sample_text
from mutants import SAMPLE, sample


def process(*words: object, folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "noonmark", *(str(word) for word in words)],
        cwd=folder,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


COMMANDS = ("demo", "new", "check", "run", "show", "draw", "season", "eave", "awning", "slats")

# --- help and misuse ----------------------------------------------------------------------------


def test_help_names_every_command(run: Run) -> None:
    code, out, err = run("--help")
    assert (code, err) == (0, "")
    assert all(f" {name} " in out for name in COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_a_command(run: Run, command: str) -> None:
    code, out, err = run(command, "--help")
    assert (code, err) == (0, "")
    assert f"noonmark {command}" in out
    assert "--empty" not in out
    assert "--no-" not in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("bogus",), "bogus"),
        (("run",), "FILE"),
        (("run", "a.toml", "--bogus"), "--bogus"),
        (("run", "a.toml", "b.toml"), "b.toml"),
        (("run", "a.toml", "--units", "imperial"), "imperial"),
        (("run", "none.toml"), "none.toml: can not read the design file: No such file"),
        (("run", "."), ".: can not read the design file: Is a directory"),
        (("run", "a\x00b"), "can not read the design file"),
        (("run", "x" * 300), "can not read the design file: File name too long"),
        (("new", "a.toml"), "--latitude"),
    ],
)
def test_misuse_ends_with_2_and_a_sentence(run: Run, words: tuple[str, ...], said: str) -> None:
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert said in err
    assert "did not foresee" not in err
    assert "Traceback" not in err


def test_the_unforeseen_is_said_in_a_sentence(
    run: Run, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("oh")

    monkeypatch.setattr("noonmark.cli.work.load_design", broken)
    code, out, err = run("check", file)
    assert (code, out) == (2, "")
    assert "did not foresee (ZeroDivisionError: oh)" in err
    monkeypatch.setenv("NOONMARK_DEBUG", "1")
    with pytest.raises(ZeroDivisionError):
        run("check", file)


# --- check --------------------------------------------------------------------------------------


def test_check_says_truss_line_and_cautions(run: Run, file: Path) -> None:
    code, out, err = run("check", file)
    assert (code, err) == (0, "")
    assert "larkspur.toml stands as written." in out
    assert "pitch 6/12" in out
    assert "eave 2' 6\"" in out
    assert "Ask the local authority or a licensed person:" in out
    metric = run("check", file, "--units", "metric")[1]
    assert "eave 0.762 m" in metric
    assert "pitch 26.6°" in metric


def test_check_tells_of_weather_that_no_year_can_run_on(run: Run, file: Path) -> None:
    code, out, err = run("check", file, "--set", "climate.file=none.csv")
    assert (code, err) == (2, "none.csv: there is no such weather file\n")
    assert "Truss line" in out
    code, out, err = run("check", file, "--set", "place.latitude=43")
    assert (code, err) == (0, "")
    assert "The weather of Golden, Colorado was measured 3" in out


@pytest.mark.parametrize("command", ["check", "run", "show"])
def test_weather_that_can_not_be_used_is_told_of_with_file_and_line(
    run: Run, file: Path, command: str
) -> None:
    file.write_text(SAMPLE.replace('year = "golden"', 'year = "goldn"'), "utf-8")
    line = 1 + SAMPLE[: SAMPLE.index('year = "golden"')].count("\n")
    code, _, err = run(command, file)
    assert code == 2
    assert err == (
        f'larkspur.toml:{line}: climate, year: no shipped weather year is called "goldn"; '
        "there are: golden\n"
    )


def test_set_makes_a_table_that_the_file_does_not_have(run: Run, file: Path) -> None:
    code, out, _ = run("run", file, "--set", "house.cooling.setpoint=24 C", "--json")
    assert code == 0
    assert json.loads(out)["buildings"][0]["cooling_kwh"] > 100.0
    code, _, err = run("run", file, "--set", "house.goals.heating_kwh=10")
    assert code == 1
    assert "house: heats with " in err
    code, _, err = run("check", file, "--set", "house.colling.setpoint=24 C")
    assert code == 2
    assert "this word of --set" in err


def test_check_as_json(run: Run, file: Path) -> None:
    code, out, err = run("check", file, "--json")
    data = json.loads(out)
    assert (code, err) == (0, "")
    assert data["format"] == "noonmark.check/1"
    assert "caution.long_eave" in [item["key"] for item in data["cautions"]]
    (line, *_) = data["truss"]["house"]
    assert line["key"] == "check.truss_tail"
    assert line["values"]["overhang"] == {"value": pytest.approx(0.762), "kind": "length"}


def test_refused_design_speaks_on_stderr_only(run: Run, file: Path) -> None:
    file.write_text(SAMPLE.replace('width = "6 ft"', 'width = "6 kg"'), "utf-8")
    for command in ("check", "run", "show"):
        code, out, err = run(command, file)
        assert (code, out) == (2, "")
        assert err.startswith("larkspur.toml:33: south window 1, width: ")
    assert [path.name for path in file.parent.iterdir()] == ["larkspur.toml"]


def test_problems_are_said_in_the_units_asked_for(run: Run, file: Path) -> None:
    change = ("--set", "house.window.1.head=1 ft")
    assert "(1' 0\")" in run("check", file, *change, "--units", "us")[2]
    assert "(1' 0\")" in run("check", file, *change, "--units=us")[2]
    assert "(0.30 m)" in run("check", file, *change, "--units", "metric")[2]
    assert "(1' 0\")" in run("check", file, *change)[2]
    file.write_text(SAMPLE.replace('units = "us"', "", 1), "utf-8")
    assert "(0.30 m)" in run("check", file, *change)[2]


# --- run ----------------------------------------------------------------------------------------

BUILDING = {
    "name", "kind", "zones", "heating_kwh", "cooling_kwh", "peak_heating_w", "peak_cooling_w",
    "temp_min_c", "temp_max_c", "hours_above_26_c",
}  # fmt: skip
ZONE = BUILDING - {"kind", "zones"} | {"months"}


def test_run_as_json_has_the_promised_keys(run: Run, file: Path) -> None:
    code, out, err = run("run", file, "--json")
    data = json.loads(out, parse_constant=pytest.fail)
    assert (code, err) == (0, "")
    assert data["format"] == "noonmark.year/1"
    assert {"source", "trust"} <= set(data["climate"])
    for buildings in (data["buildings"], data["twin"]):
        (house,) = buildings
        assert set(house) >= BUILDING
        assert (house["name"], house["kind"]) == ("house", "house")
        for zone in house["zones"]:
            assert set(zone) >= ZONE
            assert [month["month"] for month in zone["months"]] == list(range(1, 13))
        assert house["temp_min_c"] == min(zone["temp_min_c"] for zone in house["zones"])
        assert house["temp_max_c"] == max(zone["temp_max_c"] for zone in house["zones"])
        assert house["heating_kwh"] == pytest.approx(sum(z["heating_kwh"] for z in house["zones"]))
        assert house["peak_cooling_w"] == sum(zone["peak_cooling_w"] for zone in house["zones"])
    assert set(data["twin"][0]) == set(data["buildings"][0])
    assert set(data["buildings"][0]) == described_keys("BuildingYear")
    assert data["buildings"][0]["heating_kwh"] < data["twin"][0]["heating_kwh"]


def described_keys(section: str) -> set[str]:
    """Return the keys that the page of the result tree describes in a section."""
    from noonmark.study.schema import result_tree_markdown

    text = result_tree_markdown().partition(f"## {section}\n")[2].partition("\n## ")[0]
    return {line.split("`")[1] for line in text.splitlines() if line.startswith("| `")}


def test_cooler_shows_in_the_building(run: Run, file: Path) -> None:
    file.write_text(SAMPLE + '\n[house.cooling]\nsetpoint = "22 C"\n', "utf-8")
    house = json.loads(run("run", file, "--json")[1])["buildings"][0]
    assert house["peak_cooling_w"] > 100.0
    assert house["cooling_kwh"] > 1.0


def test_run_prints_the_year(run: Run, file: Path) -> None:
    code, out, err = run("run", file)
    assert (code, err) == (0, "")
    for words in (
        "Larkspur: a year at Golden, Colorado",
        "a typical year",
        "unshaped twin",
        "sun from south",
        "December",
        "full cords (pine)",
        "Shaping it to the sun saves",
    ):
        assert words in out  # fmt: skip
    assert "\x1b" not in out
    assert "°F" in out
    assert "°F" not in run("run", file, "--units", "metric")[1]


def test_missed_goals_end_with_1(run: Run, file: Path) -> None:
    file.write_text(
        SAMPLE + "\n[house.goals]\nheating_kwh = 100\nhours_above_26_c = 8760\n", "utf-8"
    )
    code, out, err = run("run", file, "--json")
    assert code == 1
    assert [item["key"] for item in json.loads(out)["buildings"][0]["missed_goals"]] == [
        "goal.heating"
    ]
    assert err.startswith("house: heats with ")
    assert err.rstrip().endswith("kWh, the goal is 100 kWh")
    assert run("run", file, "--set", "house.goals.heating_kwh=99999")[0] == 0


def test_set_changes_the_answer_not_the_file(run: Run, file: Path) -> None:
    before = json.loads(run("run", file, "--json")[1])
    after = json.loads(run("run", file, "--json", "--set", "house.faces=90")[1])
    assert after["buildings"][0]["heating_kwh"] > before["buildings"][0]["heating_kwh"]
    assert file.read_text("utf-8") == SAMPLE


def test_weather_file_that_is_not_there_is_named(run: Run, file: Path) -> None:
    file.write_text(SAMPLE.replace('year = "golden"', 'file = "none.csv"'), "utf-8")
    code, out, err = run("run", file)
    assert (code, out) == (2, "")
    assert err == "none.csv: there is no such weather file\n"


# --- show ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ((), "12-21"),
        (("--date", "06-21"), "06-21"),
        (("--date", "3-20", "--at", "15:00"), "03-20"),
        (("--date", "2028-02-29", "--at", "9"), "02-29"),
        (("--date", "12-21", "--at", "00:30"), "12-21"),
        (("--date", "03-13", "--at", "2:30"), "03-13"),
    ],
)
def test_show_writes_two_drawings(run: Run, file: Path, words: tuple[str, ...], name: str) -> None:
    out_folder = file.parent / "new" / "drawings"
    code, out, err = run("show", file, "--out", out_folder, *words)
    assert (code, out) == (0, "")
    names = [f"house-section-{name}.svg", "house-rooms-year.svg"]
    assert err == "".join(f"wrote {out_folder / each}\n" for each in names)
    for each in names:
        root = ElementTree.parse(out_folder / each).getroot()
        assert root.tag.endswith("svg")
    assert sorted(path.name for path in out_folder.iterdir()) == sorted(names)


def test_show_as_json_names_the_files(run: Run, file: Path) -> None:
    code, out, err = run("show", file, "--out", file.parent, "--json")
    data = json.loads(out)
    assert (code, err, data["format"]) == (0, "", "noonmark.show/1")
    assert all(Path(path).is_file() for path in data["files"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--date", "02-29"), "--date: an ordinary year has no 29 February"),
        (("--date", "02-30"), '--date: can not read "02-30" as a day'),
        (("--date", "13-01"), "--date: can not read"),
        (("--date", "2023-02-29"), "--date: can not read"),
        (("--date", "9999-12-31"), "--date: can not read"),
        (("--date", "0001-01-01"), "--date: can not read"),
        (("--date", "21 December"), "--date: can not read"),
        (("--date", ""), "--date: can not read"),
        (("--at", "25:00"), '--at: can not read "25:00" as a clock time; write noon or 15:00'),
        (("--at", "12:00+05:00"), "--at: can not read"),
        (("--at", "midday"), "--at: can not read"),
        (("--building", "barn"), 'no building is called "barn"; the file has: house'),
    ],
)
def test_show_refuses_odd_days_hours_and_buildings(
    run: Run, file: Path, words: tuple[str, ...], said: str
) -> None:
    code, out, err = run("show", file, "--out", file.parent / "d", *words)
    assert (code, out) == (2, "")
    assert err.startswith(said)
    assert not (file.parent / "d").exists()


def test_drawings_can_not_be_written_over_a_file(run: Run, file: Path) -> None:
    code, _, err = run("show", file, "--out", file)
    assert code == 2
    assert err == f"{file}: can not write here: File exists\n"
    assert file.read_text("utf-8") == SAMPLE


@pytest.mark.parametrize("name", ["../../up", "a/b", "..", "", "ü house", "\\u0007"])
def test_names_of_buildings_never_lead_out_of_the_folder(run: Run, file: Path, name: str) -> None:
    file.write_text(
        SAMPLE.replace("[[house.", f'[["{name}".').replace("[house", f'["{name}"'), "utf-8"
    )
    code, _, err = run("show", file, "--out", file.parent / "d")
    assert (code, err.count("wrote ")) == (0, 2)
    assert len(list((file.parent / "d").iterdir())) == 2
    assert sorted(path.name for path in file.parent.iterdir()) == ["d", "larkspur.toml"]


def test_house_without_heat_speaks_of_its_coldest_hour(run: Run, file: Path) -> None:
    code, out, _ = run("run", file, "--set", 'house.heating.capacity="0 W"', "--units", "metric")
    assert code == 0
    assert re.search(
        r"No heat all year: the coldest hour inside is .?\d+\.\d °C, in the unshaped twin", out
    )
    assert "saves" not in out
    assert "Where the heat goes" not in out


def test_balances_and_maps_of_two_zones_name_them(run: Run, file: Path) -> None:
    shed = {"length": "3 m", "width": "8 m", "height": "9 ft"}
    wall = {"zone": "rooms", "side": "left", "next_to": "shed"}
    windows = [item for item in sample()["house"]["window"] if item["side"] != "left"]
    edits = (put("house.zone.shed", shed), put("house.wall", [wall]), put("house.window", windows))
    file.write_text(sample_text(*edits), "utf-8")
    code, out, _ = run("run", file)
    assert code == 0
    for zone in ("rooms", "shed"):
        assert f"Where the heat goes in the heating months: {zone}" in out
        assert f"Where it comes from: {zone}" in out
    assert run("show", file, "--out", file.parent / "drawn")[0] == 0
    for zone in ("rooms", "shed"):
        drawn = (file.parent / "drawn" / f"house-{zone}-year.svg").read_text("utf-8")
        assert f"house, {zone}, on the weather of" in drawn


# --- demo, and real processes -------------------------------------------------------------------


def test_demo_prints_and_draws(tmp_path: Path) -> None:
    done = process("demo", "--out", "drawn", folder=tmp_path, COLUMNS="90")
    assert done.returncode == 0, done.stderr
    assert "Larkspur: a year at Golden, Colorado" in done.stdout
    assert "\x1b" not in done.stdout + done.stderr
    assert done.stderr.count("wrote drawn/") == 2
    assert len(list((tmp_path / "drawn").glob("*.svg"))) == 2
    assert [path.name for path in tmp_path.iterdir()] == ["drawn"]


def test_no_colour_even_when_colour_is_forced(file: Path) -> None:
    done = process("run", file, folder=file.parent, NO_COLOR="1", FORCE_COLOR="1", TERM="xterm")
    assert done.returncode == 0
    assert "\x1b[3" not in done.stdout
    assert "\x1b[4" not in done.stdout


def test_a_terminal_without_primes_and_degrees_still_reads_the_year(file: Path) -> None:
    done = process("run", file.name, folder=file.parent, PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, "")
    assert "66." in done.stdout
    assert "?F" in done.stdout


def test_real_process_ends_with_its_code_and_no_traceback(file: Path) -> None:
    for words, code in ((("check", file), 0), (("check", "none.toml"), 2), (("nope",), 2)):
        done = process(*words, folder=file.parent)
        assert done.returncode == code
        assert "Traceback" not in done.stderr
        assert bool(done.stderr) == (code == 2)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_read_only_folder(run: Run, file: Path) -> None:
    file.parent.chmod(0o555)
    try:
        assert run("run", file)[0] == 0
        code, _, err = run("show", file, "--out", file.parent)
        assert code == 2
        assert "can not write here: Permission denied" in err
        assert run("new", file.parent / "new.toml", *NORTH)[0] == 2
    finally:
        file.parent.chmod(0o755)


def test_folder_that_refuses_writing(run: Run, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("noonmark.design.file.tempfile.mkstemp", refuse)
    code, out, err = run("show", file, "--out", file.parent)
    assert (code, out) == (2, "")
    assert "can not write here: Permission denied" in err
    assert run("new", file.parent / "new.toml", *NORTH)[0] == 2
    assert run("run", file)[0] == 0
    assert [path.name for path in file.parent.iterdir()] == ["larkspur.toml"]
