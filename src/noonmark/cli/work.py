"""What the commands do, imported only when one runs."""

from __future__ import annotations

import datetime
import os
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict, replace
from importlib.resources import files
from pathlib import Path

from noonmark.cards.speech import Speech
from noonmark.cards.tables import verdict, year_tables
from noonmark.cli.output import print_json, print_sentences, print_table, progress_bar
from noonmark.cli.sheetfiles import file_name, write_sheets
from noonmark.cli.words import building_names, read_clock, read_day
from noonmark.design.cautions import cautions
from noonmark.design.file import DesignFile, load_design, parse_design, write_atomically
from noonmark.design.start import starting_design
from noonmark.design.truss import truss_line
from noonmark.errors import InputError, Problem, Sentence
from noonmark.sheets.compose import section_sheet, year_map_sheet
from noonmark.study import YearRun, run_year
from noonmark.study.section import section_view
from noonmark.study.site import prepare_site, weather_cautions
from noonmark.study.snow import snow_cautions
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import System

SAMPLE = "larkspur.toml"


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
        print_json(done.result.as_data())
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
        print_json({"format": "noonmark.new/1", "file": str(file)})
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
        print_json({"format": "noonmark.check/1", "truss": said, "cautions": cautioned})
    return 0


def run(file: Path, changes: Sequence[str], *, as_json: bool, units: System | None) -> int:
    """Run the year; 1 when the design misses its own goals."""
    design = load_design(file, changes)
    speech = Speech(units or design.homestead.units)
    done = _run(design, speech)
    missed = [item for building in done.result.buildings for item in building.missed_goals]
    if as_json:
        print_json(done.result.as_data())
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
    day, clock = read_day(date), read_clock(at)
    design = load_design(file, changes)
    name = building_names(design.homestead, building or None)[0]
    speech = Speech(units or design.homestead.units)
    drawn = _draw(design, _run(design, speech), name, day, clock, out, speech, quiet=as_json)
    if as_json:
        print_json({"format": "noonmark.show/1", "files": [str(path) for path in drawn]})
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
    stem = file_name(name)
    sheets = {
        f"{stem}-section-{day:%m-%d}.svg": section_sheet(
            view, title=title, faces=homestead.buildings[name].faces, speech=speech
        ).sheet()
    }
    for index, zone in enumerate(homestead.buildings[name].zone):
        sheets[f"{stem}-{file_name(zone)}-year.svg"] = year_map_sheet(done, name, index, speech)
    return write_sheets(sheets, out, speech, quiet=quiet)


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
