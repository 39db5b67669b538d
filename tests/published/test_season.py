"""Dates of sun and shade against measured houses, builders' tables and the trade."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta

import numpy as np
import pytest

from designs import design, put, together
from noonmark.choose.noons import Noons
from noonmark.design.derived import thickness
from noonmark.design.model import Homestead
from noonmark.shading.plates import Opening, level_plate
from noonmark.shading.shade import sunlit_fraction
from noonmark.study.results.shade import WindowSeason
from noonmark.study.season import seasons
from noonmark.study.sundates import SunDates
from noonmark.sun.position import rise_set_noon, solar_position

pytestmark = pytest.mark.validation

Record = Callable[..., None]
TOPIC = "season of a window"
FOOT = 0.3048


def one_window(
    latitude: float, *, projection: float, gap: float, height: float, head: str = "7 ft"
) -> Homestead:
    """One sunny window with lengths in feet; a flat roof, so that any soffit can be built."""
    top = float(head.split()[0])
    window = {
        "name": "w", "side": "sunny", "width": "4 ft", "head": head,
        "sill": f"{top - height} ft", "glazing": "double high gain",
    }  # fmt: skip
    return design(
        together(
            put("place.latitude", latitude),
            put("place.longitude", -105.0),
            put("house.window", [window]),
            put("house.eave.projection", f"{projection} ft"),
            put("house.eave.soffit_height", f"{top + gap} ft"),
            put("house.zone.rooms.height", f"{top + gap} ft"),
            put("house.roof.header_depth", 0.0),
            put("house.roof.pitch", 0.0),
            put("house.faces", 180 if latitude > 0 else 0),
        )
    ).homestead


def season(home: Homestead, year: int = 2022) -> WindowSeason:
    (found,) = seasons(home, year).windows
    return found


def day_number(day: date | None) -> float:
    assert day is not None
    return float(day.timetuple().tm_yday)


def test_a_measured_house_near_44_north(record: Record) -> None:
    """Window 6 ft, head 2.1 ft under an eave 3 ft deep, 43.7 N; noon, by eye."""
    home = one_window(43.7, projection=3.0, gap=2.1, height=6.0)
    noon = season(home).noon
    source = "owner's account: head in full sun about 23 October to 18 February"
    for name, got, expected in (
        ("full_sun_until", noon.full_sun_until, date(2022, 2, 18)),
        ("full_sun_from", noon.full_sun_from, date(2022, 10, 23)),
    ):
        record(
            f"season_44N.{name}", TOPIC, source, "verified-in-text",
            expected=day_number(expected), got=day_number(got), tol=2.0,
        )  # fmt: skip
    # the sill is in shade at noon only around the longest day
    for got, low, high in (
        (noon.full_shade_from, date(2022, 6, 1), date(2022, 6, 21)),
        (noon.full_shade_to, date(2022, 6, 21), date(2022, 7, 11)),
    ):
        record(
            f"season_44N.sill_{'from' if high == date(2022, 6, 21) else 'to'}", TOPIC,
            "owner's account: sill in shade only around 21 June", "verified-in-text",
            low=day_number(low), high=day_number(high), got=day_number(got),
        )  # fmt: skip


def test_a_nine_foot_soffit_with_a_four_foot_eave(record: Record) -> None:
    """Common practice, no source: 52.5 N, sill 3 ft up, glass ends a foot under the soffit."""
    home = one_window(52.5, projection=4.0, gap=1.0, height=5.0, head="8 ft")
    noon = season(home).noon
    assert noon.full_sun_until is not None
    assert noon.full_sun_from is not None
    assert noon.full_sun_from < date(2022, 12, 21)
    record(
        "trade_52N.full_shade_from", TOPIC, "common practice, no source; 16 May by plane geometry",
        "computed", expected=day_number(date(2022, 5, 16)), got=day_number(noon.full_shade_from),
        tol=1.0,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("month_day", "feet"),
    [((12, 21), 2.0), ((2, 5), 2.75), ((3, 20), 4.9), ((4, 20), 7.5), ((6, 21), 12.7),
     ((8, 23), 7.6), ((9, 22), 5.1), ((10, 20), 3.5)],
)  # fmt: skip
def test_noon_shadow_of_a_five_foot_eave_at_45_north(
    record: Record, month_day: tuple[int, int], feet: float
) -> None:
    """A window that hangs from the soffit: its shaded part is the eave's shadow."""
    day = date(2022, *month_day)
    height = 13.0
    share = noon_share(height, day)
    record(
        f"shadow_45N.{day:%m-%d}", TOPIC, "builder's table of noon shade, to a tenth of a foot",
        "verified-in-text", expected=feet, got=height * (1.0 - share), tol=0.12,
    )  # fmt: skip


