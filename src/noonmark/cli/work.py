"""What the commands do, imported only when one runs."""

from __future__ import annotations

import datetime
import json
import os
import re
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict, replace
from importlib.resources import files
from pathlib import Path

from noonmark.cards.shadetables import eave_tables, season_tables, slats_tables
from noonmark.cards.speech import Speech
from noonmark.cards.tables import verdict, year_tables
from noonmark.choose.eave import Wish, size_eave
from noonmark.choose.slats import Boards, Hours, size_slats
from noonmark.cli.output import print_changes, print_sentences, print_table, progress_bar
from noonmark.design.cautions import cautions
from noonmark.design.file import DesignFile, load_design, parse_design, write_atomically
from noonmark.design.start import starting_design
from noonmark.design.truss import truss_line
from noonmark.errors import InputError, Problem, Sentence
from noonmark.sheets.compose import section_sheet, year_map_sheet
from noonmark.sheets.slatwords import slats_sheet
from noonmark.study import YearRun, run_year
from noonmark.study.season import seasons
from noonmark.study.section import section_view
from noonmark.study.site import prepare_site, weather_cautions
from noonmark.study.snow import snow_cautions
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import Quantity, System, read

SAMPLE = "larkspur.toml"

_DAY = re.compile(r"(?:([0-9]{4})-)?([0-9]{1,2})-([0-9]{1,2})")
_CLOCK = re.compile(r"([0-9]{1,2})(?::([0-9]{2}))?")
_YEARS = range(1900, 2101)
"""Years whose sun the published position algorithm keeps to its accuracy, and then some."""


def demo(out: Path, units: System | None, *, as_json: bool) -> int:
    """Run the sample, print it, draw it, and tell how long the computation takes."""
    text = files("noonmark.design").joinpath(f"data/{SAMPLE}").read_text("utf-8")
    design = parse_design(text, name=SAMPLE)
    speech = Speech(units or design.homestead.units)
    start = time.perf_counter()
    done = _run(design, speech)
    first = time.perf_counter()
    _run(design, speech)
    again = time.perf_counter()
    if as_json:
        _print_json(done.result.as_data())
    else:
        _print_year(design, done, speech)
    taken = {"first": f"{first - start:.1f}", "again": f"{again - first:.2f}"}
    sys.stderr.write(speech.say(Sentence("check.timing", taken)) + "\n")
    _draw(
        design,
        done,
        next(iter(design.homestead.buildings)),
        datetime.date(NOMINAL_YEAR, 12, 21),
        None,
        out,
        speech,
    )
    return 0


def new(file: Path, answers: dict[str, str], *, as_json: bool) -> int:
    """Write a starting design, checked before it is written."""
    if os.path.lexists(file):
        raise InputError(Problem("cli.exists", file=str(file)))
    if answers["weather"] and not (file.parent / answers["weather"]).is_file():
        raise InputError(Problem("climate.no_file", path="--weather"))
    text = starting_design(answers)
    try:
        design = parse_design(text, name=file.name, folder=file.parent)
    except InputError as error:
        raise InputError([_of_answer(problem) for problem in error.problems]) from error
    write_atomically(file, text)
    speech = Speech(design.homestead.units)
    if as_json:
        _print_json({"format": "noonmark.new/1", "file": str(file)})
    sys.stderr.write(speech.say(Sentence("check.wrote", {"file": str(file)})) + "\n")
    return 0


def _of_answer(problem: Problem) -> Problem:
    """Return a problem of a design not written yet as one of the answer it was made from."""
    answer = _ANSWERS.get(problem.path)
    return problem if answer is None else replace(problem, path=answer, file="", line=None)


_ANSWERS = {
    "title": "--title",
    "place.latitude": "--latitude",
    "place.longitude": "--longitude",
    "place.altitude": "--altitude",
    "place.time_zone": "--time-zone",
    "house.heating.setpoint": "--setpoint",
    "house.heating.fuel": "--fuel",
}


