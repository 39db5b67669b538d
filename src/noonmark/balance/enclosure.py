"""What a march is fed: zones, elements, covers and passages, and the year it gives back."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from noonmark.air.films import Film
from noonmark.balance.block import NEVER
from noonmark.balance.drive import Hourly
from noonmark.envelope.modes import WallModes

FloatArray = NDArray[np.float64]

OUTDOORS = -1
STEPS_PER_HOUR = 1
RUN_IN_HOURS = 45 * 24
"""The last 45 days of the year are marched once more before its first hour."""


@dataclass(frozen=True)
class Element:
    """One plane part between a zone and outdoors, the ground or another zone.

    area [m2]; convection (`Film`, or W/m2K) and radiation [W/m2K] at (inside,
    outside) surface, the outside pair only towards another zone; by the hour:
    outside_film [W/m2K], outside_drive [W/m2] (film times its temperature plus
    what the outside surface absorbs), inside_source [W/m2] absorbed at the
    inside surface. A window may have a `cover` (its place in the list of
    covers), an element of some mass buried heat (`WallModes.buried`).
    """

    name: str
    area: float
    modes: WallModes
    zone_inside: int
    convection: tuple[Film | float, Film | float]
    radiation: tuple[float, float]
    outside_film: Hourly
    outside_drive: Hourly
    inside_source: Hourly
    zone_outside: int = OUTDOORS
    cover: int | None = None


@dataclass(frozen=True)
class Cover:
    """A movable part of windows: shutter, blind or night insulation.

    resistance [m2K/W] it adds between the surfaces of the glass when closed;
    `zone` whose air decides. It is closed by the hour where `closed` is 1, and
    where `allowed` is 1 while the air is above `above` [degC]. What it does to
    the sun stands in the covered terms of the elements (`Drive`).
    """

    name: str
    zone: int
    resistance: float = 0.0
    closed: Hourly = 0.0
    allowed: Hourly = 0.0
    above: float = NEVER


@dataclass(frozen=True)
class Passage:
    """Air between two zones, as much each way.

    While `open` is 1: steady [W/K], and doorway [W/K per sqrt of K] times the
    root of the temperature difference. A fan of `blower` [W/K] runs where
    `blowing` is 1, `zone_from` is `difference` [K] warmer and `zone_to` below
    `below` [degC].
    """

    name: str
    zone_from: int
    zone_to: int
    open: Hourly = 1.0
    steady: float = 0.0
    doorway: float = 0.0
    blower: float = 0.0
    blowing: Hourly = 0.0
    difference: float = 0.0
    below: float = NEVER


@dataclass(frozen=True)
class Opened:
    """Windows opened just enough to hold `above` [degC], while it is cooler outside.

    Fully open they carry `base` [W/K], and `scale` [W/K] times
    sqrt(`stack` |dT| + `wind`), wind by the hour.
    """

    above: float = NEVER
    base: float = 0.0
    scale: float = 0.0
    stack: float = 0.0
    wind: Hourly = 0.0


@dataclass(frozen=True)
class Fan:
    """A fan that brings `flow` [W/K] outdoor air by the hour.

    It stands while the room is below `above` [degC], or the air outdoors less
    than `cooler` [K] below the room.
    """

    flow: Hourly
    above: float = -NEVER
    cooler: float = -NEVER


@dataclass(frozen=True)
class Bodies:
    """People or animals: `heat` [W] in all by the hour.

    latent is the share that leaves as vapour at 20 degC, latent_per_k what each
    degree above adds; radiant the share of the rest that reaches surfaces.
    """

    heat: Hourly
    latent: float
    latent_per_k: float
    radiant: float


@dataclass(frozen=True)
class Leaves:
    """Plants: vapour drawn by the `sun` [kg/s] by the hour, and by dry air.

    flow [kg/s] per kg/kg that the air lacks to saturation. The heat of
    evaporation is taken from the air.
    """

    sun: Hourly
    flow: float


@dataclass(frozen=True)
class Stove:
    """A stove fed by charges: `curve` (c,) [W] hour by hour from lighting to the last ember.

    A charge is lit when none burns and the air is below `below` [degC, by the
    hour], and then burns down, whatever the temperature; radiant is the share
    that reaches surfaces.
    """

    below: Hourly
    curve: tuple[float, ...]
    radiant: float = 0.5


@dataclass(frozen=True)
class SlabHeat:
    """Heat put into the heated elements of a zone: at most `most` [W/m2].

    It is full `band` [K] below the set-point [degC, by the hour] and less
    nearer to it, by the air at the hour's start.
    """

    setpoint: Hourly
    most: float
    band: float = 1.0


@dataclass(frozen=True)
class Zone:
    """The air of one zone and what drives it.

    air_capacity [J/K] (air and furniture), air_mass [kg dry air]. By the hour:
    supply [W/K] of ventilation, of which `recovery` is kept while the room is
    below `bypass_above` [degC] or the air outdoors warmer; leak_wind; gain_air
    and gain_star [W]; heat_set and cool_set [degC]; vapour_gain [kg/s].
    leak_scale [W/K] times sqrt(leak_stack |dT| + leak_wind) is the leakage;
    heat_most, cool_most [W] the most of the ideal plant.
    """

    name: str
    air_capacity: float
    air_mass: float
    supply: Hourly = 0.0
    recovery: float = 0.0
    bypass_above: float = NEVER
    leak_scale: float = 0.0
    leak_stack: float = 0.0
    leak_wind: Hourly = 0.0
    gain_air: Hourly = 0.0
    gain_star: Hourly = 0.0
    heat_set: Hourly = -NEVER
    cool_set: Hourly = NEVER
    heat_most: float = np.inf
    cool_most: float = np.inf
    vapour_gain: Hourly = 0.0
    opened: Opened = field(default_factory=Opened)
    fan: Fan | None = None
    bodies: Bodies | None = None
    leaves: Leaves | None = None
    stove: Stove | None = None
    slab: SlabHeat | None = None


@dataclass(frozen=True)
class Air:
    """The air outdoors: temperature (h,) [degC], humidity (h,) [kg/kg], pressure [Pa].

    specific_heat of air [J/kgK] turns W/K of an air flow into kg/s.
    """

    temperature: FloatArray
    humidity: FloatArray
    pressure: float
    specific_heat: float


@dataclass(frozen=True)
class Year:
    """Hourly means of a marched year: h hours, z zones, e elements, k covers.

    air, star (h, z) degC; plant (h, z) W, cooling negative; air_loss (h, z) W
    carried outdoors by air; moved (h, z) W brought from other zones by air;
    bodies, stove and slab (h, z) W of heat; latent (h, z) W that condensing
    vapour gave, less what plants took; condensed (h, z) kg/s; humidity (h, z)
    kg/kg at the hour's end; flow_inside and flow_outside (h, e) W into the
    element at its two surfaces; surface (h, e) degC inside; closed (h, k) 0 to 1
    by how far covers were closed; stored (2,) J at start and end.
    """

    air: FloatArray
    star: FloatArray
    plant: FloatArray
    air_loss: FloatArray
    moved: FloatArray
    bodies: FloatArray
    stove: FloatArray
    slab: FloatArray
    latent: FloatArray
    condensed: FloatArray
    humidity: FloatArray
    flow_inside: FloatArray
    flow_outside: FloatArray
    surface: FloatArray
    closed: FloatArray
    stored: FloatArray

    @property
    def operative(self) -> FloatArray:
        """Return the operative temperature (h, z): the mean of air and star [degC]."""
        return 0.5 * (self.air + self.star)
