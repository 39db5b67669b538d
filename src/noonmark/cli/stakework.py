"""What the command that stakes a house out does."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from noonmark.cards.speech import Speech
from noonmark.cards.staketables import direction_table, noon_table, stake_tables
from noonmark.cards.stakewords import (
    aside_sentences,
    circle_sentences,
    needle_sentences,
    noon_sentences,
    square_sentences,
)
from noonmark.cli.output import print_json, print_sentences, print_table
from noonmark.cli.sheetfiles import file_name, write_sheets
from noonmark.cli.words import building_names, read_day
from noonmark.design.file import load_design
from noonmark.sheets.press import Paper, usual_paper
from noonmark.sheets.stakesheet import stakeout_pdf
from noonmark.study.results.stakeout import BuildingStakes, StakeoutResult
from noonmark.study.stakeout import stakeout
from noonmark.units import System


def stake(
    file: Path,
    changes: Sequence[str],
    *,
    day: str | None,
    building: str | None,
    out: Path | None,
    paper: Paper | None,
    units: System | None,
    as_json: bool,
) -> int:
    """Print how to stake the buildings out, and write a sheet of each if asked for a folder."""
    today = date.today()
    when = today if day is None else read_day(day, year=today.year)
    design = load_design(file, changes)
    names = building_names(design.homestead, building)
    speech = Speech(units or design.homestead.units, fine=True)
    result = stakeout(design.homestead, when, names=names, system=speech.system)
    files = []
    if out is not None:
        sheets = {
            f"{file_name(item.name)}-stakeout.pdf": stakeout_pdf(
                result, item, speech, paper or usual_paper(speech.system)
            )
            for item in result.buildings
        }
        files = write_sheets(sheets, out, speech, quiet=as_json)
    if as_json:
        written = {"files": [str(path) for path in files]} if files else {}
        print_json(result.as_data() | written)
        return 0
    _print(result, speech)
    sys.stdout.flush()
    return 0


def _print(result: StakeoutResult, speech: Speech) -> None:
    print_sentences(speech.word("stakeout.by_compass"), [*needle_sentences(result)], speech)
    print_sentences(speech.word("stakeout.by_noon"), [*noon_sentences(result)], speech)
    print_table(noon_table(result, speech))
    print_sentences(speech.word("stakeout.by_circle"), [*circle_sentences(result)], speech)
    for item in result.buildings:
        _print_building(item, result, speech)
    print_sentences(speech.word("caution.title"), result.cautions, speech)


def _print_building(item: BuildingStakes, result: StakeoutResult, speech: Speech) -> None:
    print_table(direction_table(item, result, speech))
    for part, table in zip(item.footprints, stake_tables(item, speech), strict=True):
        print_table(table)
        aside = aside_sentences(result, item, speech.system)
        said = [*square_sentences(part, speech.system), *aside]
        print_sentences(speech.word("stakeout.squared"), said, speech)
    print(speech.word("stakeout.note"))