def check(file: Path, changes: Sequence[str], *, as_json: bool, units: System | None) -> int:
    """Check a design and its weather, and say its truss line and its cautions.

    What follows from the design alone is said even when no year can run on its weather.
    """
    design = load_design(file, changes)
    homestead = design.homestead
    speech = Speech(units or homestead.units)
    lines = {
        name: truss_line(homestead, name)
        for name, building in homestead.buildings.items()
        if building.roof.attic
    }
    if not as_json:
        print(speech.say(Sentence("check.sound", {"file": file.name})))
        for line in lines.values():
            print(" ".join(replace(speech, fine=True).say(item) for item in line))
    found = cautions(homestead)
    try:
        site = prepare_site(homestead.place, homestead.climate, design.folder)
        found = [*weather_cautions(site), *snow_cautions(homestead, site), *found]
    except InputError as error:
        raise design.located(error) from error
    finally:
        if not as_json:
            print_sentences(speech.word("caution.title"), found, speech)
    if as_json:
        said = {name: [asdict(item) for item in line] for name, line in lines.items()}
        cautioned = [asdict(item) for item in found]
        _print_json({"format": "noonmark.check/1", "truss": said, "cautions": cautioned})
    return 0


def run(file: Path, changes: Sequence[str], *, as_json: bool, units: System | None) -> int:
    """Run the year; 1 when the design misses its own goals."""
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    done = _run(design, speech)
    missed = [item for building in done.result.buildings for item in building.missed_goals]
    if as_json:
        _print_json(done.result.as_data())
    else:
        _print_year(design, done, speech)
    for item in missed:
        sys.stderr.write(speech.say(item) + "\n")
    return 1 if missed else 0


def show(
    file: Path,
    changes: Sequence[str],
    *,
    date: str,
    at: str,
    building: str | None,
    out: Path,
    units: System | None,
    as_json: bool,
) -> int:
    """Draw the section and the year map."""
    day, clock = _day(date), _clock(at)
    design = load_design(file, changes)
    names = list(design.homestead.buildings)
    name = building or names[0]
    if name not in names:
        raise InputError(Problem("show.no_building", values={"read": name, "known": names}))
    speech = Speech(units or design.homestead.units)
    drawn = _draw(design, _run(design, speech), name, day, clock, out, speech, quiet=as_json)
    if as_json:
        _print_json({"format": "noonmark.show/1", "files": [str(path) for path in drawn]})
    return 0


def season(
    file: Path, changes: Sequence[str], *, year: int | None, units: System | None, as_json: bool
) -> int:
    """Print the dates of every window."""
    if year is not None and year not in _YEARS:
        raise InputError(Problem("season.bad_year", path="--year", values={"read": year}))
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    result = seasons(design.homestead, year or NOMINAL_YEAR)
    if as_json:
        _print_json(result.as_data())
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
        None if sun_until is None else _day(sun_until, "--sun-until"),
        None if shade_from is None else _day(shade_from, "--shade-from"),
    )
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    result = size_eave(design, window, wish)
    if as_json:
        _print_json(result.as_data())
        return 0
    for table in eave_tables(result, speech):
        print_table(table)
    for item in result.solutions:
        print_changes(item.set, speech)
    print(speech.word("eave.note"))
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
        _day(days[0], "--put-up"),
        _day(days[1], "--take-down"),
        _hour(clocks[0], "--from"),
        _hour(clocks[1], "--to"),
    )
    boards = Boards(_length(board, "--board"), _length(thickness, "--thickness"), upright)
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    result = size_slats(design, window, hours, boards)
    files = []
    if out is not None:
        name = f"{_file_name(result.building)}-slats-{_file_name(result.window)}.svg"
        title = design.homestead.title or result.building
        sheet = slats_sheet(result, hours, title=title, speech=speech)
        files = _write_sheets({name: sheet}, out, speech, quiet=as_json)
    if as_json:
        written = {"files": [str(path) for path in files]} if files else {}
        _print_json(result.as_data() | written)
        return 0
    for table in slats_tables(result, speech):
        print_table(table)
    print_changes(result.plans[result.recommended].set, speech)
    print(speech.word("slats.note"))
    return 0


