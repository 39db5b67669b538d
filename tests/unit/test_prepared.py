"""What is kept on disk between runs, and what happens when the disk is no help."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import IO

import numpy as np
import pytest

from noonmark.study import prepared
from noonmark.study.site import Site
from sample_house import golden


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(prepared, "cache_folder", lambda _purpose: tmp_path)
    return tmp_path


class Maker:
    """Count how often an array was made."""

    def __init__(self) -> None:
        self.calls = 0

    def __call__(self) -> np.ndarray:
        self.calls += 1
        return np.arange(5.0)


def test_an_array_is_made_once(folder: Path) -> None:
    make = Maker()
    for _ in range(3):
        np.testing.assert_array_equal(prepared.kept("five", make), np.arange(5.0))
    assert make.calls == 1
    assert [file.name for file in folder.iterdir()] == ["five.npy"]


def cut_short(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:-9])


def emptied(file: Path) -> None:
    file.write_bytes(b"")


def overwritten(file: Path) -> None:
    file.write_bytes(b"not an array at all")


@pytest.mark.parametrize("damage", [cut_short, emptied, overwritten])
def test_a_damaged_file_is_made_anew(folder: Path, damage: Callable[[Path], None]) -> None:
    make = Maker()
    prepared.kept("five", make)
    damage(folder / "five.npy")
    np.testing.assert_array_equal(prepared.kept("five", make), np.arange(5.0))
    assert make.calls == 2
    np.testing.assert_array_equal(prepared.kept("five", make), np.arange(5.0))
    assert make.calls == 2


def test_a_disk_that_takes_nothing_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(prepared, "cache_folder", lambda _purpose: tmp_path / "gone")
    make = Maker()
    for _ in range(2):
        np.testing.assert_array_equal(prepared.kept("five", make), np.arange(5.0))
    assert make.calls == 2


def test_a_full_disk_keeps_no_half_files(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(stream: IO[bytes], _array: np.ndarray) -> None:
        stream.write(b"half")
        raise OSError("no space left on device")

    monkeypatch.setattr(np, "save", full)
    np.testing.assert_array_equal(prepared.kept("five", Maker()), np.arange(5.0))
    assert not list(folder.iterdir())


def test_the_longest_unused_are_let_go(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(prepared, "MOST_KEPT", 3)
    for name in "abcde":
        prepared.kept(name, Maker())
    assert len(list(folder.glob("*.npy"))) == 3
    assert (folder / "e.npy").exists()


def test_names_follow_the_content() -> None:
    one = np.arange(4.0)
    assert prepared.digest(one) == prepared.digest(one.copy())
    assert prepared.digest(one) != prepared.digest(one + 1e-12)
    assert prepared.digest(one, one) != prepared.digest(one)


def test_a_site_reads_back_what_it_made(folder: Path) -> None:
    fresh = Site(golden().place, golden().weather)
    made, plane = fresh.sun, fresh.plane(90.0, 180.0)
    again = Site(golden().place, golden().weather)
    np.testing.assert_array_equal(again.sun.altitude, made.altitude)
    np.testing.assert_array_equal(again.sun.solar_noon_h, made.solar_noon_h)
    np.testing.assert_array_equal(again.plane(90.0, 180.0).total, plane.total)
    assert len(list(folder.glob("*.npy"))) == 2
    # another azimuth is another file; a whole turn is not
    again.plane(90.0, 540.0)
    again.plane(90.0, 90.0)
    assert len(list(folder.glob("*.npy"))) == 3


def test_a_damaged_sun_is_made_anew(folder: Path) -> None:
    made = Site(golden().place, golden().weather).sun
    (file,) = folder.glob("sun-*.npy")
    cut_short(file)
    again = Site(golden().place, golden().weather).sun
    np.testing.assert_array_equal(again.azimuth, made.azimuth)
