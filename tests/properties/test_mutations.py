"""Whatever happens to a design, it is run or refused with a reason; nothing else."""

from __future__ import annotations

import json
import math
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from key_mutants import OUTDOORS, added_keys
from mutants import SAMPLE, spoiled_values
from noonmark.cli.app import run_words
from text_mutants import CHANGES, spoiled_text

BROKEN = "did not foresee"
UNFILLED = re.compile(r"\?[a-z_]+\?")
NAME = "design.toml"


@dataclass
class Tally:
    """How many mutants were tried, refused, and marched through a year."""

    tried: int = 0
    refused: int = 0
    marched: int = 0


def run(path: Path, capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """Run one command line on a design, check how it ends, return code and stdout."""
    code = run_words([words[0], str(path), *words[1:]])
    out, err = capsys.readouterr()
    assert code in (0, 1, 2), f"exit code {code}"
    assert BROKEN not in err, err
    assert sorted(item.name for item in path.parent.iterdir()) == [NAME]
    if code == 2:
        assert NAME in err or "--set" in err or "weather file" in err, f"no place named: {err}"
        assert not UNFILLED.search(err), f"a value was not handed over: {err}"
    return code, out


def numbers(node: Any, key: str = "") -> Iterator[tuple[str, float]]:
    """Yield every number of a result tree with its key."""
    if isinstance(node, dict):
        for name, value in node.items():
            yield from numbers(value, name)
    elif isinstance(node, list):
        for value in node:
            yield from numbers(value, key)
    elif isinstance(node, int | float):
        yield key, float(node)


def check_year(out: str) -> None:
    found = list(numbers(json.loads(out)))
    assert len(found) > 100
    for key, value in found:
        assert math.isfinite(value), key
        if key.startswith("temp_"):
            assert -90.0 <= value <= 150.0, f"{key} = {value}"
        if key == "closure_error":
            assert value < 1e-6, f"{key} = {value}"


def try_one(
    path: Path, capsys: pytest.CaptureFixture[str], tally: Tally, most: int, *words: str
) -> None:
    """Check one design, and march it when it stands and fewer than `most` were marched."""
    tally.tried += 1
    code, _ = run(path, capsys, "check", *words)
    if code == 2:
        tally.refused += 1
    elif tally.marched < most:
        code, out = run(path, capsys, "run", "--json", *words)
        if code != 2:
            tally.marched += 1
            check_year(out)


@pytest.mark.parametrize("part", range(2))
def test_added_keys_are_run_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], part: int
) -> None:
    chance = random.Random(f"noonmark keys {part}")
    path, tally = tmp_path / NAME, Tally()
    for number in range(180):
        path.write_text(added_keys(chance), "utf-8")
        try:
            try_one(path, capsys, tally, 20)
        except AssertionError as error:
            raise AssertionError(f"mutant {number} of part {part}: {error}") from error
    assert tally.marched == 20
    assert tally.refused >= 60


def test_things_in_the_sun_are_run_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    chance = random.Random("noonmark outdoors")
    path, tally = tmp_path / NAME, Tally()
    for number in range(150):
        path.write_text(added_keys(chance, OUTDOORS), "utf-8")
        try:
            try_one(path, capsys, tally, 20)
        except AssertionError as error:
            raise AssertionError(f"mutant {number}: {error}") from error
    assert tally.marched == 20
    assert tally.refused >= 50


@pytest.mark.parametrize("part", range(5))
def test_spoiled_values_are_run_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], part: int
) -> None:
    chance = random.Random(f"noonmark values {part}")
    path, tally = tmp_path / NAME, Tally()
    for number in range(240):
        path.write_text(spoiled_values(chance), "utf-8")
        try:
            try_one(path, capsys, tally, 56)
        except AssertionError as error:
            raise AssertionError(f"mutant {number} of part {part}: {error}") from error
    assert tally.tried == 240
    assert tally.marched == 56
    assert tally.refused >= 60


@pytest.mark.parametrize("part", range(3))
def test_spoiled_texts_are_run_or_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], part: int
) -> None:
    chance = random.Random(f"noonmark text {part}")
    path, tally = tmp_path / NAME, Tally()
    for _ in range(275):
        path.write_bytes(spoiled_text(chance))
        try_one(path, capsys, tally, 10)
    assert tally.refused >= 100
    assert tally.marched == 10


def test_odd_changes_are_run_or_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, tally = tmp_path / NAME, Tally()
    path.write_text(SAMPLE, "utf-8")
    for change in CHANGES:
        try_one(path, capsys, tally, 100, "--set", change)
    assert path.read_text("utf-8") == SAMPLE
    assert tally.refused >= 20
    assert tally.marched >= 7
