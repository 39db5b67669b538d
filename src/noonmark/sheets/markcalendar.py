"""Sun marks as a calendar file: a dated event with an alarm for each (iCalendar, RFC 5545)."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

LONG = timedelta(minutes=10)
"""How long somebody has for a mark; the shade hardly moves in it at noon."""

AHEAD = timedelta(minutes=30)
"""How long before it the alarm rings: time to look at the sky and fetch the ladder."""


@dataclass(frozen=True)
class Appointment:
    """A mark to be made: when by the place's clock, zone and all, and what is said of it.

    `key` names it among all calendars, so that a newer file replaces the older one's event.
    """

    key: str
    begins: datetime
    summary: str
    description: str


def calendar_file(name: str, appointments: Sequence[Appointment], written: datetime) -> bytes:
    """Return a calendar with its time zone, an event and an alarm for each appointment.

    `written` is when, in UTC. Source: RFC 5545, by the icalendar library.
    """
    from icalendar import Alarm, Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", "-//noonmark//sun marks//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", name)
    for item in appointments:
        event = Event()
        event.add("uid", f"{hashlib.sha256(item.key.encode()).hexdigest()[:32]}@noonmark")
        event.add("dtstamp", written)
        event.add("dtstart", item.begins)
        event.add("duration", LONG)
        event.add("summary", item.summary)
        event.add("description", item.description)
        event.add("transp", "TRANSPARENT")
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", item.summary)
        alarm.add("trigger", -AHEAD)
        event.add_component(alarm)
        calendar.add_component(event)
    days = [item.begins.date() for item in appointments]
    if days:
        first, last = date(min(days).year - 1, 1, 1), date(max(days).year + 2, 1, 1)
        calendar.add_missing_timezones(first_date=first, last_date=last)
    return bytes(calendar.to_ical())
