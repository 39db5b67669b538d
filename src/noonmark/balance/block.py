"""What a march reads: one block of numbers a design, laid out the same for all of a batch.

Everything that differs between designs is a number in one of a few arrays whose
columns are named here; everything hourly is a signal that designs share. A row
of the layout says which quantity of which part is the sum of which coefficients
times which signals.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.integer]

# columns of `Numbers.element`
(
    AREA,  # m2
    FILM_IN,  # where four numbers begin: see `noonmark.air.films.Film`
    _, _, _,
    FILM_OUT,  # the same at the outside, towards another zone
    _, _, _,
    RADIATION_IN,  # W/m2K
    RADIATION_OUT,
    CONDUCT_II,  # W/m2K surface to surface: inside-inside, inside-outside, outside-outside
    CONDUCT_IO,
    CONDUCT_OO,
    STORE_II,  # J/m2K, ordered likewise
    STORE_IO,
    STORE_OO,
    BURIED_IN,  # share of heat put into the element that reaches a surface at once
    BURIED_OUT,
    HEATED,  # 1 where heat is put in
    COVERED,  # W/m2K that a closed cover adds (negative) to the conductance
    ELEMENT_COLUMNS,
) = range(22)  # fmt: skip

# columns of `Numbers.mode`
(
    RATE,  # 1/s
    COUPLE_IN,
    COUPLE_OUT,
    STORAGE,
    BURIED,  # how heat put into the element drives the mode
    MODE_COLUMNS,
) = range(6)

# columns of `Numbers.zone`
(
    AIR_CAPACITY,  # J/K of air and furniture
    DRY_AIR,  # kg
    LEAK_SCALE,  # W/K per sqrt of the driving pressure term
    LEAK_STACK,  # per K
    RECOVERY,  # share of the supply's heat kept
    BYPASS_ABOVE,  # degC above which nothing is kept while it is cooler outside
    FAN_ABOVE,  # degC below which the fan stands
    FAN_COOLER,  # K the outdoor air must be cooler than the room for the fan to run
    VENT_ABOVE,  # degC that opened windows hold, as far as they can
    VENT_BASE,  # W/K with all windows open, whatever drives
    VENT_SCALE,  # W/K per sqrt of the driving term below
    VENT_STACK,  # per K
    HEAT_MOST,  # W
    COOL_MOST,  # W
    BODY_LATENT,  # share of the bodies' heat that leaves as vapour at 20 degC
    BODY_LATENT_PER_K,
    BODY_RADIANT,  # share of their sensible heat that reaches surfaces
    LEAF_FLOW,  # kg/s of vapour per kg/kg short of saturation
    STOVE_RADIANT,
    STOVE_HOURS,  # h that a charge burns
    SLAB_MOST,  # W/m2 put into the heated elements
    SLAB_BAND,  # K below the set-point at which that is reached
    ZONE_COLUMNS,
) = range(23)

# columns of `Numbers.passage`
(
    STEADY,  # W/K while open
    DOORWAY,  # W/K per sqrt of K while open
    BLOWER,  # W/K of the fan
    BLOWER_DIFFERENCE,  # K the giving zone must be warmer
    BLOWER_BELOW,  # degC of the taking zone above which the fan stands
    PASSAGE_COLUMNS,
) = range(6)

# rows of the layout: covers first, then passages, zones and elements
(CLOSED, ALLOWED, COVER_ROWS) = range(3)
(OPEN, BLOWING, PASSAGE_ROWS) = range(3)
(
    SUPPLY,  # W/K
    FAN,  # W/K
    LEAK_WIND,
    VENT_WIND,
    GAIN_AIR,  # W
    GAIN_STAR,  # W
    HEAT_SET,  # degC
    COOL_SET,  # degC
    VAPOUR,  # kg/s
    BODIES,  # W, all heat
    LEAVES,  # kg/s that the sun draws
    STOVE_SET,  # degC below which a charge is lit
    SLAB_SET,  # degC
    ZONE_ROWS,
) = range(14)
(
    OUTSIDE_FILM,  # W/m2K
    OUTSIDE_DRIVE,  # W/m2
    INSIDE_SOURCE,  # W/m2
    ELEMENT_ROWS,
) = range(4)

NEVER = 1e9
"""A temperature [degC] no room reaches: set-points that do not exist."""


class Numbers(NamedTuple):
    """The numbers of designs, struct of arrays; a batch has a last axis more, one place a design.

    Columns are the names of this module. `coefficient` multiplies the signals,
    `covered` those that count by how far a cover is closed.
    """

    element: FloatArray  # (e, ELEMENT_COLUMNS)
    mode: FloatArray  # (m, MODE_COLUMNS)
    zone: FloatArray  # (z, ZONE_COLUMNS)
    cover: FloatArray  # (k, 1) degC above which an allowed cover closes
    passage: FloatArray  # (p, PASSAGE_COLUMNS)
    curve: FloatArray  # (z, c) W of a stove's charge hour by hour
    steady: FloatArray  # (r,) what the rows hold at all hours
    coefficient: FloatArray  # (t,) of the terms that add to it
    covered: FloatArray  # (c,)


class Layout(NamedTuple):
    """How the numbers hang together, the same for all designs of a batch.

    A march holds g groups of elements: in a batch one element each, in lanes that
    hold `WIDTH` designs; for one design up to `WIDTH` elements in lanes that hold an
    element each (see `noonmark.balance.groups`). Those that face outdoors come first,
    by their zone; then, as if they faced one zone more, all w walls between zones.
    """

    natural: int  # 1 when any inside film follows the temperatures
    leaves: int  # 1 when plants transpire in any zone
    heated: int  # 1 when heat is put into any element
    first: IntArray  # (g + 1,) where each group's modes start
    facing_first: IntArray  # (z + 2,) where the groups start that face each zone
    facing_middle: IntArray  # (z + 1,) where those of each zone start that store nothing
    begin: IntArray  # (g + 1,) the first element of each group
    group: IntArray  # (e,) where each element stands
    lane: IntArray  # (e,) and at which place in it; 0 in a batch
    element_first: IntArray  # (z + 2,) where the elements start that face each zone
    wall_inside: IntArray  # (w,) zone at the inside of each wall between zones
    wall_outside: IntArray  # (w,)
    wall_place: IntArray  # (w,) where it stands in `Memory.beside`
    with_cover: IntArray  # (v,) elements that have one
    its_cover: IntArray  # (v,)
    cover_zone: IntArray  # (k,)
    passage_from: IntArray  # (p,)
    passage_to: IntArray  # (p,)
    changing: IntArray  # (a,) rows that change by the hour
    term_first: IntArray  # (a + 1,) where the terms of each start
    term_signal: IntArray  # (t,)
    covered_row: IntArray  # (c,)
    covered_signal: IntArray  # (c,)
    covered_by: IntArray  # (c,) cover


class Weather(NamedTuple):
    """What all designs of a march share: hourly signals and the air outdoors."""

    signal: FloatArray  # (h, s)
    outdoor_air: FloatArray  # (h,) degC
    outdoor_humidity: FloatArray  # (h,) kg/kg
    saturation: FloatArray  # (n,) kg/kg, from SATURATION_FROM in steps of SATURATION_STEP
    air_heat: float  # J/kgK


SATURATION_FROM = -60.0
SATURATION_STEP = 0.25
SATURATION_COUNT = 641


class Hours(NamedTuple):
    """Hourly means that a march writes; a batch has a last axis more.

    All but the first three have one row instead of h when nobody reads them.
    """

    air: FloatArray  # (h, z) degC
    star: FloatArray  # (h, z) degC
    plant: FloatArray  # (h, z) W
    air_loss: FloatArray  # (h, z) W carried outdoors by air
    moved: FloatArray  # (h, z) W brought from other zones by air
    bodies: FloatArray  # (h, z) W of sensible heat
    stove: FloatArray  # (h, z) W
    slab: FloatArray  # (h, z) W put into heated elements
    latent: FloatArray  # (h, z) W that vapour gives back as it condenses, less what it took
    condensed: FloatArray  # (h, z) kg/s
    humidity: FloatArray  # (h, z) kg/kg at the hour's end
    flow_inside: FloatArray  # (h, e) W
    flow_outside: FloatArray  # (h, e) W
    surface: FloatArray  # (h, e) degC at the inside
    closed: FloatArray  # (h, k)
    stored: FloatArray  # (2, 1) J
