"""The march through the hours, compiled: for one design, or for several in lanes.

Each step is a two-stage diagonally implicit Runge-Kutta step, stiffly accurate
and L-stable (R. Alexander 1977, SIAM J. Numer. Anal. 14, 1006, doi:10.1137/0714068):
both stages solve the same small system, and flows weighted by the stage weights
close the energy balance exactly. Surfaces are eliminated first, then air and
star node of every zone are solved together.

What depends on temperature and bends (films, air flows, covers, stoves, vapour) is
taken once an hour from the temperatures at its start: `noonmark.balance.hourly`.

`noonmark.cache` names its folder by all sources, so that an edit of a compiled
callee in another file is seen.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from noonmark.balance import block as b
from noonmark.balance import memory as mem
from noonmark.balance.block import Hours, Layout, Numbers, Weather
from noonmark.balance.hourly import (
    air_flows,
    covered_conductance,
    drivers,
    gains,
    look_ahead,
    natural_film,
    vapour,
)
from noonmark.balance.lanes import filled, in_lanes, lay, part, put, take, together, where, width
from noonmark.balance.memory import Memory, Scratch
from noonmark.balance.plant import GAMMA, ONWARD, nodes
from noonmark.balance.small import condense
from noonmark.balance.surfaces import (
    eliminate,
    follow,
    loads,
    massless_loads,
    put_beside,
    reach,
    surface_temperatures,
    wall_temperatures,
)
from noonmark.compiled import compiled

_UNHEATED = -100.0
"""A set-point [degC] below which there is no heater."""


@compiled()
def _stored(layout: Layout, numbers: Numbers, memory: Memory) -> Any:
    """Return the heat stored above 0 degC [J]."""
    own = memory.element
    room = memory.zone
    element, first = numbers.element, layout.first
    total = 0.0 * room[0, mem.AIR]
    for z in range(memory.zone.shape[0]):
        total += numbers.zone[z, b.AIR_CAPACITY] * room[z, mem.AIR]
    for e in range(own.shape[0]):
        areal = (
            element[e, b.STORE_II] * own[e, mem.SURFACE_IN]
            + element[e, b.STORE_OO] * own[e, mem.SURFACE_OUT]
        )
        areal += element[e, b.STORE_IO] * (own[e, mem.SURFACE_IN] + own[e, mem.SURFACE_OUT])
        for m in range(first[e], first[e + 1]):
            areal += numbers.mode[m, b.STORAGE] * memory.mode[m, mem.MODE]
        total += together(element[e, b.AREA] * areal, total)
    return total


@compiled()
def _prepare(layout: Layout, numbers: Numbers, memory: Memory, g: float) -> None:
    """Write the constants of the stage equations of length `g` [s].

    A mode becomes keep * (was + push + g * coupling @ surfaces).
    """
    own = memory.element
    room = memory.zone
    element, mode = numbers.element, numbers.mode
    for m in range(mode.shape[0]):
        memory.mode[m, mem.KEEP] = 1.0 / (1.0 + g * mode[m, b.RATE])
        memory.mode[m, mem.PAST_IN] = mode[m, b.COUPLE_IN] * memory.mode[m, mem.KEEP]
        memory.mode[m, mem.PAST_OUT] = mode[m, b.COUPLE_OUT] * memory.mode[m, mem.KEEP]
    for z in range(memory.zone.shape[0]):
        room[z, mem.SLOW_AIR] = numbers.zone[z, b.AIR_CAPACITY] / g
    for e in range(own.shape[0]):
        for k in range(3):
            own[e, mem.SLOW_II + k] = element[e, b.STORE_II + k] / g
            own[e, mem.STIFF_II + k] = element[e, b.CONDUCT_II + k] + own[e, mem.SLOW_II + k]
        for m in range(layout.first[e], layout.first[e + 1]):
            own[e, mem.STIFF_II] -= g * memory.mode[m, mem.PAST_IN] * mode[m, b.COUPLE_IN]
            own[e, mem.STIFF_IO] -= g * memory.mode[m, mem.PAST_IN] * mode[m, b.COUPLE_OUT]
            own[e, mem.STIFF_OO] -= g * memory.mode[m, mem.PAST_OUT] * mode[m, b.COUPLE_OUT]


@compiled()
def _begin(layout: Layout, numbers: Numbers, memory: Memory, start: float, humidity: float) -> None:
    """Write the rows that never change, and a state that is the same everywhere.

    `start` [degC], `humidity` [kg/kg].
    """
    own = memory.element
    room = memory.zone
    for r in range(numbers.steady.size):
        memory.lines[r] = numbers.steady[r]
    for z in range(memory.zone.shape[0]):
        room[z, mem.AIR] = start
        room[z, mem.AIR_MEAN] = start
        room[z, mem.HUMIDITY] = humidity
        room[z, mem.BURNING] = 1.0 * numbers.curve.shape[1]
        room[z, mem.CONDENSED] = 0.0
        room[z, mem.POWER] = 0.0
        room[z, mem.VENT] = 0.0
        room[z, mem.WHERE_WET] = -1.0
        memory.node[2 * z] = start
        memory.node[2 * z + 1] = start
    put_beside(layout, memory)
    for e in range(own.shape[0]):
        for side in range(2):
            own[e, mem.SURFACE_IN + side] = start
            own[e, mem.MEAN_IN + side] = start
            film = b.FILM_OUT if side else b.FILM_IN  # as for one kelvin of difference
            own[e, mem.FILM_IN + side] = numbers.element[e, film] + numbers.element[e, film + 1]
    for m in range(numbers.mode.shape[0]):
        memory.mode[m, mem.MODE] = numbers.mode[m, b.STORAGE] * start
        memory.mode[m, mem.PUSH] = 0.0


@compiled()
def _settle(layout: Layout, numbers: Numbers, memory: Memory, zone_rows: int) -> None:
    """Write the steady state of the rows: rooms at what heats them, if anything.

    The ground remembers for months; a running in from here needs no more than weeks.
    """
    room, zones = memory.zone, memory.zone.shape[0]
    for z in range(zones):
        held = memory.now[zone_rows + b.ZONE_ROWS * z + b.HEAT_SET]
        room[z, mem.AIR] = where(held > _UNHEATED, held, room[z, mem.AIR])
        room[z, mem.AIR_MEAN] = room[z, mem.AIR]
        memory.node[2 * z] = room[z, mem.AIR]
    put_beside(layout, memory)
    for z in range(zones):
        near, far = filled(room[z, mem.AIR]), filled(0.0)
        for e in range(layout.facing_first[z], layout.facing_first[z + 1]):
            beyond = memory.drive[e, b.OUTSIDE_FILM]
            _settle_element(layout, numbers, memory, e, beyond, near, far)
    for e in range(layout.facing_first[zones], layout.facing_first[zones + 1]):
        w = e - layout.facing_first[zones]
        beyond = memory.element[e, mem.FILM_OUT] + numbers.element[e, b.RADIATION_OUT]
        near, far = memory.beside_lines[mem.NODES_IN, w], memory.beside_lines[mem.NODES_OUT, w]
        _settle_element(layout, numbers, memory, e, beyond, near, far)


@compiled()
def _settle_element(
    layout: Layout, numbers: Numbers, memory: Memory, e: int, beyond: Any, near: Any, far: Any
) -> None:
    """Write the steady state of an element between rooms, or a room and what drives it outside.

    `beyond` [W/m2K] are the films at the outside, `near` and `far` [degC] the rooms.
    """
    own, element, mode = memory.element, numbers.element, numbers.mode
    film = own[e, mem.FILM_IN] + element[e, b.RADIATION_IN]
    inner = film * near + memory.drive[e, b.INSIDE_SOURCE]
    outer = beyond * far + memory.drive[e, b.OUTSIDE_DRIVE]
    ii = element[e, b.CONDUCT_II] + film
    io = element[e, b.CONDUCT_IO] + 0.0 * film
    oo = element[e, b.CONDUCT_OO] + beyond
    for m in range(layout.first[e], layout.first[e + 1]):
        ii -= mode[m, b.COUPLE_IN] * mode[m, b.COUPLE_IN] / mode[m, b.RATE]
        io -= mode[m, b.COUPLE_IN] * mode[m, b.COUPLE_OUT] / mode[m, b.RATE]
        oo -= mode[m, b.COUPLE_OUT] * mode[m, b.COUPLE_OUT] / mode[m, b.RATE]
    scale = 1.0 / (ii * oo - io * io)
    inside = (oo * inner - io * outer) * scale
    outside = (ii * outer - io * inner) * scale
    own[e, mem.SURFACE_IN] = inside
    own[e, mem.SURFACE_OUT] = outside
    own[e, mem.MEAN_IN] = inside
    own[e, mem.MEAN_OUT] = outside
    for m in range(layout.first[e], layout.first[e + 1]):
        driven = mode[m, b.COUPLE_IN] * inside + mode[m, b.COUPLE_OUT] * outside
        memory.mode[m, mem.MODE] = driven / mode[m, b.RATE]


@compiled()
def _begin_elements(layout: Layout, numbers: Numbers, memory: Memory, g: float) -> None:
    """Write films and sources of all elements in this hour, and how their surfaces follow."""
    room, zones = memory.zone, memory.zone.shape[0]
    beside = memory.beside_lines
    for z in range(zones):
        air, slab = filled(room[z, mem.AIR_MEAN]), filled(room[z, mem.SLAB])
        for e in range(layout.facing_first[z], layout.facing_first[z + 1]):
            if layout.natural:
                natural_film(numbers, memory, e, 0, air)
            reach(layout, numbers, memory, e, memory.drive[e, b.OUTSIDE_FILM], slab, g)
    if layout.heated:
        for k in range(layout.wall_inside.size):
            inside = layout.wall_inside[k]
            memory.beside[mem.SLAB_IN, layout.wall_place[k]] = room[inside, mem.SLAB]
    for e in range(layout.facing_first[zones], layout.facing_first[zones + 1]):
        w = e - layout.facing_first[zones]
        if layout.natural:
            natural_film(numbers, memory, e, 0, beside[mem.NODES_IN, w])
            natural_film(numbers, memory, e, 1, beside[mem.NODES_OUT, w])
        beyond = memory.element[e, mem.FILM_OUT] + numbers.element[e, b.RADIATION_OUT]
        reach(layout, numbers, memory, e, beyond, beside[mem.SLAB_IN, w], g)


@compiled()
def _wet_surfaces(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Give the heat of what condensed in the last hour to the surfaces it condensed on."""
    own = memory.element
    room = memory.zone
    for z in range(memory.zone.shape[0]):
        for lane in range(width(room[z, mem.AIR])):
            heat = take(room[z, mem.GIVEN_BACK], lane)
            if heat > 0.0:
                i = np.uint32(take(room[z, mem.WHERE_WET], lane))
                e, place = layout.group[i], layout.lane[i] + lane
                warmed = own[e, mem.SOURCE_IN]
                heat = heat / take(numbers.element[e, b.AREA], place)
                own[e, mem.SOURCE_IN] = put(warmed, place, take(warmed, place) + heat)


