"""Sun marks: which there are, where they can not be, and what the table says of them."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from command_line import Run
from noonmark.cards.marktables import mark_heights, marks_table, no_mark_sentences
from noonmark.cards.speech import Speech
from noonmark.design.model import Homestead
from noonmark.errors import InputError
from noonmark.place.clock import standard_offset
from noonmark.study.marks import fortnights, marked_wall, rain_marks, sun_marks
from noonmark.study.moment import solar_noons
from noonmark.study.results.marks import SunMark
from noonmark.study.stakeout import stakeout
from noonmark.sun.year import sun_year
from noonmark.units import blurred
from pencil import FIRST, drawn, made
from sample_house import with_house


def test_every_fortnight_has_a_noon_mark_and_every_fourth_two_aside() -> None:
    result = made(drawn())
    noons = [m for m in result.marks if m.when == "noon"]
    assert [m.date for m in noons] == fortnights(FIRST)
    morning, afternoon = (
        [m for m in result.marks if m.when == w] for w in ("morning", "afternoon")
    )
    assert [m.date for m in morning] == [m.date for m in afternoon] == fortnights(FIRST)[::4]
    assert all(int(m.clock_time[3:]) % 15 == 0 for m in (*morning, *afternoon))
    assert all(m.clock_time < "12:00" for m in morning)
    assert [(m.date, m.clock_time) for m in result.marks] == sorted(
        (m.date, m.clock_time) for m in result.marks
    )
    assert (result.building, result.window, result.faces_deg) == ("house", "living room", 180.0)


def test_clock_time_includes_daylight_saving() -> None:
    """Solar noon of Golden: 12 h less 0.18 deg of longitude and the equation of time.

    Source: equation of time of 21 June, -1.8 min, and 1 November, +16.4 min (handbook tables).
    """
    marks = {
        m.date: m.clock_time
        for m in made(drawn(), [date(2027, 6, 21), date(2027, 11, 10)]).marks
        if m.when == "noon"
    }
    assert marks == {date(2027, 6, 21): "13:03", date(2027, 11, 10): "11:45"}


def test_turned_wall_has_its_highest_shade_where_it_faces_the_sun() -> None:
    """A wall turned to the morning: its shade is deeper in the afternoon, and east is east."""
    home = drawn(faces=150.0)
    clocks = [time(9), time(15)]
    heights = [
        next(
            m.above_floor_m
            for m in sun_marks(home, marked_wall(home), [date(2027, 2, 1)], clock=clock).marks
            if m.when == "clock"
        )
        for clock in clocks
    ]
    assert heights[1] < heights[0]


def test_southern_wall_looks_north_and_its_marks_turn_with_the_seasons() -> None:
    home = drawn(latitude=-39.73, faces=0.0)
    june, december = made(home, [date(2027, 6, 21), date(2027, 12, 21)]).marks[0::3][:2]
    assert june.below_soffit_m < december.below_soffit_m


@pytest.mark.parametrize(
    ("change", "clock", "why"),
    [
        ({}, time(3), "no_sun"),
        ({"faces": 270.0}, time(8), "behind"),
        ({}, time(16, 45), "ground"),
    ],
)
def test_no_mark_and_why(change: dict[str, object], clock: time, why: str) -> None:
    home = with_house(drawn(), **change)
    result = sun_marks(home, marked_wall(home), [date(2027, 6, 21)], clock=clock)
    assert [m.why for m in result.no_marks if m.when == "clock"] == [why]
    (sentence,) = [s for s in no_mark_sentences(result, Speech()) if s.key.endswith(why)]
    assert f"{clock:%H:%M}" in Speech().say(sentence)


def test_end_of_the_eave_is_no_mark() -> None:
    """A low sun far aside: what shades the spot comes past the end of the eave."""
    home = drawn(projection=3.0, faces=180.0)
    wall = marked_wall(home)
    result = sun_marks(home, wall, [date(2027, 12, 21)], clock=time(7, 45))
    assert [m.why for m in result.no_marks] == ["eave_end"]


def test_neighbour_that_shades_the_spot_is_no_mark() -> None:
    sky = [(0.0, 0.0), (90.0, 0.0), (91.0, 35.0), (269.0, 35.0), (270.0, 0.0)]
    home = drawn()
    place = type(home.place).model_validate({**home.place.model_dump(), "skyline": sky})
    shaded = home.model_copy(update={"place": place})
    result = made(shaded, [date(2027, 12, 21), date(2027, 4, 20)])
    assert {m.date: m.why for m in result.no_marks} == {date(2027, 12, 21): "other_shade"}


@pytest.mark.parametrize("window", ["kitchen", "west"])
def test_wall_without_eave_has_none(window: str) -> None:
    with pytest.raises(InputError) as caught:
        marked_wall(drawn(), window=window)
    assert caught.value.problems[0].code == "marks.no_eave"


def test_mark_stands_on_siding() -> None:
    """Not on the glass of any window of the wall."""
    wall = marked_wall(drawn())
    from noonmark.study.layout import positions

    spans = [(at, at + w.width) for w, lefts in positions(wall.face) for at in lefts]
    assert not any(low < wall.along < high for low, high in spans)
    assert min(abs(wall.along - edge) for span in spans for edge in span) == pytest.approx(0.2)


def test_rain_dates_follow_the_mark() -> None:
    home = drawn()
    wall = marked_wall(home)
    marks = made(home, fortnights(FIRST, 5)).marks
    for mark, later in zip(marks, rain_marks(home, wall, marks), strict=True):
        assert [(item.date - mark.date).days for item in later] == [1, 2, 3]
        assert all(item.when == mark.when for item in later)
        if mark.when != "noon":
            assert {item.clock_time for item in later} == {mark.clock_time}
        assert abs(later[0].above_floor_m - mark.above_floor_m) < 0.06
    noon = next(m for m in marks if m.when == "noon")
    again = next(m for m in made(home, [date(2026, 12, 23)]).marks if m.when == "noon")
    assert rain_marks(home, wall, [noon])[0][1] == again


@pytest.mark.parametrize(
    ("metres", "blur", "metric", "us"),
    [
        (0.38590, 0.0091, "0.385 m", "1' 3 1/4\""),
        (1.04080, 0.0204, "1.04 m", "3' 5\""),
        (2.60760, 0.0887, "2.60 m", "8' 6\""),
        (-0.0604, 0.1079, "−0.10 m", '−4"'),
        (0.00000, 0.0100, "0.00 m", '0"'),
    ],
)
def test_no_digit_finer_than_the_blur(metres: float, blur: float, metric: str, us: str) -> None:
    assert blurred(metres, blur, "metric") == metric
    assert blurred(metres, blur, "us") == us


def test_table_in_both_units() -> None:
    result = made(drawn(), [date(2027, 12, 21)])
    for speech in (Speech("metric"), Speech("us")):
        table = marks_table(result, speech)
        assert len(table.heading) == len(table.rows[0]) == 7
        assert "2027" in table.title
    mark = SunMark(date(2027, 3, 1), "12:13", "noon", 0.7064, None, 2.0368, 0.0133)
    assert mark_heights(mark, Speech("metric")) == {
        "below_soffit": "0.71 m",
        "above_floor": "2.04 m",
        "blur": "0.014 m",
    }


def test_bare_wall_has_marks_too() -> None:
    home: Homestead = with_house(drawn(), window=[])
    result = made(home, [date(2027, 12, 21)])
    assert (result.window, result.sill_m) == (None, None)
    assert {m.above_sill_m for m in result.marks} == {None}


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [
        (-13.8, -172.0, "Pacific/Apia"),
        (2.0, -157.4, "Pacific/Kiritimati"),
        (-44.0, -176.5, "Pacific/Chatham"),
        (-17.0, 179.9, "Pacific/Fiji"),
        (52.0, -176.6, "America/Adak"),
    ],
)
def test_noon_keeps_its_date_where_the_date_line_bends(
    latitude: float, longitude: float, zone: str
) -> None:
    """Samoa keeps the date of New Zealand under the sun of Alaska: noon is near 12.

    Source: IANA time zones; equation of time and summer time and bounds of zones come to 3 h.
    """
    where = {"latitude": latitude, "longitude": longitude, "time_zone": zone}
    place = drawn().place.model_copy(update=where)
    days = [date(2027, month, 1) for month in range(1, 13)]
    for day, noon in zip(days, solar_noons(place, days), strict=True):
        here = datetime.fromtimestamp(noon, ZoneInfo(zone))
        assert here.date() == day
        assert abs(here.hour + here.minute / 60.0 - 12.0) < 3.0
    stakes = stakeout(drawn().model_copy(update={"place": place}), days[0])
    assert [noon.noon.date() for noon in stakes.noons] == [noon.day for noon in stakes.noons]
    offset = standard_offset(zone, year=2027)
    year = sun_year(latitude=latitude, longitude=longitude, utc_offset_h=offset, altitude_m=0.0)
    assert np.all(np.abs(year.solar_noon_h - 12.0) < 3.0)


def test_shade_of_a_finger_under_the_soffit_is_no_mark() -> None:
    """An eave of 5 mm under a sun of 27 degrees: 3 mm of shade, and nothing else is blamed."""
    result = made(drawn(projection=0.005), [date(2027, 12, 21)])
    assert {m.why for m in result.no_marks} == {"soffit"}
    (sentence,) = no_mark_sentences(result, Speech())
    assert "finger" in Speech().say(sentence)


def test_window_is_looked_for_in_the_building_that_is_named() -> None:
    home = drawn()
    both = home.model_copy(
        update={"buildings": {**home.buildings, "barn": home.buildings["house"]}}
    )
    assert marked_wall(both, building="barn", window="living room").key == "barn"
    with pytest.raises(InputError) as caught:
        marked_wall(both, window="living room")
    assert caught.value.problems[0].code == "window.twice"
    bare = both.buildings["barn"].model_copy(update={"window": []})
    home = home.model_copy(update={"buildings": {**home.buildings, "barn": bare}})
    with pytest.raises(InputError) as caught:
        marked_wall(home, building="barn", window="living room")
    assert caught.value.problems[0].code == "window.unknown"


def test_a_day_asked_for_twice_has_its_marks_once(run: Run, file: Path) -> None:
    twice = run("marks", str(file), "--date", "2027-12-21", "--date", "2027-12-21", "--json")
    once = run("marks", str(file), "--date", "2027-12-21", "--json")
    assert twice == once


def test_noon_is_no_clock_time_of_a_mark(run: Run, file: Path) -> None:
    """The problem does not propose the very word it refuses."""
    code, _, err = run("marks", str(file), "--at", "noon")
    assert code == 2
    assert "write 15:00" in err
    assert "or 15:00" not in err


def test_calendar_and_pole_do_not_write_over_each_other(
    run: Run, file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "one"
    code, _, err = run("marks", str(file), "--ics", str(path), "--pole", str(path))
    assert (code, "can not be one file" in err) == (2, True)
    assert not path.exists()
