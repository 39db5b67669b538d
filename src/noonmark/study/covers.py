"""Shutters, blinds and night covers: what closing them does to windows and to the sun inside.

A closed cover's resistance lies between the two faces of its window. Heat that
the pane under it takes up then lies between two resistances, and counts at
either face by the lever of both, exactly. Not counted: light from inside that
meets a closed cover, and what panes keep of the light a blind throws back out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.block import NEVER
from noonmark.balance.drive import Drive, Hourly, as_drive, hourly_values
from noonmark.balance.enclosure import Cover
from noonmark.climate.year import HOURS
from noonmark.design.model import Building, Window
from noonmark.design.services import Cover as CoverPart
from noonmark.study.elements import Part
from noonmark.study.landing import Source
from noonmark.study.rooms import running
from noonmark.study.sunny import LetIn, Placed, WallSun, scattered_on
from noonmark.study.window_unit import WindowUnit

FloatArray = NDArray[np.float64]
Terms = dict[int, list[tuple[int, float, FloatArray]]]


@dataclass(frozen=True)
class Covered:
    """A window entry with a cover: its light, what the cover is and when it is closed.

    `pane` and `frame` (h,) [W/m2] are what outer pane and frame take up outside
    with the cover open, `met` what falls on the opening.
    """

    name: str
    window: Window
    part: CoverPart
    cover: Cover
    light: LetIn
    met: FloatArray
    pane: FloatArray
    frame: FloatArray


def covered_window(
    building: Building, sun: WallSun, placed: Placed, unit: WindowUnit, light: LetIn
) -> Covered | None:
    """Return a window entry with its cover, None when it has none."""
    name = placed.window.cover
    if name is None:
        return None
    part = building.cover[name]
    site, direct = sun.site, (sun.plane.beam + sun.plane.circumsolar) * placed.lit
    scattered = scattered_on(sun.plane, placed.seen)
    when = running(part)
    if part.sun_above is not None:
        when &= sun.plane.total > part.sun_above
    if part.colder_than is not None:
        when &= site.weather.temp_air < part.colder_than
    by_warmth = part.warmer_than is not None
    hours: Hourly = when.astype(float)
    cover = Cover(
        name=f"cover {name}",
        zone=light.face.zone,
        resistance=part.resistance or 0.0,
        closed=0.0 if by_warmth else hours,
        allowed=hours if by_warmth else 0.0,
        above=NEVER if part.warmer_than is None else part.warmer_than,
    )
    _, near, _ = sun.through(unit.glazing)
    return Covered(
        name=name,
        window=placed.window,
        part=part,
        cover=cover,
        light=light,
        met=direct + scattered,
        pane=direct * near + scattered * unit.glazing.from_outside.even[1],
        frame=unit.frame_absorptance * (direct + scattered),
    )


def covered_parts(
    parts: Sequence[Part],
    dark: Sequence[Part],
    covered: Sequence[Covered],
    sources: Sequence[Source],
) -> list[Part]:
    """Return the lit `parts` with what closing each cover changes.

    `dark` are the same parts before the light inside reached them; `sources`
    what the light of each covered entry brings.
    """
    inner: Terms = defaultdict(list)
    outer: Terms = defaultdict(list)
    cover_of: dict[int, int] = {}
    for number, (item, source) in enumerate(zip(covered, sources, strict=True)):
        stopped = item.part.passes - 1.0
        for index in range(len(parts)):
            for outside, terms in ((False, inner), (True, outer)):
                taken = source.at(index, outside=outside)
                if taken.any():
                    terms[index].append((number, stopped, taken))
        for index, part in enumerate(dark):
            if part.faces[0].openings is item.light.face.openings:
                cover_of[index] = number
                inside, outdoors = _own_change(item, part)
                inner[index].append((number, 1.0, inside))
                outer[index].append((number, 1.0, outdoors))
    found = []
    for index, part in enumerate(parts):
        element = part.element
        changed = replace(
            element,
            inside_source=_with(element.inside_source, inner[index]),
            outside_drive=_with(element.outside_drive, outer[index]),
            cover=cover_of.get(index),
        )
        found.append(replace(part, element=changed))
    return found


def _with(value: Hourly, terms: list[tuple[int, float, FloatArray]]) -> Hourly:
    return as_drive(value) + Drive(covered=tuple(terms)) if terms else value


def _own_change(item: Covered, part: Part) -> tuple[FloatArray, FloatArray]:
    """Return how the heat taken up by glass or frame changes inside and outside (h,) [W/m2]."""
    own = 1.0 / part.element.modes.conductance[0, 0]
    lever = item.cover.resistance / (own + item.cover.resistance)
    glass = part.faces[0] is item.light.face
    passes, absorbs = item.part.passes, item.part.absorbs
    inside = hourly_values(part.element.inside_source, HOURS)
    if not item.part.inside:
        outside = item.pane if glass else item.frame
        behind = passes * outside
        return (
            behind * lever + (passes - 1.0) * inside,
            absorbs * item.met + behind * (1.0 - lever) - outside,
        )
    kept = lever * inside
    if not glass:
        return -kept, kept
    entered = (item.light.beam + item.light.scattered) / part.element.area
    return absorbs * entered - kept, kept


def as_marched(value: Hourly, closed: FloatArray) -> FloatArray:
    """Return a quantity by the hour as it was with covers `closed` (h, k)."""
    total = hourly_values(value, closed.shape[0])
    for cover, number, array in as_drive(value).covered:
        total = total + number * array * closed[:, cover]
    return total
