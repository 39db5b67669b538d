"""What the commands about glass and damp do."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from noonmark.cards.damptables import damp_sentences, damp_tables
from noonmark.cards.glasstables import glass_tables
from noonmark.cards.speech import Speech
from noonmark.choose.glass import glass_by_side
from noonmark.cli.output import print_json, print_table, progress_bar
from noonmark.cli.words import check_hour_counts
from noonmark.design.file import load_design
from noonmark.errors import InputError
from noonmark.study.damp import damp as found
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
    if not result.sides:
        print(speech.word("glass.none"))
        return 0
    for table in glass_tables(result, speech):
        print_table(table)
    for sentence in result.advice:
        print(speech.say(sentence))
    print(speech.word("glass.note"))
    return 0


def damp(file: Path, changes: Sequence[str], *, units: System | None, as_json: bool) -> int:
    """Print what sweats and what dries."""
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    try:
        result = found(design.homestead, design.folder)
    except InputError as error:
        raise design.located(error) from error
    if as_json:
        print_json(result.as_data())
        return 0
    for table in damp_tables(result, speech):
        print_table(table)
    for sentence in damp_sentences(result, speech):
        print(speech.say(sentence))
    print(speech.word("damp.note"))
    return 0