def noon_share(height: float, day: date) -> float:
    """Return what 45 N leaves lit at noon of so many feet that hang from a five-foot eave."""
    midnight = np.array([datetime.combine(day, time(), UTC).timestamp()])
    noon = rise_set_noon(midnight, latitude=45.0, longitude=-105.0).noon
    sun = solar_position(noon, latitude=45.0, longitude=-105.0, altitude_m=300.0)
    eave = level_plate(height=0.0, projection=5.0 * FOOT, left=-np.inf, right=np.inf)
    opening = Opening(0.0, 1.0, -height * FOOT, height * FOOT)
    lit = sunlit_fraction(
        sun.apparent_altitude, sun.azimuth, wall_azimuth=180.0, opening=opening, plates=[eave]
    )
    return float(lit[0])


@pytest.mark.parametrize(
    ("latitude", "projection"),
    [(28, 0.08), (32, 0.15), (36, 0.22), (40, 0.30), (44, 0.37), (48, 0.46)],
)
def test_eave_that_shades_to_the_sill_at_midsummer_noon(
    record: Record, latitude: float, projection: float
) -> None:
    """The least projection, for a drop of one, whose season has a full shade."""
    low, high = 0.0, 1.0
    for _ in range(12):
        middle = (low + high) / 2.0
        noon = season(one_window(latitude, projection=6.0 * middle, gap=0.5, height=5.5)).noon
        low, high = (middle, high) if noon.full_shade_from is None else (low, middle)
    record(
        f"midsummer_projection.{latitude}", TOPIC,
        "builder's table 0.09 to 0.45, misprints resolved by the tangents", "computed",
        expected=projection, got=high, tol=0.006,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("latitude", "low", "high"),
    [(28, 5.6, 11.1), (32, 4.0, 6.3), (36, 3.0, 4.5), (40, 2.5, 3.4), (44, 2.0, 2.7),
     (48, 1.7, 2.2), (52, 1.5, 1.8), (56, 1.3, 1.5)],
)  # fmt: skip
def test_height_over_projection_by_latitude(
    record: Record, latitude: int, low: float, high: float
) -> None:
    """A circulating table of F = height / projection; it multiplies where it should divide.

    Two of its cells are misprints (28 as 20, 4.5 as 3.5) and its dates are
    swapped: the low row is the tangent of noon on 1 August, the high row nearly
    that of 21 June.
    """
    place = one_window(latitude, projection=3.0, gap=1.0, height=5.0).place
    noons = Noons(place, 180.0, 2022)
    for name, day, expected in (
        ("F_low", date(2022, 8, 1), low), ("F_high", date(2022, 6, 21), high),
    ):  # fmt: skip
        record(
            f"overhang_F_factor.{latitude}.{name}", TOPIC,
            "Arizona Solar Center table after Mazria, in a secondary text", "verified-in-text",
            expected=expected, got=float(noons.slope[noons.index(day)]), tol=0.1,
            # nearer the tropic the tangent of the highest sun runs away from the printed one
            informs=name == "F_high" and latitude <= 32,
        )  # fmt: skip


