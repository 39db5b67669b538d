"""What the sun does to one wall: on its siding, through its glass, past the eave."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from noonmark import catalog
from noonmark.design.derived import WallFace, thickness, wall_faces
from noonmark.design.model import Building, Homestead, Side, Window
from noonmark.envelope.modes import massless_element
from noonmark.glazing.gap import INSIDE_FILM, OUTSIDE_FILM
from noonmark.glazing.unit import GLASS_EMISSIVITY, diffuse
from noonmark.glazing.window import window_parts
from noonmark.place.site import azimuth_name
from noonmark.shading.eave import sunlit_fraction
from noonmark.shading.view import dome_view_factor, sky_view_factor
from noonmark.study.constructions import glazing_of
from noonmark.study.elements import Part, outdoor_part
from noonmark.study.site import Site
from noonmark.sun.angles import incidence_cosine
from noonmark.sun.irradiance import PlaneIrradiance

FloatArray = NDArray[np.float64]

INSIDE_GLASS_REFLECTANCE = 0.15
"""Share of the sun inside that a window throws back (clear double glass, diffuse)."""

_LEAST_RESISTANCE = 0.005


@dataclass(frozen=True)
class EaveOver:
    """The eave above a wall: height of the soffit, projection, run past each end of the wall [m].

    Left and right are those of somebody inside who looks out.
    """

    soffit: float
    projection: float
    left_end: float
    right_end: float


@dataclass(frozen=True)
class WallSun:
    """A wall in the sun: its plane, and the eave over it, if any."""

    site: Site
    face: WallFace
    plane: PlaneIrradiance
    eave: EaveOver | None

    def lit(self, *, left: float, width: float, bottom: float, top: float) -> FloatArray:
        """Return the sunlit fraction (h,) of a rectangle, `left` from the wall's left end [m]."""
        if self.eave is None or self.eave.projection == 0.0:
            return np.ones(self.plane.beam.size)
        return sunlit_fraction(
            self.site.sun.altitude,
            self.site.sun.azimuth,
            wall_azimuth=self.face.azimuth,
            width=width,
            height=top - bottom,
            gap=max(0.0, self.eave.soffit - top),
            eave_projection=self.eave.projection,
            left_extension=self.eave.left_end + left,
            right_extension=self.eave.right_end + self.face.length - left - width,
        )

    def dome(self, *, left: float, width: float, bottom: float, top: float) -> float:
        """Return the share of the even sky that a rectangle still sees, 1 without eave."""
        if self.eave is None or self.eave.projection == 0.0:
            return 1.0
        return _dome(
            width,
            top - bottom,
            max(0.0, self.eave.soffit - top),
            self.eave.projection,
            self.eave.left_end + left,
            self.eave.right_end + self.face.length - left - width,
        )


@cache
def _dome(
    width: float, height: float, gap: float, projection: float, left: float, right: float
) -> float:
    seen = dome_view_factor(
        width=width,
        height=height,
        gap=gap,
        eave_projection=projection,
        left_extension=left,
        right_extension=right,
    )
    return seen / sky_view_factor(90.0)


@dataclass(frozen=True)
class Placed:
    """A window entry where it stands: lit fraction (h,), view of the sky; mean of its windows."""

    window: Window
    lit: FloatArray
    dome: float


@dataclass(frozen=True)
class GlassSun:
    """What the windows of a wall let in: beam and diffuse power (h,) [W] past the glass."""

    beam: FloatArray
    scattered: FloatArray


def placed_windows(sun: WallSun) -> list[Placed]:
    """Return the wall's windows, spread evenly along it in the order of the file."""
    placed = []
    for window, lefts in _positions(sun.face):
        spots = [
            {"left": left, "width": window.width, "bottom": window.sill, "top": window.head}
            for left in lefts
        ]
        lit = sum((sun.lit(**spot) for spot in spots), np.zeros(sun.plane.beam.size))
        dome = sum(sun.dome(**spot) for spot in spots)
        placed.append(Placed(window, lit / len(spots), dome / len(spots)))
    return placed


def _positions(face: WallFace) -> Iterator[tuple[Window, list[float]]]:
    """Yield each entry with the left edges of its windows [m from the wall's left end]."""
    counts = [max(1, math.ceil(window.count)) for window in face.windows]
    widths = sum(count * window.width for count, window in zip(counts, face.windows, strict=True))
    space = (face.length - widths) / (sum(counts) + 1)
    left = 0.0
    for count, window in zip(counts, face.windows, strict=True):
        lefts = []
        for index in range(count):
            left += space
            middle = face.length * (index + 0.5) / count - window.width / 2.0
            lefts.append(left if space >= 0.0 else max(0.0, middle))
            left += window.width
        yield window, lefts


