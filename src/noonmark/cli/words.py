"""What the words of the command line mean: days, hours, lengths, buildings."""

from __future__ import annotations

import datetime
import re

from noonmark.design.model import Homestead
from noonmark.errors import InputError, Problem
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import read

YEARS = range(1900, 2101)
"""Years whose sun the published position algorithm keeps to its accuracy, and then some."""

_DAY = re.compile(r"(?:([0-9]{4})-)?([0-9]{1,2})-([0-9]{1,2})")
_CLOCK = re.compile(r"([0-9]{1,2})(?::([0-9]{2}))?")


def building_names(homestead: Homestead, wanted: str | None) -> list[str]:
    """Return the building asked for, else all of them in their order."""
    names = list(homestead.buildings)
    if wanted is None:
        return names
    if wanted not in names:
        raise InputError(Problem("show.no_building", values={"read": wanted, "known": names}))
    return [wanted]


def read_day(text: str, option: str = "--date", year: int = NOMINAL_YEAR) -> datetime.date:
    """Read a month and day, of a `year`, or a full date of our age."""
    found = _DAY.fullmatch(text.strip())
    year, month, day = (int(part or year) for part in found.groups()) if found else (0, 0, 0)
    if (month, day) == (2, 29) and found and not found[1]:
        raise InputError(Problem("show.leap_day", path=option, values={"read": text}))
    try:
        if year in YEARS:
            return datetime.date(year, month, day)
    except ValueError:
        pass
    raise InputError(Problem("show.bad_date", path=option, values={"read": text}))


def coming_day(text: str, today: datetime.date, option: str = "--date") -> datetime.date:
    """Read a full date, or a month and day as the next such day, today included."""
    day = read_day(text, option)
    if _DAY.fullmatch(text.strip())[1]:  # type: ignore[index] # else `read_day` refuses
        return day
    here = day.replace(year=today.year)
    return here if here >= today else day.replace(year=today.year + 1)


def read_length(text: str, option: str) -> float:
    """Read a length [m] of more than nothing and less than a metre."""
    try:
        length = read(text, "length")
    except InputError as error:
        raise InputError([problem.at(path=option) for problem in error.problems]) from error
    if not 0.0 < length < 1.0:
        raise InputError(Problem("slats.size", path=option, values={"read": text}))
    return length


def check_hour_counts(hour_counts: float) -> None:
    """Refuse what an hour too warm can not count as much as [kWh]."""
    if not 0.0 <= hour_counts <= 1000.0:
        raise InputError(Problem("eave.hour_counts", path="--hour-counts"))


def read_clock(text: str) -> datetime.time | None:
    """Read a clock time, None for solar noon."""
    if text.strip() == "noon":
        return None
    clock = _clock_time(text)
    if clock is None:
        raise InputError(Problem("show.bad_moment", path="--at", values={"read": text}))
    return clock


def read_hour(text: str, option: str) -> datetime.time:
    """Read a clock time."""
    clock = _clock_time(text)
    if clock is None:
        raise InputError(Problem("show.bad_hour", path=option, values={"read": text}))
    return clock


def _clock_time(text: str) -> datetime.time | None:
    found = _CLOCK.fullmatch(text.strip())
    hour, minute = (int(part or 0) for part in found.groups()) if found else (99, 0)
    try:
        return datetime.time(hour, minute)
    except ValueError:
        return None
