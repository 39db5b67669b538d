"""A box with everything on, made by hand of numbers times shared hourly arrays: for batches.

Six opaque parts and four windows in the sample's year: wind films by side, cold
sky, snow on the ground, natural films inside, leaks and windows by wind and
stack, heat recovery with a bypass, a night set-back, a blind, people and their
vapour. `bare_box` has two windows and steady films and none of the rest.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from box import LAYERS, FloatArray
from noonmark.air.films import (
    EMISSIVITY,
    STEFAN_BOLTZMANN,
    Facing,
    Film,
    inside_convection,
    natural_film,
    radiative_coefficient,
)
from noonmark.air.moist import humidity_ratio, saturation_pressure
from noonmark.balance.block import AIR_CAPACITY, AREA, LEAK_SCALE, RADIATION_IN, RECOVERY
from noonmark.balance.drive import Drive
from noonmark.balance.enclosure import Air, Bodies, Cover, Element, Opened, Passage, Zone
from noonmark.balance.packing import Packed, pack
from noonmark.envelope.modes import WallModes, massless_element, wall_modes
from noonmark.glazing.optics import pane_with_transmittance
from noonmark.glazing.unit import Glazing, plain_glazing
from noonmark.sun.angles import incidence_cosine
from sample_house import golden

AIR_HEAT = 1006.0
LENGTHS = {180.0: 10.0, 0.0: 10.0, 90.0: 8.0, 270.0: 8.0}
GLASS = {180.0: 10.0, 0.0: 1.5, 90.0: 1.5, 270.0: 2.0}
HEIGHT, FLOOR = 2.7, 80.0
INSIDE_RADIATION = float(radiative_coefficient(20.0))
SUN_ON_FLOOR = 0.5
"""Share of the sun inside that the floor takes; the rest goes by area."""


@cache
def air() -> Air:
    """Return the air of the sample's year."""
    w = golden().weather
    humidity = humidity_ratio(saturation_pressure(w.dew_point), w.pressure)
    return Air(w.temp_air, humidity, float(w.pressure.mean()), AIR_HEAT)


@cache
def _film(azimuth: float | None, emissivity: float) -> FloatArray:
    convection = golden().outside_convection(azimuth)
    return convection + radiative_coefficient(golden().weather.temp_air, emissivity)


@cache
def _lacking() -> FloatArray:
    site = golden()
    warm, cold = site.weather.temp_air + 273.15, site.sky + 273.15
    return STEFAN_BOLTZMANN * (warm**4 - cold**4)


@cache
def _film_heat(azimuth: float | None, emissivity: float) -> FloatArray:
    return _film(azimuth, emissivity) * golden().weather.temp_air


@cache
def _sun(tilt: float, azimuth: float) -> FloatArray:
    plane = golden().plane(tilt, azimuth)
    return plane.beam + plane.circumsolar + plane.dome + plane.horizon + plane.ground


@cache
def _passed(azimuth: float) -> FloatArray:
    """Return the sun past a square metre of glass (h,) [W/m2]."""
    site, unit = golden(), glass()
    plane = site.plane(90.0, azimuth)
    cosine = incidence_cosine(site.sun.altitude, site.sun.azimuth, 90.0, azimuth)
    direct = (plane.beam + plane.circumsolar) * unit.from_outside.at(cosine)[0]
    return direct + 0.6 * (plane.dome + plane.horizon + plane.ground)


@cache
def glass() -> Glazing:
    panes = [pane_with_transmittance(0.834)] * 2
    return plain_glazing(panes, pane_thickness=0.003, gap_conductance=[6.0])


def _outdoors(azimuth: float | None, view: float, absorbed: Drive, emissivity: float) -> Drive:
    heat = Drive(((1.0, _film_heat(azimuth, emissivity)), (-view * emissivity, _lacking())))
    return heat + absorbed


def _element(
    name: str,
    facing: Facing,
    area: float,
    modes: WallModes,
    azimuth: float | None,
    absorbed: Drive,
    source: Drive,
    *,
    natural: bool,
    view: float = 0.5,
    emissivity: float = EMISSIVITY,
    cover: int | None = None,
) -> Element:
    film = natural_film(facing) if natural else Film.steady(inside_convection(facing))
    return Element(
        name=name,
        area=area,
        modes=modes,
        zone_inside=0,
        convection=(film, 0.0),
        radiation=(INSIDE_RADIATION, 0.0),
        outside_film=_film(azimuth, emissivity),
        outside_drive=_outdoors(azimuth, view, absorbed, emissivity),
        inside_source=source,
        cover=cover,
    )


def _source(windows: dict[float, float], area: float, share: float, *, blind: bool) -> Drive:
    """Return what a surface takes of the sun inside; the blind of the south glass stops 0.7."""
    terms = tuple((share * glass / area, _passed(azimuth)) for azimuth, glass in windows.items())
    stopped = tuple(
        (0, -0.7 * share * glass / area, _passed(azimuth))
        for azimuth, glass in windows.items()
        if blind and azimuth == 180.0
    )
    return Drive(terms, stopped)


