"""Sun marks: which there are, where they can not be, and what the table says of them."""

from __future__ import annotations

from datetime import date, time

import pytest

from noonmark.cards.marktables import mark_heights, marks_table, no_mark_sentences
from noonmark.cards.speech import Speech
from noonmark.design.model import Homestead
from noonmark.errors import InputError
from noonmark.study.markresults import SunMark
from noonmark.study.marks import fortnights, marked_wall, rain_marks, sun_marks
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
