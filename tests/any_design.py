"""Designs with everything on, alike in layout and different in every number."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from box import AIR_HEAT, LAYERS, FloatArray
from noonmark.air.films import natural_film
from noonmark.balance.drive import Drive
from noonmark.balance.enclosure import (
    Air,
    Bodies,
    Cover,
    Element,
    Fan,
    Leaves,
    Opened,
    Passage,
    SlabHeat,
    Stove,
    Zone,
)
from noonmark.envelope.modes import massless_element, wall_modes


@dataclass(frozen=True)
class Weather:
    """What all the designs share by the hour."""

    hour: FloatArray
    outdoor: FloatArray
    humidity: FloatArray
    sun: FloatArray
    wind: FloatArray
    evening: FloatArray
    night: FloatArray

    @property
    def air(self) -> Air:
        return Air(self.outdoor, self.humidity, 84000.0, AIR_HEAT)


def any_weather(days: int, *, mean: float = 4.0) -> Weather:
    """Return days with sun, wind, evenings and nights; about `mean` [degC]."""
    rng = np.random.default_rng(11)
    hour = np.arange(24 * days)
    day = np.maximum(np.sin(2.0 * np.pi * (hour - 6) / 24.0), 0.0)
    outdoor = mean + 9.0 * np.sin(2.0 * np.pi * (hour - 9) / 24.0) + rng.normal(0, 2, hour.size)
    return Weather(
        hour=hour.astype(float),
        outdoor=outdoor,
        humidity=0.004 + 0.001 * rng.random(hour.size),
        sun=700.0 * day * rng.uniform(0.2, 1.0, hour.size),
        wind=rng.uniform(0.0, 6.0, hour.size),
        evening=(hour % 24 > 17).astype(float),
        night=((hour % 24 > 20) | (hour % 24 < 6)).astype(float),
    )


@dataclass(frozen=True)
class AnyDesign:
    """What `pack` and `run_year` take besides the air."""

    zones: list[Zone]
    elements: list[Element]
    covers: list[Cover]
    passages: list[Passage]


def any_design(seed: int, zones: int, weather: Weather) -> AnyDesign:
    """Return a design of one or two zones whose numbers `seed` picks."""
    rng = np.random.default_rng(seed)
    elements = [element for z in range(zones) for element in _shell(rng, z, weather)]
    if zones == 2:
        elements.append(_partition(rng, weather))
    covers = [
        Cover(
            f"shutter {z}",
            zone=z,
            resistance=rng.uniform(0.05, 0.5),
            closed=times(rng.uniform(0.3, 1.0), weather.night),
            allowed=times(1.0, weather.evening),
            above=rng.uniform(21.0, 25.0),
        )
        for z in range(zones)
    ]
    passages = [
        Passage(
            "door",
            0,
            1,
            open=times(1.0, weather.evening),
            steady=rng.uniform(1.0, 5.0),
            doorway=rng.uniform(10.0, 200.0),
            blower=rng.uniform(10.0, 50.0),
            blowing=1.0,
            difference=rng.uniform(1.0, 3.0),
            below=rng.uniform(20.0, 24.0),
        )
    ]
    return AnyDesign(
        [_zone(rng, z, weather) for z in range(zones)],
        elements,
        covers,
        passages if zones == 2 else [],
    )


def times(number: float, array: FloatArray) -> Drive:
    """Return a number times an array that designs share."""
    return Drive(((float(number), array),))


def _zone(rng: np.random.Generator, z: int, w: Weather) -> Zone:
    u = rng.uniform
    return Zone(
        name=f"zone {z}",
        air_capacity=u(1e5, 1e6),
        air_mass=u(60.0, 200.0),
        supply=u(2.0, 15.0),
        recovery=u(0.0, 0.9),
        bypass_above=u(22.0, 24.0),
        leak_scale=u(0.5, 3.0),
        leak_stack=u(0.5, 2.0),
        leak_wind=times(u(0.1, 0.5), w.wind),
        gain_air=times(u(100.0, 500.0), w.evening),
        gain_star=u(10.0, 80.0),
        heat_set=Drive(((u(15.0, 18.0), None), (u(1.0, 4.0), w.evening))),
        cool_set=u(26.0, 29.0),
        heat_most=u(1000.0, 4000.0),
        cool_most=u(200.0, 3000.0),
        vapour_gain=times(u(1e-5, 2e-4), w.evening),
        opened=Opened(u(23.0, 25.0), u(0.0, 20.0), u(5.0, 40.0), u(0.1, 1.0), times(u(), w.wind)),
        fan=Fan(times(u(10.0, 60.0), w.night), u(20.0, 23.0), u(1.0, 3.0)),
        bodies=Bodies(times(u(100.0, 400.0), w.night), u(0.2, 0.5), u(0.01, 0.04), u(0.3, 0.6)),
        leaves=Leaves(times(u(1e-8, 1e-7), w.sun), u(1e-4, 1e-2)),
        stove=Stove(u(16.0, 19.0), tuple(u(500.0, 4000.0, 5)), u(0.3, 0.7)) if z == 0 else None,
        slab=SlabHeat(u(19.0, 21.0), u(20.0, 60.0), u(0.5, 2.0)),
    )


def _shell(rng: np.random.Generator, z: int, w: Weather) -> list[Element]:
    u = rng.uniform
    film = u(8.0, 25.0)
    warm = Drive(((film, w.outdoor), (u(0.1, 0.7), w.sun)))

    def source() -> Drive:
        number = u(0.01, 0.2)
        return Drive(((number, w.sun),), ((z, -0.7 * number, w.sun),))

    wall, roof = wall_modes(LAYERS["heavy_wall"]), wall_modes(LAYERS["roof"])
    floor = wall_modes(LAYERS["heavy_floor"], heated_layer=0)
    glass = massless_element(u(1.5, 8.0))
    return [
        Element(f"wall {z}", u(30.0, 90.0), wall, z, (natural_film("wall"), 0.0),
                (u(4.0, 6.0), 0.0), film, warm, source()),
        Element(f"roof {z}", u(20.0, 60.0), roof, z, (natural_film("ceiling"), 0.0),
                (5.0, 0.0), film, warm, 0.0),
        Element(f"window {z}", u(4.0, 16.0), glass, z, (u(2.0, 4.0), 0.0),
                (5.0, 0.0), film, times(film, w.outdoor), source(), cover=z),
        Element(f"floor {z}", u(20.0, 60.0), floor, z, (u(0.7, 2.0), 0.0),
                (5.0, 0.0), 1e3, u(9e3, 11e3), source()),
    ]  # fmt: skip


def _partition(rng: np.random.Generator, w: Weather) -> Element:
    u = rng.uniform
    return Element("partition", u(5.0, 30.0), wall_modes(LAYERS["common_wall"]), 0,
                   (natural_film("wall"), u(2.0, 4.0)), (5.0, u(4.0, 6.0)),
                   0.0, times(u(0.01, 0.1), w.sun), 0.0, zone_outside=1)  # fmt: skip