def window_parts_of(
    homestead: Homestead, sun: WallSun, placed: Placed, zone: int
) -> tuple[list[Part], GlassSun]:
    """Return glass and frame of one window entry as parts, and the sun they let in."""
    window = placed.window
    glazing = glazing_of(homestead, window.glazing)
    frame = catalog.find(catalog.Frame, window.frame)
    parts = window_parts(
        width=window.width,
        height=window.head - window.sill,
        frame_width=frame.width,
        casements=window.casements,
    )
    side = azimuth_name(sun.face.azimuth)
    direct = (sun.plane.beam + sun.plane.circumsolar) * placed.lit
    scattered = sun.plane.dome * placed.dome + sun.plane.horizon + sun.plane.ground
    cosine = incidence_cosine(sun.site.sun.altitude, sun.site.sun.azimuth, 90.0, sun.face.azimuth)
    even = diffuse(glazing)
    glass_area = window.count * parts.glass_area
    glass = outdoor_part(
        sun.site,
        kind="window",
        side=side,
        zone=zone,
        area=glass_area,
        modes=massless_element(1.0 / glazing.resistance),
        facing="wall",
        sky_view=0.5 * placed.dome,
        absorbed=direct * glazing.at(glazing.absorbed_outer, cosine) + scattered * even[1],
        inside_source=direct * glazing.at(glazing.absorbed_inner, cosine) + scattered * even[2],
        keeps=0.0,
        loses=1.0 - INSIDE_GLASS_REFLECTANCE,
        emissivity=GLASS_EMISSIVITY,
    )
    entered = GlassSun(
        beam=glass_area * direct * glazing.at(glazing.transmittance, cosine),
        scattered=glass_area * scattered * even[0],
    )
    if frame.width == 0.0:
        return [glass], entered
    frame_u = frame.u_value + frame.edge * parts.edge_length / parts.frame_area
    frame_part = outdoor_part(
        sun.site,
        kind="window",
        side=side,
        zone=zone,
        area=window.count * parts.frame_area,
        modes=massless_element(1.0 / _between_films(frame_u)),
        facing="wall",
        sky_view=0.5 * placed.dome,
        absorbed=frame.absorptance * (direct + scattered),
        keeps=0.5,
    )
    return [glass, frame_part], entered


def _between_films(u_value: float) -> float:
    """Return the resistance of a frame without its films [m2K/W]; bare metal has next to none."""
    return max(1.0 / u_value - 1.0 / OUTSIDE_FILM - 1.0 / INSIDE_FILM, _LEAST_RESISTANCE)


def siding_sun(sun: WallSun, placed: list[Placed]) -> tuple[FloatArray, float]:
    """Return the irradiance (h,) [W/m2] on the opaque part of a wall and its view of the sky 0..1.

    The part above the soffit lies in the eave. What falls on the windows is
    taken off what falls on the whole wall.
    """
    face = sun.face
    top = face.height if sun.eave is None else min(face.height, sun.eave.soffit)
    whole = {"left": 0.0, "width": face.length, "bottom": 0.0, "top": top}
    reach = top / face.height
    lit = sun.lit(**whole) * reach * face.length * face.height
    dome = sun.dome(**whole) * reach * face.length * face.height
    for item in placed:
        area = item.window.count * item.window.width * (item.window.head - item.window.sill)
        lit = lit - item.lit * area
        dome -= item.dome * area
    share_lit = np.clip(lit / face.opaque_area, 0.0, 1.0)
    share_dome = min(max(dome / face.opaque_area, 0.0), 1.0)
    plane = sun.plane
    received = (plane.beam + plane.circumsolar) * share_lit
    return received + plane.dome * share_dome + plane.horizon + plane.ground, share_dome


def eave_over(
    homestead: Homestead, building: Building, face: WallFace, soffit: float
) -> EaveOver | None:
    """Return the eave over a wall; it runs along the sunny or the back side.

    Past the inside of an end wall it goes on by that wall's thickness and the
    eave's own end; past a partition by the zone beside it first.
    """
    if face.side not in building.eave.sides:
        return None
    past = thickness(homestead, building.wall_construction) + building.eave.ends
    left = past + _zone_beside(building, face.zone, "left")
    right = past + _zone_beside(building, face.zone, "right")
    # who looks out at the back has the house's left at his right hand
    ends = (left, right) if face.side == "sunny" else (right, left)
    return EaveOver(soffit, building.eave.projection, *ends)


def _zone_beside(building: Building, zone: str, side: Side) -> float:
    """Return the length of the zone behind a partition at a `side` of `zone` [m], 0 if none."""
    for face in wall_faces(building):
        if face.next_to is None or face.side not in ("left", "right"):
            continue
        if face.zone == zone and face.side == side:
            return building.zone[face.next_to].length
        if face.next_to == zone and face.side != side:
            return building.zone[face.zone].length
    return 0.0
