"""What can not be weather; one rule a function."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from noonmark.climate.repair import Columns, mend
from noonmark.climate.year import HOURS, OPTIONAL, REQUIRED, WeatherYear
from noonmark.errors import InputError, Problem
from noonmark.place.site import check_coordinates
from noonmark.sun.year import middle_altitude

LIMITS: Mapping[str, tuple[float, float]] = {
    "temp_air": (-90.0, 60.0),
    "dew_point": (-110.0, 40.0),
    "pressure": (30_000.0, 110_000.0),
    "ghi": (0.0, 1500.0),
    "dni": (0.0, 1500.0),
    "dhi": (0.0, 1500.0),
    "wind_speed": (0.0, 75.0),
    "wind_direction": (0.0, 360.0),
    "albedo": (0.0, 1.0),
    "cloud_cover": (0.0, 1.0),
}
"""Lowest and highest value that was ever seen on the ground, SI as in `WeatherYear`."""

DEEP_NIGHT_ALTITUDE = -10.0
LARGEST_NIGHT_IRRADIANCE = 50.0
"""W/m2; published station years hold months stamped an hour late, with up to 10 W/m2 there."""

SMALLEST_YEARLY_PEAK = 100.0


def check_weather(weather: WeatherYear) -> tuple[Problem, ...]:
    """Return everything in a weather year that can not be; empty when all is well.

    Each problem names the column, the first row (from 0) and how many rows.
    """
    place = check_coordinates(
        latitude=weather.latitude,
        longitude=weather.longitude,
        altitude_m=weather.altitude_m,
        utc_offset_h=weather.utc_offset_h,
    )
    lengths = tuple(_wrong_lengths(weather))
    if place or lengths:
        return place + lengths
    return tuple(_out_of_range(weather)) or tuple(_sun_at_night(weather)) + tuple(_no_sun(weather))


def assemble(
    columns: Columns, *, source: str, trust: str, file: str, first_line: int, **facts: float
) -> WeatherYear:
    """Return a weather year of mended and checked columns (8760,).

    `facts` are the numbers of `WeatherYear`'s place; row 0 was read from line
    `first_line` of `file`. Raises `InputError` with every problem found.
    """
    mended, repairs, problems = mend(columns)
    if not problems:
        numbers: dict[str, Any] = {**mended, **facts}
        weather = WeatherYear(source=source, trust=trust, repairs=repairs, **numbers)
        problems = check_weather(weather)
    if problems:
        raise InputError([_located(problem, file, first_line) for problem in problems])
    return weather


def _located(problem: Problem, file: str, first_line: int) -> Problem:
    row = problem.values.get("row")
    return problem.at(file=file, line=first_line + row if isinstance(row, int) else None)


def _wrong_lengths(weather: WeatherYear) -> Iterator[Problem]:
    for name in REQUIRED + OPTIONAL:
        count = np.size(getattr(weather, name))
        if count != HOURS:
            yield Problem(
                "climate.wrong_hours",
                path=name,
                values={"column": name, "read": count, "right": HOURS},
            )


def _out_of_range(weather: WeatherYear) -> Iterator[Problem]:
    for name, (low, high) in LIMITS.items():
        values = getattr(weather, name)
        wrong = ~((values >= low) & (values <= high))
        if name in OPTIONAL:
            wrong &= ~np.isnan(values)
        yield from _flagged("climate.out_of_range", name, wrong, values, low=low, high=high)


def _sun_at_night(weather: WeatherYear) -> Iterator[Problem]:
    altitude = middle_altitude(
        latitude=weather.latitude, longitude=weather.longitude, utc_offset_h=weather.utc_offset_h
    )
    wrong = (altitude < DEEP_NIGHT_ALTITUDE) & (weather.ghi > LARGEST_NIGHT_IRRADIANCE)
    yield from _flagged("climate.sun_at_night", "ghi", wrong, weather.ghi)


def _no_sun(weather: WeatherYear) -> Iterator[Problem]:
    peak = float(weather.ghi.max())
    if peak < SMALLEST_YEARLY_PEAK:
        yield Problem("climate.no_sun", path="ghi", values={"column": "ghi", "read": peak})


def _flagged(
    code: str, name: str, wrong: np.ndarray, values: np.ndarray, **limits: float
) -> Iterator[Problem]:
    rows = np.flatnonzero(wrong)
    if rows.size:
        row = int(rows[0])
        found = {"column": name, "row": row, "read": float(values[row]), "count": int(rows.size)}
        yield Problem(code, path=name, values=found | limits)
