"""The printed sheets, taken apart: paper, scale, bar, words, pictures, the schedule."""

from __future__ import annotations

import io
from datetime import date
from functools import partial
from typing import Any

import pdfplumber
import pytest

from designs import design, put
from drawing import collisions, outside, parsed
from noonmark.cards.speech import Speech
from noonmark.cards.windowtable import window_notes, window_table
from noonmark.design import Homestead
from noonmark.sheets.book import Book, Draw, Page, book_pdf
from noonmark.sheets.compose import section_sheet
from noonmark.sheets.drawing import Stage
from noonmark.sheets.press import Paper
from noonmark.sheets.scales import PIXEL, SCALES, bar, scale_of
from noonmark.sheets.sunwords import elevation_sheet, plan_sheet
from noonmark.study.elevation import elevations
from noonmark.study.plan import plan_of
from noonmark.study.section import section_view
from noonmark.units import System
from sample_house import sample
from sunspace import sunspace

POINTS = 72.0 / 25.4  # to the millimetre
WINTER, SPRING = date(2022, 12, 21), date(2022, 3, 20)
KINDS: tuple[tuple[System, Paper], ...] = (("metric", "a4"), ("us", "letter"))
HOSTILE = '#panic("no") $x$ *b* <script> "quoted" \\ \U0001f600 é'


def draws(home: Homestead, speech: Speech, day: date = SPRING) -> list[Draw]:
    """Return what draws section, plan and elevations of a design on a day."""
    building, title = home.buildings["house"], home.title
    view, plan = section_view(home, "house", day=day), plan_of(home, "house", day)
    return [
        partial(section_sheet, view, title=title, faces=building.faces, speech=speech),
        partial(plan_sheet, plan, building, title=title, name="house", day=day, speech=speech),
        *(
            partial(elevation_sheet, wall, title=title, day=day, alone=True, speech=speech)
            for wall in elevations(home, "house", day)
        ),
    ]


def made(home: Homestead, system: System, paper: Paper, day: date = SPRING) -> bytes:
    speech = Speech(system)
    book = Book(
        home,
        "house",
        [Page(draw, speech.day(day)) for draw in draws(home, speech, day)],
        window_table(home, "house", speech),
        window_notes(home, "house", speech),
    )
    return book_pdf(book, paper, speech)


def opened(content: bytes) -> Any:
    return pdfplumber.open(io.BytesIO(content))


@pytest.mark.parametrize(
    ("system", "paper", "size"),
    [("metric", "a4", (297.0, 210.0)), ("us", "letter", (279.4, 215.9))],
)
def test_sheets_are_level_with_a_margin_and_type_to_be_read(
    system: System, paper: Paper, size: tuple[float, float]
) -> None:
    with opened(made(sample(), system, paper)) as document:
        assert len(document.pages) == 7
        for page in document.pages:
            assert (page.width, page.height) == pytest.approx([mm * POINTS for mm in size], abs=0.1)
            edge = 10.0 * POINTS - 1.0
            for thing in (*page.chars, *page.rects, *page.lines):
                assert thing["x0"] > edge
                assert thing["x1"] < page.width - edge
                assert thing["top"] > edge
                assert thing["bottom"] < page.height - edge
            assert min(char["size"] for char in page.chars if not char["matrix"][1]) > 6.99
            strip = page.width - 60.0 * POINTS
            across = [c for c in page.chars if c["x0"] < strip - 1 and c["x1"] > strip + 1]
            assert not across


