"""The command that draws a design, imported only when it runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
from noonmark.sheets.dxfwords import elevation_file, section_file
from noonmark.sheets.outlookwords import outlook_sheet
from noonmark.sheets.press import Paper, usual_paper
from noonmark.sheets.sunwords import elevation_sheet, plan_sheet
from noonmark.study.elevation import Elevation, elevations
from noonmark.study.outlook import outlooks
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
    days = asked or usual_days(homestead)
    files: dict[str, str | bytes] = {}
    for name in names:
        files |= _House(homestead, name, days, speech).files(size)
    paths = write_sheets(files, out, speech, quiet=as_json)
    if as_json:
        found = {"format": "noonmark.draw/1", "files": [str(path) for path in paths]}
        print_json(found)
    return 0


def usual_days(homestead: Homestead) -> list[date]:
    """Return midwinter, equinox and midsummer of a place."""
    days = [date(NOMINAL_YEAR, month, day) for month, day in _DATES]
    return days if homestead.place.latitude >= 0.0 else days[::-1]


class _House:
    """One building on its way into files: its section, plan and walls on each day."""

    def __init__(
        self, homestead: Homestead, name: str, days: Sequence[date], speech: Speech
    ) -> None:
        self.homestead, self.name, self.days, self.speech = homestead, name, days, speech
        self.building = homestead.buildings[name]
        self.title, self.stem = homestead.title or name, file_name(name)
        self.alone = len(self.building.zone) == 1
        self.views = [section_view(homestead, name, day=day) for day in days]
        self.plans = [plan_of(homestead, name, day) for day in days]
        walls = [elevations(homestead, name, day) for day in days]
        self.walls = [list(zip(days, wall, strict=True)) for wall in zip(*walls, strict=True)]

    def files(self, paper: Paper) -> dict[str, str | bytes]:
        """Return what is written, by the names of the files: SVG, PDF and DXF."""
        drawings = [*self.sections(), *self.drawn_plans(), *self.elevations()]
        views = dict(self.outlooks())
        days = ", ".join(self.speech.day(day) for day in self.days)
        book = Book(
            self.homestead,
            self.name,
            [
                *(Page(draw, self.speech.day(day)) for _, day, draw in drawings),
                *(Page(draw, days) for draw in views.values()),
            ],
            window_table(self.homestead, self.name, self.speech),
            window_notes(self.homestead, self.name, self.speech),
        )
        ordered = sorted(drawings, key=lambda drawing: self.days.index(drawing[1]))
        files: dict[str, str | bytes] = {
            f"{stem}-{day:%m-%d}.svg": draw(stage=SCREEN).sheet() for stem, day, draw in ordered
        }
        files |= {file: draw(stage=SCREEN).sheet() for file, draw in views.items()}
        files[f"{self.stem}-sheets.pdf"] = book_pdf(book, paper, self.speech)
        return files | dict(self.models())

    def sections(self) -> Iterator[tuple[str, date, Draw]]:
        """Yield the section on each day, and the first words of its file's name."""
        for day, view in zip(self.days, self.views, strict=True):
            draw = partial(
                section_sheet,
                view,
                title=self.title,
                faces=self.building.faces,
                speech=self.speech,
            )
            yield f"{self.stem}-section", day, draw

    def drawn_plans(self) -> Iterator[tuple[str, date, Draw]]:
        """Yield the plan in the same way."""
        for day, plan in zip(self.days, self.plans, strict=True):
            draw = partial(
                plan_sheet,
                plan,
                self.building,
                title=self.title,
                name=self.name,
                day=day,
                speech=self.speech,
            )
            yield f"{self.stem}-plan", day, draw

    def elevations(self) -> Iterator[tuple[str, date, Draw]]:
        """Yield each wall in the same way, all days of a wall after each other."""
        for wall in self.walls:
            for day, elevation in wall:
                draw = partial(
                    elevation_sheet,
                    elevation,
                    title=self.title,
                    day=day,
                    alone=self.alone,
                    speech=self.speech,
                )
                yield self.wall_stem(elevation), day, draw

    def outlooks(self) -> Iterator[tuple[str, Draw]]:
        """Yield the view out of each window that gets sun on the days, and its file's name."""
        for item in outlooks(self.homestead, self.name, self.days):
            draw = partial(outlook_sheet, item, title=self.title, speech=self.speech)
            yield f"{self.stem}-outlook-{item.number}-{file_name(item.window)}.svg", draw

    def models(self) -> Iterator[tuple[str, bytes]]:
        """Yield section and walls in true size, with all days in one file."""
        section = section_file(
            self.views, title=self.title, faces=self.building.faces, speech=self.speech
        )
        yield f"{self.stem}-section.dxf", section
        for wall in self.walls:
            model = elevation_file(wall, title=self.title, speech=self.speech)
            yield f"{self.wall_stem(wall[0][1])}.dxf", model

    def wall_stem(self, elevation: Elevation) -> str:
        """Return the first words of the name of a wall's files.

        That is its side, with its zone where there are several, and with its own name
        where two walls of a zone look the same way.
        """
        face = elevation.face
        words = [self.speech.word(f"side.{azimuth_name(face.azimuth)}")]
        if not self.alone:
            words.append(face.zone)
        alike = [
            wall
            for wall in (days[0][1].face for days in self.walls)
            if (wall.zone, azimuth_name(wall.azimuth)) == (face.zone, azimuth_name(face.azimuth))
        ]
        if len(alike) > 1:
            words.append(face.name)
        return f"{self.stem}-elevation-{file_name('-'.join(words))}"
