"""The calendar re-read by its library, and the printed story pole measured."""

from __future__ import annotations

import io
import re
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pdfplumber
import pytest
from icalendar import Calendar

from command_line import Run
from noonmark.cards.speech import Speech
from noonmark.sheets.markwords import marks_calendar, marks_pole
from noonmark.sheets.polepaper import FLAP, WIDTH
from noonmark.sheets.press import PAPERS, Paper
from noonmark.study.marks import fortnights, marked_wall, rain_marks
from noonmark.units import System
from pencil import FIRST, drawn, made

MM = 72.0 / 25.4
WRITTEN = datetime(2026, 11, 25, 12, tzinfo=UTC)


def is_noon(event: Any) -> bool:
    return str(event["summary"]).startswith("Sun mark, noon")


@pytest.fixture(scope="module")
def calendar() -> Any:
    home = drawn()
    result = made(home)
    rain = rain_marks(home, marked_wall(home), result.marks)
    file = marks_calendar(home, result, rain, WRITTEN, Speech("us"))
    return Calendar.from_ical(file)


def test_calendar_has_an_event_a_fortnight_with_alarm(calendar: Any) -> None:
    """RFC 5545 by the library: one dated event for each mark, each with one alarm before it."""
    result = made(drawn())
    events = calendar.walk("VEVENT")
    zone = ZoneInfo("America/Denver")
    assert [event["dtstart"].dt for event in events] == [
        datetime.combine(mark.date, time.fromisoformat(mark.clock_time), zone)
        for mark in result.marks
    ]
    noons = [event for event in events if is_noon(event)]
    assert [event["dtstart"].dt.date() for event in noons] == fortnights(FIRST)
    for event in events:
        (alarm,) = event.walk("VALARM")
        assert alarm["trigger"].dt == timedelta(minutes=-30)
        assert alarm["action"] == "DISPLAY"
        assert event["dtstamp"].dt == WRITTEN
    assert len({str(event["uid"]) for event in events}) == len(events)
    assert calendar.walk("VTIMEZONE")[0]["tzid"] == "America/Denver"


def test_calendar_time_zone_puts_noon_at_solar_noon(calendar: Any) -> None:
    """The zone that the file brings along, as a calendar without our rules reads it.

    Source: noon of Golden on 21 June is 19:03 UTC (longitude 105.18 W, equation of time -2 min).
    """
    (zone,) = calendar.walk("VTIMEZONE")
    rules = zone.to_tz(lookup_tzid=False)
    for event in calendar.walk("VEVENT"):
        if is_noon(event) and event["dtstart"].dt.month == 6:
            naive = event["dtstart"].dt.replace(tzinfo=None)
            utc = (
                rules.localize(naive) if hasattr(rules, "localize") else naive.replace(tzinfo=rules)
            )
            assert utc.astimezone(UTC).strftime("%H:%M") in ("19:00", "19:03")


def test_event_tells_heights_and_rain_dates(calendar: Any) -> None:
    event = next(e for e in calendar.walk("VEVENT") if is_noon(e))
    assert event["summary"] == "Sun mark, noon: 1' 3 1/4\" below the soffit"
    text = str(event["description"])
    assert "5' 8 3/4\" above the sill, 7' 8 3/4\" above the floor" in text
    assert 'blurred over 1/4"' in text
    assert re.search(r"dull: 22 Dec 11:59, .*; 23 Dec 12:00, .*; 24 Dec 12:00, ", text)
    assert "never at the sun" in text


def test_event_below_a_sill_says_below() -> None:
    """In midsummer the shade ends under the window: nobody reads a minus off a ladder."""
    home = drawn()
    result = made(home, [date(2027, 6, 21)])
    rain = rain_marks(home, marked_wall(home), result.marks)
    file = marks_calendar(home, result, rain, WRITTEN, Speech("us"))
    texts = [str(event["description"]) for event in Calendar.from_ical(file).walk("VEVENT")]
    assert any("below the sill" in text for text in texts)
    assert not any("−" in text for text in texts)


def test_words_of_joints_stand_clear_of_the_ticks() -> None:
    result = made(drawn())
    pages = pdfplumber.open(io.BytesIO(marks_pole(drawn(), result, "letter", Speech("us")))).pages
    for page in pages:
        words = [w for w in page.extract_words() if w["text"] == "joint"]
        assert words
        ticks = [line for line in page.lines if line["x1"] - line["x0"] < 6.0 * MM]
        for word in words:
            at = [t for t in ticks if word["top"] < t["top"] < word["bottom"]]
            assert not any(t["x0"] < word["x1"] and word["x0"] < t["x1"] for t in at)


def test_marks_asked_for_again_keep_their_names(calendar: Any) -> None:
    """So that a calendar that takes the newer file replaces the older events."""
    home = drawn(projection=0.7)
    result = made(home)
    again = Calendar.from_ical(
        marks_calendar(home, result, [()] * len(result.marks), WRITTEN, Speech("us"))
    )
    same = {str(e["uid"]) for e in calendar.walk("VEVENT") if is_noon(e)}
    assert same <= {str(e["uid"]) for e in again.walk("VEVENT")}


# --- the story pole -----------------------------------------------------------------------------


def pole_of(paper: Paper, system: System, **wall: float) -> tuple[list[Any], Any]:
    home = drawn(**wall)
    result = made(home)
    file = pdfplumber.open(io.BytesIO(marks_pole(home, result, paper, Speech(system))))
    return file.pages, result


