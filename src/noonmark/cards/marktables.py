"""Sun marks in tables of words."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.results import MarksResult, SunMark
from noonmark.units import blurred


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
    days = [mark.date for mark in (*result.marks, *result.no_marks)]
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
