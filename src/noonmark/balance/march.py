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

import math
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
    natural_films,
    vapour,
)
from noonmark.balance.lanes import any_above, lay, least, most, put, take, together, where, width
from noonmark.balance.memory import Memory, Scratch
from noonmark.balance.small import condense, held_power
from noonmark.balance.surfaces import (
    eliminate,
    follow,
    loads,
    massless_loads,
    reach,
    surface_temperatures,
)
from noonmark.compiled import compiled

_GAMMA = 1.0 - 1.0 / math.sqrt(2.0)
_ONWARD = (1.0 - _GAMMA) / _GAMMA

_SWEEPS = 20
_SETTLED = 1e-6
"""The windows of several zones are set again by each other's at most so often, until all
carry the same within so many W."""

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
    for e in range(layout.zone_inside.size):
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
def _open_windows(
    numbers: Numbers, memory: Memory, at: int, outdoor: float, widen: float, zones: int
) -> None:
    """Write what opened windows carry in a stage [W], and take it from the `FREE` airs.

    `widen` is what capacities count in the stage.
    """
    room, zone, response = memory.zone, numbers.zone, memory.response
    for z in range(zones):
        room[z, mem.VENT] = 0.0
    for _sweep in range(1 if zones == 1 else _SWEEPS):  # windows of one zone air the next
        moved = 0.0 * room[0, mem.VENT]
        for z in range(zones):
            swing, before = response[z * zones + z], room[z, mem.VENT]
            free = room[z, mem.FREE] + swing * before
            if not any_above(most(free - zone[z, b.VENT_ABOVE], before), 0.0):
                continue
            cool_set = memory.now[at + b.ZONE_ROWS * z + b.COOL_SET]
            # fully open beside a cooler, they carry the heat of the room it cools
            most_open = room[z, mem.VENT_MOST] * widen
            damped = 1.0 + swing * most_open
            calm = 1.0 / damped
            airy = (free + swing * most_open * outdoor) * calm
            cooled = least(
                most((airy - cool_set) * damped * room[z, mem.HOLDS], 0.0),
                zone[z, b.COOL_MOST] * widen,
            )
            fully = most(most_open * (airy - swing * cooled * calm - outdoor), 0.0)
            # opened just enough to hold `vent_above`, or fully, while it is cooler outside
            vent = least(most((free - zone[z, b.VENT_ABOVE]) * room[z, mem.HOLDS], 0.0), fully)
            room[z, mem.VENT] = vent
            moved = most(moved, most(vent - before, before - vent))
            for y in range(zones):
                room[y, mem.FREE] -= response[y * zones + z] * (vent - before)
        if not any_above(moved, _SETTLED):
            break


