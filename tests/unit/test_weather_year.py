"""The shipped year, the checks and the repairs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonmark.climate.check import assemble, check_weather
from noonmark.climate.closure import check_stamps, stamp_shift
from noonmark.climate.shipped import read_shipped, shipped_names
from noonmark.climate.year import MONTH_OF_HOUR, OPTIONAL, REQUIRED, WeatherYear
from noonmark.errors import InputError, Problem
from weather_samples import with_moved_sun

GOLDEN = read_shipped("golden")


def changed(column: str, row: int, value: float) -> WeatherYear:
    values = getattr(GOLDEN, column).copy()
    values[row] = value
    return replace(GOLDEN, **{column: values})


def assembled(columns: dict[str, np.ndarray]) -> WeatherYear:
    place = {
        name: getattr(GOLDEN, name)
        for name in ("latitude", "longitude", "altitude_m", "utc_offset_h", "wind_height_m")
    }
    everything = {name: getattr(GOLDEN, name) for name in REQUIRED + OPTIONAL} | columns
    return assemble(
        everything, source="made up", trust="own_file", file="mine.csv", first_line=3, **place
    )


def with_gap(column: str, first: int, hours: int) -> dict[str, np.ndarray]:
    values = getattr(GOLDEN, column).copy()
    values[first : first + hours] = np.nan
    return {column: values}


def test_shipped_year_is_sound_and_untouched() -> None:
    assert check_weather(GOLDEN) == ()
    assert check_stamps(GOLDEN) == ()
    assert GOLDEN.repairs == ()
    assert GOLDEN.trust == "typical_year"
    assert GOLDEN.wind_height_m == 2.0
    assert GOLDEN.temp_air.min() == -16.3


def test_unknown_year_offers_the_nearest() -> None:
    assert shipped_names() == ("golden",)
    with pytest.raises(InputError) as caught:
        read_shipped("Goldn")
    (problem,) = caught.value.problems
    assert problem.code == "climate.unknown_year"
    assert problem.values["near"] == ["golden"]


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("temp_air", 72.0),
        ("temp_air", -95.0),
        ("pressure", 794.0),
        ("dni", 1600.0),
        ("ghi", -1.0),
        ("wind_speed", 90.0),
        ("wind_direction", 361.0),
        ("albedo", 1.2),
        ("cloud_cover", 8.0),
        ("dhi", float("nan")),
    ],
)
def test_nonsense_is_named_with_its_row(column: str, value: float) -> None:
    (problem,) = check_weather(changed(column, 4000, value))
    assert (problem.code, problem.path) == ("climate.out_of_range", column)
    assert problem.values["row"] == 4000
    assert problem.values["count"] == 1


def test_missing_optional_columns_are_no_fault() -> None:
    nothing = np.full(8760, np.nan)
    assert check_weather(replace(GOLDEN, albedo=nothing, cloud_cover=nothing)) == ()


def test_sun_at_midnight_is_refused() -> None:
    (problem,) = check_weather(changed("ghi", 24 * 20, 300.0))
    assert problem.code == "climate.sun_at_night"
    assert problem.values["row"] == 480


def test_a_year_without_sun_is_refused() -> None:
    dark = replace(GOLDEN, ghi=np.zeros(8760))
    assert [problem.code for problem in check_weather(dark)] == ["climate.no_sun"]


def test_short_columns_are_refused() -> None:
    (problem,) = check_weather(replace(GOLDEN, ghi=GOLDEN.ghi[:-24]))
    assert problem.code == "climate.wrong_hours"
    assert problem.values["read"] == 8736


def test_wrong_place_is_refused_before_anything_else() -> None:
    (problem,) = check_weather(replace(GOLDEN, longitude=105.18))
    assert problem.code == "place.longitude_sign"


def test_short_gap_is_bridged_by_a_straight_line_and_counted() -> None:
    year = assembled(with_gap("temp_air", 100, 6))
    (repair,) = year.repairs
    assert (repair.code, repair.column, repair.count) == ("climate.gap_filled", "temp_air", 6)
    assert repair.rows == (100, 101, 102, 103, 104, 105)
    np.testing.assert_allclose(
        year.temp_air[99:107], np.linspace(GOLDEN.temp_air[99], GOLDEN.temp_air[106], 8)
    )


def test_long_gap_is_refused_with_file_row_and_length() -> None:
    with pytest.raises(InputError) as caught:
        assembled(with_gap("temp_air", 100, 7))
    (problem,) = caught.value.problems
    assert problem == Problem(
        "climate.gap",
        path="temp_air",
        file="mine.csv",
        line=103,
        values={"column": "temp_air", "row": 100, "hours": 7},
    )


def test_wind_direction_turns_the_short_way_round() -> None:
    directions = GOLDEN.wind_direction.copy()
    directions[50:53] = 350.0, np.nan, 10.0
    year = assembled({"wind_direction": directions})
    assert year.wind_direction[51] % 360.0 == pytest.approx(0.0, abs=1e-9)


def test_dew_point_above_the_air_is_brought_down_and_counted() -> None:
    dew = GOLDEN.dew_point.copy()
    dew[7] = GOLDEN.temp_air[7] + 2.0
    year = assembled({"dew_point": dew})
    assert year.dew_point[7] == GOLDEN.temp_air[7]
    assert [(repair.code, repair.rows) for repair in year.repairs] == [
        ("climate.dew_point_capped", (7,))
    ]


def test_albedo_of_nought_all_year_means_none_was_measured() -> None:
    year = assembled({"albedo": np.zeros(8760)})
    assert np.isnan(year.albedo).all()
    assert [(repair.code, repair.count) for repair in year.repairs] == [
        ("climate.albedo_missing", 8760)
    ]


def test_a_measured_albedo_stays() -> None:
    albedo = np.zeros(8760)
    albedo[0] = 0.3
    assert assembled({"albedo": albedo}).albedo[0] == 0.3


@pytest.mark.parametrize(("hours", "later"), [(1, -1.0), (-1, 1.0)])
def test_stamps_moved_by_an_hour_are_noticed(hours: int, later: float) -> None:
    moved = with_moved_sun(GOLDEN, hours)
    assert stamp_shift(moved) == later
    (problem,) = check_stamps(moved)
    assert problem.code == "climate.stamps_shifted"
    assert problem.values["read"] == later


def test_months() -> None:
    assert MONTH_OF_HOUR.shape == (8760,)
    assert MONTH_OF_HOUR[[0, 743, 744, -1]].tolist() == [0, 0, 1, 11]
