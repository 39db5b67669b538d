"""What the commands about sun and shade do: season, eave, awning, slats."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from noonmark.cards.shadetables import eave_tables, season_tables, slats_tables
from noonmark.cards.shadeyear import awning_sentence, eave_year_sentences, eave_year_tables
from noonmark.cards.speech import Speech
from noonmark.choose import yearly
from noonmark.choose.eave import Wish, size_eave
from noonmark.choose.slats import Boards, Hours, size_slats
from noonmark.cli.output import print_changes, print_json, print_table, progress_bar
from noonmark.cli.sheetfiles import file_name, write_sheets
from noonmark.cli.words import YEARS, check_hour_counts, read_day, read_hour, read_length
from noonmark.design.file import load_design
from noonmark.errors import InputError, Problem
from noonmark.sheets.slatwords import slats_sheet
from noonmark.study.season import seasons
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import System


def season(
    file: Path, changes: Sequence[str], *, year: int | None, units: System | None, as_json: bool
) -> int:
    """Print the dates of every window."""
    if year is not None and year not in YEARS:
        raise InputError(Problem("season.bad_year", path="--year", values={"read": year}))
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    result = seasons(design.homestead, year or NOMINAL_YEAR)
    if as_json:
        print_json(result.as_data())
        return 0
    for table in season_tables(result, speech):
        print_table(table)
    print(speech.word("season.note"))
    return 0


def eave(
    file: Path,
    changes: Sequence[str],
    *,
    window: str,
    sun_until: str | None,
    shade_from: str | None,
    units: System | None,
    as_json: bool,
) -> int:
    """Print the eaves that hold the wish, with the words that build them."""
    wish = Wish(
        None if sun_until is None else read_day(sun_until, "--sun-until"),
        None if shade_from is None else read_day(shade_from, "--shade-from"),
    )
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    result = size_eave(design, window, wish)
    if as_json:
        print_json(result.as_data())
        return 0
    for table in eave_tables(result, speech):
        print_table(table)
    for item in result.solutions:
        print_changes(item.set, speech)
    print(speech.word("eave.note"))
    return 0


def eave_by_year(
    file: Path,
    changes: Sequence[str],
    *,
    window: str,
    days: tuple[str | None, str | None],
    hour_counts: float,
    units: System | None,
    as_json: bool,
) -> int:
    """Print the eave that the year prefers, and what a movable shade would do instead."""
    if days != (None, None):
        raise InputError(Problem("eave.days_or_year", path="--by-year"))
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    check_hour_counts(hour_counts)
    with progress_bar(speech) as listen:
        result = yearly.eave_by_year(design, window, hour_counts=hour_counts, listen=listen)
    if as_json:
        print_json(result.as_data())
        return 0
    for table in eave_year_tables(result, speech):
        print_table(table)
    for sentence in eave_year_sentences(result):
        print(speech.say(sentence))
    print_changes(result.solutions[0].set, speech)
    return 0


def awning(
    file: Path,
    changes: Sequence[str],
    *,
    window: str,
    sizes: dict[str, str],
    hour_counts: float,
    units: System | None,
    as_json: bool,
) -> int:
    """Print when an awning is best put up and taken down."""
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    check_hour_counts(hour_counts)
    result = yearly.awning_by_year(design, window, sizes, hour_counts=hour_counts)
    if as_json:
        print_json(result.as_data())
        return 0
    print(speech.say(awning_sentence(result)))
    print(speech.word("awning.note"))
    print_changes(result.set, speech)
    return 0


def slats(
    file: Path,
    changes: Sequence[str],
    *,
    window: str,
    days: tuple[str, str],
    clocks: tuple[str, str],
    board: str,
    thickness: str,
    upright: bool,
    out: Path | None,
    units: System | None,
    as_json: bool,
) -> int:
    """Print spacings for several tilts and the cut list of the recommended one, and draw it."""
    hours = Hours(
        read_day(days[0], "--put-up"),
        read_day(days[1], "--take-down"),
        read_hour(clocks[0], "--from"),
        read_hour(clocks[1], "--to"),
    )
    boards = Boards(read_length(board, "--board"), read_length(thickness, "--thickness"), upright)
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    result = size_slats(design, window, hours, boards)
    files = []
    if out is not None:
        name = f"{file_name(result.building)}-slats-{file_name(result.window)}.svg"
        title = design.homestead.title or result.building
        sheet = slats_sheet(result, hours, title=title, speech=speech).sheet()
        files = write_sheets({name: sheet}, out, speech, quiet=as_json)
    if as_json:
        written = {"files": [str(path) for path in files]} if files else {}
        print_json(result.as_data() | written)
        return 0
    for table in slats_tables(result, speech):
        print_table(table)
    print_changes(result.plans[result.recommended].set, speech)
    print(speech.word("slats.note"))
    return 0
