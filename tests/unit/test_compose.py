"""Sheets of a design with their words: everywhere on earth, in both systems of units."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from xml.etree import ElementTree

import pytest

from designs import design, put, together
from drawing import boxes, classed, collisions, outside, parsed
from noonmark.cards.speech import Speech
from noonmark.sheets.compose import section_sheet
from noonmark.study.section import section_view
from noonmark.units import System

PLACES = {
    "Golden": (39.73, -105.18, "America/Denver", 180.0),
    "Sydney": (-33.9, 151.2, "Australia/Sydney", 0.0),
    "Svalbard": (78.2, 15.6, "Arctic/Longyearbyen", 180.0),
    "pole": (90.0, 0.0, "UTC", 180.0),
    "equator": (0.0, 0.0, "UTC", 90.0),
    "Fiji": (-18.0, 178.0, "Pacific/Fiji", 45.0),
}


def sheet(
    place: str,
    date: tuple[int, int],
    clock: datetime.time | None = None,
    system: System = "us",
    changes: Mapping[str, object] | None = None,
) -> ElementTree.Element:
    latitude, longitude, zone, faces = PLACES[place]
    where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
    parts = {"place": where, "house.faces": faces, **(changes or {})}
    home = design(together(*(put(key, value) for key, value in parts.items()))).homestead
    view = section_view(home, "house", day=datetime.date(2022, *date), clock=clock)
    drawn = section_sheet(view, title="Larkspur", faces=faces, speech=Speech(system)).sheet()
    assert "nan" not in drawn
    return parsed(drawn)


def words(root: ElementTree.Element) -> list[str]:
    return [box.content for box in boxes(root)]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("date", [(12, 21), (6, 21), (3, 20)])
def test_no_words_collide_or_leave_the_sheet(place: str, date: tuple[int, int]) -> None:
    root = sheet(place, date)
    assert collisions(root) == []
    assert outside(root) == []


def test_subtitle_says_noon_clock_or_no_sun() -> None:
    assert "solar noon, 11:58 by the clock, sun 26.9° above the horizon" in words(
        sheet("Golden", (12, 21))
    )
    assert "15:00 by the clock, sun 42.9° above the horizon" in words(
        sheet("Golden", (3, 20), datetime.time(15))
    )
    assert "00:30 by the clock: no sun on this wall" in words(
        sheet("Golden", (12, 21), datetime.time(0, 30))
    )
    assert "Larkspur: the north wall, 21 Jun" in words(sheet("Sydney", (6, 21)))


def test_story_pole_pairs_its_dates_and_fits_its_margin() -> None:
    found = words(sheet("Golden", (12, 21)))
    assert "noon shade line" in found
    assert "21 Dec, 7' 8 3/4\"" in found
    assert "21 Jun" in found
    paired = [text for text in found if " · " in text]
    assert len(paired) == 12
    assert "15 Mar · 28 Sep" in paired


def test_day_between_fortnights_has_a_mark_with_its_height() -> None:
    between, fortnight = sheet("Golden", (3, 5)), sheet("Golden", (3, 15))
    own = [part.text for part in classed(between, "text", "name") if part.get("style")]
    assert own == ["5 Mar, 6' 6 1/2\""]
    notches = [part.text for part in classed(fortnight, "text", "mark")]
    assert [text for text in notches if text and "Mar" in text] == [
        "1 Mar · 12 Oct",
        "15 Mar · 28 Sep",
        "29 Mar · 14 Sep",
    ]
    assert between.get("viewBox") == fortnight.get("viewBox")
    assert [p.get("x1") for p in classed(between, "line", "cut")] == [
        p.get("x1") for p in classed(fortnight, "line", "cut")
    ]


def test_hour_of_the_clock_has_a_mark_that_names_it() -> None:
    found = words(sheet("Golden", (3, 15), datetime.time(15)))
    assert [text for text in found if text.startswith("15:00, ")] != []
    assert "15 Mar · 28 Sep" in found


def test_shade_line_below_the_ground_has_no_height() -> None:
    steep = {"house.eave.projection": 1.8}
    found = words(sheet("Golden", (6, 10), changes=steep))
    assert "10 Jun ↓" in found


def test_units_follow_the_reader() -> None:
    assert "soffit 9' 0\"" in words(sheet("Golden", (12, 21)))
    assert "soffit 2.743 m" in words(sheet("Golden", (12, 21), system="metric"))
