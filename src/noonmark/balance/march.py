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

from noonmark.balance import block as b
from noonmark.balance.block import FloatArray, Hours, Layout, Memory, Numbers, Scratch, Weather
from noonmark.balance.compiled import compiled
from noonmark.balance.hourly import (
    air_flows,
    covered_conductance,
    drivers,
    gains,
    natural_films,
    vapour,
)
from noonmark.balance.lanes import least, most, put, take, where, width
from noonmark.balance.small import held_power, invert

_GAMMA = 1.0 - 1.0 / math.sqrt(2.0)
_ONWARD = (1.0 - _GAMMA) / _GAMMA


@compiled()
def _stored(layout: Layout, numbers: Numbers, memory: Memory) -> Any:
    """Return the heat stored above 0 degC [J]."""
    element, first, surface = numbers.element, layout.first, memory.surface
    total = 0.0 * memory.air[0]
    for z in range(memory.air.size):
        total += numbers.zone[z, b.AIR_CAPACITY] * memory.air[z]
    for e in range(layout.massive):
        areal = element[e, b.STORE_II] * surface[e, 0] + element[e, b.STORE_OO] * surface[e, 1]
        areal += element[e, b.STORE_IO] * (surface[e, 0] + surface[e, 1])
        for m in range(first[e], first[e + 1]):
            areal += numbers.mode[m, b.STORAGE] * memory.modes[m]
        total += element[e, b.AREA] * areal
    return total


@compiled()
def _eliminate_surfaces(
    layout: Layout, numbers: Numbers, memory: Memory, at: int, matrix: FloatArray
) -> None:
    """Write how surfaces follow their loads and add them to the zone matrix.

    `stiff` (e, 3) is each element's own flow per K of surface temperature in a
    stage; with the films added, the 2 x 2 inverse goes to `reach` (e, 3).
    `matrix` (2 z, 2 z) holds air and star node of each zone in turn. `at` is the
    first row of the elements.
    """
    element, convection, stiff = numbers.element, memory.convection, memory.stiff
    for e in range(layout.zone_inside.size):
        area = element[e, b.AREA]
        hc = convection[e, 0]
        hr = element[e, b.RADIATION_IN]
        outer = layout.zone_outside[e]
        kc = convection[e, 1]
        kr = element[e, b.RADIATION_OUT]
        film = kc + kr if outer >= 0 else memory.now[at + b.ELEMENT_ROWS * e + b.OUTSIDE_FILM]
        ii = stiff[e, 0] + hc + hr
        io = stiff[e, 1]
        oo = stiff[e, 2] + film
        scale = 1.0 / (ii * oo - io * io)
        near = oo * scale
        cross = -io * scale
        far = ii * scale
        memory.reach[e, 0] = near
        memory.reach[e, 1] = cross
        memory.reach[e, 2] = far
        i = 2 * layout.zone_inside[e]
        matrix[i, i] += area * hc * (1.0 - near * hc)
        matrix[i + 1, i + 1] += area * hr * (1.0 - near * hr)
        matrix[i, i + 1] -= area * hc * near * hr
        matrix[i + 1, i] -= area * hc * near * hr
        if outer >= 0:
            o = 2 * outer
            matrix[o, o] += area * kc * (1.0 - far * kc)
            matrix[o + 1, o + 1] += area * kr * (1.0 - far * kr)
            matrix[o, o + 1] -= area * kc * far * kr
            matrix[o + 1, o] -= area * kc * far * kr
            for row, inner in ((0, hc), (1, hr)):
                for column, outward in ((0, kc), (1, kr)):
                    linked = area * cross * inner * outward
                    matrix[i + row, o + column] -= linked
                    matrix[o + column, i + row] -= linked


