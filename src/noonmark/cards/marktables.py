"""Sun marks in tables of words: those to be made, and what made ones tell."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.results.marks import MarksResult, ReadBack, ReadRow, SunMark, Told
from noonmark.units import Quantity, blurred
from noonmark.units.writing import dimension


def marks_table(result: MarksResult, speech: Speech) -> Table:
    """Return the marks in the order of time."""
    sill = ("above_sill",) if result.sill_m is not None else ()
    columns = ("date", "time", "when", "below_soffit", *sill, "above_floor", "blur")
    return Table(
        title=speech.say(marks_title(result)),
        heading=tuple(speech.word(f"marks.{column}") for column in columns),
        rows=tuple(_row(mark, speech) for mark in result.marks),
    )


def no_mark_sentences(result: MarksResult, speech: Speech) -> Iterator[Sentence]:
    """Yield each reason for no mark with its days and times."""
    for why in dict.fromkeys(mark.why for mark in result.no_marks):
        times = [
            f"{speech.day(mark.date)} {mark.clock_time}"
            for mark in result.no_marks
            if mark.why == why
        ]
        yield Sentence(f"marks.none_{why}", {"times": times})


def marks_title(result: MarksResult) -> Sentence:
    """Return what the marks are marks of."""
    days = [mark.date for mark in result.marks] + [mark.date for mark in result.no_marks]
    values = {
        "building": result.building,
        "side": azimuth_name(result.faces_deg),
        "years": "-".join(str(year) for year in sorted({min(days).year, max(days).year})),
    }
    if result.window is None:
        return Sentence("marks.title", values)
    return Sentence("marks.title_beside", {**values, "window": result.window})


def mark_heights(mark: SunMark, speech: Speech) -> dict[str, str]:
    """Return the heights of a mark in words, no finer than its blur, and the blur."""
    lengths = {
        "below_soffit": mark.below_soffit_m,
        "above_sill": mark.above_sill_m,
        "above_floor": mark.above_floor_m,
    }
    known = {
        name: speech.decimal(blurred(length, mark.blur_m, speech.system))
        for name, length in lengths.items()
        if length is not None
    }
    return {**known, "blur": speech.decimal(blurred(mark.blur_m, mark.blur_m / 5.0, speech.system))}


def _row(mark: SunMark, speech: Speech) -> tuple[str, ...]:
    when = speech.word(f"marks.{mark.when}")
    return (speech.day(mark.date), mark.clock_time, when, *mark_heights(mark, speech).values())


def fit_table(result: ReadBack, drawn: MarksResult, speech: Speech) -> Table:
    """Return what the marks tell, beside what is drawn."""
    values = {
        "building": result.building,
        "side": azimuth_name(drawn.faces_deg),
        "count": len(result.rows),
    }
    sizes = {
        "faces": (drawn.faces_deg, result.fit.faces),
        "projection": (drawn.projection_m, result.fit.projection),
        "soffit": (drawn.soffit_m, result.fit.soffit),
        "clock": (0.0, result.fit.clock),
    }
    parts = ("drawn", "value", "lowest", "highest")
    return Table(
        title=speech.say(Sentence("readback.title", values)),
        heading=("", *(speech.word(f"readback.{part}") for part in parts)),
        rows=tuple(
            (speech.word(f"readback.{name}"), *_fitted(name, was, told, speech))
            for name, (was, told) in sizes.items()
        ),
    )


def _fitted(name: str, drawn: float, told: Told, speech: Speech) -> Iterator[str]:
    def shown(value: float) -> str:
        if name == "faces":
            return speech.decimal(Quantity(value % 360.0, "angle").write(speech.system))
        if name == "clock":
            minutes = speech.number(value, 1)
            return speech.say(Sentence("readback.minutes", {"minutes": minutes}))
        return speech.decimal(dimension(value, speech.system))

    yield shown(drawn)
    if told.told:
        yield from (shown(value) for value in (told.value, *told.band))
    else:
        yield from (speech.word("readback.untold"), "", "")


def read_rows_table(result: ReadBack, speech: Speech) -> Table:
    """Return every mark beside what the fitted wall would throw."""
    fields = ("line", "date", "time", "read", "expected", "difference", "counts")
    return Table(
        title=speech.word("readback.rows_title"),
        heading=tuple(speech.word(f"readback.{field}") for field in fields),
        rows=tuple(_read_row(row, speech) for row in result.rows),
    )


def _read_row(row: ReadRow, speech: Speech) -> tuple[str, ...]:
    lengths = (row.read_m, row.expected_m, row.read_m - row.expected_m)
    return (
        str(row.row),
        f"{speech.day(row.date)} {row.date.year}",
        row.clock_time,
        *(speech.decimal(dimension(length, speech.system)) for length in lengths),
        speech.word("readback.out") if row.left_out else "",
    )
