"""Whatever happens to a weather file, it is read or refused with a reason; nothing else."""

from __future__ import annotations

import gzip
import random
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from noonmark.climate.tmy3 import read_tmy3
from noonmark.errors import InputError
from weather_samples import tmy3_text

ODD = [
    "",
    "nan",
    "inf",
    "-inf",
    "1e400",
    "1_0",
    "٣",
    "\x00",
    ",",
    '"',
    "\n",
    "\r",
    "9" * 5000,
    "ü",
    "-",
]
Mutation = Callable[[random.Random, str], str]


def replace_cell(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    row = chance.choice([0, 1, 2, 3, chance.randrange(len(lines))])
    cells = lines[row].split(",")
    cells[chance.randrange(len(cells))] = chance.choice(ODD)
    lines[row] = ",".join(cells)
    return "\n".join(lines)


def cut(chance: random.Random, text: str) -> str:
    return text[: chance.randrange(len(text))]


def drop_piece(chance: random.Random, text: str) -> str:
    start = chance.randrange(len(text))
    return text[:start] + text[start + chance.randrange(2000) :]


def swap_lines(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    one, two = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[two] = lines[two], lines[one]
    return "\n".join(lines)


def insert_odd(chance: random.Random, text: str) -> str:
    start = chance.choice([chance.randrange(400), chance.randrange(len(text))])
    return text[:start] + chance.choice(ODD) + text[start:]


MUTATIONS: list[Mutation] = [replace_cell, cut, drop_piece, swap_lines, insert_odd]


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda mutation: mutation.__name__)
def test_mutants_are_read_or_refused(tmp_path: Path, mutation: Mutation) -> None:
    chance = random.Random(f"noonmark {mutation.__name__}")
    path = tmp_path / "mutant.csv"
    refused = 0
    for _ in range(60):
        path.write_bytes(mutation(chance, tmy3_text()).encode())
        refused += not is_read(path)
    assert refused > 10


def test_packed_mutants_are_read_or_refused(tmp_path: Path) -> None:
    chance = random.Random("noonmark packed")
    packed = gzip.compress(tmy3_text().encode())
    path = tmp_path / "mutant.csv.gz"
    refused = 0
    for _ in range(60):
        broken = bytearray(packed)
        broken[chance.choice([chance.randrange(20), chance.randrange(len(packed))])] ^= 255
        path.write_bytes(bytes(broken))
        refused += not is_read(path)
    assert refused > 30


def is_read(path: Path) -> bool:
    """Return whether the file was read, every number finite; any other error fails the test."""
    try:
        year = read_tmy3(path)
    except InputError:
        return False
    assert np.isfinite([year.temp_air, year.dew_point, year.ghi, year.wind_direction]).all()
    return True
