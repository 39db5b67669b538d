"""Sun marks with their words: the calendar, and the story pole in full size."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time

from noonmark.cards.marktables import mark_heights, marks_title
from noonmark.cards.speech import Speech
from noonmark.design.model import Homestead
from noonmark.errors import Sentence
from noonmark.place.clock import time_zone
from noonmark.sheets.markcalendar import Appointment, calendar_file
from noonmark.sheets.polepaper import PoleMark, PoleWords, pole_pdf
from noonmark.sheets.press import Paper
from noonmark.study.results.marks import MarksResult, SunMark
from noonmark.units.writing import MINUS


def marks_calendar(
    homestead: Homestead,
    result: MarksResult,
    rain: Sequence[Sequence[SunMark]],
    written: datetime,
    speech: Speech,
) -> bytes:
    """Return a calendar of marks; `rain` are for each those of the days after it."""
    zone = time_zone(homestead.place.time_zone)
    title = homestead.title or result.building
    appointments = []
    for mark, later in zip(result.marks, rain, strict=True):
        heights = mark_heights(mark, speech)
        values = {"title": title, "when": speech.word(f"marks.{mark.when}"), **heights}
        sill = ""
        if mark.above_sill_m is not None:
            sill = "_below_sill" if heights["above_sill"].startswith(MINUS) else "_sill"
            values["above_sill"] = heights["above_sill"].removeprefix(MINUS)
        parts = [
            speech.say(Sentence(f"marks.event_heights{sill}", values)),
            speech.word("marks.event_how"),
        ]
        if later:
            days = [speech.say(_rainy(item, speech)) for item in later]
            parts.append(speech.say(Sentence("marks.event_rain", {"days": "; ".join(days)})))
        parts.append(speech.word("marks.event_care"))
        clock = time.fromisoformat(mark.clock_time)
        key = f"{title}/{result.building}/{result.window}/{mark.date}/{mark.when}"
        begins = datetime.combine(mark.date, clock, zone)
        summary = speech.say(Sentence("marks.event", values))
        appointments.append(Appointment(key, begins, summary, "\n".join(parts)))
    name = speech.say(Sentence("marks.calendar", {"title": title}))
    return calendar_file(name, appointments, written)


def _rainy(mark: SunMark, speech: Speech) -> Sentence:
    values = {
        "day": mark.date,
        "clock": mark.clock_time,
        "below_soffit": mark_heights(mark, speech)["below_soffit"],
    }
    return Sentence("marks.event_rain_day", values)


def marks_pole(homestead: Homestead, result: MarksResult, paper: Paper, speech: Speech) -> bytes:
    """Return the story pole of marks as a PDF in full size."""
    soffit = result.soffit_m
    lines = [(0.0, speech.word("sheet.soffit")), (soffit, speech.word("sheet.floor"))]
    if result.sill_m is not None:
        lines.append((soffit - result.sill_m, speech.word("sheet.sill")))
    marks = [
        PoleMark(
            mark.below_soffit_m,
            mark.blur_m,
            f"{speech.day(mark.date)}  {mark.clock_time}",
            mark.when == "noon",
        )
        for mark in result.marks
    ]
    named = {**marks_title(result).values, "title": homestead.title or result.building}
    words = PoleWords(
        title=speech.say(Sentence("marks.pole_title", named)),
        how=speech.word("marks.pole_how"),
        foot=speech.word("marks.pole_foot"),
        check=speech.word(f"marks.pole_check_{speech.system}"),
        strip=lambda n, m: speech.say(Sentence("marks.pole_strip", {"n": n, "m": m})),
        joint=lambda n: speech.say(Sentence("marks.pole_joint", {"n": n})),
        glue=speech.word("marks.pole_glue"),
    )
    return pole_pdf(
        marks, lines, words, paper=paper, system=speech.system, language=speech.language
    )