def _elements(windows: dict[float, float], *, everything: bool) -> list[Element]:
    walls = sum(LENGTHS.values()) * HEIGHT - sum(windows.values())
    rest = (1.0 - SUN_ON_FLOOR) / (walls + FLOOR)
    made = []
    for azimuth, length in LENGTHS.items():
        area = length * HEIGHT - windows.get(azimuth, 0.0)
        absorbed = Drive(((0.5, _sun(90.0, azimuth)),))
        source = _source(windows, area, rest * area, blind=everything)
        made.append(
            _element(
                f"wall {azimuth:g}", "wall", area, wall_modes(LAYERS["light_wall"]), azimuth,
                absorbed, source, natural=everything,
            )
        )  # fmt: skip
    roof = Drive(((0.6, _sun(0.0, 180.0)),))
    source = _source(windows, FLOOR, rest * FLOOR, blind=everything)
    made.append(
        _element(
            "roof", "ceiling", FLOOR, wall_modes(LAYERS["roof"]), None, roof, source,
            natural=everything, view=1.0,
        )
    )  # fmt: skip
    floor = wall_modes(LAYERS["heavy_floor"])
    source = _source(windows, FLOOR, SUN_ON_FLOOR, blind=everything)
    film = natural_film("floor") if everything else Film.steady(inside_convection("floor"))
    made.append(
        Element(
            "floor", FLOOR, floor, 0, (film, 0.0), (INSIDE_RADIATION, 0.0), 100.0, 1000.0, source
        )
    )
    for azimuth, area in windows.items():
        covered = everything and azimuth == 180.0
        made.append(
            _element(
                f"window {azimuth:g}", "wall", area, massless_element(1.0 / glass().resistance),
                azimuth, Drive(((0.05, _sun(90.0, azimuth)),)),
                Drive(((0.04, _sun(90.0, azimuth)),)),
                natural=everything, emissivity=0.837, cover=0 if covered else None,
            )
        )  # fmt: skip
    return made


def _covers() -> list[Cover]:
    hour = np.arange(8760) % 24
    night = ((hour >= 21) | (hour < 6)).astype(float)
    return [Cover("blind", 0, resistance=0.15, closed=night, allowed=1.0, above=25.0)]


def full_zone() -> Zone:
    """Return the zone with everything on."""
    site = golden()
    hour = np.arange(8760) % 24
    evening = np.where((hour >= 17) & (hour < 23), 500.0, 100.0)
    return Zone(
        name="room",
        air_capacity=1.2e6,
        air_mass=210.0,
        supply=30.0,
        recovery=0.7,
        bypass_above=24.0,
        leak_scale=70.0,
        leak_stack=0.000145,
        leak_wind=Drive(((0.000246, site.wind_at_station**2),)),
        gain_air=evening,
        gain_star=evening,
        heat_set=np.where((hour >= 22) | (hour < 6), 16.0, 20.0),
        cool_set=27.0,
        vapour_gain=6e-5,
        opened=Opened(
            above=24.5, scale=300.0, stack=0.0035, wind=Drive(((0.001, site.wind_at_station**2),))
        ),
        bodies=Bodies(heat=200.0, latent=0.33, latent_per_k=0.015, radiant=0.6),
    )


def full_box() -> Packed:
    """Return the box with everything on, ready to march."""
    return pack([full_zone()], _elements(GLASS, everything=True), air(), _covers())


def bare_box() -> Packed:
    """Return the box with two windows and steady films, heated and cooled."""
    two = {180.0: 10.0, 270.0: 2.0}
    zone = Zone("room", 1.2e6, 210.0, supply=30.0, heat_set=20.0, cool_set=27.0)
    return pack([zone], _elements(two, everything=False), air())


def rooms_in_a_row(count: int) -> Packed:
    """Return boxes with everything on, side by side: a massive wall and a door between each two."""
    zones, elements = [], []
    for index in range(count):
        zones.append(full_zone())
        elements += [_moved(item, index) for item in _elements(GLASS, everything=True)]
    for index in range(count - 1):
        wall = _element(
            "partition", "wall", 20.0, wall_modes(LAYERS["common_wall"]), None, Drive(), Drive(),
            natural=True,
        )  # fmt: skip
        film = natural_film("wall")
        elements.append(_moved(wall, index, other=index + 1, films=(film, film)))
    passages = [Passage(f"door {i}", i, i + 1, doorway=60.0) for i in range(count - 1)]
    return pack(zones, elements, air(), _covers(), passages)


def _moved(
    element: Element, zone: int, *, other: int = -1, films: tuple[Film, Film] | None = None
) -> Element:
    moved = replace(element, zone_inside=zone)
    if films is None:
        return moved
    radiation = (INSIDE_RADIATION, INSIDE_RADIATION)
    return replace(
        moved, zone_outside=other, convection=films, radiation=radiation,
        outside_film=0.0, outside_drive=0.0,
    )  # fmt: skip


def varied(batch: Packed) -> Packed:
    """Return a batch whose designs differ in areas, films, leaks, sun and plant."""
    rng = np.random.default_rng(3)
    for array, columns in (
        (batch.numbers.element, (AREA, RADIATION_IN)),
        (batch.numbers.zone, (AIR_CAPACITY, LEAK_SCALE, RECOVERY)),
    ):
        for column in columns:
            array[:, column] *= rng.uniform(0.8, 1.2, array[:, column].shape)
    batch.numbers.coefficient[:] *= rng.uniform(0.98, 1.02, batch.numbers.coefficient.shape)
    return batch
