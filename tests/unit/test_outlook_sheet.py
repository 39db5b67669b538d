"""The view out of a window as a drawing: its words, apart and on the sheet, and its sun."""

from __future__ import annotations

from datetime import date

import pytest

from designs import design, put, together
from drawing import classed, collisions, corners, outside, parsed
from noonmark.cards.speech import Speech
from noonmark.design import Homestead
from noonmark.sheets.outlookwords import outlook_sheet
from noonmark.study.outlook import outlooks

PLACES = {
    "Golden": (39.73, -105.18, "America/Denver", 180.0),
    "Christchurch": (-43.5, 172.6, "Pacific/Auckland", 20.0),
    "Svalbard": (78.2, 15.6, "Arctic/Longyearbyen", 215.0),
    "equator": (0.0, 0.0, "UTC", 90.0),
}
DAYS = [date(2022, 12, 21), date(2022, 3, 20), date(2022, 6, 21)]


def busy(place: str) -> Homestead:
    latitude, longitude, zone, faces = PLACES[place]
    tree = {"azimuth": faces - 20.0, "distance": 9, "top": 8, "crown_bottom": 2, "crown_width": 6}
    block = {"azimuth": faces + 40.0, "distance": 15, "width": 9, "depth": 8, "top": 5, "ridge": 7}
    where = {
        "latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone,
        "skyline": [[0.0, 4.0], [100.0, 12.0], [230.0, 9.0]],
    }  # fmt: skip
    return design(
        together(
            put("place", where),
            put("house.faces", faces),
            put("house.tree", [tree]),
            put("house.neighbour", [block]),
            put("house.window.0.reveal", 0.2),
            put("house.window.1.awning", {"projection": 1.0, "drop": 0.4, "put_up": "5-1",
                                          "take_down": "9-1"}),
            put("house.window.3.slats", {"depth": 0.08, "spacing": 0.08}),
        )
    ).homestead  # fmt: skip


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("place", PLACES)
def test_words_stand_apart_and_on_the_sheet(place: str, system: str) -> None:
    found = list(outlooks(busy(place), "house", DAYS))
    assert found
    for outlook in found:
        root = parsed(outlook_sheet(outlook, title="Larkspur", speech=Speech(system)).sheet())  # type: ignore[arg-type]
        assert outside(root) == []
        assert collisions(root) == []


def test_strong_lines_are_as_many_as_seen_stretches() -> None:
    for outlook in outlooks(busy("Golden"), "house", DAYS):
        root = parsed(outlook_sheet(outlook, title="Larkspur", speech=Speech()).sheet())
        seen = [run for track in outlook.tracks for run in track.runs if run.state != "hidden"]
        lines = classed(root, "polyline", "day")
        assert len(lines) == len(seen)
        discs = classed(root, "circle", "disc")
        ticks = [tick for track in outlook.tracks for tick in track.ticks]
        assert len(discs) == sum(tick.state != "hidden" for tick in ticks)
        # higher sun is drawn higher, and what lies to the right at the right
        for run, line in zip(sorted(seen, key=lambda r: r.way[0, 0]), sorted(
            lines, key=lambda part: corners(part)[0][0]
        ), strict=True):  # fmt: skip
            assert (corners(line)[0][1] > corners(line)[-1][1]) == (run.way[0, 1] < run.way[-1, 1])


def test_a_tree_is_one_thing_and_an_awning_a_thing_of_summer() -> None:
    first, second, *_ = outlooks(busy("Golden"), "house", DAYS)
    always = [item for item in first.outlines if item.kind == "thin" and all(item.days)]
    assert len(always) == 1
    awnings = [item for item in second.outlines if item.days == (False, False, True)]
    assert len(awnings) == 1


def test_hours_are_told_in_words() -> None:
    first = next(iter(outlooks(busy("Golden"), "house", DAYS)))
    sheet = outlook_sheet(first, title="Larkspur", speech=Speech()).sheet()
    assert "21 Dec: sun 0" in sheet
    assert "21 Jun: no sun" in sheet  # the eave
    dark = next(iter(outlooks(busy("Svalbard"), "house", DAYS)))
    assert "21 Dec: no sun" in outlook_sheet(dark, title="Larkspur", speech=Speech()).sheet()