def test_the_noon_sun_reaches_13_feet_into_a_room_at_40_north(record: Record) -> None:
    """A door with its head at 6 ft 8 in and no eave, 21 December; depth from the glass."""
    home = one_window(40.0, projection=0.0, gap=2.0, height=20 / 3, head=f"{20 / 3} ft")
    wall = thickness(home, home.buildings["house"].wall_construction)
    reach = season(home).noon_reach_m[11] + wall
    record(
        "noon_reach_40N.12-21", TOPIC, "owner's account, measured", "verified-in-text",
        expected=13.3, got=reach / FOOT, tol=0.1,
    )  # fmt: skip


# --- everywhere on earth ------------------------------------------------------------------------


@pytest.mark.parametrize("latitude", [-78.0, -66.6, -23.0, -0.01, 0.01, 23.0, 66.6, 69.6, 78.0])
def test_every_latitude_has_its_dates(latitude: float) -> None:
    """Polar night has no sun, and near the equator an eave takes all the noons."""
    found = season(one_window(latitude, projection=3.0, gap=1.0, height=5.0))
    assert all(0.0 <= hours <= 24.0 for hours in found.sun_hours)
    assert all(0.0 <= reach < 20.0 for reach in found.noon_reach_m)
    if abs(latitude) > 67.0:
        dark = found.sun_hours[0 if latitude < 0.0 else 11], found.sun_hours[5]
        assert (dark[1] if latitude < 0.0 else dark[0]) == 0.0
    if abs(latitude) < 24.0:
        assert found.noon.full_shade_from or found.noon.all_year == "full_shade"


def test_north_and_south_have_the_same_dates_half_a_year_apart() -> None:
    """By the sun's declination, whose halves of the year differ by days."""
    north, south = (
        season(one_window(latitude, projection=3.0, gap=1.5, height=5.0)).noon
        for latitude in (45.0, -45.0)
    )
    for key in ("full_sun_until", "half_shaded_on", "full_shade_from", "full_sun_from"):
        apart = (day_number(getattr(south, key)) - day_number(getattr(north, key))) % 365.0
        assert apart == pytest.approx(183.0, abs=5.0)


def test_leap_years_move_the_dates_by_a_day_at_most() -> None:
    home = one_window(45.0, projection=3.0, gap=1.5, height=5.0)
    years = [season(home, year).noon for year in (2025, 2026, 2027, 2028, 2029)]
    for key in ("full_sun_until", "half_shaded_on", "full_shade_from", "full_shade_to"):
        days = [getattr(noon, key) for noon in years]
        assert [day.year for day in days] == [2025, 2026, 2027, 2028, 2029]
        numbers = {(day.month, day.day) for day in days}
        assert len(numbers) <= 2
        assert max(d.replace(year=2028) for d in days) - min(
            d.replace(year=2028) for d in days
        ) <= timedelta(days=1)


def test_clock_hours_turn_with_daylight_saving_and_the_equation_of_time() -> None:
    """At 105 W the Denver clock goes by the mean sun, and an hour ahead of it in summer.

    NOAA's spreadsheet: 21 June 2010, 40 N 105 W, noon at 13:01:43 by the summer clock.
    """
    sky = SunDates(one_window(40.0, projection=3.0, gap=1.5, height=5.0).place, 2010)
    june, january = sky.dates.index(date(2010, 6, 21)), sky.dates.index(date(2010, 1, 21))
    noon, clock_12 = sky.azimuth[0], sky.azimuth[2]
    assert noon[june] == pytest.approx(180.0, abs=0.01)
    # an hour and 1.7 min before noon in June; 11.4 min before in January
    assert clock_12[june] < 180.0 - 30.0
    assert clock_12[january] == pytest.approx(180.0 - 11.4 / 60.0 * 15.0 * 1.2, abs=0.5)
