"""Drawings on their way into files, and the words of the command line they are asked for by."""

from __future__ import annotations

import re
import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from noonmark.cards.speech import Speech
from noonmark.design.file import write_atomically
from noonmark.design.model import Homestead
from noonmark.errors import InputError, Problem, Sentence
from noonmark.sun.year import NOMINAL_YEAR

YEARS = range(1900, 2101)
"""Years whose sun the published position algorithm keeps to its accuracy, and then some."""

_DAY = re.compile(r"(?:([0-9]{4})-)?([0-9]{1,2})-([0-9]{1,2})")


def write_sheets(
    sheets: Mapping[str, str], out: Path, speech: Speech, *, quiet: bool = False
) -> list[Path]:
    """Write drawings into a folder by their file names and say where; returns their paths."""
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        values = {"reason": error.strerror or type(error).__name__}
        raise InputError(Problem("file.unwritable", file=str(out), values=values)) from error
    paths = []
    for file, drawing in sheets.items():
        write_atomically(out / file, drawing)
        paths.append(out / file)
        if not quiet:
            sys.stderr.write(speech.say(Sentence("check.wrote", {"file": str(out / file)})) + "\n")
    return paths


def file_name(name: str) -> str:
    """Return a name of the design as part of a file name that stays in its folder."""
    return re.sub(r"[^\w -]", "-", name)[:60] or "-"


def building_names(homestead: Homestead, wanted: str | None) -> list[str]:
    """Return the building asked for, else all of them in their order."""
    names = list(homestead.buildings)
    if wanted is None:
        return names
    if wanted not in names:
        raise InputError(Problem("show.no_building", values={"read": wanted, "known": names}))
    return [wanted]


def read_day(text: str, option: str = "--date") -> date:
    """Read a month and day, of the nominal year, or a full date of our age."""
    found = _DAY.fullmatch(text.strip())
    year, month, day = (
        (int(part or NOMINAL_YEAR) for part in found.groups()) if found else (0, 0, 0)
    )
    if (month, day) == (2, 29) and found and not found[1]:
        raise InputError(Problem("show.leap_day", path=option, values={"read": text}))
    try:
        if year in YEARS:
            return date(year, month, day)
    except ValueError:
        pass
    raise InputError(Problem("show.bad_date", path=option, values={"read": text}))