@compiled()
def _plant_and_windows(
    numbers: Numbers,
    memory: Memory,
    scratch: Scratch,
    at: int,
    outdoor: float,
    last: bool,
    zones: int,
) -> None:
    """Open windows, then heat or cool: write `vent` and `power` [W] of a stage.

    `free` comes as the air temperatures without either, and leaves as those without
    the plant. In the last stage plant and windows can do more: it makes the mean of
    the step.
    """
    room = memory.zone
    zone, response = numbers.zone, memory.response
    widen = 1.0 / _GAMMA if last else 1.0
    _open_windows(numbers, memory, at, outdoor, widen, zones)
    if zones == 1:
        heat = (memory.now[at + b.HEAT_SET] - room[0, mem.FREE]) * room[0, mem.HOLDS]
        cool = (room[0, mem.FREE] - memory.now[at + b.COOL_SET]) * room[0, mem.HOLDS]
        heat = least(most(heat, 0.0), zone[0, b.HEAT_MOST] * widen)
        room[0, mem.POWER] = heat - least(most(cool, 0.0), zone[0, b.COOL_MOST] * widen)
        return
    beyond = 0.0 * room[0, mem.FREE]
    for z in range(zones):
        row, free = at + b.ZONE_ROWS * z, room[z, mem.FREE]
        beyond = most(
            beyond, most(memory.now[row + b.HEAT_SET] - free, free - memory.now[row + b.COOL_SET])
        )
        room[z, mem.POWER] = 0.0
    if not any_above(beyond, 0.0):
        return
    for lane in range(width(room[0, mem.FREE])):
        for z in range(zones):
            row = at + b.ZONE_ROWS * z
            scratch.limits[z, 0] = take(memory.now[row + b.HEAT_SET], lane)
            scratch.limits[z, 1] = take(memory.now[row + b.COOL_SET], lane)
            scratch.limits[z, 2] = take(zone[z, b.HEAT_MOST], lane) * widen
            scratch.limits[z, 3] = take(zone[z, b.COOL_MOST], lane) * widen
            scratch.free[z] = take(room[z, mem.FREE], lane)
            for y in range(zones):
                scratch.response[z * zones + y] = take(response[z * zones + y], lane)
        held_power(scratch.free, scratch.response, scratch.limits, scratch.power, scratch.matrix)
        for z in range(zones):
            room[z, mem.POWER] = put(room[z, mem.POWER], lane, scratch.power[z])


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
    for e in range(layout.zone_inside.size):
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
    for e in range(layout.zone_inside.size):
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
    """Write the state in which this hour would never end: rooms at what heats them, if anything.

    The ground remembers for months; a running in from here needs no more than weeks.
    """
    own = memory.element
    room = memory.zone
    element, mode = numbers.element, numbers.mode
    for z in range(memory.zone.shape[0]):
        held = memory.now[zone_rows + b.ZONE_ROWS * z + b.HEAT_SET]
        room[z, mem.AIR] = where(held > _UNHEATED, held, room[z, mem.AIR])
        room[z, mem.AIR_MEAN] = room[z, mem.AIR]
    for e in range(layout.zone_inside.size):
        film = own[e, mem.FILM_IN] + element[e, b.RADIATION_IN]
        inner = film * room[layout.zone_inside[e], mem.AIR] + memory.drive[e, b.INSIDE_SOURCE]
        outer = memory.drive[e, b.OUTSIDE_DRIVE]
        beyond = memory.drive[e, b.OUTSIDE_FILM]
        if layout.zone_outside[e] >= 0:
            beyond = own[e, mem.FILM_OUT] + element[e, b.RADIATION_OUT]
            outer += beyond * room[layout.zone_outside[e], mem.AIR]
        ii = element[e, b.CONDUCT_II] + film
        io = element[e, b.CONDUCT_IO] + 0.0 * film
        oo = element[e, b.CONDUCT_OO] + beyond
        for m in range(layout.first[e], layout.first[e + 1]):
            ii -= mode[m, b.COUPLE_IN] * mode[m, b.COUPLE_IN] / mode[m, b.RATE]
            io -= mode[m, b.COUPLE_IN] * mode[m, b.COUPLE_OUT] / mode[m, b.RATE]
            oo -= mode[m, b.COUPLE_OUT] * mode[m, b.COUPLE_OUT] / mode[m, b.RATE]
        scale = 1.0 / (ii * oo - io * io)
        near = (oo * inner - io * outer) * scale
        far = (ii * outer - io * inner) * scale
        own[e, mem.SURFACE_IN] = near
        own[e, mem.SURFACE_OUT] = far
        own[e, mem.MEAN_IN] = near
        own[e, mem.MEAN_OUT] = far
        for m in range(layout.first[e], layout.first[e + 1]):
            driven = mode[m, b.COUPLE_IN] * near + mode[m, b.COUPLE_OUT] * far
            memory.mode[m, mem.MODE] = driven / mode[m, b.RATE]


@compiled()
def _sources(layout: Layout, numbers: Numbers, memory: Memory, e: int, g: float) -> None:
    """Write what surfaces and buried layers of an element receive in this hour."""
    own = memory.element
    room = memory.zone
    element, mode = numbers.element, numbers.mode
    slab = room[layout.zone_inside[e], mem.SLAB]
    own[e, mem.SOURCE_IN] = memory.drive[e, b.INSIDE_SOURCE] + element[e, b.BURIED_IN] * slab
    own[e, mem.SOURCE_OUT] = memory.drive[e, b.OUTSIDE_DRIVE] + element[e, b.BURIED_OUT] * slab
    if layout.heated:
        for m in range(layout.first[e], layout.first[e + 1]):
            memory.mode[m, mem.PUSH] = g * mode[m, b.BURIED] * slab


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
        for e in range(layout.facing_first[z], layout.facing_middle[z]):
            own[e, mem.MEAN_IN] = 0.0
            own[e, mem.MEAN_OUT] = 0.0