@pytest.mark.parametrize(("system", "paper"), KINDS)
def test_the_bar_is_as_long_as_it_says(system: System, paper: Paper) -> None:
    """The four fields of the bar, against the length that the sheet says it has at scale."""
    with opened(made(sample(), system, paper)) as document:
        for page, draw in zip(document.pages, draws(sample(), Speech(system)), strict=False):
            fields = [r for r in page.rects if abs(r["height"] - 2.0 * POINTS) < 0.3]
            fields = [r for r in fields if r["x0"] > page.width - 60.0 * POINTS]
            assert len(fields) == 4
            length = max(r["x1"] for r in fields) - min(r["x0"] for r in fields)
            words = page.extract_text()
            scale = next(s for s in SCALES[system] if f"\n{s.words}\n" in strip_text(page))
            printed = bar(scale, 43.0, system)
            assert length == pytest.approx(printed.printed * POINTS, abs=1.0)  # and its outline
            assert printed.metres * 1e3 / scale.ratio == pytest.approx(printed.printed)
            assert f"bar is {printed.words}" in words.replace("\n", " ")
            assert draw(stage=Stage()).title.startswith("Larkspur")


def strip_text(page: Any) -> str:
    """Return the words of the title block."""
    box = (page.width - 59.0 * POINTS, 0, page.width, page.height)
    return str(page.crop(box).extract_text()).replace("\u200b", "") + "\n"


@pytest.mark.parametrize(("system", "paper"), KINDS)
def test_a_known_dimension_is_printed_at_scale(system: System, paper: Paper) -> None:
    """The story pole runs from the ground to the soffit, a window is as wide as in the file."""
    with opened(made(sample(), system, paper)) as document:
        section, _, south = document.pages[:3]
        ratio = 50.0 if system == "metric" else 48.0
        assert ("1:50" if system == "metric" else '1/4" = 1\'-0"') in strip_text(section)
        wide = 14.0 * PIXEL * POINTS
        poles = [r for r in section.rects if abs(r["width"] - wide) < 0.1]
        tall = (9 * 0.3048 + 0.2) * 1e3 / ratio * POINTS
        assert min(abs(pole["height"] - tall) for pole in poles) < 0.15
        ratio = 100.0 if system == "metric" else 96.0
        assert ("1:100" if system == "metric" else '1/8" = 1\'-0"') in strip_text(south)
        wanted = [6 * 0.3048 * 1e3 / ratio * POINTS, 4 * 0.3048 * 1e3 / ratio * POINTS]
        widths = [thing["width"] for thing in (*south.rects, *south.curves)]
        for width in wanted:
            assert min(abs(width - other) for other in widths) < 0.1


@pytest.mark.parametrize(("system", "paper"), KINDS)
def test_title_block_says_what_and_where(system: System, paper: Paper) -> None:
    with opened(made(sample(), system, paper)) as document:
        for number, page in enumerate(document.pages, start=1):
            words = strip_text(page)
            assert words.startswith("Larkspur\nhouse\n")
            assert "Golden, Colorado\n39.73° north, 105.18° west" in words
            assert f"Sheet {number} of 7" in words
            assert "do not replace" in words
            assert "noonmark " in words
        assert "Sun\n20 Mar" in strip_text(document.pages[0])


def test_section_has_the_truss_line() -> None:
    with opened(made(sample(), "us", "letter")) as document:
        words = document.pages[0].extract_text()
        assert "Truss line of house" in words
        assert "pitch 6/12" in words.replace("\n", " ")


def test_south_and_west_are_told_by_name() -> None:
    home = design(put("place.latitude", -39.73)).homestead
    with opened(made(home, "metric", "a4")) as document:
        assert "39.73° south, 105.18° west" in strip_text(document.pages[0])


@pytest.mark.parametrize(("system", "paper"), KINDS)
def test_pictures_have_words_and_sheets_a_heading(system: System, paper: Paper) -> None:
    with opened(made(sample(), system, paper)) as document:
        for page in document.pages[:-1]:
            parts = flat(page.structure_tree)
            (figure,) = [part for part in parts if part["type"] == "Figure"]
            assert len(figure["alt_text"]) > 30
            assert "H1" in {part["type"] for part in parts}
        parts = flat(document.pages[-1].structure_tree)
        assert [part["type"] for part in parts].count("TH") == 13
        assert document.metadata["Title"] == "Larkspur: drawings of the house"


