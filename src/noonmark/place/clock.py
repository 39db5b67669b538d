"""Between the standard time we count in and the clock on the wall."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from difflib import get_close_matches
from zoneinfo import ZoneInfo, available_timezones

from noonmark.errors import InputError, Problem


def time_zone(name: str) -> ZoneInfo:
    """Return the rules of a time zone ("America/Denver").

    Raises `InputError` place.unknown_zone with the nearest spellings.
    """
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        near = get_close_matches(name, sorted(available_timezones()), n=3, cutoff=0.5)
        problem = Problem("place.unknown_zone", path="zone", values={"read": name, "near": near})
        raise InputError(problem) from None


def standard_offset(zone: str, *, year: int) -> float:
    """Return the zone's standard time less UTC [h] in a year, summer time left out.

    Standard time is the earlier clock of January and July, in both hemispheres.
    """
    rules = time_zone(zone)
    offsets = (datetime(year, month, 1, tzinfo=rules).utcoffset() for month in (1, 7))
    return min(offset / timedelta(hours=1) for offset in offsets if offset is not None)


def civil_time(day: date, standard_hour: float, *, zone: str, utc_offset_h: float) -> datetime:
    """Return the clock time, summer time included, of an hour of standard time.

    `day` and `standard_hour` [h] are the place's standard time, `utc_offset_h`
    [h] is standard time less UTC. The result carries its zone.
    """
    midnight = datetime.combine(day, time(), UTC)
    instant = midnight + timedelta(hours=standard_hour - utc_offset_h)
    return instant.astimezone(time_zone(zone))