@compiled()
def _arrive(layout: Layout, numbers: Numbers, memory: Memory, e: int, right: FloatArray) -> None:
    """Add what the loads of element `e` bring to its zones with their nodes at 0 degC."""
    convection, reach, element = memory.convection, memory.reach, numbers.element
    i = 2 * layout.zone_inside[e]
    brought = reach[e, 0] * memory.load[e, 0] + reach[e, 1] * memory.load[e, 1]
    brought *= element[e, b.AREA]
    right[i] += convection[e, 0] * brought
    right[i + 1] += element[e, b.RADIATION_IN] * brought
    if layout.zone_outside[e] >= 0:
        o = 2 * layout.zone_outside[e]
        brought = reach[e, 1] * memory.load[e, 0] + reach[e, 2] * memory.load[e, 1]
        brought *= element[e, b.AREA]
        right[o] += convection[e, 1] * brought
        right[o + 1] += element[e, b.RADIATION_OUT] * brought


@compiled()
def _surfaces(
    layout: Layout, numbers: Numbers, memory: Memory, e: int, node: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return both surface temperatures of element `e` from the nodes of its zones."""
    convection, reach, element = memory.convection, memory.reach, numbers.element
    i = 2 * layout.zone_inside[e]
    inner = memory.load[e, 0] + convection[e, 0] * node[i]
    inner += element[e, b.RADIATION_IN] * node[i + 1]
    outer = memory.load[e, 1]
    if layout.zone_outside[e] >= 0:
        o = 2 * layout.zone_outside[e]
        outer += convection[e, 1] * node[o] + element[e, b.RADIATION_OUT] * node[o + 1]
    return (
        reach[e, 0] * inner + reach[e, 1] * outer,
        reach[e, 1] * inner + reach[e, 2] * outer,
    )


@compiled()
def _plant_and_windows(
    numbers: Numbers, memory: Memory, scratch: Scratch, at: int, outdoor: float, last: bool
) -> None:
    """Open windows, then heat or cool: write `vent` and `power` [W] of a stage.

    `free` comes as the air temperatures without either. The last stage makes the
    mean of the step: what the first gave is counted, so that a room ends on its
    set-point and not beyond it.
    """
    zone, free, response, power = numbers.zone, memory.free, memory.response, memory.power
    zones = free.size
    onward = _ONWARD if last else 0.0
    widen = 1.0 / _GAMMA if last else 1.0
    for z in range(zones):
        memory.given[z] = onward * (power[z] - memory.vent[z])
    for z in range(zones):
        for y in range(zones):
            free[z] -= response[z, y] * memory.given[y]
    # windows are opened just enough to hold `vent_above`, or fully, while it is cooler outside
    for z in range(zones):
        own = response[z, z]
        open_most = memory.vent_most[z] * widen
        warmer = free[z] - outdoor
        fully = open_most * warmer / (1.0 + own * open_most)
        held = zone[z, b.VENT_ABOVE]
        opens = (free[z] > held) & (warmer > 0.0)
        memory.vent[z] = where(opens, least((free[z] - held) / own, fully), 0.0)
        for y in range(zones):
            free[y] -= response[y, z] * memory.vent[z]
    if zones == 1:
        heat = (memory.now[at + b.HEAT_SET] - free[0]) / response[0, 0]
        cool = (free[0] - memory.now[at + b.COOL_SET]) / response[0, 0]
        heat = least(most(heat, 0.0), zone[0, b.HEAT_MOST] * widen)
        power[0] = heat - least(most(cool, 0.0), zone[0, b.COOL_MOST] * widen)
        return
    for lane in range(width(free[0])):
        for z in range(zones):
            row = at + b.ZONE_ROWS * z
            scratch.limits[z, 0] = take(memory.now[row + b.HEAT_SET], lane)
            scratch.limits[z, 1] = take(memory.now[row + b.COOL_SET], lane)
            scratch.limits[z, 2] = take(zone[z, b.HEAT_MOST], lane) * widen
            scratch.limits[z, 3] = take(zone[z, b.COOL_MOST], lane) * widen
            scratch.free[z] = take(free[z], lane)
            for y in range(zones):
                scratch.response[z, y] = take(response[z, y], lane)
        held_power(scratch.free, scratch.response, scratch.limits, scratch.power, scratch.matrix)
        for z in range(zones):
            power[z] = put(power[z], lane, scratch.power[z])


@compiled()
def _prepare(layout: Layout, numbers: Numbers, memory: Memory, g: float) -> None:
    """Write the constants of the stage equations of length `g` [s].

    A mode becomes keep * (was + push + g * coupling @ surfaces).
    """
    element, mode, stiff, slow = numbers.element, numbers.mode, memory.stiff, memory.slow
    for m in range(mode.shape[0]):
        memory.keep[m] = 1.0 / (1.0 + g * mode[m, b.RATE])
        memory.past[m, 0] = mode[m, b.COUPLE_IN] * memory.keep[m]
        memory.past[m, 1] = mode[m, b.COUPLE_OUT] * memory.keep[m]
    for z in range(memory.air.size):
        memory.slow_air[z] = numbers.zone[z, b.AIR_CAPACITY] / g
    for e in range(layout.zone_inside.size):
        for k in range(3):
            slow[e, k] = element[e, b.STORE_II + k] / g
            stiff[e, k] = element[e, b.CONDUCT_II + k] + slow[e, k]
        for m in range(layout.first[e], layout.first[e + 1]):
            stiff[e, 0] -= g * memory.past[m, 0] * mode[m, b.COUPLE_IN]
            stiff[e, 1] -= g * memory.past[m, 0] * mode[m, b.COUPLE_OUT]
            stiff[e, 2] -= g * memory.past[m, 1] * mode[m, b.COUPLE_OUT]


@compiled()
def _begin(layout: Layout, numbers: Numbers, memory: Memory, start: float, humidity: float) -> None:
    """Write the rows that never change, and a state that is the same everywhere.

    `start` [degC], `humidity` [kg/kg].
    """
    for r in range(layout.row_first.size - 1):
        total = 0.0 * memory.air[0]
        for t in range(layout.row_first[r], layout.row_first[r + 1]):
            total += numbers.coefficient[t]
        memory.now[r] = total
    for z in range(memory.air.size):
        memory.air[z] = start
        memory.air_mean[z] = start
        memory.humidity[z] = humidity
        memory.burning[z] = 1.0 * numbers.curve.shape[1]
        memory.condensed[z] = 0.0
        memory.power[z] = 0.0
        memory.vent[z] = 0.0
        memory.where_wet[z] = -1.0
    for e in range(layout.zone_inside.size):
        for side in range(2):
            memory.surface[e, side] = start
            memory.mean[e, side] = start
            memory.convection[e, side] = numbers.element[e, b.FILM_OUT if side else b.FILM_IN]
    for m in range(numbers.mode.shape[0]):
        memory.modes[m] = numbers.mode[m, b.STORAGE] * start
        memory.push[m] = 0.0


@compiled()
def _sources(layout: Layout, numbers: Numbers, memory: Memory, at: int, g: float) -> None:
    """Write what surfaces and buried layers receive in this hour, whatever they are at."""
    element, mode = numbers.element, numbers.mode
    for e in range(layout.zone_inside.size):
        z = layout.zone_inside[e]
        row = at + b.ELEMENT_ROWS * e
        away = memory.where_wet[z] - float(e)
        here = (away > -0.5) & (away < 0.5)
        wetted = where(here, memory.given_back[z] / element[e, b.AREA], 0.0)
        slab = memory.slab[z]
        memory.source[e, 0] = memory.now[row + b.INSIDE_SOURCE] + wetted
        memory.source[e, 0] += element[e, b.BURIED_IN] * slab
        memory.source[e, 1] = memory.now[row + b.OUTSIDE_DRIVE] + element[e, b.BURIED_OUT] * slab
        if layout.heated:
            for m in range(layout.first[e], layout.first[e + 1]):
                memory.push[m] = g * mode[m, b.BURIED] * slab


@compiled()
def _loads(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write what drives nodes and elements that store heat in a stage: `right`, `load`."""
    surface, modes = memory.surface, memory.modes
    for j in range(memory.right.size):
        memory.right[j] = memory.steady[j]
    for z in range(memory.air.size):
        memory.right[2 * z] += memory.slow_air[z] * memory.air[z]
    for e in range(layout.massive):
        inner = memory.slow[e, 0] * surface[e, 0] + memory.slow[e, 1] * surface[e, 1]
        outer = memory.slow[e, 1] * surface[e, 0] + memory.slow[e, 2] * surface[e, 1]
        for m in range(layout.first[e], layout.first[e + 1]):
            was = modes[m] + memory.push[m]
            inner += memory.past[m, 0] * was
            outer += memory.past[m, 1] * was
        memory.load[e, 0] = inner + memory.source[e, 0]
        memory.load[e, 1] = outer + memory.source[e, 1]
        _arrive(layout, numbers, memory, e, memory.right)


@compiled()
def _follow(
    layout: Layout, numbers: Numbers, memory: Memory, g: float, share: float, last: bool
) -> None:
    """Let surfaces and modes follow the nodes, and add their `share` to the hour's means."""
    surface, modes = memory.surface, memory.modes
    onward = 1.0 if last else _ONWARD
    for e in range(layout.massive):
        inner, outer = _surfaces(layout, numbers, memory, e, memory.node)
        memory.mean[e, 0] += share * inner
        memory.mean[e, 1] += share * outer
        for m in range(layout.first[e], layout.first[e + 1]):
            drive = g * (memory.past[m, 0] * inner + memory.past[m, 1] * outer)
            now = memory.keep[m] * (modes[m] + memory.push[m]) + drive
            modes[m] += onward * (now - modes[m])
        surface[e, 0] += onward * (inner - surface[e, 0])
        surface[e, 1] += onward * (outer - surface[e, 1])


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
    zones, n = memory.air.size, memory.node.size
    onward = 1.0 if last else _ONWARD
    _loads(layout, numbers, memory)
    for z in range(zones):
        free = memory.inverse[2 * z, 0] * memory.right[0]
        for j in range(1, n):
            free += memory.inverse[2 * z, j] * memory.right[j]
        memory.free[z] = free
    _plant_and_windows(numbers, memory, scratch, at, outdoor, last)
    for z in range(zones):
        memory.right[2 * z] += memory.power[z] - memory.vent[z] - memory.given[z]
    for j in range(n):
        node = memory.inverse[j, 0] * memory.right[0]
        for k in range(1, n):
            node += memory.inverse[j, k] * memory.right[k]
        memory.node[j] = node
    for z in range(zones):
        air = memory.node[2 * z]
        memory.air_mean[z] += share * air
        memory.star_mean[z] += share * memory.node[2 * z + 1]
        memory.air[z] += onward * (air - memory.air[z])
        if last:
            memory.power_mean[z] += share * memory.power[z]
            memory.vented[z] += share * memory.vent[z]
    _follow(layout, numbers, memory, g, share, last)


@compiled()
def _record(
    layout: Layout,
    numbers: Numbers,
    weather: Weather,
    memory: Memory,
    at: int,
    h: int,
    hours: Hours,
) -> None:
    """Write the means of hour `h`, all of them where there is room for all."""
    element, outdoor = numbers.element, weather.outdoor_air[h]
    for z in range(memory.air.size):
        hours.air[h, z] = memory.air_mean[z]
        hours.star[h, z] = memory.star_mean[z]
        hours.plant[h, z] = memory.power_mean[z]
    if hours.flow_inside.shape[0] == 1:
        return
    for z in range(memory.air.size):
        leaving = memory.carried[z] * (memory.air_mean[z] - outdoor)
        hours.air_loss[h, z] = leaving + memory.vented[z]
        hours.bodies[h, z] = memory.bodies[z]
        hours.stove[h, z] = memory.stove[z]
        hours.latent[h, z] = memory.given_back[z] - memory.taken[z]
        hours.condensed[h, z] = memory.condensed[z]
        hours.humidity[h, z] = memory.humidity[z]
        hours.moved[h, z] = 0.0
        hours.slab[h, z] = 0.0
    for p in range(layout.passage_from.size):
        one, other = layout.passage_from[p], layout.passage_to[p]
        heat = memory.between[p] * (memory.air_mean[one] - memory.air_mean[other])
        hours.moved[h, one] -= heat
        hours.moved[h, other] += heat
    for k in range(memory.closed.size):
        hours.closed[h, k] = memory.closed[k]
    for e in range(layout.zone_inside.size):
        i = layout.zone_inside[e]
        o = layout.zone_outside[e]
        row = at + b.ELEMENT_ROWS * e
        area = element[e, b.AREA]
        hours.slab[h, i] += area * element[e, b.HEATED] * memory.slab[i]
        inner, outer = memory.mean[e, 0], memory.mean[e, 1]
        entering = memory.source[e, 0] - element[e, b.BURIED_IN] * memory.slab[i]
        entering += memory.convection[e, 0] * (memory.air_mean[i] - inner)
        entering += element[e, b.RADIATION_IN] * (memory.star_mean[i] - inner)
        leaving = memory.now[row + b.OUTSIDE_DRIVE]
        if o < 0:
            leaving -= memory.now[row + b.OUTSIDE_FILM] * outer
        else:
            leaving += memory.convection[e, 1] * (memory.air_mean[o] - outer)
            leaving += element[e, b.RADIATION_OUT] * (memory.star_mean[o] - outer)
        hours.flow_inside[h, e] = area * entering
        hours.flow_outside[h, e] = area * leaving
        hours.surface[h, e] = inner


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

    Numbers, memory and hours hold floats, or lanes (see `noonmark.balance.lanes`).
    """
    count = weather.outdoor_air.size
    zones = memory.air.size
    g = _GAMMA * 3600.0 / steps_per_hour
    zone_rows = b.COVER_ROWS * layout.cover_zone.size + b.PASSAGE_ROWS * layout.passage_from.size
    element_rows = zone_rows + b.ZONE_ROWS * zones
    _prepare(layout, numbers, memory, g)
    start = 0.5 * (20.0 + weather.outdoor_air[0])
    _begin(layout, numbers, memory, start, weather.outdoor_humidity[0])
    for t in range(-hours_before, count):
        h = t % count
        outdoor = weather.outdoor_air[h]
        if t == 0:
            hours.stored[0, 0] = _stored(layout, numbers, memory)
        drivers(layout, numbers, weather, memory, h)
        air_flows(layout, numbers, memory, zone_rows, outdoor, memory.matrix)
        gains(layout, numbers, weather, memory, zone_rows, outdoor)
        if layout.natural:
            natural_films(layout, numbers, memory)
        covered_conductance(layout, numbers, memory)
        _eliminate_surfaces(layout, numbers, memory, element_rows, memory.matrix)
        invert(memory.matrix, memory.inverse)
        _sources(layout, numbers, memory, element_rows, g)
        for z in range(zones):
            for y in range(zones):
                memory.response[z, y] = memory.inverse[2 * z, 2 * y]
            memory.air_mean[z] = 0.0
            memory.star_mean[z] = 0.0
            memory.power_mean[z] = 0.0
            memory.vented[z] = 0.0
        for e in range(layout.massive):
            memory.mean[e, 0] = 0.0
            memory.mean[e, 1] = 0.0
        for e in range(layout.massive, layout.zone_inside.size):
            memory.load[e, 0] = memory.source[e, 0]
            memory.load[e, 1] = memory.source[e, 1]
            _arrive(layout, numbers, memory, e, memory.steady)
        for stage in range(2 * steps_per_hour):
            last = stage % 2 == 1
            share = (_GAMMA if last else 1.0 - _GAMMA) / steps_per_hour
            _stage(layout, numbers, memory, scratch, zone_rows, outdoor, g, share, last)
        for z in range(zones):
            memory.node[2 * z] = memory.air_mean[z]
            memory.node[2 * z + 1] = memory.star_mean[z]
        for e in range(layout.massive, layout.zone_inside.size):
            inner, outer = _surfaces(layout, numbers, memory, e, memory.node)
            memory.mean[e, 0] = inner
            memory.mean[e, 1] = outer
        vapour(layout, numbers, weather, memory, h)
        if t >= 0:
            _record(layout, numbers, weather, memory, element_rows, h, hours)
    hours.stored[1, 0] = _stored(layout, numbers, memory)
