"""The seasons of the windows in tables of words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.results import SeasonDates, SeasonResult, WindowSeason

_WHEN = ("noon", "clock_9", "clock_12", "clock_15", "day")
_TURNS = ("full_sun_until", "half_shaded_on", "full_shade_from", "full_shade_to", "full_sun_from")


def season_tables(result: SeasonResult, speech: Speech) -> Iterator[Table]:
    """Yield the dates of each window, then the hours of sun by month of all."""
    for item in result.windows:
        yield _dates(item, speech)
    yield Table(
        title=speech.word("season.hours"),
        heading=("", *(item.window for item in result.windows)),
        rows=tuple(
            (
                speech.word(f"month.{number}"),
                *(speech.number(item.sun_hours[number - 1], 1) for item in result.windows),
            )
            for number in range(1, 13)
        ),
    )


def _dates(item: WindowSeason, speech: Speech) -> Table:
    values = {"window": item.window, "side": azimuth_name(item.azimuth)}
    return Table(
        title=speech.say(Sentence("season.title", values)),
        heading=("", *(speech.word(f"season.{turn}") for turn in _TURNS)),
        rows=tuple(
            (speech.word(f"season.{when}"), *_cells(getattr(item, when), speech)) for when in _WHEN
        ),
    )


def _cells(dates: SeasonDates, speech: Speech) -> Iterator[str]:
    """Yield the five dates, or once what holds all year."""
    if dates.all_year:
        yield speech.word(f"season.always_{dates.all_year}")
        yield from [""] * (len(_TURNS) - 1)
        return
    for turn in _TURNS:
        day: date | None = getattr(dates, turn)
        yield spoken_day(day, speech) if day else speech.word("season.never")


def spoken_day(day: date, speech: Speech) -> str:
    """Return a day such as "10 Feb"."""
    return f"{day.day} {speech.word(f'month_short.{day.month}')}"
