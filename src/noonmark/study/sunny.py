"""What the sun does to one wall: on its siding, through its glass, past the eave."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import WallFace, thickness
from noonmark.design.model import Building, Homestead, Window
from noonmark.envelope.modes import massless_element
from noonmark.glazing.unit import GLASS_EMISSIVITY, Glazing
from noonmark.place.site import azimuth_name
from noonmark.shading.plates import Opening
from noonmark.shading.shade import sun_slopes
from noonmark.shading.view import Seen, summed
from noonmark.study.elements import InsideFace, Part, outdoor_part
from noonmark.study.layout import positions
from noonmark.study.obstacles import Obstacles, obstacles_of
from noonmark.study.site import Site
from noonmark.study.window_unit import ABSORPTANCE_FRAME, window_unit
from noonmark.sun.irradiance import PlaneIrradiance

FloatArray = NDArray[np.float64]

_EAVE_AS_SKY = 0.25


@dataclass(frozen=True)
class WallSun:
    """A wall in the sun: what stands in its way, its plane, and how thick it is [m]."""

    site: Site
    obstacles: Obstacles
    plane: PlaneIrradiance
    thickness: float = 0.0

    @property
    def face(self) -> WallFace:
        """Return the wall."""
        return self.obstacles.face

    @property
    def place(self) -> str:
        """Return where it stands in the box of its zone; empty for a wall at its own azimuth."""
        return self.face.side or ""

    @cached_property
    def slopes(self) -> tuple[NDArray[np.bool_], FloatArray, FloatArray]:
        """Return the hours (h,) with the sun before the wall, and its slopes in them."""
        sun = self.site.sun
        return sun_slopes(sun.altitude, sun.azimuth, self.face.azimuth)

    def through(self, glazing: Glazing) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return the shares (h,) of the beam passed and taken up by outer and inner surface."""
        before, sideways, rise = self.slopes
        shares = np.zeros((3, before.size))
        shares[:, before] = glazing.from_outside.at(1.0 / np.sqrt(1.0 + sideways**2 + rise**2))
        passed, outer, inner = shares
        return passed, outer, inner

    def lit(self, opening: Opening) -> FloatArray:
        """Return the sunlit fraction (h,) of a rectangle of the wall."""
        before, sideways, rise = self.slopes
        share = np.zeros(before.size)
        share[before] = self.obstacles.lit(sideways, rise, np.flatnonzero(before) // 24, opening)
        return share

    def seen(self, opening: Opening) -> Seen:
        """Return what a rectangle of the wall sees of sky, skyline and ground."""
        return self.obstacles.seen(opening)


@dataclass(frozen=True)
class Placed:
    """A window entry where it stands: its openings, their mean lit fraction (h,) and view."""

    window: Window
    openings: tuple[Opening, ...]
    lit: FloatArray
    seen: Seen


@dataclass(frozen=True)
class LetIn:
    """What the windows of an entry let in: beam and diffuse power (h,) [W] past the glass.

    `lit` (h,) is the sunlit share of its openings, `face` the inside of its
    glass in the wall `sun`.
    """

    sun: WallSun
    face: InsideFace
    lit: FloatArray
    beam: FloatArray
    scattered: FloatArray


@dataclass(frozen=True)
class WallInSun:
    """A wall with what the sun does to it whatever its glass: its siding and its openings.

    `received` (h,) [W/m2] falls on the opaque part, which sees `sky_share` of the sky.
    """

    sun: WallSun
    placed: tuple[Placed, ...]
    received: FloatArray
    sky_share: FloatArray | float

    def with_glass_of(self, face: WallFace) -> WallInSun:
        """Return the same for a wall that differs in nothing but the glass of its windows."""
        sun = replace(self.sun, obstacles=replace(self.sun.obstacles, face=face))
        found = [window for window, _ in positions(face)]
        placed = [replace(p, window=w) for p, w in zip(self.placed, found, strict=True)]
        return replace(self, sun=sun, placed=tuple(placed))


def wall_in_sun(homestead: Homestead, building: Building, site: Site, face: WallFace) -> WallInSun:
    """Return what the sun does to an outside wall; raises `InputError` when the roof is open."""
    obstacles = obstacles_of(homestead, building, face)
    thick = thickness(homestead, face.construction)
    sun = WallSun(site, obstacles, site.plane(90.0, face.azimuth), thick)
    placed = placed_windows(sun)
    received, sky_share = siding_sun(sun, placed)
    return WallInSun(sun, tuple(placed), received, sky_share)


def placed_windows(sun: WallSun) -> list[Placed]:
    """Return the wall's windows where they stand, in the order of the file."""
    placed = []
    for window, lefts in positions(sun.face):
        tall = window.head - window.sill
        openings = tuple(
            Opening(left, window.width, window.sill, tall, window.reveal) for left in lefts
        )
        lit = sum((sun.lit(item) for item in openings), np.zeros(sun.plane.beam.size))
        views = summed((1.0 / len(openings), sun.seen(item)) for item in openings)
        placed.append(Placed(window, openings, lit / len(openings), views))
    return placed


def window_parts_of(
    homestead: Homestead, sun: WallSun, placed: Placed, zone: int
) -> tuple[list[Part], LetIn]:
    """Return glass and frame of one window entry as parts, and the sun they let in."""
    unit = window_unit(homestead, placed.window)
    glazing = unit.glazing
    side = azimuth_name(sun.face.azimuth)
    direct = (sun.plane.beam + sun.plane.circumsolar) * placed.lit
    scattered = scattered_on(sun.plane, placed.seen)
    passed, near, far = sun.through(glazing)
    even = glazing.from_outside.even
    glass = outdoor_part(
        sun.site,
        kind="window",
        side=side,
        azimuth=sun.face.azimuth,
        zone=zone,
        area=unit.glass_area,
        modes=massless_element(1.0 / glazing.resistance),
        facing="wall",
        sky_view=cold_sky_view(placed.seen.dome),
        absorbed=direct * near + scattered * even[1],
        inside_source=direct * far + scattered * even[2],
        place=sun.place,
        openings=placed.openings,
        glass=glazing.from_inside,
        emissivity=GLASS_EMISSIVITY,
    )
    entered = LetIn(
        sun=sun,
        face=glass.faces[0],
        lit=placed.lit,
        beam=unit.glass_area * direct * passed,
        scattered=unit.glass_area * scattered * even[0],
    )
    if unit.frame_area == 0.0:
        return [glass], entered
    frame_part = outdoor_part(
        sun.site,
        kind="window",
        side=side,
        azimuth=sun.face.azimuth,
        zone=zone,
        area=unit.frame_area,
        modes=massless_element(1.0 / unit.frame_resistance),
        facing="wall",
        sky_view=cold_sky_view(placed.seen.dome),
        absorbed=unit.frame_absorptance * (direct + scattered),
        keeps=ABSORPTANCE_FRAME,
        place=sun.place,
        openings=placed.openings,
    )
    return [glass, frame_part], entered


def scattered_on(plane: PlaneIrradiance, view: Seen) -> FloatArray:
    """Return the sky and ground light (h,) [W/m2] on what sees that much of them."""
    return plane.dome * view.dome + plane.horizon * view.horizon + plane.ground * view.ground


def cold_sky_view(dome: FloatArray | float) -> float:
    """Return the view 0..1 that an upright part has of the cold sky, of whose light it sees `dome`.

    What an eave hides of the sky it shows again in part, for the sky cools it
    too: a thin plate whose film equals its radiative coefficient on both sides
    is colder than the air by a quarter of what the sky lacks. Where the view
    changes with the season its mean counts.
    """
    mean = float(np.mean(dome))
    return 0.5 * (mean + _EAVE_AS_SKY * (1.0 - mean))


def siding_sun(sun: WallSun, placed: list[Placed]) -> tuple[FloatArray, FloatArray | float]:
    """Return the irradiance (h,) [W/m2] on the opaque part of a wall and its view of the sky 0..1.

    The part above the soffit lies in the eave. What falls on the windows is
    taken off what falls on the whole wall.
    """
    face = sun.face
    eave = sun.obstacles.eave
    top = face.height if eave is None else min(face.height, eave.soffit)
    whole = Opening(0.0, face.length, 0.0, top)
    lit = sun.lit(whole) * whole.area
    views = [(whole.area / face.opaque_area, sun.seen(whole))]
    for item in placed:
        share = item.window.count / len(item.openings)
        for opening in item.openings:
            hole = replace(opening, depth=0.0)
            lit = lit - (sun.lit(hole) if opening.depth else item.lit) * share * hole.area
            views.append((-share * hole.area / face.opaque_area, sun.seen(hole)))
    total = summed(views)
    view = Seen(*(np.clip(part, 0.0, 1.0) for part in vars(total).values()))
    share_lit = np.clip(lit / face.opaque_area, 0.0, 1.0)
    direct = (sun.plane.beam + sun.plane.circumsolar) * share_lit
    return direct + scattered_on(sun.plane, view), view.dome
