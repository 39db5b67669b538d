"""Changing one value, writing back with comments, writing whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from designs import refused
from mutants import SAMPLE
from noonmark.cards.speech import Speech
from noonmark.design import load_design, parse_design
from noonmark.design.change import apply_change
from noonmark.design.file import write_atomically
from noonmark.errors import InputError


def changed(*changes: str) -> Any:
    return parse_design(SAMPLE, changes=changes).homestead


def said(*changes: str) -> str:
    (problem,) = refused(SAMPLE, changes)
    return Speech().explain(problem)


@pytest.mark.parametrize(
    ("change", "read", "value"),
    [
        ("house.eave.projection=3 ft", lambda h: h.buildings["house"].eave.projection, 0.9144),
        ('house.eave.projection="3 ft"', lambda h: h.buildings["house"].eave.projection, 0.9144),
        ("house.eave.projection='3 ft'", lambda h: h.buildings["house"].eave.projection, 0.9144),
        (" house.eave.projection = 0.5 ", lambda h: h.buildings["house"].eave.projection, 0.5),
        ("house.window.1.width=5' 6\"", lambda h: h.buildings["house"].window[0].width, 1.6764),
        ("house.window.2.count=2", lambda h: h.buildings["house"].window[1].count, 2),
        ("house.window.2.escape=false", lambda h: h.buildings["house"].window[1].escape, False),
        ("construction.wall.layers.2.stud_fraction=20 %",
         lambda h: h.construction["wall"].layers[1].stud_fraction, 0.2),
        ("house.zone.rooms.height=3 m", lambda h: h.buildings["house"].zone["rooms"].height, 3.0),
        ("title=A house = a home", lambda h: h.title, "A house = a home"),
        ("house.cooling.setpoint=25 C", lambda h: h.buildings["house"].cooling.setpoint, 25.0),
        ("house.goals={heating_kwh = 900}", lambda h: h.buildings["house"].goals.heating_kwh, 900),
        ('house.heating.setback=[{from = 22, to = 6, setpoint = "16 C"}]',
         lambda h: h.buildings["house"].heating.setback[0].begin, 22),
        ('construction.wall.layers.1={material = "osb", thickness = "1 in"}',
         lambda h: h.construction["wall"].layers[0].thickness, 0.0254),
        ("house.air.recovery=0.6", lambda h: h.buildings["house"].air.recovery, 0.6),
        ("house.heating.capacity=8 kW", lambda h: h.buildings["house"].heating.capacity, 8000.0),
    ],
)  # fmt: skip
def test_change_of_one_value(change: str, read: Any, value: object) -> None:
    assert read(changed(change)) == pytest.approx(value)


def test_wrong_word_within_a_changed_table_is_one_of_the_change() -> None:
    change = 'house.heating.setback=[{from = 22, to = 6, setpoint = "cold"}]'
    (problem,) = refused(SAMPLE, [change])
    assert problem.path == "house.heating.setback.1.setpoint"
    assert problem.file == f"--set {change}"


def test_zone_put_in_comes_after_those_there() -> None:
    """Windows without a zone lie in the first one, which must stay the first."""
    change = 'house.zone.loft={length = "8 m", width = "4 m", height = "2.6 m"}'
    wall = 'house.wall=[{side = "back", next_to = "loft"}]'
    moved = 'house.window.5.zone="loft"'
    house = changed(change, wall, moved).buildings["house"]
    assert list(house.zone) == ["rooms", "loft"]


def test_changes_follow_each_other() -> None:
    home = changed("house.faces=170", "house.faces=190", "units=metric")
    assert (home.buildings["house"].faces, home.units) == (190.0, "metric")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ("house.eav.projection=1", 'this word of --set "house.eav.projection=1" is not in the '
         "design; nearest: eave"),
        ("hose.eave.projection=1", "nearest: house"),
        ("house.zone.room.width=1", "nearest: rooms"),
        ("house.window.6.width=1", 'in --set "house.window.6.width=1" entries count from 1 to 5'),
        ("house.window.0.width=1", "entries count from 1 to 5"),
        ("house.window.x.width=1", "entries count from 1 to 5"),
        ("house.window.٣.width=1", "entries count from 1 to 5"),
        ("house.window.³.width=1", "entries count from 1 to 5"),
        ("title.x=1", 'there is nothing below this word in --set "title.x=1"'),
        ("title.x.y=1", "there is nothing below this word"),
        ("projection", '--set "projection" is not PATH=VALUE'),
        ("=3", "is not PATH=VALUE"),
        ("house..faces=3", "is not PATH=VALUE"),
        ("house.eave.projektion=1", '"projektion" is not known here; nearest: projection'),
    ],
)  # fmt: skip
def test_change_that_can_not_be_made(change: str, words: str) -> None:
    assert words in said(change)


def test_problem_of_a_change_names_the_change_not_the_line() -> None:
    assert said("house.window.1.width=4 foot long").startswith(
        "--set house.window.1.width=4 foot long: south window 1, width: can not read"
    )
    assert said("house.window.1.head=1 ft").startswith("--set house.window.1.head=1 ft: ")


def test_problem_elsewhere_still_names_its_line() -> None:
    broken = SAMPLE.replace('soil = "sand or gravel"', 'soil = "sand"')
    (problem,) = refused(broken, ["house.window.1.width=5 ft"])
    assert (problem.file, problem.line) == (
        "larkspur.toml",
        broken[: broken.index('soil = "sand"')].count("\n") + 1,
    )


def test_comments_survive_a_change() -> None:
    document = tomlkit.parse(SAMPLE)
    apply_change(document, "house.window.1.width=5 ft")
    apply_change(document, "house.faces=170")
    before, after = SAMPLE.splitlines(), tomlkit.dumps(document).splitlines()
    assert [(a, b) for a, b in zip(before, after, strict=True) if a != b] == [
        ("faces = 180                # the sunny side looks to true south",
         "faces = 170                # the sunny side looks to true south"),
        ('width = "6 ft"', 'width = "5 ft"'),
    ]  # fmt: skip


def test_unchanged_file_is_written_back_letter_by_letter(tmp_path: Path) -> None:
    source, copy = tmp_path / "a.toml", tmp_path / "b.toml"
    source.write_text(SAMPLE, "utf-8")
    load_design(source).write(copy)
    assert copy.read_bytes() == source.read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.toml", "b.toml"]


@pytest.mark.parametrize("step", ["write", "fsync", "replace", "chmod"])
def test_failing_write_leaves_the_old_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "house.toml"
    path.write_text("old", "utf-8")

    def fail(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    if step in ("replace", "chmod"):
        monkeypatch.setattr(Path, step, fail)
    elif step == "fsync":
        monkeypatch.setattr(os, "fsync", fail)
    else:
        monkeypatch.setattr(os, "fdopen", lambda *_, **__: FullDisk())
    with pytest.raises(InputError, match="unwritable") as caught:
        write_atomically(path, "new")
    monkeypatch.undo()
    assert Speech().explain_all(caught.value) == (
        f"{path}: can not write here: No space left on device"
    )
    assert path.read_text("utf-8") == "old"
    assert [item.name for item in tmp_path.iterdir()] == ["house.toml"]


class FullDisk:
    """A stream on a disk that is full."""

    def __enter__(self) -> FullDisk:
        return self

    def __exit__(self, *_: object) -> None:
        return None

    def write(self, _: str) -> None:
        raise OSError(28, "No space left on device")


def test_text_that_can_not_be_written_leaves_the_old_file_whole(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text("old", "utf-8")
    with pytest.raises(InputError, match="unwritable"):
        write_atomically(path, "half a letter: \ud800")
    assert [item.name for item in tmp_path.iterdir()] == ["house.toml"]
    assert path.read_text("utf-8") == "old"


def test_written_file_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    write_atomically(path, "é\n")
    assert path.read_bytes() == "é\n".encode()
    assert path.stat().st_mode & 0o777 == 0o644


def test_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="unwritable"):
        write_atomically(tmp_path / "none" / "house.toml", "x")
    with pytest.raises(InputError, match="unwritable"):
        write_atomically(tmp_path, "x")
    assert list(tmp_path.parent.glob(f".{tmp_path.name}.*")) == []