def joints(page: Any) -> list[tuple[float, float, float]]:
    """Return left edge, top and foot [mm] of every strip of a page, its flap left out."""
    cut = [r for r in page.rects if r["width"] / MM == pytest.approx(WIDTH, abs=0.1)]
    wide = [
        line["top"] / MM
        for line in page.lines
        if line["width"] / MM == pytest.approx(WIDTH, abs=0.1) and line["linewidth"] > 0.5
    ]
    found = []
    for r in sorted(cut, key=lambda r: r["x0"]):
        top, foot = r["top"] / MM, r["bottom"] / MM
        if any(abs(line - (foot - FLAP)) < 0.05 for line in wide):
            foot -= FLAP
        found.append((r["x0"] / MM, top, foot))
    return found


@pytest.mark.parametrize(("paper", "system"), [("a4", "metric"), ("letter", "us")])
@pytest.mark.parametrize("projection", [0.762, 1.2])
def test_printed_pole_measures_what_the_marks_are(
    paper: Paper, system: System, projection: float
) -> None:
    """Every notch of the glued pole lies its mark's distance below the top, to 0.05 mm."""
    pages, result = pole_of(paper, system, projection=projection)
    notches, reached, seen = [], 0.0, 0
    for page in pages:
        assert (page.width / MM, page.height / MM) == pytest.approx(PAPERS[paper], abs=0.1)
        for left, top, foot in joints(page):
            seen += 1
            notches += [
                reached + line["top"] / MM - top
                for line in page.lines
                if line["x0"] / MM == pytest.approx(left + 13.0, abs=0.05)
                and line["width"] / MM == pytest.approx(16.0, abs=0.05)
                and top - 0.01 <= line["top"] / MM < foot
            ]
            reached += foot - top
    wanted = sorted(1e3 * mark.below_soffit_m for mark in result.marks)
    assert sorted(notches) == pytest.approx(wanted, abs=0.05)
    assert reached >= wanted[-1]
    assert f"strip 1 of {seen}" in pages[0].extract_text()


@pytest.mark.parametrize(
    ("paper", "system", "long"), [("a4", "metric", 100.0), ("letter", "us", 101.6)]
)
def test_bar_that_checks_the_print_is_on_every_page(
    paper: Paper, system: System, long: float
) -> None:
    pages, _ = pole_of(paper, system)
    for page in pages:
        assert any(line["width"] / MM == pytest.approx(long, abs=0.01) for line in page.lines)
        assert "100 %" in page.extract_text()


def test_ticks_count_from_the_soffit() -> None:
    """The word 70 cm stands 700 mm below the top of the pole."""
    pages, _ = pole_of("a4", "metric")
    reached = 0.0
    for page in pages:
        words = page.extract_words()
        for left, top, foot in joints(page):
            for a, b in pairwise(words):
                if a["text"] == "70" and b["text"] == "cm" and left < a["x0"] / MM < left + 12:
                    middle = (a["top"] + a["bottom"]) / 2.0 / MM
                    assert reached + middle - top == pytest.approx(700.0, abs=1.5)
                    return
            reached += foot - top
    pytest.fail("no tick says 70 cm")


def test_labels_do_not_stand_on_each_other() -> None:
    for paper, system in (("a4", "metric"), ("letter", "us")):
        pages, _ = pole_of(paper, system)  # type: ignore[arg-type]
        for page in pages:
            words = [
                w for w in page.extract_words() if re.fullmatch(r"[0-9]{2}:[0-9]{2}", w["text"])
            ]
            for one in words:
                for other in words:
                    if one is not other and abs(one["x0"] - other["x0"]) < 30.0:
                        assert abs(one["top"] - other["top"]) / MM > 2.4


# --- the command --------------------------------------------------------------------------------


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    from importlib.resources import files

    path = tmp_path / "larkspur.toml"
    path.write_text(files("noonmark.design").joinpath("data/larkspur.toml").read_text("utf-8"))
    return path


def test_command_writes_calendar_and_pole(run: Run, sample: Path, tmp_path: Path) -> None:
    ics, pole = tmp_path / "marks.ics", tmp_path / "pole.pdf"
    code, out, err = run("marks", str(sample), "--ics", str(ics), "--pole", str(pole))
    assert code == 0
    assert err.splitlines() == [f"wrote {ics}", f"wrote {pole}"]
    assert "Sun marks" in out
    assert len(Calendar.from_ical(ics.read_bytes()).walk("VEVENT")) >= 26
    with pdfplumber.open(pole) as file:
        assert (file.pages[0].width / MM) == pytest.approx(215.9, abs=0.1)


def test_nothing_is_written_where_there_is_no_mark(run: Run, sample: Path, tmp_path: Path) -> None:
    ics = tmp_path / "marks.ics"
    code, _, err = run(
        "marks", str(sample), "--window", "back", "--ics", str(ics), "--date", "12-21"
    )
    assert code == 2
    assert "no shade edge stands on the north wall" in err
    assert not ics.exists()


def test_days_without_a_year_are_the_coming_ones() -> None:
    from noonmark.cli.words import coming_day

    today = date(2026, 11, 25)
    assert coming_day("11-25", today) == today
    assert coming_day("11-24", today) == date(2027, 11, 24)
    assert coming_day("2024-02-29", today) == date(2024, 2, 29)
