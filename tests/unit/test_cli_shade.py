"""Season, eave, awning and slats on the command line: what they print, and how they refuse."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from command_line import Run
from mutants import SAMPLE


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "house.toml"
    path.write_text(SAMPLE, "utf-8")
    return str(path)


def answer(run: Run, *words: str) -> Any:
    code, out, err = run(*words, "--json")
    assert (code, err) == (0, "")
    return json.loads(out)


DATES = {"full_sun_until", "half_shaded_on", "full_shade_from", "full_shade_to", "full_sun_from"}


def test_season_names_every_window_with_its_dates(run: Run, file: str) -> None:
    result = answer(run, "season", file, "--year", "2027")
    assert result["format"] == "noonmark.season/1"
    names = [window["window"] for window in result["windows"]]
    assert names == ["living room", "bedroom, sunny", "kitchen", "west", "back"]
    for window in result["windows"]:
        for when in ("noon", "clock_9", "clock_12", "clock_15", "day"):
            assert set(window[when]) >= DATES
            for key in DATES:
                if window[when][key] is not None:
                    assert date.fromisoformat(window[when][key]).year == 2027


def test_season_in_words(run: Run, file: str) -> None:
    code, out, err = run("season", file)
    assert (code, err) == (0, "")
    assert "living room, south" in out
    assert "11 Feb" in out
    assert "daylight saving included" in out


def test_eave_gives_back_the_days_it_was_asked_for(run: Run, file: str) -> None:
    wish = ("--sun-until", "2-10", "--shade-from", "5-10")
    result = answer(run, "eave", file, "--window", "living room", *wish)
    assert result["format"] == "noonmark.eave/1"
    assert len(result["solutions"]) == 1
    for solution in result["solutions"]:
        assert {"projection_m", "soffit_above_head_m", "set"} <= set(solution)
        words = [word for change in solution["set"] for word in ("--set", change)]
        noon = answer(run, "season", file, *words)["windows"][0]["noon"]
        assert abs(date.fromisoformat(noon["full_sun_until"]) - date(2022, 2, 10)).days <= 1
        assert abs(date.fromisoformat(noon["full_shade_from"]) - date(2022, 5, 10)).days <= 1


def test_eave_by_the_year_and_awning(run: Run, file: str) -> None:
    result = answer(run, "eave", file, "--window", "living room", "--by-year")
    assert result["format"] == "noonmark.eave-year/1"
    assert result["solutions"][0]["set"]
    code, out, err = run("eave", file, "--window", "living room", "--by-year")
    assert (code, err) == (0, "")
    assert "counts here as much as 1 kWh" in out
    shade = answer(run, "awning", file, "--window", "west")
    assert date.fromisoformat(shade["put_up"]) < date.fromisoformat(shade["take_down"])
    code, out, err = run("awning", file, "--window", "west")
    assert (code, err) == (0, "")
    assert "Put it up on" in out


SLATS = ("--put-up", "5-15", "--take-down", "9-1", "--from", "15:00", "--to", "18:00")


def test_slats_with_their_cut_list(run: Run, file: str) -> None:
    result = answer(run, "slats", file, "--window", "west", *SLATS)
    assert result["format"] == "noonmark.slats/1"
    plan = result["plans"][result["recommended"]]
    assert plan["pieces"][0]["part"] == "board"
    code, out, err = run("slats", file, "--window", "west", *SLATS)
    assert (code, err) == (0, "")
    assert "Cut list" in out
    assert "--set 'house.window.4.slats={" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("season", "--year", "3000"), "from 1900 to 2100"),
        (("season", "--set", "place.skyline=[[90,5],[80,5],[70,5]]"), "once round"),
        (("eave", "--window", "attic", "--sun-until", "2-10"), 'no window is called "attic"'),
        (("eave", "--window", "west", "--sun-until", "2-10"), "no eave can time its shade"),
        (("eave", "--window", "living room"), "--sun-until"),
        (("eave", "--window", "living room", "--sun-until", "2-30"), "can not read"),
        (("eave", "--window", "living room", "--by-year", "--sun-until", "2-10"), "or by the year"),
        (("eave", "--window", "living room", "--by-year", "--hour-counts", "-1"), "0 to 1000 kWh"),
        (("eave", "--window", "living room", "--sun-until", "4-20", "--shade-from", "4-25"),
         "the nearest stands out"),
        (("awning", "--window", "west", "--projection", "4 lb"), "a length belongs here"),
        (("slats", "--window", "west", *SLATS[:6], "--to", "14:00"), "end before they begin"),
        (("slats", "--window", "west", *SLATS, "--board", "4 ft"), "no size of a board"),
        (("slats", "--window", "back", *SLATS[:4], "--from", "11:00", "--to", "13:00"),
         "never stands before the north wall"),
    ],
)  # fmt: skip
def test_refused_in_the_builders_words(
    run: Run, file: str, words: tuple[str, ...], said: str
) -> None:
    command, *rest = words
    code, out, err = run(command, file, *rest)
    assert (code, out) == (2, "")
    assert said in err
    assert "Traceback" not in err