@compiled()
def _empty_means(layout: Layout, memory: Memory) -> None:
    """Write how the airs answer the plants, and nothing yet to the means of the hour."""
    own, room, zones = memory.element, memory.zone, memory.zone.shape[0]
    for z in range(zones):
        room[z, mem.HOLDS] = 1.0 / memory.response[z * zones + z]
        room[z, mem.AIR_MEAN] = 0.0
        room[z, mem.STAR_MEAN] = 0.0
        room[z, mem.POWER_MEAN] = 0.0
        room[z, mem.VENTED] = 0.0
    for z in range(zones + 1):
        for e in range(layout.facing_first[z], layout.facing_middle[z]):
            own[e, mem.MEAN_IN] = 0.0
            own[e, mem.MEAN_OUT] = 0.0


@compiled()
def _stage(
    layout: Layout,
    numbers: Numbers,
    memory: Memory,
    scratch: Scratch,
    at: int,
    outdoor: float,
    g: float,
    share: float,
    last: bool,
) -> None:
    """Solve one stage and add its `share` to the means of the hour."""
    room, node = memory.zone, memory.node
    zones = memory.zone.shape[0]
    onward = 1.0 if last else ONWARD
    loads(layout, numbers, memory)
    if zones == 1:  # a number known to the compiler lets it unroll the loops
        nodes(numbers, memory, scratch, at, outdoor, last, 1)
    elif zones == 4:
        nodes(numbers, memory, scratch, at, outdoor, last, 4)
    else:
        nodes(numbers, memory, scratch, at, outdoor, last, zones)
    for z in range(zones):
        air, star = node[2 * z], node[2 * z + 1]
        room[z, mem.AIR_MEAN] += share * air
        room[z, mem.STAR_MEAN] += share * star
        room[z, mem.AIR] += onward * (air - room[z, mem.AIR])
        if last:
            room[z, mem.POWER_MEAN] += share * room[z, mem.POWER]
            room[z, mem.VENTED] += share * room[z, mem.VENT]
    follow(layout, numbers, memory, g, share, onward)


