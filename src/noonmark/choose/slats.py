"""A home-made shade of boards that keeps the sun off a window between two dates and two hours.

A board of depth D that reaches out by D cos t and down by D sin t throws a shadow
of D (sin t + cos t tan p) on the plane of the inner edges: boards closer together
than that let no beam through. So the lowest sun of the wished-for hours gives the
spacing for each tilt; upright boards go by the sun's angle to the side. The
thickness of the boards is on the safe side. Source: plane geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

import numpy as np
from numpy.typing import NDArray

from noonmark.choose.edge import Shaded
from noonmark.design.file import DesignFile
from noonmark.design.model import Place
from noonmark.errors import InputError, Problem
from noonmark.place.clock import time_zone
from noonmark.place.site import azimuth_name
from noonmark.shading.shade import sun_slopes
from noonmark.study.results.shade import CutPiece, SlatPlan, SlatsResult
from noonmark.sun.position import solar_position

FloatArray = NDArray[np.float64]

TILTS = (0.0, 15.0, 30.0, 45.0, 60.0)
LEAST_SPACING = 0.5
"""Least spacing, as a share of a board's depth, that is worth making (common practice)."""

STAND_OFF = 0.05
"""How far the inner edges stand off the wall's face [m] (common practice)."""

_EVERY = timedelta(minutes=10)
_STEPS = {"us": 0.0254 / 4.0, "metric": 0.005}
"""What a builder marks out by [m]: spacings are taken down to it, frames up."""


@dataclass(frozen=True)
class Hours:
    """When no sun is to come through: days of one year and clock times, daylight saving included.

    The days may run over the new year; `begin` lies before `end`.
    """

    put_up: date
    take_down: date
    begin: time
    end: time


@dataclass(frozen=True)
class Boards:
    """What the shade is made of: depth and thickness [m], level or upright."""

    depth: float
    thickness: float
    upright: bool = False


def size_slats(design: DesignFile, window: str, hours: Hours, boards: Boards) -> SlatsResult:
    """Return spacings and cut lists for several tilts; one of them is recommended.

    Raises `InputError` for hours without sun on the wall, and for sun from both
    sides of upright boards.
    """
    shaded = Shaded(design.homestead, window)
    if not hours.begin < hours.end:
        raise InputError(Problem("slats.hours"))
    if boards.thickness >= boards.depth:
        raise InputError(Problem("slats.thick", path="--board"))
    sideways, rise = _ways(design.homestead.place, shaded.face.azimuth, hours)
    if rise.size == 0:
        side = azimuth_name(shaded.face.azimuth)
        raise InputError(Problem("slats.no_sun", values={"side": side}))
    if boards.upright and sideways.min() < 0.0 < sideways.max():
        raise InputError(Problem("slats.both_sides"))
    maker = _Maker(shaded, boards, sideways, rise, _STEPS[design.homestead.units])
    plans = tuple(maker.plans(hours))
    if not plans:
        raise InputError(Problem("slats.none", path="--board"))
    best = next((p for p in plans if p.spacing_m >= LEAST_SPACING * boards.depth), plans[-1])
    return SlatsResult(
        building=shaded.key,
        window=window,
        window_width_m=shaded.window.width,
        window_height_m=shaded.window.head - shaded.window.sill,
        depth_m=boards.depth,
        thickness_m=boards.thickness,
        upright=boards.upright,
        stand_off_m=STAND_OFF,
        lowest_profile_deg=math.degrees(math.atan(rise.min())),
        stopped_deg=math.degrees(math.atan(maker.least)),
        sun_side=maker.sun_side,
        plans=plans,
        recommended=plans.index(best),
    )


def _ways(place: Place, azimuth: float, hours: Hours) -> tuple[FloatArray, FloatArray]:
    """Return the sun's ways to the right and up before a wall in all the hours (d,)."""
    zone = time_zone(place.time_zone)
    days = [
        day
        for day in (date(hours.put_up.year, 1, 1) + timedelta(days=i) for i in range(366))
        if day.year == hours.put_up.year and _up(day, hours)
    ]
    first = datetime.combine(days[0], hours.begin)
    steps = int((datetime.combine(days[0], hours.end) - first) / _EVERY)
    clocks = [(first + i * _EVERY).time() for i in range(steps + 1)]
    instants = [
        datetime.combine(d, t, zone).timestamp() for d in days for t in [*clocks, hours.end]
    ]
    sun = solar_position(
        np.array(instants),
        latitude=place.latitude,
        longitude=place.longitude,
        altitude_m=place.altitude,
    )
    _, sideways, rise = sun_slopes(sun.apparent_altitude, sun.azimuth, azimuth)
    return sideways, rise


