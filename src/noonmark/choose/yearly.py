"""Shade chosen by the year's heat balance: heat that it costs against hours that it cools.

An eave shades alike on the way up and on the way down of the sun; a shade that
is put up and taken down need not. Both are run through the weather year. An hour
in which a room lived in is above 26 degC counts as much as some heat, which the
user says: no number is right for everybody.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from noonmark.choose.edge import Edge, Shaded
from noonmark.design.derived import wall_faces
from noonmark.design.file import DesignFile, changed
from noonmark.errors import InputError, Problem, Progress, ProgressListener, no_progress
from noonmark.study.results.shade import EaveYear, EaveYearResult, MovableShade, Tried
from noonmark.study.site import Site, prepare_site
from noonmark.study.tree import TOO_WARM, heat_given
from noonmark.study.year import building_year
from noonmark.sun.year import NOMINAL_YEAR

FloatArray = NDArray[np.float64]

HOUR_COUNTS = 1.0
"""Heat that one hour above 26 degC counts as much as [kWh], unless the user says otherwise."""

_PROJECTIONS = np.arange(0.0, 1.61, 0.2)
_GAPS = (0.0, 0.2, 0.4, 0.6, 0.8)


@dataclass(frozen=True)
class _Run:
    """Heat [kWh] and hours too warm of each day (365,)."""

    heat: FloatArray
    warm: FloatArray

    @property
    def tried(self) -> Tried:
        return Tried(float(self.heat.sum()), float(self.warm.sum()))


class _Years:
    """Runs one building of a design with changes."""

    def __init__(self, design: DesignFile, key: str) -> None:
        self.design, self.key = design, key
        home = design.homestead
        try:
            self.site: Site = prepare_site(home.place, home.climate, design.folder)
        except InputError as error:
            raise design.located(error) from error

    def run(self, words: Sequence[str]) -> _Run:
        """Run the building with changes; raises `InputError` when they can not be."""
        homestead = changed(self.design, words).homestead
        building = homestead.buildings[self.key]
        _, year = building_year(homestead, self.key, self.site)
        lived_in = [zone.lived_in for zone in building.zone.values()]
        warm = (year.operative[:, lived_in] > TOO_WARM).any(axis=1)
        heat = heat_given(year).sum(axis=1) / 1000.0
        return _Run(*(hours.reshape(365, 24).sum(axis=1) for hours in (heat, warm.astype(float))))


def eave_by_year(
    design: DesignFile,
    window: str,
    *,
    hour_counts: float = HOUR_COUNTS,
    listen: ProgressListener = no_progress,
) -> EaveYearResult:
    """Return the eave over a window that costs the building least in a year.

    `hour_counts` [kWh] is what an hour too warm counts as much as. Beside it
    stands what the same edge would do if it were put up and taken down.
    """
    shaded = Shaded(design.homestead, window)
    years = _Years(design, shaded.key)
    edges = [edge for edge in _edges(shaded) if shaded.stands(edge)]
    found: list[tuple[EaveYear, _Run]] = []
    for index, edge in enumerate(edges):
        listen(Progress("progress.eaves", index, len(edges)))
        words = next(iter(shaded.ways(edge).values()))
        try:
            run = years.run(words)
        except InputError:
            continue  # an edge that collides with something else of the design
        found.append((EaveYear(edge.projection, edge.gap, run.tried, words), run))
    if not found:
        raise InputError(Problem("eave.none_by_year"))
    best, with_it = min(found, key=lambda pair: _cost(pair[0].year, hour_counts))
    flat = shaded.words_without(Edge(best.projection_m, best.soffit_above_head_m))
    bare = years.run(flat)
    standing = _beside(shaded) if best.projection_m > 0.0 else []
    moving = [_as_awning(shaded, best, number) for number in standing]
    return EaveYearResult(
        window=window,
        hour_counts_kwh=hour_counts,
        solutions=(best,),
        tried=tuple(item for item, _ in found),
        without=bare.tried,
        spring_kwh=float((with_it.heat - bare.heat)[_half(shaded, rising=True)].sum()),
        autumn_hours=float((bare.warm - with_it.warm)[_half(shaded, rising=False)].sum()),
        movable=_movable(years, flat, moving, bare, hour_counts),
    )


def awning_by_year(
    design: DesignFile, window: str, awning: dict[str, str], *, hour_counts: float = HOUR_COUNTS
) -> MovableShade:
    """Return when an awning over a window is best put up and taken down.

    `awning` are the keys of `[house.window.awning]` as a file has them. Raises
    `InputError` when it spares less than it costs on every day.
    """
    shaded = Shaded(design.homestead, window)
    years = _Years(design, shaded.key)
    path = f"{shaded.key}.window.{shaded.number}.awning"
    found = _movable(years, (), [(path, awning)], years.run(()), hour_counts)
    if found is None:
        raise InputError(Problem("awning.never"))
    return found


def _edges(shaded: Shaded) -> Iterator[Edge]:
    fixed = shaded.fixed_gap
    for gap in _GAPS if fixed is None else (fixed,):
        for out in _PROJECTIONS:
            yield Edge(float(out), gap)


def _cost(year: Tried, hour_counts: float) -> float:
    return year.heating_kwh + hour_counts * year.hours_above_26_c


def _half(shaded: Shaded, *, rising: bool) -> NDArray[np.bool_]:
    """Return the days (365,) of spring or of autumn: three months about an equinox."""
    month = np.array([(date(NOMINAL_YEAR, 1, 1) + timedelta(days=d)).month for d in range(365)])
    north = shaded.homestead.place.latitude >= 0.0
    return np.isin(month, (2, 3, 4) if rising == north else (8, 9, 10))


def _beside(shaded: Shaded) -> list[int]:
    """Return the numbers of all windows of the window's wall, which one eave shades."""
    faces = wall_faces(shaded.building)
    wall = next(f for f in faces if any(w is shaded.window for w in f.windows))
    return [
        number
        for number, window in enumerate(shaded.building.window, start=1)
        if any(window is other for other in wall.windows)
    ]


