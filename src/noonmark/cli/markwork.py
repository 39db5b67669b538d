"""What the command about sun marks does."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from pathlib import Path

from noonmark.cards.marktables import marks_table, no_mark_sentences
from noonmark.cards.speech import Speech
from noonmark.cli.output import print_json, print_table
from noonmark.cli.words import building_names, coming_day, read_hour
from noonmark.design.file import load_design
from noonmark.study.marks import fortnights, marked_wall, sun_marks
from noonmark.units import System


def marks(
    file: Path,
    changes: Sequence[str],
    *,
    which: tuple[str | None, str | None],
    dates: Sequence[str],
    at: str | None,
    units: System | None,
    as_json: bool,
) -> int:
    """Print the marks of a wall."""
    today = datetime.date.today()
    days = [coming_day(text, today) for text in dates] or fortnights(today)
    clock = None if at is None else read_hour(at, "--at")
    design = load_design(file, changes)
    homestead = design.homestead
    speech = Speech(units or homestead.units)
    building, window = which
    if building is not None:
        building_names(homestead, building)
    wall = marked_wall(homestead, building=building, window=window)
    result = sun_marks(homestead, wall, days, clock=clock)
    if as_json:
        print_json(result.as_data())
        return 0
    if result.marks:
        print_table(marks_table(result, speech))
    for sentence in no_mark_sentences(result, speech):
        print(speech.say(sentence))
    print(speech.word("marks.note"))
    return 0
