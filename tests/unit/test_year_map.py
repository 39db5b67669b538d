from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
from numpy.typing import NDArray

from drawing import boxes, classed, collisions, outside, parsed
from noonmark.errors import PhysicsError
from noonmark.sheets import YearMapLabels, draw_year_map
from noonmark.sheets.mapgrid import COLOURS, DAY, HOUR, STEPS

LABELS = YearMapLabels(
    title="How warm it is inside",
    subtitle="Larkspur, living room",
    description="A year of indoor temperatures.",
    months=("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
    hours=("midnight", "6", "noon", "18", "midnight"),
    sun_line="sunrise and sunset",
    heated="heater on",
    hard_heated="heater above half of its hardest hour",
    notes=("Clock without daylight saving time.",),
)
RISE, SET = np.full(365, 6.0), np.full(365, 18.0)
RANDOM = np.random.default_rng(7)
WARM = RANDOM.normal(21, 8, 8760)
HEAT = np.where(WARM < 18, 1000.0 * (18 - WARM), 0.0)
BOX = re.compile(r"M(\d+) (\d+)h(\d+)v(\d+)h-(\d+)z")


def drawing(rise: NDArray[np.float64] = RISE) -> str:
    return draw_year_map(WARM, HEAT, rise, SET, LABELS).sheet()


def covered(part: ElementTree.Element) -> NDArray[np.int_]:
    """How often each hour is covered, shape (365, 24), midnight first."""
    grid = np.zeros((24, 365), dtype=int)
    data = part.get("d", "")
    assert BOX.sub("", data) == ""
    for x, y, w, h, back in (map(int, found) for found in BOX.findall(data)):
        assert w == back
        assert x % DAY == y % HOUR == w % DAY == h % HOUR == 0
        grid[y // HOUR : (y + h) // HOUR, x // DAY : (x + w) // DAY] += 1
    return grid[::-1].T


def test_each_hour_has_the_colour_of_its_step() -> None:
    topmost = np.full((365, 24), -1)
    for part in classed(parsed(drawing()), "path", "step"):
        once = covered(part)
        assert once.max() == 1
        topmost[once == 1] = COLOURS.index(part.get("fill", ""))
    assert (topmost == np.digitize(WARM, STEPS).reshape(365, 24)).all()


def test_heater_hours_are_hatched_hard_ones_denser() -> None:
    root = parsed(drawing())
    light, hard = (covered(classed(root, "path", name)[0]) for name in ("nm-heat", "nm-hard"))
    heat = HEAT.reshape(365, 24)
    assert (hard == (heat > heat.max() / 2)).all()
    assert (light + hard == (heat > 0)).all()


def test_unheated_year_has_no_hatching() -> None:
    root = parsed(draw_year_map(WARM, np.zeros(8760), RISE, SET, LABELS).sheet())
    assert classed(root, "path", "nm-heat") + classed(root, "path", "nm-hard") == []


def test_colour_breaks_at_26() -> None:
    """The step at 26 is the largest change of colour on the warm side."""
    rgb = np.array([[int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in COLOURS])
    jumps = np.abs(np.diff(rgb, axis=0)).sum(axis=1)
    assert STEPS[int(np.argmax(jumps[4:])) + 4] == 26.0


def test_noisiest_year_stays_small() -> None:
    assert len(drawing().encode()) < 600_000


def test_sun_lines_break_where_the_sun_does_not_rise() -> None:
    rise = RISE.copy()
    rise[100:120] = math.nan
    lines = classed(parsed(drawing(rise)), "polyline", "sun")
    assert len(lines) == 3  # two pieces of sunrise, one sunset
    assert len(lines[0].get("points", "").split()) == 100
    first = lines[0].get("points", "").split()[0].split(",")
    assert float(first[1]) == (24 - 6) * HOUR


@pytest.mark.parametrize(("system", "words"), [("metric", "26 °C"), ("us", "79 °F")])
def test_legend_in_the_readers_units(system: str, words: str) -> None:
    root = parsed(draw_year_map(WARM, HEAT, RISE, SET, LABELS, system=system).sheet())  # type: ignore[arg-type]
    (strong,) = [part.text for part in classed(root, "text", "name") if "°" in (part.text or "")]
    assert strong == words
    assert collisions(root) == []
    assert outside(root) == []
    assert {"Jan", "Dec", "noon", "heater on"} <= {b.content for b in boxes(root)}


def test_words_are_escaped() -> None:
    labels = replace(LABELS, title="<&>", sun_line="</svg>")
    root = parsed(draw_year_map(WARM, HEAT, RISE, SET, labels).sheet())
    assert root[0].text == "<&>"


@pytest.mark.parametrize(
    ("warm", "rise", "code"),
    [
        (WARM[:-1], RISE, "sheets.wrong_shape"),
        (WARM, RISE[:-1], "sheets.wrong_shape"),
        (np.full(8760, math.nan), RISE, "sheets.not_finite"),
    ],
)
def test_arrays_that_are_no_year(
    warm: NDArray[np.float64], rise: NDArray[np.float64], code: str
) -> None:
    with pytest.raises(PhysicsError) as caught:
        draw_year_map(warm, HEAT, rise, SET, LABELS)
    assert caught.value.problems[0].code == code