def _as_awning(shaded: Shaded, eave: EaveYear, number: int) -> tuple[str, dict[str, str]]:
    """Return an awning with the edge of an eave, past both sides as far as it stands out."""
    window = shaded.building.window[number - 1]
    gap = shaded.window.head + eave.soffit_above_head_m - window.head
    out = f"{1000.0 * eave.projection_m:.0f} mm"
    table = {"projection": out, "left": out, "right": out, "gap": f"{1000.0 * gap:.0f} mm"}
    return f"{shaded.key}.window.{number}.awning", table


def _movable(
    years: _Years,
    base: Sequence[str],
    awnings: Sequence[tuple[str, dict[str, str]]],
    bare: _Run,
    hour_counts: float,
) -> MovableShade | None:
    """Return the best days for awnings to stand, None when there are none.

    The days are those between which hours spared outweigh heat lost most, by the
    runs with the awnings always and never; the result is a run of its own.
    """
    always = years.run([*base, *_words(awnings, {})])
    gain = hour_counts * (bare.warm - always.warm) - (always.heat - bare.heat)
    row = _best_row(gain)
    if row is None:
        return None
    days = [date(NOMINAL_YEAR, 1, 1) + timedelta(days=d % 365) for d in row]
    keys = ("put_up", "take_down")
    season = {key: f"{d.month}-{d.day}" for key, d in zip(keys, days, strict=True)}
    words = _words(awnings, season)
    run = years.run([*base, *words])
    if _cost(run.tried, hour_counts) >= _cost(bare.tried, hour_counts):
        return None
    return MovableShade(days[0], days[1], run.tried, bare.tried, (*base, *words))


def _words(awnings: Sequence[tuple[str, dict[str, str]]], season: dict[str, str]) -> list[str]:
    return [
        f"{path}={{{', '.join(f'{key} = {chr(34)}{text}{chr(34)}' for key, text in keys)}}}"
        for path, table in awnings
        for keys in [(table | season).items()]
    ]


def _best_row(gain: FloatArray) -> tuple[int, int] | None:
    """Return first and last of the row of days, round the year, with the greatest sum above 0."""
    total = np.concatenate([[0.0], np.cumsum(np.concatenate([gain, gain]))])
    best, found = 1e-9, None
    for first in range(gain.size):
        sums = total[first + 1 : first + gain.size + 1] - total[first]
        length = int(np.argmax(sums))
        if sums[length] > best:
            best, found = float(sums[length]), (first, first + length)
    return found