def _up(day: date, hours: Hours) -> bool:
    if hours.put_up <= hours.take_down:
        return hours.put_up <= day <= hours.take_down
    return day >= hours.put_up or day <= hours.take_down


class _Maker:
    """Makes plans of boards before one window for the sun's ways (d,)."""

    def __init__(
        self, shaded: Shaded, boards: Boards, sideways: FloatArray, rise: FloatArray, step: float
    ) -> None:
        self.shaded, self.boards, self.step = shaded, boards, step
        reach = STAND_OFF + shaded.window.reveal
        self.past = {
            "left": max(0.0, -reach * sideways.min()),
            "right": max(0.0, reach * sideways.max()),
            "top": reach * rise.max(),
        }
        """How far the sun goes past the window at the boards' inner edges [m]."""
        ways = np.abs(sideways) if boards.upright else rise
        self.least = float(ways.min())
        self.turn = float(np.sign(sideways.mean())) if boards.upright else 1.0
        self.sun_side = ("left" if self.turn < 0.0 else "right") if boards.upright else ""

    def plans(self, hours: Hours) -> Iterator[SlatPlan]:
        """Yield a plan for each tilt that leaves room between the boards."""
        for tilt in TILTS:
            turn = math.radians(tilt)
            shadow = self.boards.depth * (math.sin(turn) + math.cos(turn) * self.least)
            spacing = math.floor(shadow / self.step + 1e-9) * self.step
            # boards pass each other across their faces, or end before they meet
            across, along = spacing * math.cos(turn), spacing * math.sin(turn)
            if across > self.boards.thickness + 1e-9 or along > self.boards.depth + 1e-9:
                yield self._plan(tilt, spacing, hours)

    def _plan(self, tilt: float, spacing: float, hours: Hours) -> SlatPlan:
        window, boards = self.shaded.window, self.boards
        past = {key: math.ceil(reach / self.step) * self.step for key, reach in self.past.items()}
        wide = window.width + past["left"] + past["right"]
        tall = window.head - window.sill + past["top"]
        along, across = (tall, wide) if boards.upright else (wide, tall)
        count = math.ceil(across / spacing - 1e-9) + 1
        marks = tuple(i * spacing for i in range(count))
        turn = math.radians(tilt)
        hung, half = boards.depth * math.sin(turn), 0.5 * boards.thickness * math.cos(turn)
        rim = half + 0.5 * boards.thickness
        first, last = (math.ceil(end / self.step) * self.step for end in (hung + rim, rim))
        pieces = (
            CutPiece("board", count, along),
            CutPiece("side", 2, first + marks[-1] + last),
        )
        return SlatPlan(
            tilt_deg=tilt,
            spacing_m=spacing,
            view_share=max(0.0, 1.0 - (hung + 2.0 * half) / spacing),
            width_m=wide,
            height_m=tall,
            first_m=first,
            marks_m=marks,
            **self._past(past, first, marks[-1] + last - across),
            pieces=pieces,
            lumber_m=sum(piece.count * piece.length_m for piece in pieces),
            set=(self._words(self.turn * tilt, spacing, past, hours),),
        )

    def _past(self, past: dict[str, float], first: float, last: float) -> dict[str, float]:
        """Return how far the frame runs past the window [m]: its sides, its ends round them.

        Marks begin at the end away from the sun: at the sill, or at one side of the window.
        """
        ends = [self.boards.thickness] * 4
        begin, end = {"": (3, 2), "left": (1, 0), "right": (0, 1)}[self.sun_side]
        ends[begin], ends[end] = first, last
        keys = ("left", "right", "top", "bottom")
        return {f"{k}_m": past.get(k, 0.0) + e for k, e in zip(keys, ends, strict=True)}

    def _words(self, tilt: float, spacing: float, past: dict[str, float], hours: Hours) -> str:
        """Return the `--set` word that puts the boards before the window."""
        boards = self.boards
        lengths = {"depth": boards.depth, "spacing": spacing, "stand_off": STAND_OFF, **past}
        parts = [f'{key} = "{1000.0 * length:.2f} mm"' for key, length in lengths.items()]
        parts += [f"tilt = {tilt:g}", f"upright = {str(boards.upright).lower()}"]
        for key, day in (("put_up", hours.put_up), ("take_down", hours.take_down)):
            parts.append(f'{key} = "{day.month}-{day.day}"')
        return f"{self.shaded.key}.window.{self.shaded.number}.slats={{{', '.join(parts)}}}"
