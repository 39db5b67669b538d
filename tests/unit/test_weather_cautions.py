"""Weather from elsewhere, with wrong stamps or of the other half of the earth is told of."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from designs import design, put
from noonmark.climate.shipped import read_shipped
from noonmark.climate.year import WeatherYear
from noonmark.design.model import Climate, Place
from noonmark.errors import InputError, Sentence
from noonmark.study.site import Site, prepare_site, weather_cautions
from noonmark.study.snow import SNOW_BELOW, snow_cautions

GOLDEN = Place(
    latitude=39.73,
    longitude=-105.18,
    altitude=1876.0,
    time_zone="America/Denver",
)


def told(place: Place, weather: WeatherYear) -> dict[str, Sentence]:
    return {sentence.key: sentence for sentence in weather_cautions(Site(place, weather))}


def test_weather_of_the_place_itself_is_not_told_of() -> None:
    assert told(GOLDEN, read_shipped("golden")) == {}


@pytest.mark.parametrize(
    ("moved", "far"),
    [
        ({"latitude": 40.1}, False),  # 41 km
        ({"latitude": 40.3}, True),  # 63 km
        ({"longitude": -105.7}, False),  # 44 km
        ({"longitude": -105.9}, True),  # 62 km
        ({"altitude": 2150.0}, False),
        ({"altitude": 2200.0}, True),
    ],
)
def test_a_station_far_away_or_high_above_is_told_of(moved: dict[str, float], far: bool) -> None:
    place = GOLDEN.model_copy(update=moved)
    assert ("caution.weather_far" in told(place, read_shipped("golden"))) == far


def test_the_distance_is_the_great_circle() -> None:
    # Denver to Zurich by haversine on a sphere of 6371 km, by hand: 8,327 km
    place = GOLDEN.model_copy(update={"latitude": 47.37, "longitude": 8.54})
    values = told(place, read_shipped("golden"))["caution.weather_far"].values
    assert values["km"] == pytest.approx(8327, abs=2)


@pytest.mark.parametrize("shift", [-1, 1])
def test_radiation_an_hour_off_is_told_of(shift: int) -> None:
    golden = read_shipped("golden")
    moved = {name: np.roll(getattr(golden, name), shift) for name in ("ghi", "dni", "dhi")}
    assert "caution.stamps" in told(GOLDEN, replace(golden, **moved))


def test_weather_of_the_other_half_of_the_earth_is_refused() -> None:
    place = GOLDEN.model_copy(update={"latitude": -39.73})
    with pytest.raises(InputError) as caught:
        prepare_site(place, Climate(), Path())
    assert [problem.code for problem in caught.value.problems] == ["climate.other_half"]


@pytest.mark.parametrize(
    ("days", "warmer", "said"),
    [
        ({}, 0.0, True),
        ({"put_up": "5-15", "take_down": "9-1"}, 0.0, False),
        ({"put_up": "9-1", "take_down": "5-15"}, 0.0, True),  # over the new year
        ({"put_up": "5-15", "take_down": "1-3"}, 0.0, True),
        ({}, 20.0, False),
    ],
)
def test_an_awning_up_in_a_month_of_snow_is_told_of(
    days: dict[str, str], warmer: float, said: bool
) -> None:
    golden = read_shipped("golden")
    january = golden.temp_air[: 31 * 24].mean()
    assert january < SNOW_BELOW
    weather = replace(golden, temp_air=golden.temp_air + warmer)
    home = design(put("house.window.3.awning", {"projection": "2 ft", **days})).homestead
    found = list(snow_cautions(home, Site(GOLDEN, weather)))
    assert [sentence.key for sentence in found] == ["caution.awning_snow"] * said
    assert all(sentence.values["window"] == "west" for sentence in found)
    bare = design(put("house.window.3.hood", {"projection": "2 ft"})).homestead
    assert list(snow_cautions(bare, Site(GOLDEN, weather))) == []
