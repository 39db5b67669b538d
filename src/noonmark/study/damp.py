"""Will it sweat, will it dry: surfaces by the hourly year, layers month by month (ISO 13788)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import takewhile
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark import catalog
from noonmark.air.moist import saturation_pressure, vapour_pressure
from noonmark.balance.enclosure import Year
from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.design.derived import material_of, wall_faces
from noonmark.design.model import Building, Homestead, LayerPart, Window
from noonmark.envelope.layers import OUTSIDE_RESISTANCE, inside_resistance
from noonmark.envelope.vapour import PERMEABILITY_OF_AIR, VapourLayer, Wetting, wetting
from noonmark.errors import InputError, Problem
from noonmark.outcome.reduce import monthly_mean
from noonmark.study.assemble import ATTIC_RESISTANCE, Assembled
from noonmark.study.constructions import glazing_of
from noonmark.study.results.damp import (
    BuildingDamp,
    DampResult,
    LayersDamp,
    SafeHumidity,
    WindowDamp,
    ZoneDamp,
)
from noonmark.study.site import Site, prepare_site
from noonmark.study.year import marched

FloatArray = NDArray[np.float64]

US_PERM = 5.72135e-11
"""One US perm [kg/s m2 Pa] at 0 degC: NIST SP 811, appendix B.8."""

AIR_SPACE_M = 0.01
"""Diffusion thickness of a layer that only resists, an air space [m] (EN ISO 13788)."""

CORNER_FILM = 0.25
"""Inside film of corners and behind furniture [m2K/W] (EN ISO 13788, 4.4.1)."""

GLASS_FILM = 0.13
"""Inside film of glass and frames [m2K/W] (EN ISO 13788, 4.4.1)."""

MOULD = 0.8
"""Surface humidity that mould needs (EN ISO 13788, 5.3)."""

EDGE_STRIP = 0.0635
"""Width of the strip of glass that the spacer cools [m]: 2 1/2 in (common practice, no source)."""

_ROOM_C = 20.0
_OUTDOORS_C = (-30.0, -20.0, -10.0, 0.0, 10.0)


def damp(homestead: Homestead, folder: Path = Path()) -> DampResult:
    """Return what sweats and what dries in every building, by its hourly year.

    Raises `InputError` as `run_year` does, and for a layer of which nobody says how it holds
    vapour back.
    """
    site = prepare_site(homestead.place, homestead.climate, folder)
    return DampResult(tuple(_building(homestead, name, site) for name in homestead.buildings))


def _building(homestead: Homestead, name: str, site: Site) -> BuildingDamp:
    building = homestead.buildings[name]
    ready, year = marched(homestead, name, site)
    pressure = float(site.weather.pressure.mean())
    vapour = vapour_pressure(year.humidity, pressure)
    windows = tuple(_windows(homestead, building, site, ready, year, vapour))
    layers = tuple(_layers(homestead, building, site, year, vapour))
    return BuildingDamp(
        name=name,
        zones=tuple(_zones(building, year, vapour)),
        windows=windows,
        layers=layers,
        safe=tuple(_safe(windows, layers)),
    )


def _zones(building: Building, year: Year, vapour: FloatArray) -> Iterator[ZoneDamp]:
    for index, name in enumerate(building.zone):
        temperature = monthly_mean(year.air[:, index], MONTH_OF_HOUR)
        pressure = monthly_mean(vapour[:, index], MONTH_OF_HOUR)
        humidity = np.minimum(1.0, pressure / saturation_pressure(temperature))
        yield ZoneDamp(
            name,
            tuple(temperature.tolist()),
            tuple(humidity.tolist()),
            3600.0 * float(year.condensed[:, index].sum()),
        )


# --- windows ------------------------------------------------------------------------------------


def _windows(
    homestead: Homestead,
    building: Building,
    site: Site,
    ready: Assembled,
    year: Year,
    vapour: FloatArray,
) -> Iterator[WindowDamp]:
    glass = {id(part.faces[0]): column for column, part in enumerate(ready.parts) if part.faces}
    columns = [glass[id(light.face)] for light in ready.entered]
    outside = [w for face in wall_faces(building) if face.next_to is None for w in face.windows]
    found = []
    for window, column in zip(outside, columns, strict=True):
        part = ready.parts[column]
        zone = part.element.zone_inside
        dew = saturation_pressure(year.surface[:, column])
        edge, frame = _edge_factors(homestead, window)
        glass_factor = 1.0 - GLASS_FILM * _glass_u(homestead, window)
        cold = _between(edge, year.air[:, zone], site.weather.temp_air)
        number = next(i for i, w in enumerate(building.window, 1) if w is window)
        found.append(
            WindowDamp(
                number=number,
                window=window.name or str(number),
                zone=list(building.zone)[zone],
                glass_factor=glass_factor,
                edge_factor=edge,
                frame_factor=frame,
                glass_hours=int(np.count_nonzero(vapour[:, zone] > dew)),
                edge_hours=int(np.count_nonzero(vapour[:, zone] > saturation_pressure(cold))),
            )
        )
    yield from sorted(found, key=lambda item: item.number)


def _glass_u(homestead: Homestead, window: Window) -> float:
    """Return the U-value of the glass with the inside film of damp [W/m2K]."""
    resistance = glazing_of(homestead, window.glazing).resistance
    return 1.0 / (GLASS_FILM + resistance + OUTSIDE_RESISTANCE)


def _edge_factors(homestead: Homestead, window: Window) -> tuple[float, float | None]:
    """Return how warm edge and frame stay, 0 to 1.

    Half of what the spacer adds (psi of EN ISO 10077-1) is taken to cool a strip of glass
    along it (common practice, no source).
    """
    frame = catalog.find(catalog.Frame, window.frame)
    u_value = _glass_u(homestead, window)
    if frame.width == 0.0:
        return 1.0 - GLASS_FILM * u_value, None
    edge = u_value + 0.5 * frame.edge / EDGE_STRIP
    return 1.0 - GLASS_FILM * edge, 1.0 - GLASS_FILM * frame.u_value


def _between(factor: float, inside: FloatArray, outside: FloatArray) -> FloatArray:
    return outside + factor * (inside - outside)


# --- layers -------------------------------------------------------------------------------------


def _layers(
    homestead: Homestead, building: Building, site: Site, year: Year, vapour: FloatArray
) -> Iterator[LayersDamp]:
    names = list(building.zone)
    walls = [
        ("wall", face.zone, face.construction)
        for face in wall_faces(building)
        if face.next_to is None
    ]
    roofs = [
        ("roof", name, zone.roof_construction or building.roof.construction)
        for name, zone in building.zone.items()
    ]
    for part, zone, construction in dict.fromkeys([*walls, *roofs]):
        index = names.index(zone)
        layers = homestead.construction[construction].layers
        inner = list(takewhile(lambda layer: not layer.vented, layers))
        if not inner:
            continue
        yield _stack(
            homestead,
            (part, zone, construction),
            inner,
            _outer_film(building, part, vented=len(inner) < len(layers)),
            site,
            (year.air[:, index], vapour[:, index]),
        )


def _outer_film(building: Building, part: str, *, vented: bool) -> float:
    """Return the resistance from the last layer that counts to the outdoor air [m2K/W].

    Behind a vented layer it is that of an inside surface (EN ISO 6946, 6.9.4).
    """
    if part == "roof" and building.roof.attic:
        return ATTIC_RESISTANCE + OUTSIDE_RESISTANCE
    if not vented:
        return OUTSIDE_RESISTANCE
    return inside_resistance("upward" if part == "roof" else "horizontal")


def _stack(
    homestead: Homestead,
    named: tuple[str, str, str],
    layers: Sequence[LayerPart],
    film: float,
    site: Site,
    room: tuple[FloatArray, FloatArray],
) -> LayersDamp:
    part, zone, construction = named
    stack = [_vapour_layer(homestead, layer, construction) for layer in layers]
    outdoors = site.weather.temp_air
    outdoor_vapour = saturation_pressure(site.weather.dew_point)
    means = [monthly_mean(hours, MONTH_OF_HOUR) for hours in (*room, outdoors, outdoor_vapour)]
    water = wetting(
        stack,
        inside=means[0],
        vapour_inside=means[1],
        outside=means[2],
        vapour_outside=means[3],
        film_inside=inside_resistance("upward" if part == "roof" else "horizontal"),
        film_outside=film,
    )
    total = sum(layer.resistance for layer in stack) + film
    factor = total / (total + CORNER_FILM)
    cold = _between(factor, room[0], outdoors)
    mould = room[1] > MOULD * saturation_pressure(cold)
    found = LayersDamp(
        part=part,
        zone=zone,
        construction=construction,
        corner_factor=factor,
        mould_hours=int(np.count_nonzero(mould)),
        verdict="dry",
        most_kg_m2=0.0,
        place="",
        month=None,
        dry_by=None,
    )
    return found if water.most <= 0.0 else _wet(found, water, layers)


def _vapour_layer(homestead: Homestead, layer: LayerPart, construction: str) -> VapourLayer:
    """Return a layer between its studs."""
    if layer.material is None:
        resistance, vapour = layer.resistance or 0.0, AIR_SPACE_M
    else:
        material = material_of(homestead, layer.material)
        thickness = layer.thickness or 0.0
        resistance, vapour = thickness / material.conductivity, thickness * material.vapour
    if layer.diffusion is not None:
        vapour = layer.diffusion
    elif layer.perms is not None:
        vapour = PERMEABILITY_OF_AIR / (layer.perms * US_PERM)
    if math.isnan(vapour):
        values = {"construction": construction, "material": layer.material}
        raise InputError(
            Problem("damp.no_vapour", path=f"construction.{construction}", values=values)
        )
    return VapourLayer(resistance, vapour)


def _wet(found: LayersDamp, water: Wetting, layers: Sequence[LayerPart]) -> LayersDamp:
    """Return the same with where water gathers, and by when it has dried."""
    month, plane = np.unravel_index(int(np.argmax(water.gathered)), water.gathered.shape)
    order = [(water.first + step) % 12 for step in range(12)]
    wet = [m for m in order if water.gathered[m].max() > 0.0]
    stays = bool(water.left.max() > 0.0)
    behind = layers[min(len(layers) - 1, int(water.place[plane] + 1e-6))]
    return replace(
        found,
        verdict="stays" if stays else "dries",
        most_kg_m2=water.most,
        place=behind.material or "",
        month=int(month) + 1,
        dry_by=None if stays else (wet[-1] + 1) % 12 + 1,
    )


def _safe(windows: Sequence[WindowDamp], layers: Sequence[LayersDamp]) -> Iterator[SafeHumidity]:
    """Yield the highest humidity at some outdoor temperatures, by the coldest of each kind."""
    room = float(saturation_pressure(_ROOM_C))

    def highest(factor: float, outdoor: float) -> float:
        cold = outdoor + factor * (_ROOM_C - outdoor)
        return min(1.0, float(saturation_pressure(cold)) / room)

    for outdoor in _OUTDOORS_C:
        worst = min((item.corner_factor for item in layers), default=1.0)
        yield SafeHumidity(
            outdoor,
            min((highest(w.glass_factor, outdoor) for w in windows), default=None),
            min((highest(w.edge_factor, outdoor) for w in windows), default=None),
            MOULD * highest(worst, outdoor),
        )
