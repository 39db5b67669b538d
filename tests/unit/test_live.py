"""The bright day and the cold dawn of a house, reckoned another way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pandas as pd
import pytest

from designs import design, drop
from noonmark.climate.year import HOURS
from noonmark.design import Homestead
from noonmark.study.live import LiveYear, coldest_night, live_year, winter_days, without_heat
from noonmark.study.year import march_ready, marched
from sample_house import golden, sample

CALENDAR = pd.date_range("2022-01-01", periods=HOURS, freq="h")


@cache
def live(*changes: str) -> LiveYear:
    return live_year(heated(*changes), "house", golden())


def heated(*changes: str) -> Homestead:
    """Return the sample with changes; a stove knows no capacity."""
    edits = [drop("house.heating.capacity")] if any("stove" in word for word in changes) else []
    return design(*edits, changes=changes).homestead


COOL_ROOM: Sequence[str] = (
    'house.zone.shed={length="12.5 m", width="3 m", height="9 ft", lived_in=false, heated=false}',
    'house.wall=[{zone="rooms", side="back", next_to="shed"}]',
    'house.window=[{zone="rooms", side="sunny", width="4 m", sill="1 m", head="2 m", '
    'glazing="double clear"}]',
)


def test_bright_day_by_calendar() -> None:
    """Winter at Golden is December to February; everything is read off the hours again."""
    weather, sun = golden().weather, golden().sun
    above = sun.extraterrestrial * np.sin(np.radians(sun.altitude)).clip(0.0) * sun.up_fraction
    table = pd.DataFrame(
        {"ground": weather.ghi, "above": above, "out": weather.temp_air}, index=CALENDAR
    )
    daily = table[["ground", "above"]].resample("D").sum()
    clear = (daily["ground"] / daily["above"]).to_numpy()
    winter = np.r_[0:59, 334:365]
    bright = winter[np.argsort(clear[winter])[-9:]]
    assert sorted(bright) == winter_days(golden()).tolist()
    inside = live().operative[:, 0].reshape(365, 24)[bright]
    day, hour = (int(i[0]) for i in np.nonzero(inside == inside.max()))
    when = pd.Timestamp("2022-01-01") + pd.Timedelta(days=int(bright[day]))
    found = live().bright
    assert found
    assert found.peak_c == inside.max()
    assert (found.month, found.day, found.hour) == (when.month, when.day, hour)
    outdoor = table["out"].to_numpy().reshape(365, 24)[bright[day]]
    assert (found.outdoor_min_c, found.outdoor_max_c) == (outdoor.min(), outdoor.max())
    assert (found.days, found.zone) == (9, "rooms")


def test_bright_day_is_as_clear_as_a_clear_day() -> None:
    """More than six tenths of the sun above the air, as on cloudless days (J. A. Duffie, W. A.
    Beckman, Solar Engineering of Thermal Processes: daily clearness 0.6 to 0.75, from memory)."""
    site = golden()
    sun = site.sun
    above = sun.extraterrestrial * np.sin(np.radians(sun.altitude)).clip(0.0) * sun.up_fraction
    clear = site.weather.ghi.reshape(-1, 24).sum(1) / above.reshape(-1, 24).sum(1)
    assert (clear[winter_days(site)] > 0.6).all()
    assert (clear[winter_days(site)] < 0.85).all()


def test_dawn_is_that_of_the_coldest_night() -> None:
    weather, dawn = golden().weather, live().dawn
    coldest = CALENDAR[int(np.argmin(weather.temp_air))]
    assert dawn.outdoor_c == weather.temp_air.min()
    assert (dawn.month, dawn.day) == (coldest.month, coldest.day)
    day = coldest.day_of_year - 1
    assert dawn.hour == int(golden().sun.sunrise_h[day]) == 7
    assert dawn.hours == 24 - round(float(golden().sun.sunset_h[day - 1])) + 8
    last = day * 24 + 7 - dawn.hours
    assert dawn.sunset_c == pytest.approx(live().operative[last, 0], abs=1e-9)
    assert dawn.temp_c < dawn.sunset_c
    assert dawn.temp_c < live().operative[day * 24 + 7, 0]


def test_house_without_a_heater_is_no_colder_at_dawn_than_in_its_year() -> None:
    cold = live("house.heating.capacity=0 W")
    night = coldest_night(golden())
    assert cold.dawn.temp_c == cold.operative[night[-1], 0]
    assert cold.dawn.temp_c < live().dawn.temp_c


@pytest.mark.parametrize("heating", [
    'house.heating.stove={charge="8 kg"}',
    'house.floor.heating={power="60 W/m2", setpoint="21 C"}',
    "house.heating.capacity=5 kW",
])  # fmt: skip
def test_heat_cut_by_a_set_back_every_night_leaves_nothing_to_cut(heating: str) -> None:
    """Set back below the coldest air from the sunset's hour to the sunrise's in all nights."""
    back = 'house.heating.setback=[{from=17, to=8, setpoint="-60 C"}]'
    cut = live(heating, back)
    night = coldest_night(golden())
    assert night[0] % 24 == 17
    assert night[-1] % 24 == 7
    changed_by_us = abs(cut.dawn.temp_c - cut.operative[night[-1], 0])
    if "floor" in heating:
        assert changed_by_us > 0.01, "the floor does not know the heater's set-back"
    else:
        assert changed_by_us < 1e-9
    assert cut.dawn.temp_c <= live(heating).dawn.temp_c + 1e-9


@pytest.mark.parametrize("heating", [
    'house.heating.stove={charge="8 kg", burns=1}',
    'house.floor.heating={power="60 W/m2", setpoint="21 C"}',
])  # fmt: skip
def test_no_heat_is_given_after_sunset(heating: str) -> None:
    home = heated(heating)
    ready, year = marched(home, "house", golden())
    night = coldest_night(golden())
    off = march_ready(ready, golden(), list(without_heat(ready.zones, night)))
    given = (np.maximum(off.plant, 0.0) + off.stove + off.slab).sum(axis=1)
    usual = (np.maximum(year.plant, 0.0) + year.stove + year.slab).sum(axis=1)
    assert usual[night].sum() > 1000.0
    assert given[night[1:]].sum() == pytest.approx(0.0, abs=1e-6)
    before = np.arange(24 * 5, night[0])
    np.testing.assert_allclose(given[before], usual[before], atol=1e-6)


def test_rooms_not_lived_in_do_not_count() -> None:
    found = live(*COOL_ROOM)
    assert found.operative[:, 1].min() < found.dawn.temp_c
    assert found.dawn.zone == "rooms"
    assert found.bright
    assert found.bright.zone == "rooms"


def test_dawn_of_the_south_is_in_july() -> None:
    """The same weather half a year later under the other half's sun."""
    site = golden()
    rolled = {
        name: np.roll(getattr(site.weather, name), 182 * 24)
        for name in ("temp_air", "dew_point", "ghi", "dni", "dhi", "wind_speed", "wind_direction")
    }
    south = replace(site, weather=replace(site.weather, latitude=-site.weather.latitude, **rolled))
    home = design(changes=["house.faces=0", "place.latitude=-39.73"]).homestead
    found = live_year(home, "house", south)
    assert found.dawn.month == 7
    assert found.bright
    assert found.bright.month in (6, 7, 8)
    assert abs(found.dawn.temp_c - live().dawn.temp_c) < 1.5


def test_polar_house_has_no_bright_day() -> None:
    site = golden()
    dark = replace(site, weather=replace(site.weather, latitude=89.9))
    assert winter_days(dark).size == 0
    found = live_year(sample(), "house", dark)
    assert found.bright is None
    assert found.dawn.hours == 25