@compiled()
def _massless_means(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write the means of the hour of elements that store nothing, from those of the nodes."""
    own, room, zones = memory.element, memory.zone, memory.zone.shape[0]
    for z in range(zones):
        memory.node[2 * z] = room[z, mem.AIR_MEAN]
        memory.node[2 * z + 1] = room[z, mem.STAR_MEAN]
    put_beside(layout, memory)
    for z in range(zones):
        air, star = filled(room[z, mem.AIR_MEAN]), filled(room[z, mem.STAR_MEAN])
        for e in range(layout.facing_middle[z], layout.facing_first[z + 1]):
            means = surface_temperatures(numbers, memory, e, air, star)
            own[e, mem.MEAN_IN], own[e, mem.MEAN_OUT] = means
    for e in range(layout.facing_middle[zones], layout.facing_first[zones + 1]):
        means = wall_temperatures(layout, numbers, memory, e)
        own[e, mem.MEAN_IN], own[e, mem.MEAN_OUT] = means


@compiled()
def _record(
    layout: Layout,
    numbers: Numbers,
    weather: Weather,
    memory: Memory,
    h: int,
    hours: Hours,
) -> None:
    """Write the means of hour `h`, all of them where there is room for all."""
    own = memory.element
    room = memory.zone
    element, outdoor = numbers.element, weather.outdoor_air[h]
    for z in range(memory.zone.shape[0]):
        hours.air[h, z] = room[z, mem.AIR_MEAN]
        hours.star[h, z] = room[z, mem.STAR_MEAN]
        hours.plant[h, z] = room[z, mem.POWER_MEAN]
    if hours.flow_inside.shape[0] == 1:
        return
    for z in range(memory.zone.shape[0]):
        leaving = room[z, mem.CARRIED] * (room[z, mem.AIR_MEAN] - outdoor)
        hours.air_loss[h, z] = leaving + room[z, mem.VENTED]
        hours.bodies[h, z] = room[z, mem.BODIES]
        hours.stove[h, z] = room[z, mem.STOVE]
        hours.latent[h, z] = room[z, mem.GIVEN_BACK] - room[z, mem.TAKEN]
        hours.condensed[h, z] = room[z, mem.CONDENSED]
        hours.humidity[h, z] = room[z, mem.HUMIDITY]
        hours.moved[h, z] = 0.0
        hours.slab[h, z] = 0.0
    for p in range(layout.passage_from.size):
        one, other = layout.passage_from[p], layout.passage_to[p]
        heat = memory.between[p] * (room[one, mem.AIR_MEAN] - room[other, mem.AIR_MEAN])
        hours.moved[h, one] -= heat
        hours.moved[h, other] += heat
    for k in range(memory.closed.size):
        hours.closed[h, k] = memory.closed[k]
    zones = memory.zone.shape[0]
    for z in range(zones):
        air, star = filled(room[z, mem.AIR_MEAN]), filled(room[z, mem.STAR_MEAN])
        slab = filled(room[z, mem.SLAB])
        for e in range(layout.facing_first[z], layout.facing_first[z + 1]):
            if layout.heated:
                heated = together(element[e, b.AREA] * element[e, b.HEATED], room[z, mem.SLAB])
                hours.slab[h, z] += heated * room[z, mem.SLAB]
            leaving = -memory.drive[e, b.OUTSIDE_FILM] * own[e, mem.MEAN_OUT]
            _record_element(layout, numbers, memory, h, hours, e, air, star, slab, leaving)
    for e in range(layout.facing_first[zones], layout.facing_first[zones + 1]):
        beside, w = memory.beside_lines, e - layout.facing_first[zones]
        for k in range(layout.begin[e], layout.begin[e + 1]):
            i = layout.wall_inside[k - layout.element_first[zones]]
            heated = element[e, b.AREA] * element[e, b.HEATED]
            heated = part(heated, layout.lane[k], room[i, mem.SLAB])
            hours.slab[h, i] += heated * room[i, mem.SLAB]
        outer = own[e, mem.MEAN_OUT]
        leaving = own[e, mem.FILM_OUT] * (beside[mem.NODES_OUT, w] - outer)
        leaving += element[e, b.RADIATION_OUT] * (beside[mem.NODES_OUT + 1, w] - outer)
        air, star = beside[mem.NODES_IN, w], beside[mem.NODES_IN + 1, w]
        slab = beside[mem.SLAB_IN, w]
        _record_element(layout, numbers, memory, h, hours, e, air, star, slab, leaving)


@compiled()
def _record_element(
    layout: Layout, numbers: Numbers, memory: Memory, h: int, hours: Hours,
    e: int, air: Any, star: Any, slab: Any, leaving: Any,
) -> None:  # fmt: skip
    """Write what flowed into an element in hour `h` and the mean of its inside surface.

    `air` and `star` [degC] are what it faced, `slab` [W/m2] was put into what is heated,
    `leaving` [W/m2] came from outside by film and long waves.
    """
    own, element = memory.element, numbers.element
    inner = own[e, mem.MEAN_IN]
    entering = own[e, mem.SOURCE_IN] - element[e, b.BURIED_IN] * slab
    entering += own[e, mem.FILM_IN] * (air - inner)
    entering += element[e, b.RADIATION_IN] * (star - inner)
    leaving += memory.drive[e, b.OUTSIDE_DRIVE]
    lay(hours.flow_inside, h, layout.begin[e], element[e, b.AREA] * entering)
    lay(hours.flow_outside, h, layout.begin[e], element[e, b.AREA] * leaving)
    lay(hours.surface, h, layout.begin[e], inner)


@compiled(inlined=False)
def march(
    layout: Layout,
    all_numbers: Numbers,
    weather: Weather,
    mean: Weather,
    all_memory: Memory,
    scratch: Scratch,
    all_hours: Hours,
    hours_before: int,
    steps_per_hour: int,
) -> None:
    """March all zones through the year after `hours_before` hours of running in.

    It runs in from the steady state of `mean`, one hour; without running in, it starts
    with everything at one temperature, half-way between 20 degC and the air outdoors.
    Numbers, memory and hours of a batch have a last axis of `WIDTH` designs; of one design
    those of its elements have one of elements (see `noonmark.balance.lanes`, `.groups`).
    """
    numbers, hours = in_lanes(all_numbers, all_hours.air), in_lanes(all_hours, all_hours.air)
    memory = in_lanes(all_memory, all_hours.air)
    count = weather.outdoor_air.size
    zones = memory.zone.shape[0]
    g = GAMMA * 3600.0 / steps_per_hour
    zone_rows = b.COVER_ROWS * layout.cover_zone.size + b.PASSAGE_ROWS * layout.passage_from.size
    _prepare(layout, numbers, memory, g)
    start = 0.5 * (20.0 + weather.outdoor_air[0])
    _begin(layout, numbers, memory, start, weather.outdoor_humidity[0])
    if hours_before > 0:
        look_ahead(layout, numbers, mean, memory, 0)
        drivers(layout, numbers, mean, memory, 0, 0)
        _settle(layout, numbers, memory, zone_rows)
    for t in range(-hours_before, count):
        h = t % count
        outdoor = weather.outdoor_air[h]
        if t == 0:
            hours.stored[0, 0] = _stored(layout, numbers, memory)
        place = (t + hours_before) % mem.AHEAD
        if place == 0:
            look_ahead(layout, numbers, weather, memory, h)
        drivers(layout, numbers, weather, memory, h, place)
        air_flows(layout, numbers, memory, zone_rows, outdoor)
        gains(layout, numbers, weather, memory, zone_rows, outdoor)
        covered_conductance(layout, numbers, memory)
        _begin_elements(layout, numbers, memory, g)
        _wet_surfaces(layout, numbers, memory)
        eliminate(layout, numbers, memory)
        condense(memory.response, memory.holding, memory.lever, memory.star, memory.node, zones)
        _empty_means(layout, memory)
        massless_loads(layout, numbers, memory)
        for stage in range(2 * steps_per_hour):
            last = stage % 2 == 1
            share = (GAMMA if last else 1.0 - GAMMA) / steps_per_hour
            _stage(layout, numbers, memory, scratch, zone_rows, outdoor, g, share, last)
        _massless_means(layout, numbers, memory)
        vapour(layout, numbers, weather, memory, h)
        if t >= 0:
            _record(layout, numbers, weather, memory, h, hours)
    hours.stored[1, 0] = _stored(layout, numbers, memory)
