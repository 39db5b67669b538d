"""The command that draws a design, imported only when it runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from noonmark.cards.speech import Speech
from noonmark.cards.windowtable import window_notes, window_table
from noonmark.cli.output import print_json
from noonmark.cli.sheetfiles import file_name, write_sheets
from noonmark.cli.words import building_names, read_day
from noonmark.design.file import load_design
from noonmark.design.model import Homestead
from noonmark.place.site import azimuth_name
from noonmark.sheets.book import Book, Draw, Page, book_pdf
from noonmark.sheets.compose import section_sheet
from noonmark.sheets.drawing import SCREEN
from noonmark.sheets.press import Paper, usual_paper
from noonmark.sheets.sunwords import elevation_sheet, plan_sheet
from noonmark.study.elevation import Elevation, elevations
from noonmark.study.plan import plan_of
from noonmark.study.section import section_view
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import System

_DATES = ((12, 21), (3, 20), (6, 21))
"""Midwinter, equinox and midsummer of the north; the south has them the other way round."""


def draw(
    file: Path,
    changes: Sequence[str],
    *,
    dates: Sequence[str],
    building: str | None,
    out: Path,
    paper: Paper | None,
    units: System | None,
    as_json: bool,
) -> int:
    """Write the sheets of every building, or of one, on each date."""
    asked = [read_day(text) for text in dates]
    design = load_design(file, changes)
    homestead = design.homestead
    names = building_names(homestead, building)
    speech = Speech(units or homestead.units)
    size = paper or usual_paper(speech.system)
    sheets: dict[str, str | bytes] = {}
    for name in names:
        drawn = [
            _Sheet(stem, draw, day)
            for day in asked or usual_days(homestead)
            for stem, draw in _sheets(homestead, name, day, speech)
        ]
        sheets |= {sheet.file: sheet.draw(stage=SCREEN).sheet() for sheet in drawn}
        sheets[f"{file_name(name)}-sheets.pdf"] = book_pdf(
            _book(homestead, name, drawn, speech), size, speech
        )
    paths = write_sheets(sheets, out, speech, quiet=as_json)
    if as_json:
        found = {"format": "noonmark.draw/1", "files": [str(path) for path in paths]}
        print_json(found)
    return 0


@dataclass(frozen=True)
class _Sheet:
    """A drawing of a day to come, and the first words of its file's name."""

    stem: str
    draw: Draw
    day: date

    @property
    def file(self) -> str:
        return f"{self.stem}-{self.day:%m-%d}.svg"


def _book(homestead: Homestead, name: str, sheets: Sequence[_Sheet], speech: Speech) -> Book:
    """Return what is printed of a building: drawings of a kind one after the other."""
    stems = list(dict.fromkeys(sheet.stem for sheet in sheets))
    ordered = sorted(sheets, key=lambda sheet: stems.index(sheet.stem))
    return Book(
        homestead,
        name,
        [Page(sheet.draw, speech.day(sheet.day)) for sheet in ordered],
        window_table(homestead, name, speech),
        window_notes(homestead, name, speech),
    )


def usual_days(homestead: Homestead) -> list[date]:
    """Return midwinter, equinox and midsummer of a place."""
    days = [date(NOMINAL_YEAR, month, day) for month, day in _DATES]
    return days if homestead.place.latitude >= 0.0 else days[::-1]


def _sheets(
    homestead: Homestead, name: str, day: date, speech: Speech
) -> Iterator[tuple[str, Draw]]:
    """Yield the first words of the file name of each sheet of a day, and what draws it."""
    title, stem = homestead.title or name, file_name(name)
    building = homestead.buildings[name]
    view = section_view(homestead, name, day=day)
    yield (
        f"{stem}-section",
        partial(section_sheet, view, title=title, faces=building.faces, speech=speech),
    )
    plan = plan_of(homestead, name, day)
    yield (
        f"{stem}-plan",
        partial(plan_sheet, plan, building, title=title, name=name, day=day, speech=speech),
    )
    alone = len(building.zone) == 1
    for elevation in elevations(homestead, name, day):
        wall = _wall_name(elevation, alone, speech)
        yield (
            f"{stem}-elevation-{wall}",
            partial(elevation_sheet, elevation, title=title, day=day, alone=alone, speech=speech),
        )


def _wall_name(elevation: Elevation, alone: bool, speech: Speech) -> str:
    """Return a wall by the side it looks to, and its zone where there are several."""
    face = elevation.face
    side = speech.word(f"side.{azimuth_name(face.azimuth)}")
    return side if alone else file_name(f"{side}-{face.zone}")
