"""Which eave gives a window all its sun until one day and none from another.

At solar noon an edge that stands out by P throws its shade down the wall by P
times the tangent of the profile angle. Two days and the height of the glass so
give P and the height of the edge over the glass; one day gives a curve of both.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np

from noonmark.choose.edge import Edge, Shaded
from noonmark.choose.noons import Noons
from noonmark.design.file import DesignFile, changed
from noonmark.errors import InputError, Problem
from noonmark.place.site import azimuth_name
from noonmark.shading.season import FULL_SHADE, FULL_SUN
from noonmark.study.results.shade import EavePoint, EaveResult, EaveSolution
from noonmark.study.season import seasons
from noonmark.units import Quantity

_FAR_UP = 1.5
"""Gap over the head [m] beyond which no edge is shown (common practice, no source)."""

_PROJECTIONS = np.arange(0.2, 2.01, 0.2)
_FINE = np.arange(0.02, 4.0, 0.02)


@dataclass(frozen=True)
class Wish:
    """All sun at noon until a day, none from a day: one of them or both, of one year."""

    sun_until: date | None = None
    shade_from: date | None = None


def size_eave(design: DesignFile, window: str, wish: Wish) -> EaveResult:
    """Return the eave, or for a wall without one the hood, that holds a wish at solar noon.

    With both days there is one, with one day the solutions lie along a curve.
    Raises `InputError` when none can be built; the nearest that can is named.
    """
    shaded = Shaded(design.homestead, window)
    days = [day for day in (wish.sun_until, wish.shade_from) if day is not None]
    if not days:
        raise InputError(Problem("eave.no_wish"))
    if days[0].year != days[-1].year:
        raise InputError(Problem("eave.two_years"))
    noons = Noons(design.homestead.place, shaded.face.azimuth, days[0].year)
    for day in days:
        _check_day(noons, shaded, day)
    family = _Family(noons, shaded, wish)
    wanted = list(family.exact() if len(days) == 2 else family.along(_PROJECTIONS))
    built = [edge for edge in wanted if shaded.stands(edge)]
    if not built:
        raise InputError(family.out_of_reach())
    return EaveResult(
        window,
        wish.sun_until,
        wish.shade_from,
        tuple(s for edge in built for s in _solutions(design, shaded, edge, days[0].year)),
        tuple(
            family.point(edge) for edge in family.along(_PROJECTIONS) if 0.0 <= edge.gap <= _FAR_UP
        ),
    )


def _check_day(noons: Noons, shaded: Shaded, day: date) -> None:
    """Refuse a day without noon sun on the wall, or on which the sun does not rise."""
    if not np.isfinite(noons.slope[noons.index(day)]):
        raise InputError(_turned_away(noons, shaded, day))
    if not noons.rises(day):
        first, last = (noons.sky.dates[int(noons.rising[i])] for i in (0, -1))
        values = {"day": day, "first": first, "last": last}
        raise InputError(Problem("eave.sinking_sun", values=values))


def _turned_away(noons: Noons, shaded: Shaded, day: date) -> Problem:
    """Return why an eave fails on a wall that the noon sun does not reach, in numbers."""
    azimuth = shaded.face.azimuth
    side = azimuth_name(azimuth)
    sideways, rise = noons.strongest(azimuth)
    if rise <= 0.0:
        return Problem("eave.never_sun", values={"side": side, "day": day})
    beside = shaded.window.width / abs(sideways) if sideways else 0.0
    values = {
        "side": side,
        "day": day,
        "profile": Quantity(float(np.degrees(np.arctan(rise))), "angle"),
        "aside": Quantity(float(np.degrees(np.arctan(abs(sideways)))), "angle"),
        "eave": Quantity(shaded.height / rise, "length"),
        "fins": Quantity(beside, "length"),
    }
    return Problem("eave.no_noon_sun", values=values)


class _Family:
    """All edges that hold a wish for a window.

    Its shade ends `depth` under the head of the glass: its throw, that is its
    projection and the glass's reveal, times the slope of the sun, less the gap,
    and what fascia and gutter add. Full sun bears FULL_SUN, full shade FULL_SHADE,
    and each turns half-way between two noons.
    """

    def __init__(self, noons: Noons, shaded: Shaded, wish: Wish) -> None:
        self.noons, self.shaded, self.wish = noons, shaded, wish
        self.reveal = shaded.window.reveal
        self.blur = (1.0 - FULL_SUN) * shaded.height
        self.drop = (1.0 - FULL_SHADE) * shaded.height
        turns = []
        if wish.sun_until is not None:
            turns.append((noons.until(wish.sun_until), self.blur))
        if wish.shade_from is not None:
            turns.append((noons.since(wish.shade_from), self.drop))
        self.turns = [(slope, depth - float(shaded.trim(slope))) for slope, depth in turns]
        """Slope of each wish and how deep the soffit's edge is then to shade."""

    def exact(self) -> Iterator[Edge]:
        """Yield the one edge that holds both days; none when they are the wrong way round."""
        (sun, blur), (shade, drop) = self.turns
        if sun < shade:
            throw = (drop - blur) / (shade - sun)
            yield Edge(throw - self.reveal, throw * sun - blur)

    def along(self, projections: Iterable[float]) -> Iterator[Edge]:
        """Yield the edges that hold one day or the other, for each projection [m]."""
        fixed = self.shaded.fixed_gap
        if fixed is not None:
            for slope, depth in self.turns:
                yield Edge((fixed + depth) / slope - self.reveal, fixed)
            return
        for out in projections:
            for slope, depth in self.turns:
                yield Edge(out, (out + self.reveal) * slope - depth)

    def point(self, edge: Edge) -> EavePoint:
        """Return an edge with the days it gives, by plane geometry."""
        slope = self.noons.slope[self.noons.rising]
        depth = (edge.projection + self.reveal) * slope - edge.gap + self.shaded.trim(slope)
        return EavePoint(
            edge.projection,
            edge.gap,
            self.noons.last(depth <= self.blur),
            self.noons.first(depth >= self.drop),
        )

    def out_of_reach(self) -> Problem:
        """Return why nothing can be built, with the nearest that can."""
        near = [self.point(edge) for edge in self.along(_FINE) if self.shaded.stands(edge)]
        values = {"sun": self.wish.sun_until, "shade": self.wish.shade_from}
        if not near:
            return Problem("eave.none", values=values)
        best = min(near, key=self._miss)
        return Problem(
            "eave.nearest",
            values={
                **values,
                "projection": Quantity(best.projection_m, "length"),
                "gap": Quantity(best.soffit_above_head_m, "length"),
                "sun_until": best.full_sun_until,
                "shade_from": best.full_shade_from,
            },
        )

    def _miss(self, point: EavePoint) -> float:
        """Return by how many days a point misses the wish, half a year for a turn it lacks."""
        pairs = (
            (self.wish.sun_until, point.full_sun_until),
            (self.wish.shade_from, point.full_shade_from),
        )
        return sum(
            182.0 if got is None else abs((got - wanted).days)
            for wanted, got in pairs
            if wanted is not None
        )


def _solutions(design: DesignFile, shaded: Shaded, edge: Edge, year: int) -> Iterator[EaveSolution]:
    """Yield the ways to build an edge, each with the season it then gives."""
    for part, words in shaded.ways(edge).items():
        season = next(
            found
            for found in seasons(changed(design, words).homestead, year).windows
            if (found.building, found.number) == (shaded.key, shaded.number)
        )
        yield EaveSolution(part, edge.projection, edge.gap, words, season.noon)
