"""What a march writes down for itself, in a few arrays whose columns are named here."""

from __future__ import annotations

from typing import NamedTuple

from noonmark.balance.block import FloatArray

# columns of `Memory.element`
(
    SURFACE_IN,  # degC, state
    SURFACE_OUT,
    MEAN_IN,  # degC of the last hour
    MEAN_OUT,
    FILM_IN,  # W/m2K of convection in this hour
    FILM_OUT,
    STIFF_II,  # W/m2K own flow per K of surface temperature in a stage
    STIFF_IO,
    STIFF_OO,
    SLOW_II,  # W/m2K: what the surfaces' own capacitance adds in a stage
    SLOW_IO,
    SLOW_OO,
    REACH_II,  # K per W/m2: how the surfaces follow their loads
    REACH_IO,
    REACH_OO,
    SOURCE_IN,  # W/m2 in this hour, whatever the temperatures
    SOURCE_OUT,
    LOAD_IN,  # W/m2 in this stage with the zones at 0 degC
    LOAD_OUT,
    SHUT,  # 0 to 1 by how far its cover is closed
    ELEMENT_COLUMNS,
) = range(21)

# columns of `Memory.mode`
(
    MODE,  # state
    KEEP,  # share of a mode that a stage leaves
    PAST_IN,  # W/m2 at a surface for each unit of it
    PAST_OUT,
    PUSH,  # what heat put into the element adds in a stage
    MODE_COLUMNS,
) = range(6)

# columns of `Memory.zone`
(
    AIR,  # degC, state
    AIR_MEAN,  # degC of the last hour
    STAR_MEAN,
    POWER_MEAN,  # W
    HUMIDITY,  # kg/kg, state
    BURNING,  # h since the stove was lit, state
    SLOW_AIR,  # W/K: what the air's capacity adds in a stage
    FRESH,  # W/K of outdoor air, whatever heat is kept
    CARRIED,  # W/K of outdoor air after recovery
    VENT_MOST,  # W/K of fully opened windows
    HOLDS,  # W that keep the air one kelvin warmer
    TARGET,  # degC that its air is to be held at
    FREE,  # degC of the air without plant
    LEFT_AT,  # degC at which its windows left it
    VENT,  # W through opened windows in this stage
    VENTED,  # W through opened windows in the hour's mean
    POWER,  # W of the plant in this stage
    SLAB,  # W/m2 put into heated elements
    BODIES,  # W of sensible heat
    STOVE,  # W
    TAKEN,  # W that evaporation took from the air
    BROUGHT,  # kg/s of vapour
    GIVEN_BACK,  # W of what condensed in the hour before
    CONDENSED,  # kg/s, state
    TRIAL,  # kg/kg
    DEW,  # kg/kg at the coldest surface
    CAUGHT,  # kg/s per kg/kg that the coldest surface catches
    COLDEST,  # degC
    WHERE_WET,  # place of the coldest surface
    ZONE_COLUMNS,
) = range(30)

# rows of `Memory.beside`
(
    NODES_IN,  # degC of air and star node at the inside
    _,
    NODES_OUT,  # the same at the outside
    _,
    SLAB_IN,  # W/m2 put into what is heated in the zone at the inside
    BESIDE_ROWS,
) = range(6)


AHEAD = 4
"""Hours of drivers that are summed at once: their numbers are fetched once for so many."""


class Memory(NamedTuple):
    """State and scratch of a march; g groups, m modes, z zones, k covers, p passages.

    w walls between zones, in one design with the lanes left over in their groups.
    """

    now: FloatArray  # (r,) rows of the layout in this hour
    lines: FloatArray  # (r,) the same; those of one design in lanes
    ahead: FloatArray  # (a, AHEAD) those of them that change by the hour, in hours to come
    drive: FloatArray  # (g, ELEMENT_ROWS) those of the elements: the last part of both
    closed: FloatArray  # (k,)
    between: FloatArray  # (p,) W/K
    beside: FloatArray  # (BESIDE_ROWS, w) what walls between zones stand beside
    beside_lines: FloatArray  # (BESIDE_ROWS, w) the same; that of one design in lanes
    element: FloatArray  # (g, ELEMENT_COLUMNS)
    mode: FloatArray  # (m, MODE_COLUMNS)
    zone: FloatArray  # (z, ZONE_COLUMNS)
    response: FloatArray  # (z * z,) W/K between airs; then, stars eliminated, its inverse [K/W]
    holding: FloatArray  # (z * z,) W/K between airs, stars eliminated
    lever: FloatArray  # (z * z,) W/K from airs to stars; then how stars follow airs
    star: FloatArray  # (z * z,) W/K between stars; then its inverse
    lasting: FloatArray  # (2 z,) W in all stages of the hour
    right: FloatArray  # (2 z,) W; air and star node of each zone in turn
    node: FloatArray  # (2 z,) degC
    wet: FloatArray  # (z * z,) kg/s per kg/kg
    damp: FloatArray  # (z,) kg/s


class Scratch(NamedTuple):
    """Room for the plant of one design: see `noonmark.balance.small.held_power`."""

    free: FloatArray  # (z,)
    response: FloatArray  # (z * z,)
    limits: FloatArray  # (z, 5)
    power: FloatArray  # (z,)
    matrix: FloatArray  # (z * z,)
