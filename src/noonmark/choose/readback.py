"""A file of real sun marks read back, with the slips that people make recognised and named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import product

import numpy as np
from numpy.typing import NDArray

from noonmark.choose.markfile import MarkFile, PencilMark
from noonmark.choose.markfit import FAR, Fitted, as_drawn, fit, mark_fit, priors
from noonmark.choose.markmodel import Reading, expected, sun_up, taken
from noonmark.design.model import Homestead, Place
from noonmark.errors import InputError, Problem, Sentence
from noonmark.place.clock import time_zone
from noonmark.study.marks import MarkedWall
from noonmark.study.moment import solar_noons
from noonmark.study.results.marks import MarkFit, ReadBack, ReadRow
from noonmark.units import Quantity
from noonmark.units.table import unit_of

_CLEARLY = 2.0
"""A slip is believed when marks that fit without it are so much less odd with it."""

_WILD = 3.0
"""A mark left out is as odd as this much strain."""

_ABSURD = 6.0
"""A slip is not believed for a house so far off its drawing: one in fifty is (chi-squared of four),
and heights shrunk by a wrong unit fit next to no eave."""

_UNITS = ("m", "cm", "mm", "in", "ft")
_HOUR_MIN = 60.0
_NEAR_NOON = timedelta(minutes=40)
_SOON = timedelta(minutes=90)
_RANGE = 2.5
"""Standard deviations of what can be off a drawing, within which two marks must agree."""


@dataclass(frozen=True)
class _Slip:
    """A way of taking marks that a slip would explain, and how it is said."""

    said: Sentence
    reading: Reading


def read_back(homestead: Homestead, wall: MarkedWall, file: MarkFile) -> ReadBack:
    """Return what real marks tell of a wall.

    Raises `InputError` for marks at night, marks that exclude each other, marks of the
    other hemisphere, and heights above a sill where there is none.
    """
    if file.datum == "above_sill" and wall.window is None:
        raise InputError(Problem("readback.no_sill", file=file.name, path=file.column))
    place = homestead.place
    plain = taken(place, wall, file.datum, file.marks)
    _refuse(_at_night(file, plain))
    reading, found, mistakes = _whole_slips(place, wall, file, plain)
    _refuse(_excluding(wall, file, reading))
    reading, found, swaps = _swapped_rows(place, wall, reading, found)
    if lost := found.lost:
        found = as_drawn(wall, reading)
    told = mark_fit(wall, reading, found)
    return ReadBack(
        building=wall.key,
        window=wall.name,
        measured=file.datum,
        fit=told,
        spread_m=None if lost else _spread(reading, found),
        mistakes=(*mistakes, *swaps),
        notes=(Sentence("readback.no_fit"),)
        if lost
        else tuple(_notes(place, reading, found, told)),
        rows=tuple(_rows(wall, reading, found)),
    )


# --- what can not be ----------------------------------------------------------------------------


def _refuse(problems: Iterable[Problem]) -> None:
    if found := list(problems):
        raise InputError(found)


def _at_night(file: MarkFile, reading: Reading) -> Iterator[Problem]:
    """Yield a problem for each mark at night."""
    for mark, up in zip(file.marks, sun_up(reading), strict=True):
        if not up:
            values = {"day": mark.day, "clock": f"{mark.clock:%H:%M}"}
            yield Problem(
                "readback.sun_down", file=file.name, line=mark.row, path="time", values=values
            )


def _excluding(wall: MarkedWall, file: MarkFile, reading: Reading) -> Iterator[Problem]:
    """Yield a problem for marks soon after others that no such wall can throw, one a mark."""
    pairs = sorted(_soon_after(file.marks))
    if not pairs:
        return
    steps = np.linspace(-_RANGE, _RANGE, 5)
    sizes = [
        expected(wall, reading, np.array(off) * priors(wall))
        for off in product(steps, (-1.5, 0.0, 1.5), (0.0,), steps)
    ]
    thrown = np.array(sizes)
    named: set[int] = set()
    for i, j in pairs:
        if j in named:
            continue
        apart = reading.heights[i] - reading.heights[j]
        could = thrown[:, i] - thrown[:, j]
        slack = FAR * float(np.hypot(reading.spreads[i], reading.spreads[j]))
        if not could.min() - slack <= apart <= could.max() + slack:
            named.add(j)
            yield Problem(
                "readback.exclude",
                file=file.name,
                line=file.marks[j].row,
                path=file.column,
                values={
                    "other": file.marks[i].row,
                    "here": Quantity(float(reading.heights[j]), "length"),
                    "there": Quantity(float(reading.heights[i]), "length"),
                    "lowest": Quantity(float(reading.heights[i] - could.max() - slack), "length"),
                    "highest": Quantity(float(reading.heights[i] - could.min() + slack), "length"),
                },
            )


def _soon_after(marks: Sequence[PencilMark]) -> Iterator[tuple[int, int]]:
    """Yield any two marks that were made soon after each other, in the order of the file."""
    order = sorted(range(len(marks)), key=lambda i: _instant(marks[i]))
    for place, i in enumerate(order):
        for j in order[place + 1 :]:
            if _instant(marks[j]) - _instant(marks[i]) > _SOON:
                break
            yield min(i, j), max(i, j)


def _instant(mark: PencilMark) -> datetime:
    return datetime.combine(mark.day, mark.clock)


# --- slips --------------------------------------------------------------------------------------


def _whole_slips(
    place: Place, wall: MarkedWall, file: MarkFile, plain: Reading
) -> tuple[Reading, Fitted, list[Sentence]]:
    """Return the way of taking all marks that explains them best, and what slip that names."""
    found = fit(wall, plain)
    if found.fits and _oddity(found) < _CLEARLY:
        return plain, found, []
    tries = [(slip, fit(wall, slip.reading)) for slip in _slips(place, wall, file, plain)]
    likely = min(
        ((slip, other) for slip, other in tries if other.fits and other.strain < _ABSURD),
        key=lambda item: _oddity(item[1]),
        default=None,
    )
    if likely and (not found.fits or _oddity(likely[1]) < _oddity(found) - _CLEARLY):
        slip, other = likely
        return slip.reading, other, [slip.said]
    if not found.fits:
        _refuse_other_hemisphere(place, wall, file)
    return plain, found, []


def _oddity(found: Fitted) -> float:
    """Return how odd a house and its marks would be: its strain, and marks left out."""
    return found.strain + _WILD * float((~found.counted).sum())


def _slips(place: Place, wall: MarkedWall, file: MarkFile, plain: Reading) -> Iterator[_Slip]:
    if file.unit is not None:
        wrote = unit_of(file.unit, "length")
        for unit in _UNITS:
            meant = unit_of(unit, "length")
            if wrote is not None and meant is not None and wrote != meant:
                heights = plain.heights * meant.factor / wrote.factor
                values = {"wrote": file.unit, "meant": unit, "column": file.column}
                yield _Slip(Sentence("readback.unit", values), replace(plain, heights=heights))
    zone = time_zone(place.time_zone)
    summer = np.array([bool(_instant(m).replace(tzinfo=zone).dst()) for m in file.marks])
    if summer.any():
        rows = [mark.row for mark, there in zip(file.marks, summer, strict=True) if there]
        later = np.where(summer, _HOUR_MIN, 0.0)
        reading = taken(place, wall, file.datum, file.marks, later_min=later)
        yield _Slip(Sentence("readback.daylight_hour", {"rows": rows}), reading)
    swapped = [_swapped(mark) or mark for mark in file.marks]
    if sum(a is not b for a, b in zip(swapped, file.marks, strict=True)) > 1:
        reading = taken(place, wall, file.datum, swapped)
        yield _Slip(Sentence("readback.all_swapped"), reading)


def _refuse_other_hemisphere(place: Place, wall: MarkedWall, file: MarkFile) -> None:
    """Refuse marks that fit the same house as far on the other side of the equator."""
    there = place.model_copy(update={"latitude": -place.latitude})
    azimuth = (180.0 - wall.face.azimuth) % 360.0
    other = fit(wall, taken(there, wall, file.datum, file.marks, azimuth=azimuth))
    if other.fits:
        values = {"latitude": place.latitude, "other": -place.latitude}
        raise InputError(
            Problem(
                "readback.other_hemisphere",
                file=file.name,
                line=file.marks[0].row,
                path="date",
                values=values,
            )
        )


def _swapped_rows(
    place: Place, wall: MarkedWall, reading: Reading, found: Fitted
) -> tuple[Reading, Fitted, list[Sentence]]:
    """Take rows that lie far off with month and day the other way round, where that fits."""
    marks, said = list(reading.marks), []
    for index in np.flatnonzero(~found.counted):
        swapped = _swapped(marks[index])
        if swapped is None:
            continue
        later = reading.later_min[index]
        alone = taken(place, wall, reading.datum, [swapped], later_min=later)
        left = expected(wall, alone, found.off)[0] - reading.heights[index]
        if abs(left) < 3.0 * alone.spreads[0]:
            values = {
                "row": swapped.row,
                "wrote": marks[index].day.isoformat(),
                "meant": swapped.day,
            }
            marks[index] = swapped
            said.append(Sentence("readback.swapped", values))
    if not said:
        return reading, found, []
    again = taken(place, wall, reading.datum, marks, later_min=reading.later_min)
    again = replace(again, heights=reading.heights)
    return again, fit(wall, again), said


def _swapped(mark: PencilMark) -> PencilMark | None:
    """Return a mark with month and day the other way round, None where that is no other day."""
    if mark.day.day > 12 or mark.day.day == mark.day.month:
        return None
    return replace(mark, day=date(mark.day.year, mark.day.day, mark.day.month))


# --- what is said -------------------------------------------------------------------------------


def _spread(reading: Reading, found: Fitted) -> float:
    left = (found.left * reading.spreads)[found.counted]
    return float(np.sqrt(np.mean(left**2)))


def _rows(wall: MarkedWall, reading: Reading, found: Fitted) -> Iterator[ReadRow]:
    thrown = expected(wall, reading, found.off)
    for index, mark in enumerate(reading.marks):
        yield ReadRow(
            mark.row,
            mark.day,
            f"{mark.clock:%H:%M}",
            float(reading.heights[index]),
            float(thrown[index]),
            not found.counted[index],
        )


def _notes(place: Place, reading: Reading, found: Fitted, told: MarkFit) -> Iterator[Sentence]:
    """Yield what the marks do not tell and why, and which do not count."""
    out = [
        mark.row for mark, counts in zip(reading.marks, found.counted, strict=True) if not counts
    ]
    if out:
        yield Sentence("readback.left_out", {"rows": out})
    if not told.faces.told or not told.clock.told:
        noon_alone = bool(_near_noon(place, reading.marks).all())
        yield Sentence("readback.noon_alone" if noon_alone else "readback.few_aside")
    if not told.soffit.told:
        from_soffit = reading.datum == "below_soffit"
        yield Sentence("readback.from_soffit" if from_soffit else "readback.soffit_doubt")
    if not told.projection.told:
        yield Sentence("readback.projection_doubt")
    if told.clock.told and abs(abs(told.clock.value) - _HOUR_MIN) < 10.0:
        yield Sentence("readback.clock_hour")


def _near_noon(place: Place, marks: tuple[PencilMark, ...]) -> NDArray[np.bool_]:
    zone = time_zone(place.time_zone)
    read = np.array([_instant(mark).replace(tzinfo=zone).timestamp() for mark in marks])
    noons = np.array(solar_noons(place, [mark.day for mark in marks]))
    return np.asarray(np.abs(read - noons) <= _NEAR_NOON.total_seconds())
