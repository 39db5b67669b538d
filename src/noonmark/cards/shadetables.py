"""Sun and shade in tables of words: the season of windows, the eaves that hold a wish."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.results.shade import (
    EaveResult,
    SeasonDates,
    SeasonResult,
    SlatsResult,
    WindowSeason,
)
from noonmark.units import Quantity

_WHEN = ("noon", "clock_9", "clock_12", "clock_15", "day")
_TURNS = ("full_sun_until", "half_shaded_on", "full_shade_from", "full_shade_to", "full_sun_from")


def season_tables(result: SeasonResult, speech: Speech) -> Iterator[Table]:
    """Yield the dates of each window, then the hours of sun by month of all."""
    for item in result.windows:
        yield _dates(item, speech)
    hours, reach = speech.word("season.hours"), speech.word("season.reach")
    yield _by_month(result, hours, lambda w, m: speech.number(w.sun_hours[m], 1), speech)
    yield _by_month(result, reach, lambda w, m: _length(w.noon_reach_m[m], speech), speech)


def _by_month(
    result: SeasonResult, title: str, cell: Callable[[WindowSeason, int], str], speech: Speech
) -> Table:
    return Table(
        title=title,
        heading=("", *(item.window for item in result.windows)),
        rows=tuple(
            (
                speech.word(f"month.{number}"),
                *(cell(item, number - 1) for item in result.windows),
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
    values = {"percent": round(100.0 * dates.most)}
    for turn in _TURNS:
        day: date | None = getattr(dates, turn)
        if day is None and turn.startswith("full_sun"):
            yield speech.say(Sentence("season.at_most", values))
        else:
            yield _day(day, speech)


def eave_tables(result: EaveResult, speech: Speech) -> Iterator[Table]:
    """Yield the edges that hold a wish with the words that build them, then the curve."""
    turns = ("full_sun_until", "full_shade_from", "full_shade_to", "full_sun_from")
    for item in result.solutions:
        sizes = (("projection", item.projection_m), ("gap", item.soffit_above_head_m))
        dates = [(turn, getattr(item.noon, turn)) for turn in turns]
        yield Table(
            title=speech.say(Sentence(f"eave.{item.part}", {"window": result.window})),
            heading=("", ""),
            rows=(
                *((speech.word(f"eave.{key}"), _length(size, speech)) for key, size in sizes),
                *((speech.word(f"season.{turn}"), _day(day, speech)) for turn, day in dates),
            ),
        )
    yield Table(
        title=speech.word("eave.curve"),
        heading=(
            speech.word("eave.projection"),
            speech.word("eave.gap"),
            speech.word("season.full_sun_until"),
            speech.word("season.full_shade_from"),
        ),
        rows=tuple(
            (
                _length(point.projection_m, speech),
                _length(point.soffit_above_head_m, speech),
                _day(point.full_sun_until, speech),
                _day(point.full_shade_from, speech),
            )
            for point in result.curve
        ),
    )


def slats_tables(result: SlatsResult, speech: Speech) -> Iterator[Table]:
    """Yield the spacings by tilt, then the cut list of the recommended one."""
    values = {"window": result.window, "angle": Quantity(result.lowest_profile_deg, "angle")}
    yield Table(
        title=speech.say(Sentence("slats.title", values)),
        heading=(
            "",
            speech.word("slats.tilt"),
            speech.word("slats.spacing"),
            speech.word("slats.count"),
            speech.word("slats.view"),
        ),
        rows=tuple(
            (
                speech.word("slats.recommended") if index == result.recommended else "",
                Quantity(plan.tilt_deg, "angle").write(speech.system),
                _length(plan.spacing_m, speech),
                speech.number(plan.pieces[0].count),
                f"{speech.number(100.0 * plan.view_share)} %",
            )
            for index, plan in enumerate(result.plans)
        ),
    )
    plan = result.plans[result.recommended]
    yield Table(
        title=speech.word("slats.cuts"),
        heading=("", speech.word("slats.count"), speech.word("slats.length")),
        rows=(
            *(
                (
                    speech.word(f"slats.{piece.part}"),
                    speech.number(piece.count),
                    _length(piece.length_m, speech),
                )
                for piece in plan.pieces
            ),
            (speech.word("slats.lumber"), "", _length(plan.lumber_m, speech)),
        ),
    )


def _day(day: date | None, speech: Speech) -> str:
    return speech.word("season.never") if day is None else speech.day(day)


def _length(metres: float, speech: Speech) -> str:
    return Quantity(metres, "length").write(speech.system)