@compiled()
def _nodes(
    numbers: Numbers,
    memory: Memory,
    scratch: Scratch,
    at: int,
    outdoor: float,
    last: bool,
    zones: int,
) -> None:
    """Write the nodes of all zones in a stage from what drives them, and `vent` and `power`."""
    room, right, node = memory.zone, memory.right, memory.node
    response, lever = memory.response, memory.lever
    for z in range(zones):
        if last:  # so that a room ends on its set-point and not beyond it
            right[2 * z] -= _ONWARD * (room[z, mem.POWER] - room[z, mem.VENT])
        for y in range(zones):
            right[2 * z] -= lever[z * zones + y] * right[2 * y + 1]
    for z in range(zones):
        free = response[z * zones] * right[0]
        for y in range(1, zones):
            free += response[z * zones + y] * right[2 * y]
        room[z, mem.FREE] = free
    _plant_and_windows(numbers, memory, scratch, at, outdoor, last, zones)
    for z in range(zones):
        air = room[z, mem.FREE]
        for y in range(zones):
            air += response[z * zones + y] * room[y, mem.POWER]
        node[2 * z] = air
    for z in range(zones):
        star = memory.star[z * zones] * right[1] - lever[z] * node[0]
        for y in range(1, zones):
            star += memory.star[z * zones + y] * right[2 * y + 1]
            star -= lever[y * zones + z] * node[2 * y]
        node[2 * z + 1] = star


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
    onward = 1.0 if last else _ONWARD
    loads(layout, numbers, memory)
    if zones == 1:  # a number known to the compiler lets it unroll the loops
        _nodes(numbers, memory, scratch, at, outdoor, last, 1)
    elif zones == 4:
        _nodes(numbers, memory, scratch, at, outdoor, last, 4)
    else:
        _nodes(numbers, memory, scratch, at, outdoor, last, zones)
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
    for e in range(layout.zone_inside.size):
        i = layout.zone_inside[e]
        o = layout.zone_outside[e]
        area = element[e, b.AREA]
        heated = together(area * element[e, b.HEATED], room[i, mem.SLAB])
        hours.slab[h, i] += heated * room[i, mem.SLAB]
        inner, outer = own[e, mem.MEAN_IN], own[e, mem.MEAN_OUT]
        entering = own[e, mem.SOURCE_IN] - element[e, b.BURIED_IN] * room[i, mem.SLAB]
        entering += own[e, mem.FILM_IN] * (room[i, mem.AIR_MEAN] - inner)
        entering += element[e, b.RADIATION_IN] * (room[i, mem.STAR_MEAN] - inner)
        leaving = memory.drive[e, b.OUTSIDE_DRIVE]
        if o < 0:
            leaving -= memory.drive[e, b.OUTSIDE_FILM] * outer
        else:
            leaving += own[e, mem.FILM_OUT] * (room[o, mem.AIR_MEAN] - outer)
            leaving += element[e, b.RADIATION_OUT] * (room[o, mem.STAR_MEAN] - outer)
        lay(hours.flow_inside, h, layout.begin[e], area * entering)
        lay(hours.flow_outside, h, layout.begin[e], area * leaving)
        lay(hours.surface, h, layout.begin[e], inner)


@compiled()
def march(
    layout: Layout,
    numbers: Numbers,
    weather: Weather,
    memory: Memory,
    scratch: Scratch,
    hours: Hours,
    hours_before: int,
    steps_per_hour: int,
) -> None:
    """March all zones through the year after `hours_before` hours of running in.

    It runs in from a steady state; without running in, it starts with everything
    at one temperature, half-way between 20 degC and the air outdoors.
    Numbers, memory and hours hold lanes of designs; or those of elements lanes of
    elements and all else floats (see `noonmark.balance.lanes`, `.groups`).
    """
    own = memory.element
    room = memory.zone
    count = weather.outdoor_air.size
    zones = memory.zone.shape[0]
    g = _GAMMA * 3600.0 / steps_per_hour
    zone_rows = b.COVER_ROWS * layout.cover_zone.size + b.PASSAGE_ROWS * layout.passage_from.size
    _prepare(layout, numbers, memory, g)
    start = 0.5 * (20.0 + weather.outdoor_air[0])
    _begin(layout, numbers, memory, start, weather.outdoor_humidity[0])
    for t in range(-hours_before, count):
        h = t % count
        outdoor = weather.outdoor_air[h]
        if t == 0:
            hours.stored[0, 0] = _stored(layout, numbers, memory)
        drivers(layout, numbers, weather, memory, h)
        if t == -hours_before and t < 0:
            _settle(layout, numbers, memory, zone_rows)
        air_flows(layout, numbers, memory, zone_rows, outdoor)
        gains(layout, numbers, weather, memory, zone_rows, outdoor)
        covered_conductance(layout, numbers, memory)
        for e in range(layout.zone_inside.size):
            if layout.natural:
                natural_films(layout, numbers, memory, e)
            reach(layout, numbers, memory, e)
            _sources(layout, numbers, memory, e, g)
        _wet_surfaces(layout, numbers, memory)
        eliminate(layout, numbers, memory)
        condense(memory.response, memory.lever, memory.star, memory.node, zones)
        _empty_means(layout, memory)
        massless_loads(layout, numbers, memory)
        for stage in range(2 * steps_per_hour):
            last = stage % 2 == 1
            share = (_GAMMA if last else 1.0 - _GAMMA) / steps_per_hour
            _stage(layout, numbers, memory, scratch, zone_rows, outdoor, g, share, last)
        for z in range(zones):
            memory.node[2 * z] = room[z, mem.AIR_MEAN]
            memory.node[2 * z + 1] = room[z, mem.STAR_MEAN]
        for z in range(zones):
            for e in range(layout.facing_middle[z], layout.facing_first[z + 1]):
                inner, outer = surface_temperatures(layout, numbers, memory, e, memory.node)
                own[e, mem.MEAN_IN] = inner
                own[e, mem.MEAN_OUT] = outer
        vapour(layout, numbers, weather, memory, h)
        if t >= 0:
            _record(layout, numbers, weather, memory, h, hours)
    hours.stored[1, 0] = _stored(layout, numbers, memory)
