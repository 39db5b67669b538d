"""What the command about glass does."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from noonmark.cards.glasstables import glass_tables
from noonmark.cards.speech import Speech
from noonmark.choose.glass import glass_by_side
from noonmark.cli.output import print_json, print_table, progress_bar
from noonmark.cli.words import check_hour_counts
from noonmark.design.file import load_design
from noonmark.units import System


def glass(
    file: Path,
    changes: Sequence[str],
    *,
    hour_counts: float,
    units: System | None,
    as_json: bool,
) -> int:
    """Print every glazing on every side, and what the usual advice is worth."""
    check_hour_counts(hour_counts)
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    with progress_bar(speech) as listen:
        result = glass_by_side(design, hour_counts=hour_counts, listen=listen)
    if as_json:
        print_json(result.as_data())
        return 0
    for table in glass_tables(result, speech):
        print_table(table)
    for sentence in result.advice:
        print(speech.say(sentence))
    print(speech.word("glass.note"))
    return 0