def _run(design: DesignFile, speech: Speech) -> YearRun:
    with progress_bar(speech) as listen:
        try:
            return run_year(design.homestead, design.folder, listen=listen)
        except InputError as error:
            raise design.located(error) from error


def _draw(
    design: DesignFile,
    done: YearRun,
    name: str,
    day: datetime.date,
    clock: datetime.time | None,
    out: Path,
    speech: Speech,
    *,
    quiet: bool = False,
) -> list[Path]:
    """Write both sheets and say where; returns their paths."""
    homestead = design.homestead
    view = section_view(homestead, name, day=day, clock=clock)
    title = homestead.title or name
    stem = _file_name(name)
    sheets = {
        f"{stem}-section-{day:%m-%d}.svg": section_sheet(
            view, title=title, faces=homestead.buildings[name].faces, speech=speech
        )
    }
    for index, zone in enumerate(homestead.buildings[name].zone):
        sheets[f"{stem}-{_file_name(zone)}-year.svg"] = year_map_sheet(done, name, index, speech)
    return _write_sheets(sheets, out, speech, quiet=quiet)


def _write_sheets(
    sheets: dict[str, str], out: Path, speech: Speech, *, quiet: bool = False
) -> list[Path]:
    """Write sheets into a folder and say where; returns their paths."""
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


def _file_name(name: str) -> str:
    """Return a name of the design as part of a file name that stays in its folder."""
    return re.sub(r"[^\w -]", "-", name)[:60] or "-"


def _print_year(design: DesignFile, done: YearRun, speech: Speech) -> None:
    result = done.result
    place = design.homestead.place.name or result.climate.source
    print(speech.say(Sentence("year.heading", {"title": result.title, "place": place})))
    trust = speech.word(f"trust.{result.climate.trust}")
    print(f"{speech.word('year.weather')}: {result.climate.source}, {trust}\n")
    for table in year_tables(result, speech):
        print_table(table)
    print(verdict(result, speech) + "\n")
    print_sentences(speech.word("caution.title"), result.cautions, speech)


def _print_json(data: object) -> None:
    print(json.dumps(data, indent=2, default=_plain))


def _plain(value: object) -> object:
    return asdict(value) if isinstance(value, Quantity) else str(value)


def _day(text: str, option: str = "--date") -> datetime.date:
    """Read a month and day, of the nominal year, or a full date of our age."""
    found = _DAY.fullmatch(text.strip())
    year, month, day = (
        (int(part or NOMINAL_YEAR) for part in found.groups()) if found else (0, 0, 0)
    )
    if (month, day) == (2, 29) and found and not found[1]:
        raise InputError(Problem("show.leap_day", path=option, values={"read": text}))
    try:
        if year in _YEARS:
            return datetime.date(year, month, day)
    except ValueError:
        pass
    raise InputError(Problem("show.bad_date", path=option, values={"read": text}))


def _length(text: str, option: str) -> float:
    """Read a length [m] of more than nothing and less than a metre."""
    try:
        length = read(text, "length")
    except InputError as error:
        raise InputError([problem.at(path=option) for problem in error.problems]) from error
    if not 0.0 < length < 1.0:
        raise InputError(Problem("slats.size", path=option, values={"read": text}))
    return length


def _clock(text: str) -> datetime.time | None:
    """Read a clock time, None for solar noon."""
    return None if text.strip() == "noon" else _hour(text, "--at")


def _hour(text: str, option: str) -> datetime.time:
    """Read a clock time."""
    found = _CLOCK.fullmatch(text.strip())
    hour, minute = (int(part or 0) for part in found.groups()) if found else (99, 0)
    try:
        return datetime.time(hour, minute)
    except ValueError as error:
        raise InputError(Problem("show.bad_hour", path=option, values={"read": text})) from error
