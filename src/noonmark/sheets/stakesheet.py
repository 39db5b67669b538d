"""The stake-out of a building on paper: what to do, its tables and sketches, as a PDF."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.staketables import direction_table, noon_table, stake_tables
from noonmark.cards.stakewords import (
    aside_sentences,
    circle_sentences,
    needle_sentences,
    noon_sentences,
    square_sentences,
)
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name, equator_azimuth
from noonmark.sheets.press import Paper, pdf, quoted
from noonmark.sheets.stakes import StakeLabels, draw_circle, draw_plan, draw_rose
from noonmark.sheets.svg import unbroken
from noonmark.study.results.stakeout import BuildingStakes, StakeoutResult
from noonmark.units import Quantity

_HEAD = """
#set page(paper: {paper}, margin: 14mm)
#set text(size: 9pt, fill: rgb("#1f2a2e"))
#set par(leading: 0.5em, spacing: 0.75em)
#set list(marker: [–], spacing: 0.55em, body-indent: 0.5em)
#set table(stroke: none, inset: (x: 3pt, y: 1.9pt))
#set table(align: (x, _) => if x == 0 {{left}} else {{right}})
#show heading.where(level: 1): set text(size: 17pt)
#show heading.where(level: 2): set text(size: 11pt)
#show heading: set block(above: 1em, below: 0.6em)
"""

_PAPERS: dict[Paper, str] = {"a4": "a4", "letter": "us-letter"}


def stakeout_pdf(
    result: StakeoutResult, building: BuildingStakes, speech: Speech, paper: Paper
) -> bytes:
    """Return the stake-out of one building as a PDF of two pages or so."""
    side = azimuth_name(equator_azimuth(result.latitude))
    title = speech.say(
        Sentence("stakeout.title", {"title": result.title or building.name, "side": side})
    )
    pictures = dict(_pictures(result, building, speech))
    by_noon = [*noon_sentences(result), *aside_sentences(result, building, speech.system)]
    source = _HEAD.format(paper=quoted(_PAPERS[paper])) + "\n\n".join(
        [
            f"#heading(level: 1, {quoted(title)})",
            *_beside("rose", "by_compass", needle_sentences(result), result, speech),
            *_section("by_noon", by_noon, speech),
            _columns(noon_table(result, speech)),
            _columns(direction_table(building, result, speech)),
            "#pagebreak()",
            *_beside("circle", "by_circle", circle_sentences(result), result, speech),
            *_stakes(building, speech),
            f"#heading(level: 2, {quoted(speech.word('caution.title'))})",
            _list(result.cautions, speech),
        ]
    )
    return pdf(source, pictures, title=title, language=speech.language)


def _section(key: str, sentences: Iterable[Sentence], speech: Speech) -> Iterator[str]:
    yield f"#heading(level: 2, {quoted(speech.word(f'stakeout.{key}'))})"
    yield _list(sentences, speech)


def _beside(
    picture: str,
    key: str,
    sentences: Iterable[Sentence],
    result: StakeoutResult,
    speech: Speech,
) -> Iterator[str]:
    """Yield a section with its sketch at the right, if there is one."""
    text = "\n".join(_section(key, sentences, speech))
    missing = result.circle is None if picture == "circle" else result.needle.zone == "blackout"
    if missing:
        yield text
        return
    shown = _picture(picture, _alt(picture, result, speech), "100%")
    yield f"#grid(columns: (1fr, 72mm), column-gutter: 6mm, [{text}], [{shown}])"


def _stakes(building: BuildingStakes, speech: Speech) -> Iterator[str]:
    tables = list(stake_tables(building, speech))
    for index, (part, table) in enumerate(zip(building.footprints, tables, strict=True)):
        shown = _picture(f"plan{index}", speech.word("stakeout.plan_says"), "100%")
        words = "\n".join(_section("squared", square_sentences(part, speech.system), speech))
        yield f"#grid(columns: (1fr, 88mm), column-gutter: 6mm, [{words}], [{shown}])"
        yield _columns(table)
    yield _paragraph(speech.word("stakeout.note"))


def _pictures(
    result: StakeoutResult, building: BuildingStakes, speech: Speech
) -> Iterator[tuple[str, bytes]]:
    """Yield each sketch by the name of its file."""

    def labels(name: str, alt: str, *marks: str) -> StakeLabels:
        north, east, south, west = (speech.word(f"stakeout.{point}") for point in "nesw")
        title = speech.word(f"stakeout.{name}_title")
        return StakeLabels(title, alt, (north, east, south, west), marks)

    equator = equator_azimuth(result.latitude)
    reading = Quantity((equator - result.needle.declination_deg) % 360.0, "angle")
    reads = speech.say(Sentence("stakeout.reads", {"reading": reading}))
    needle = speech.word("stakeout.needle_word")
    rose = labels("rose", _alt("rose", result, speech), reads, needle)
    yield "rose.svg", draw_rose(result.needle, equator, rose).encode()
    if result.circle is not None:
        words = (speech.word(f"stakeout.{mark}_word") for mark in ("morning", "afternoon", "rod"))
        said = labels("circle", _alt("circle", result, speech), *words)
        yield "circle.svg", draw_circle(result.circle, said).encode()
    for index, part in enumerate(building.footprints):
        says = labels("plan", speech.word("stakeout.plan_says"))
        yield f"plan{index}.svg", draw_plan(part, building.faces_deg, says, speech.system).encode()


def _alt(picture: str, result: StakeoutResult, speech: Speech) -> str:
    values = {"declination": Quantity(result.needle.declination_deg, "angle")}
    return speech.say(Sentence(f"stakeout.{picture}_says", values))


def _list(sentences: Iterable[Sentence], speech: Speech) -> str:
    said = (quoted(unbroken(speech.say(item))) for item in sentences)
    return f"#list({', '.join(f'[#{item}]' for item in said)})"


def _paragraph(text: str) -> str:
    return f"#par[#{quoted(text)}]"


def _picture(name: str, alt: str, width: str) -> str:
    return f"#image({quoted(f'{name}.svg')}, width: {width}, alt: {quoted(alt)})"


def _columns(table: Table) -> str:
    """Return a table under its title."""
    heading = ", ".join(f"[*#{quoted(word)}*]" for word in table.heading)
    cells = ", ".join(f"[#{quoted(word)}]" for row in table.rows for word in row)
    rule = "table.hline(stroke: 0.6pt)"
    grid = f"#table(columns: {len(table.heading)}, table.header({heading}), {rule}, {cells})"
    return f"#block(breakable: false)[*#{quoted(table.title)}*\n{grid}]"
