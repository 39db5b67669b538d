"""A shade of boards lets no beam through in its hours, on its days, and all of it on others."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import numpy as np
import pytest

from designs import design, put
from noonmark.choose.slats import Boards, Hours, size_slats
from noonmark.design import DesignFile, parse_design
from noonmark.design.derived import find_window, wall_of
from noonmark.errors import InputError
from noonmark.place.clock import time_zone
from noonmark.shading.plates import Opening
from noonmark.shading.shade import sun_slopes
from noonmark.study.layout import positions
from noonmark.study.obstacles import obstacles_of
from noonmark.study.results.shade import SlatsResult
from noonmark.sun.position import solar_position

INCH = 0.0254
BOARDS = Boards(3.5 * INCH, 0.75 * INCH)
SUMMER = Hours(date(2022, 5, 15), date(2022, 9, 1), time(15), time(18))
SOUTHERN = Hours(date(2022, 11, 15), date(2022, 3, 1), time(15), time(18))


def southern() -> DesignFile:
    return design(
        put("place.latitude", -35.0),
        put("place.longitude", 149.0),
        put("place.time_zone", "Australia/Sydney"),
        put("house.faces", 0),
    )


def most_lit(whole: DesignFile, window: str, days: list[date], clocks: list[time]) -> float:
    """Return the largest lit share of a window at clock times, as the year sees it."""
    home = whole.homestead
    building = home.buildings["house"]
    _, number = find_window(home, window)
    wanted = building.window[number - 1]
    face = wall_of(building, wanted)
    zone = time_zone(home.place.time_zone)
    instants = [datetime.combine(d, t, zone) for d in days for t in clocks]
    sun = solar_position(
        np.array([i.timestamp() for i in instants]),
        latitude=home.place.latitude,
        longitude=home.place.longitude,
        altitude_m=home.place.altitude,
    )
    before, sideways, rise = sun_slopes(sun.apparent_altitude, sun.azimuth, face.azimuth)
    number_of = np.array([(i.date() - date(i.year, 1, 1)).days for i in instants])[before]
    (left,) = next(lefts for w, lefts in positions(face) if w is wanted)
    opening = Opening(left, wanted.width, wanted.sill, wanted.head - wanted.sill, wanted.reveal)
    lit = obstacles_of(home, building, face).lit(sideways, rise, number_of, opening)
    assert lit.size
    return float(lit.max())


def every(first: date, count: int, step: int = 1) -> list[date]:
    return [first + timedelta(days=i) for i in range(0, count, step)]


def built(whole: DesignFile, result: SlatsResult, plan: int) -> DesignFile:
    return parse_design(whole.text, changes=result.plans[plan].set)


@pytest.mark.parametrize(
    ("whole", "window", "hours", "boards"),
    [
        (design(), "west", SUMMER, BOARDS),
        (design(), "west", SUMMER, Boards(0.14, 0.02, upright=True)),
        (design(put("house.window.3.reveal", "4 in")), "west", SUMMER, BOARDS),
        (design(), "kitchen", Hours(SUMMER.put_up, SUMMER.take_down, time(8), time(11)), BOARDS),
        (southern(), "kitchen", SOUTHERN, BOARDS),
    ],
    ids=["west", "upright", "reveal", "east", "southern west"],
)
def test_no_beam_in_the_hours(whole: DesignFile, window: str, hours: Hours, boards: Boards) -> None:
    if boards.upright:
        hours = Hours(hours.put_up, hours.take_down, time(16), time(18))
        with pytest.raises(InputError) as caught:
            size_slats(whole, window, hours, boards)
        assert caught.value.problems[0].code == "slats.both_sides"
        hours = Hours(hours.put_up, date(2022, 7, 20), time(18), time(19))
    result = size_slats(whole, window, hours, boards)
    days = every(hours.put_up, 60, 3)
    clocks = [time(h, m) for h in range(hours.begin.hour, hours.end.hour) for m in (0, 25, 50)]
    for plan in range(len(result.plans)):
        changed = built(whole, result, plan)
        assert most_lit(changed, window, days, clocks) < 2e-3
    off = hours.put_up - timedelta(days=1)
    assert most_lit(built(whole, result, 0), window, [off], clocks) > 0.9


def test_spacing_is_the_shadow_of_a_board_at_the_lowest_sun() -> None:
    result = size_slats(design(), "west", SUMMER, BOARDS)
    slope = np.tan(np.radians(result.lowest_profile_deg))
    for plan in result.plans:
        tilt = np.radians(plan.tilt_deg)
        shadow = BOARDS.depth * (np.sin(tilt) + np.cos(tilt) * slope)
        assert shadow - INCH / 4.0 < plan.spacing_m <= shadow + 1e-9
        assert plan.spacing_m / (INCH / 4.0) == pytest.approx(round(plan.spacing_m / (INCH / 4.0)))
        board, side = plan.pieces
        assert (board.count - 1) * plan.spacing_m >= plan.height_m - 1e-9
        assert board.length_m == pytest.approx(plan.width_m)
        assert plan.lumber_m == pytest.approx(board.count * board.length_m + 2 * side.length_m)
    best = result.plans[result.recommended]
    assert best.spacing_m >= BOARDS.depth / 2.0
    assert all(plan.spacing_m < BOARDS.depth / 2.0 for plan in result.plans[: result.recommended])


def test_a_wider_spacing_would_let_the_sun_in() -> None:
    whole = design()
    word = size_slats(whole, "west", SUMMER, BOARDS).plans[0].set[0]
    wider = word.replace('spacing = "25.40 mm"', 'spacing = "38.10 mm"')
    assert wider != word
    changed = parse_design(whole.text, changes=[wider])
    assert most_lit(changed, "west", every(date(2022, 8, 20), 12), [time(18)]) > 0.02


@pytest.mark.parametrize(
    ("window", "hours", "boards", "code"),
    [
        ("attic", SUMMER, BOARDS, "window.unknown"),
        ("west", Hours(SUMMER.put_up, SUMMER.take_down, time(6), time(9)), BOARDS, "slats.no_sun"),
        ("west", Hours(SUMMER.put_up, SUMMER.take_down, time(18), time(15)), BOARDS, "slats.hours"),
        ("west", SUMMER, Boards(0.02, 0.02), "slats.thick"),
        ("west", SUMMER, Boards(0.02, 0.0199), "slats.none"),
        ("west", SUMMER, Boards(0.06, 0.04), "slats.none"),  # they would run into each other
    ],
)
def test_what_can_not_be_is_refused(window: str, hours: Hours, boards: Boards, code: str) -> None:
    with pytest.raises(InputError) as caught:
        size_slats(design(), window, hours, boards)
    assert caught.value.problems[0].code == code
