"""What the command about sun marks does: make them, and read real ones back."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from noonmark.cards.marktables import (
    fit_table,
    marks_table,
    no_mark_sentences,
    read_rows_table,
)
from noonmark.cards.speech import Speech
from noonmark.choose import readback
from noonmark.choose.markfile import read_marks
from noonmark.cli.output import print_json, print_table
from noonmark.cli.words import building_names, coming_day, read_hour
from noonmark.design.file import load_design, write_atomically
from noonmark.design.model import Homestead
from noonmark.errors import InputError, Problem, Sentence
from noonmark.place.site import azimuth_name
from noonmark.sheets.markwords import marks_calendar, marks_pole
from noonmark.sheets.press import Paper, usual_paper
from noonmark.study.marks import MarkedWall, fortnights, marked_wall, rain_marks, sun_marks
from noonmark.units import Quantity, System


def marks(
    file: Path,
    changes: Sequence[str],
    *,
    which: tuple[str | None, str | None],
    dates: Sequence[str],
    at: str | None,
    ics: Path | None,
    pole: Path | None,
    paper: Paper | None,
    units: System | None,
    as_json: bool,
) -> int:
    """Print the marks of a wall, and write calendar and story pole."""
    today = datetime.date.today()
    days = list(dict.fromkeys(coming_day(text, today) for text in dates)) or fortnights(today)
    clock = None if at is None else read_hour(at, "--at")
    if ics is not None and ics == pole:
        raise InputError(Problem("marks.one_file", path="--pole", values={"file": str(pole)}))
    design = load_design(file, changes)
    homestead = design.homestead
    speech = Speech(units or homestead.units)
    wall = _wall(homestead, which)
    result = sun_marks(homestead, wall, days, clock=clock)
    if (ics or pole) and not result.marks:
        values = {"side": azimuth_name(result.faces_deg)}
        raise InputError(Problem("marks.nothing", path="--ics" if ics else "--pole", values=values))
    if ics is not None:
        written = datetime.datetime.now(datetime.UTC)
        rain = rain_marks(homestead, wall, result.marks)
        _write(ics, marks_calendar(homestead, result, rain, written, speech), speech)
    if pole is not None:
        sheet = paper or usual_paper(speech.system)
        _write(pole, marks_pole(homestead, result, sheet, speech), speech)
    if as_json:
        print_json(result.as_data())
        return 0
    if result.marks:
        print_table(marks_table(result, speech))
    for sentence in no_mark_sentences(result, speech):
        print(speech.say(sentence))
    print(speech.word("marks.note"))
    return 0


def read_back(
    file: Path,
    changes: Sequence[str],
    read: Path,
    *,
    which: tuple[str | None, str | None],
    units: System | None,
    as_json: bool,
) -> int:
    """Print what real marks tell."""
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    wall = _wall(design.homestead, which)
    result = readback.read_back(design.homestead, wall, read_marks(read))
    if as_json:
        print_json(result.as_data())
        return 0
    drawn = sun_marks(design.homestead, wall, [result.rows[0].date])
    print_table(fit_table(result, drawn, speech))
    print_table(read_rows_table(result, speech))
    said = [*result.mistakes]
    if result.spread_m is not None:
        said += [Sentence("readback.spread", {"spread": Quantity(result.spread_m, "length")})]
    fine = replace(speech, fine=True)
    for sentence in (*said, *result.notes):
        print(fine.say(sentence))
    return 0


def _write(path: Path, content: bytes, speech: Speech) -> None:
    write_atomically(path, content)
    sys.stderr.write(speech.say(Sentence("check.wrote", {"file": str(path)})) + "\n")


def _wall(homestead: Homestead, which: tuple[str | None, str | None]) -> MarkedWall:
    building, window = which
    if building is not None:
        building_names(homestead, building)
    return marked_wall(homestead, building=building, window=window)
