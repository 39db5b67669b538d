"""All sheets of one building as a PDF to print: each drawing at a round scale, and the windows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from importlib.metadata import version
from importlib.resources import files
from typing import Protocol

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.design.model import Homestead
from noonmark.errors import Sentence
from noonmark.sheets.drawing import Drawing, Stage
from noonmark.sheets.press import PAPERS, POINT, Paper, breakable, pdf, quoted
from noonmark.sheets.scales import PIXEL, SCALES, bar, scale_of
from noonmark.sheets.svg import unbroken
from noonmark.units import Quantity

MARGIN, STRIP, INSET = 10.0, 50.0, 3.0  # mm, as in sheet.typ
HEADING = 11.0  # mm over a picture, as in sheet.typ
LONGEST_BAR = 43.0  # mm, within the strip
MOST_NOTES = 0.25  # of the height, for notes under a drawing
NOTE = 8.5 * POINT  # mm, size of the notes
BETWEEN = 6.0  # mm between their columns


class Draw(Protocol):
    """Draws one picture on a stage."""

    def __call__(self, *, stage: Stage) -> Drawing:
        """Return the picture."""


@dataclass(frozen=True)
class Page:
    """A drawing to come, by the stage it gets, and the day of its sun in words."""

    draw: Draw
    sun: str


@dataclass(frozen=True)
class Book:
    """The sheets of a building: drawings, the schedule of its windows and notes on it."""

    homestead: Homestead
    building: str
    pages: Sequence[Page]
    windows: Table
    window_notes: Sequence[str]


def book_pdf(book: Book, paper: Paper, speech: Speech) -> bytes:
    """Return the sheets of a building as a PDF."""
    maker = _Maker(book, paper, speech)
    pictures: dict[str, bytes] = {"sheet.typ": _template()}
    sheets = []
    for index, page in enumerate(book.pages):
        drawing, name = maker.drawn(page), f"{index}.svg"
        pictures[name] = drawing.bare().encode()
        sheets.append(maker.sheet(page, drawing, name))
    sheets.append(maker.schedule())
    source = f'#import "sheet.typ": *\n#let words = {maker.words()}\n' + "\n".join(sheets)
    return pdf(source, pictures, title=maker.title, language=speech.language)


def _template() -> bytes:
    return files("noonmark.sheets").joinpath("sheet.typ").read_bytes()


class _Maker:
    """Sheets of one building as typst markup."""

    def __init__(self, book: Book, paper: Paper, speech: Speech) -> None:
        self.book, self.paper, self.speech = book, paper, speech
        self.design = book.homestead.title or book.building
        values = {"title": self.design, "building": book.building}
        self.title = speech.say(Sentence("paper.title", values))
        self.tall, self.wide = PAPERS[paper]
        self.room = (
            self.wide - 2.0 * MARGIN - STRIP - 2.0 * INSET,
            self.tall - 2.0 * (MARGIN + INSET) - HEADING,
        )

    # --- pictures ---------------------------------------------------------------------------

    def drawn(self, page: Page) -> Drawing:
        """Return a drawing at the largest round scale that leaves room for its notes.

        Very long ones go on on a sheet of their own rather than take the drawing's room.
        """
        stage = Stage(
            width=self.room[0] / PIXEL,
            height=self.room[1] / PIXEL,
            margin=4.0,
            scales=tuple(scale.pixels for scale in SCALES[self.speech.system]),
            bare=True,
        )
        drawing = page.draw(stage=stage)
        left = self.room[1] - min(self._notes_tall(drawing.notes), MOST_NOTES * self.room[1])
        if drawing.tall * PIXEL <= left:
            return drawing
        return page.draw(stage=replace(stage, height=left / PIXEL))

    def _notes_tall(self, notes: Sequence[str]) -> float:
        """Return an estimate, on the generous side, of the height of notes in two columns [mm]."""
        letters = (self.room[0] - BETWEEN) / 2.0 / (0.5 * NOTE)
        columns = [sum(math.ceil(len(n) / letters) + 0.3 for n in part) for part in _halves(notes)]
        return 4.0 + max(columns) * 1.35 * NOTE if notes else 0.0

    # --- markup -----------------------------------------------------------------------------

    def words(self) -> str:
        """Return what every title block says."""
        numbered = {"number": "[n]", "count": "[m]"}
        made = {"version": version("noonmark")}
        return _dictionary(
            title=self.design,
            building=self.book.building,
            licence=self.speech.word("paper.licence"),
            number=self.speech.say(Sentence("paper.number", numbered)),
            made=self.speech.say(Sentence("paper.made", made)),
        )

    def sheet(self, page: Page, drawing: Drawing, file: str) -> str:
        """Return the sheet of a drawing."""
        scale, measure = self._scale(drawing)
        facts = [
            *self._facts(drawing.name),
            (self.speech.word("paper.sun"), page.sun),
            (self.speech.word("paper.scale"), scale),
        ]
        width = drawing.right * PIXEL
        seen = {"description": drawing.description, "scale": scale}
        told = self.speech.say(Sentence("paper.picture", seen))
        alt = told if drawing.scale else drawing.description
        body = f"#picture({quoted(file)}, {quoted(alt)}, {width:.4f})\n{_notes(drawing.notes)}"
        named = {"name": drawing.name, "date": page.sun}
        name = self.speech.say(Sentence("paper.on_day", named))
        return self._sheet(name, drawing.subtitle, facts, body, measure)

    def _scale(self, drawing: Drawing) -> tuple[str, str]:
        """Return the scale of a drawing in words, and the bar that checks the print, as markup."""
        if not drawing.scale:
            return self.speech.word("paper.no_scale"), "none"
        scale = scale_of(drawing.scale, self.speech.system)
        measure = bar(scale, LONGEST_BAR, self.speech.system)
        paper = {"paper": self.speech.word(f"paper.{self.paper}")}
        told = {"length": measure.words, "printed": _printed(measure.printed, self.speech)}
        said = [
            self.speech.say(Sentence("paper.bar", told)),
            self.speech.say(Sentence("paper.other_paper", paper)),
        ]
        return scale.words, f"(printed: {measure.printed:.4f}, words: {quoted(' '.join(said))})"

    def schedule(self) -> str:
        """Return the sheet with the schedule of the windows."""
        table = self.book.windows
        facts = [
            *self._facts(table.title),
            (self.speech.word("paper.scale"), self.speech.word("paper.no_scale")),
        ]
        rows = "(" + "".join(f"{_array(row)}," for row in table.rows) + ")"
        body = f"#schedule({_array(table.heading)}, {rows})\n{_notes(self.book.window_notes)}"
        return self._sheet(table.title, self.speech.word("paper.windows_told"), facts, body)

    def _sheet(
        self,
        name: str,
        subtitle: str,
        facts: Sequence[tuple[str, str]],
        body: str,
        bar_words: str = "none",
    ) -> str:
        told = "(" + "".join(f"{_array(fact)}," for fact in facts) + ")"
        return (
            f"#sheet(words, ({self.wide}, {self.tall}), {quoted(breakable(name))}, "
            f"{quoted(subtitle)}, {told}, bar: {bar_words})[\n{body}\n]"
        )

    def _facts(self, shown: str) -> list[tuple[str, str]]:
        """Return what a sheet shows and where the house stands."""
        place = self.book.homestead.place
        sides = (
            ("north" if place.latitude >= 0.0 else "south", place.latitude),
            ("east" if place.longitude >= 0.0 else "west", place.longitude),
        )
        angles = [
            self.speech.say(Sentence(f"paper.{side}", {"angle": _angle(value)}))
            for side, value in sides
        ]
        at = {"latitude": angles[0], "longitude": angles[1]}
        where = self.speech.say(Sentence("paper.at", at))
        return [
            (self.speech.word("paper.shown"), shown),
            (self.speech.word("paper.place"), f"{place.name}\n{where}".strip()),
        ]


def _angle(degrees: float) -> str:
    return Quantity(abs(degrees), "angle").write("metric", digits=2)


def _printed(millimetres: float, speech: Speech) -> str:
    """Return a length on paper in words: inches, or whole millimetres."""
    if speech.system == "us":
        return f"{speech.number(millimetres / 25.4, 2)} in"
    return f"{speech.number(millimetres, 1)} mm"


def _notes(notes: Sequence[str]) -> str:
    left, right = _halves([unbroken(note) for note in notes])
    return f"#notes({_array(left)}, {_array(right)})" if notes else ""


def _halves(notes: Sequence[str]) -> tuple[Sequence[str], Sequence[str]]:
    """Return notes in two columns, cut where they come nearest to one length."""
    cuts = range(len(notes) + 1)
    cut = min(
        cuts, key=lambda at: (abs(sum(map(len, notes[:at])) - sum(map(len, notes[at:]))), -at)
    )
    return notes[:cut], notes[cut:]


def _array(words: Sequence[str]) -> str:
    return "(" + "".join(f"{quoted(breakable(word))}, " for word in words) + ")"


def _dictionary(**words: str) -> str:
    return "(" + "".join(f"{key}: {quoted(breakable(word))}, " for key, word in words.items()) + ")"