def flat(parts: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [item for part in parts for item in (part, *flat(part.get("children", [])))]


def test_schedule_has_a_row_for_each_entry() -> None:
    with opened(made(sample(), "us", "letter")) as document:
        page = document.pages[-1]
        (table,) = [found for found in page.extract_tables() if len(found[0]) == 13]
    rows = [[(cell or "").replace("\n", " ") for cell in row] for row in table]
    assert rows[0][:6] == ["No.", "Name", "Side", "Count", "Width by height", "Rough opening"]
    assert rows[1][:8] == [
        "1", "living room", "south", "3", "6' 0\" × 5' 2\"", "6' 1\" × 5' 2 1/2\"",
        "2' 0\"", "7' 2\"",
    ]  # fmt: skip
    assert [row[2] for row in rows[1:]] == ["south", "south", "east", "west", "north"]
    assert rows[2][12] == "escape window"
    assert rows[1][8:9] == ["double high gain, wood"]


def test_many_windows_go_on_and_every_sheet_counts_them() -> None:
    window = {"side": "back", "width": 0.2, "sill": 0.3, "head": 1.5, "glazing": "double clear"}
    many = [window | {"name": f"window with a long name, number {i}"} for i in range(1, 41)]
    with opened(made(design(put("house.window", many)).homestead, "metric", "a4")) as document:
        pages = document.pages
        assert len(pages) > 4
        for number, page in enumerate(pages, start=1):
            assert f"Sheet {number} of {len(pages)}" in strip_text(page)
        words = " ".join(page.extract_text() for page in pages).replace("\n", " ")
        assert "ask: safety glass" in words
        assert words.count("is to be safety glass.") == 40


@pytest.mark.parametrize("title", [HOSTILE, "x" * 120, " ", "a very " + "long " * 22])
def test_words_of_a_design_are_printed_as_they_are(title: str) -> None:
    home = design(put("title", title), put("house.window.0.name", HOSTILE)).homestead
    with opened(made(home, "us", "letter")) as document:
        said = "".join(strip_text(document.pages[0]).split())
        shown = "".join(title.replace("\U0001f600", "?").split())
        assert said.startswith(shown)
        assert "#panic" in document.pages[-1].extract_text()


def test_same_design_gives_the_same_bytes() -> None:
    assert made(sample(), "us", "letter") == made(sample(), "us", "letter")


@pytest.mark.parametrize("day", [WINTER, SPRING])
@pytest.mark.parametrize(("system", "paper"), KINDS)
@pytest.mark.parametrize("home", [sample, sunspace])
def test_no_words_collide_in_the_printed_pictures(
    home: Any, system: System, paper: Paper, day: date
) -> None:
    room = {"a4": (221.0, 173.0), "letter": (203.4, 178.9)}[paper]
    scales = tuple(scale.pixels for scale in SCALES[system])
    stage = Stage(room[0] / PIXEL, room[1] / PIXEL, 4.0, scales, bare=True)
    for draw in draws(home(), Speech(system), day):
        drawing = draw(stage=stage)
        root = parsed(drawing.bare())
        assert collisions(root) == [], drawing.name
        assert outside(root) == [], drawing.name
        assert scale_of(drawing.scale, system).pixels == pytest.approx(drawing.scale)


def test_scales_are_those_of_the_rules() -> None:
    quarter = next(scale for scale in SCALES["us"] if scale.words == '1/4" = 1\'-0"')
    assert quarter.ratio == 48.0
    assert bar(quarter, 43.0, "us").words == "6' 0\""
    assert bar(quarter, 43.0, "us").printed == pytest.approx(1.5 * 25.4)
    for system, scales in SCALES.items():
        ratios = [scale.ratio for scale in scales]
        assert ratios == sorted(ratios)
        for scale in scales:
            assert scale_of(scale.pixels, system) is scale
            assert 5.0 < bar(scale, 43.0, system).printed <= 43.0
