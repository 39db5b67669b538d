"""The march through the hours, compiled.

Each step is a two-stage diagonally implicit Runge-Kutta step, stiffly accurate
and L-stable (R. Alexander 1977, SIAM J. Numer. Anal. 14, 1006, doi:10.1137/0714068):
both stages solve the same small system, and flows weighted by the stage weights
close the energy balance exactly. Surfaces are eliminated first, then air and
star node of every zone are solved together.

The whole compiled code lives in this one file, so that an edit can not leave an
old compiled callee behind. What is done for each element stands in the loops
themselves, twice: a call that passes arrays counts references, five times the work.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

_GAMMA = 1.0 - 1.0 / math.sqrt(2.0)
_ONWARD = (1.0 - _GAMMA) / _GAMMA

# error_model: no test for division by zero; fastmath: sums may be reordered, nan stays nan
_compiled = njit(cache=True, error_model="numpy", fastmath={"contract", "reassoc", "arcp"})


@_compiled
def _invert(matrix: FloatArray, inverse: FloatArray) -> None:
    """Write the inverse of a small diagonally dominant matrix (Gauss-Jordan, no pivoting)."""
    n = matrix.shape[0]
    for i in range(n):
        for j in range(n):
            inverse[i, j] = 1.0 if i == j else 0.0
    for i in range(n):
        pivot = 1.0 / matrix[i, i]
        for j in range(n):
            matrix[i, j] *= pivot
            inverse[i, j] *= pivot
        for k in range(n):
            if k == i:
                continue
            factor = matrix[k, i]
            if factor != 0.0:
                for j in range(n):
                    matrix[k, j] -= factor * matrix[i, j]
                    inverse[k, j] -= factor * inverse[i, j]


@_compiled
def _solve(matrix: FloatArray, right: FloatArray) -> None:
    """Solve in place; `right` becomes the answer (Gauss, no pivoting: principal minors > 0)."""
    n = right.size
    for i in range(n):
        for k in range(i + 1, n):
            factor = matrix[k, i] / matrix[i, i]
            if factor != 0.0:
                for j in range(i, n):
                    matrix[k, j] -= factor * matrix[i, j]
                right[k] -= factor * right[i]
    for i in range(n - 1, -1, -1):
        for j in range(i + 1, n):
            right[i] -= matrix[i, j] * right[j]
        right[i] /= matrix[i, i]


@_compiled
def _plant(
    free: FloatArray,
    response: FloatArray,
    heat_set: FloatArray,
    cool_set: FloatArray,
    heat_most: FloatArray,
    cool_most: FloatArray,
    power: FloatArray,
    held: IntArray,
    matrix: FloatArray,
) -> None:
    """Write the power of each zone's ideal plant [W], cooling negative.

    `free` (z,) are air temperatures without plant, `response` (z, z) K per W.
    Every zone is idle, held at a set-point or at its capacity; the held ones
    are solved together, and a zone whose state does not fit its temperature
    changes state until all fit.
    """
    zones = free.size
    held[:] = 0  # 1 at heat_set, -1 at cool_set, 0 at a given power
    power[:] = 0.0
    for _ in range(3 * zones + 1):
        settled = True
        for z in range(zones):
            air = free[z]
            for y in range(zones):
                air += response[z, y] * power[y]
            wanted = held[z]
            if held[z] == 0:
                if air < heat_set[z] - 1e-9 and power[z] < heat_most[z]:
                    wanted = 1
                elif air > cool_set[z] + 1e-9 and power[z] > -cool_most[z]:
                    wanted = -1
            elif power[z] * held[z] < 0.0:
                wanted, power[z] = 0, 0.0
            elif power[z] > heat_most[z]:
                wanted, power[z] = 0, heat_most[z]
            elif -power[z] > cool_most[z]:
                wanted, power[z] = 0, -cool_most[z]
            if wanted != held[z]:
                held[z] = wanted
                settled = False
        if settled:
            return
        for z in range(zones):
            if held[z] == 0:
                for y in range(zones):
                    matrix[z, y] = 1.0 if z == y else 0.0
            else:
                power[z] = (heat_set[z] if held[z] == 1 else cool_set[z]) - free[z]
                for y in range(zones):
                    matrix[z, y] = response[z, y]
        _solve(matrix, power)


@_compiled
def _stored(
    area: FloatArray,
    capacitance: FloatArray,
    first: IntArray,
    storage: FloatArray,
    air_capacity: FloatArray,
    modes: FloatArray,
    surface: FloatArray,
    air: FloatArray,
) -> float:
    """Return the heat stored above 0 degC [J]."""
    total = 0.0
    for e in range(area.size):
        areal = (capacitance[e, 0] + capacitance[e, 1]) * surface[e, 0]
        areal += (capacitance[e, 1] + capacitance[e, 2]) * surface[e, 1]
        for m in range(first[e], first[e + 1]):
            areal += storage[m] * modes[m]
        total += area[e] * areal
    for z in range(air_capacity.size):
        total += air_capacity[z] * air[z]
    return total


@_compiled
def _eliminate_surfaces(
    area: FloatArray,
    zone_inside: IntArray,
    zone_outside: IntArray,
    convection: FloatArray,
    radiation: FloatArray,
    stiff: FloatArray,
    film: FloatArray,
    reach: FloatArray,
    matrix: FloatArray,
) -> None:
    """Write how surfaces follow their loads and add them to the zone matrix.

    `stiff` (e, 3) is each element's own flow per K of surface temperature in a
    stage; with the films added, the 2 x 2 inverse goes to `reach` (e, 3).
    `matrix` (2 z, 2 z) holds air and star node of each zone in turn.
    """
    for e in range(area.size):
        hc = convection[e, 0]
        hr = radiation[e, 0]
        outer = zone_outside[e]
        ho = film[e] if outer < 0 else convection[e, 1] + radiation[e, 1]
        ii = stiff[e, 0] + hc + hr
        oo = stiff[e, 2] + ho
        scale = 1.0 / (ii * oo - stiff[e, 1] * stiff[e, 1])
        reach[e, 0] = oo * scale
        reach[e, 1] = -stiff[e, 1] * scale
        reach[e, 2] = ii * scale
        for side in range(1 if outer < 0 else 2):
            at = 2 * (zone_inside[e] if side == 0 else outer)
            c = convection[e, side]
            r = radiation[e, side]
            own = reach[e, 2 * side]
            matrix[at, at] += area[e] * c * (1.0 - own * c)
            matrix[at + 1, at + 1] += area[e] * r * (1.0 - own * r)
            matrix[at, at + 1] -= area[e] * c * own * r
            matrix[at + 1, at] -= area[e] * c * own * r
        if outer >= 0:
            kc = convection[e, 1]
            kr = radiation[e, 1]
            i = 2 * zone_inside[e]
            o = 2 * outer
            cross = area[e] * reach[e, 1]
            for row, inner in ((0, hc), (1, hr)):
                for column, far in ((0, kc), (1, kr)):
                    matrix[i + row, o + column] -= cross * inner * far
                    matrix[o + column, i + row] -= cross * inner * far


@_compiled
def _air_flow(
    air: FloatArray,
    outdoor: float,
    supply: FloatArray,
    leak_scale: FloatArray,
    leak_stack: FloatArray,
    leak_wind: FloatArray,
    carried: FloatArray,
) -> None:
    """Write the air exchange with outdoors of one hour [W/K], from the air at its start."""
    for z in range(air.size):
        drive = leak_stack[z] * abs(air[z] - outdoor) + leak_wind[z]
        carried[z] = supply[z] + leak_scale[z] * math.sqrt(drive)


@_compiled
def march_year(
    hours_before: int,
    steps_per_hour: int,
    massive: int,  # elements before this one store heat, from it on none does
    area: FloatArray,  # (e,) m2
    zone_inside: IntArray,  # (e,)
    zone_outside: IntArray,  # (e,) -1: outdoors or ground
    convection: FloatArray,  # (e, 2) W/m2K inside, outside (outside: towards zones only)
    radiation: FloatArray,  # (e, 2) W/m2K
    conductance: FloatArray,  # (e, 3) W/m2K inside-inside, inside-outside, outside-outside
    capacitance: FloatArray,  # (e, 3) J/m2K, ordered like conductance
    first: IntArray,  # (e + 1,) where each element's modes start
    rates: FloatArray,  # (m,) 1/s
    coupling: FloatArray,  # (m, 2)
    storage: FloatArray,  # (m,)
    outside_film: FloatArray,  # (e, h) W/m2K
    outside_drive: FloatArray,  # (e, h) W/m2: film times its temperature plus absorbed sun
    inside_source: FloatArray,  # (e, h) W/m2 absorbed at the inside surface
    air_capacity: FloatArray,  # (z,) J/K
    outdoor_air: FloatArray,  # (h,) degC
    supply: FloatArray,  # (h, z) W/K ventilation with outdoor air after recovery
    fresh_air: FloatArray,  # (h, z) kg/s of dry air that this ventilation brings
    vent_most: FloatArray,  # (z,) W/K with all windows open
    vent_above: FloatArray,  # (z,) degC that opened windows hold, as far as they can
    leak_scale: FloatArray,  # (z,) W/K per sqrt of the driving pressure term
    leak_stack: FloatArray,  # (z,) per K
    leak_wind: FloatArray,  # (h, z)
    exchange: FloatArray,  # (z, z) W/K between zones, symmetric, zero diagonal
    gain_air: FloatArray,  # (h, z) W to the air
    gain_star: FloatArray,  # (h, z) W to the surfaces
    heat_set: FloatArray,  # (h, z) degC
    cool_set: FloatArray,  # (h, z) degC
    heat_most: FloatArray,  # (z,) W
    cool_most: FloatArray,  # (z,) W
    humidity_capacity: FloatArray,  # (z,) kg dry air
    outdoor_humidity: FloatArray,  # (h,) kg/kg
    vapour_gain: FloatArray,  # (h, z) kg/s
    air_heat: float,  # J/kgK, to turn W/K of air flow into kg/s
) -> tuple[
    FloatArray, FloatArray, FloatArray, FloatArray, FloatArray, FloatArray, FloatArray, FloatArray
]:
    """March all zones through the year after `hours_before` hours of running in.

    Returns hourly means: air (h, z), star (h, z) [degC], plant power (h, z) [W],
    heat into elements at the inside (h, e) and outside surface (h, e) [W], heat
    carried out by air (h, z) [W], humidity ratio at the hour's end (h, z), and
    stored heat (2,) [J] at start and end.
    """
    elements, hours = outside_film.shape
    zones = air_capacity.size
    n = 2 * zones
    g = _GAMMA * 3600.0 / steps_per_hour

    air_mean = np.zeros((hours, zones))
    star_mean = np.zeros((hours, zones))
    power_mean = np.zeros((hours, zones))
    flow_in = np.zeros((hours, elements))
    flow_out = np.zeros((hours, elements))
    air_loss = np.zeros((hours, zones))
    humidity_end = np.zeros((hours, zones))
    stored = np.zeros(2)

    # constants of the stage equations: a mode becomes keep * (was + g * coupling @ surfaces)
    keep = 1.0 / (1.0 + g * rates)
    past_in = coupling[:, 0] * keep
    past_out = coupling[:, 1] * keep
    slow = capacitance / g
    slow_air = air_capacity / g
    stiff = conductance + slow
    for e in range(elements):
        for m in range(first[e], first[e + 1]):
            stiff[e, 0] -= g * past_in[m] * coupling[m, 0]
            stiff[e, 1] -= g * past_in[m] * coupling[m, 1]
            stiff[e, 2] -= g * past_out[m] * coupling[m, 1]

    # state, between stages what the next stage starts from: everywhere the same at first
    start = 0.5 * (20.0 + outdoor_air[0])
    air = np.full(zones, start)
    surface = np.full((elements, 2), start)
    modes = storage * start
    humidity = np.full(zones, outdoor_humidity[0])

    reach = np.empty((elements, 3))
    load_in = np.empty(elements)
    load_out = np.empty(elements)
    mean_in = np.empty(elements)
    mean_out = np.empty(elements)
    matrix = np.empty((n, n))
    inverse = np.empty((n, n))
    response = np.empty((zones, zones))
    steady = np.empty(n)
    right = np.empty(n)
    free = np.empty(zones)
    given = np.empty(zones)
    vent = np.zeros(zones)
    vented = np.empty(zones)
    vent_last = vent_most / _GAMMA
    heat_last = heat_most / _GAMMA
    cool_last = cool_most / _GAMMA
    node = np.empty(n)
    power = np.zeros(zones)
    held = np.zeros(zones, np.int64)
    plant = np.empty((zones, zones))
    carried = np.empty(zones)

    for t in range(-hours_before, hours):
        h = t % hours
        if t == 0:
            stored[0] = _stored(
                area, capacitance, first, storage, air_capacity, modes, surface, air
            )
        _air_flow(air, outdoor_air[h], supply[h], leak_scale, leak_stack, leak_wind[h], carried)
        matrix[:, :] = 0.0
        for z in range(zones):
            matrix[2 * z, 2 * z] = slow_air[z] + carried[z]
            for y in range(zones):
                matrix[2 * z, 2 * z] += exchange[z, y]
                matrix[2 * z, 2 * y] -= exchange[z, y]
        _eliminate_surfaces(
            area, zone_inside, zone_outside, convection, radiation,
            stiff, outside_film[:, h], reach, matrix,
        )  # fmt: skip
        _invert(matrix, inverse)
        for z in range(zones):
            for y in range(zones):
                response[z, y] = inverse[2 * z, 2 * y]
        mean_in[:] = 0.0
        mean_out[:] = 0.0
        vented[:] = 0.0
        for z in range(zones):
            steady[2 * z] = carried[z] * outdoor_air[h] + gain_air[h, z]
            steady[2 * z + 1] = gain_star[h, z]
        for e in range(massive, elements):
            load_in[e] = inside_source[e, h]
            load_out[e] = outside_drive[e, h]
            i = 2 * zone_inside[e]
            arrives = area[e] * (reach[e, 0] * load_in[e] + reach[e, 1] * load_out[e])
            steady[i] += convection[e, 0] * arrives
            steady[i + 1] += radiation[e, 0] * arrives
            if zone_outside[e] >= 0:
                o = 2 * zone_outside[e]
                arrives = area[e] * (reach[e, 1] * load_in[e] + reach[e, 2] * load_out[e])
                steady[o] += convection[e, 1] * arrives
                steady[o + 1] += radiation[e, 1] * arrives

        for stage in range(2 * steps_per_hour):
            last = stage % 2 == 1
            share = (_GAMMA if last else 1.0 - _GAMMA) / steps_per_hour
            right[:] = steady
            for z in range(zones):
                right[2 * z] += slow_air[z] * air[z]
            for e in range(massive):
                inner = slow[e, 0] * surface[e, 0] + slow[e, 1] * surface[e, 1]
                outer = slow[e, 1] * surface[e, 0] + slow[e, 2] * surface[e, 1]
                for m in range(first[e], first[e + 1]):
                    inner += past_in[m] * modes[m]
                    outer += past_out[m] * modes[m]
                load_in[e] = inner + inside_source[e, h]
                load_out[e] = outer + outside_drive[e, h]
                i = 2 * zone_inside[e]
                arrives = area[e] * (reach[e, 0] * load_in[e] + reach[e, 1] * load_out[e])
                right[i] += convection[e, 0] * arrives
                right[i + 1] += radiation[e, 0] * arrives
                if zone_outside[e] >= 0:
                    o = 2 * zone_outside[e]
                    arrives = area[e] * (reach[e, 1] * load_in[e] + reach[e, 2] * load_out[e])
                    right[o] += convection[e, 1] * arrives
                    right[o + 1] += radiation[e, 1] * arrives
            for z in range(zones):
                free[z] = 0.0
                for j in range(n):
                    free[z] += inverse[2 * z, j] * right[j]
            # the last stage makes the mean of the step: what the first gave is counted,
            # so that a room ends on its set-point and not beyond it
            for z in range(zones):
                given[z] = _ONWARD * (power[z] - vent[z]) if last else 0.0
            for z in range(zones):
                for y in range(zones):
                    free[z] -= response[z, y] * given[y]
            # windows are opened just enough to hold `vent_above`, or fully, and only while
            # it is cooler outside
            for z in range(zones):
                vent[z] = 0.0
                if free[z] > vent_above[z] and free[z] > outdoor_air[h]:
                    own = response[z, z]
                    most = vent_last[z] if last else vent_most[z]
                    fully = most * (free[z] - outdoor_air[h]) / (1.0 + own * most)
                    vent[z] = min((free[z] - vent_above[z]) / own, fully)
                    for y in range(zones):
                        free[y] -= response[y, z] * vent[z]
            if zones == 1:
                heat = (heat_set[h, 0] - free[0]) / response[0, 0]
                cool = (free[0] - cool_set[h, 0]) / response[0, 0]
                power[0] = min(max(heat, 0.0), heat_last[0] if last else heat_most[0])
                power[0] -= min(max(cool, 0.0), cool_last[0] if last else cool_most[0])
            else:
                _plant(
                    free, response, heat_set[h], cool_set[h],
                    heat_last if last else heat_most, cool_last if last else cool_most,
                    power, held, plant,
                )  # fmt: skip
            for z in range(zones):
                right[2 * z] += power[z] - vent[z] - given[z]
            for j in range(n):
                node[j] = 0.0
                for k in range(n):
                    node[j] += inverse[j, k] * right[k]
            for z in range(zones):
                air_mean[h, z] += share * node[2 * z]
                star_mean[h, z] += share * node[2 * z + 1]
                if last:
                    power_mean[h, z] += share * power[z]
                    vented[z] += share * vent[z]
                air[z] = node[2 * z] if last else air[z] + _ONWARD * (node[2 * z] - air[z])
            for e in range(massive):
                i = 2 * zone_inside[e]
                x_in = load_in[e] + convection[e, 0] * node[i] + radiation[e, 0] * node[i + 1]
                x_out = load_out[e]
                if zone_outside[e] >= 0:
                    o = 2 * zone_outside[e]
                    x_out += convection[e, 1] * node[o] + radiation[e, 1] * node[o + 1]
                u_in = reach[e, 0] * x_in + reach[e, 1] * x_out
                u_out = reach[e, 1] * x_in + reach[e, 2] * x_out
                mean_in[e] += share * u_in
                mean_out[e] += share * u_out
                for m in range(first[e], first[e + 1]):
                    drive = g * (past_in[m] * u_in + past_out[m] * u_out)
                    now = keep[m] * modes[m] + drive
                    modes[m] = now if last else modes[m] + _ONWARD * (now - modes[m])
                if last:
                    surface[e, 0] = u_in
                    surface[e, 1] = u_out
                else:
                    surface[e, 0] += _ONWARD * (u_in - surface[e, 0])
                    surface[e, 1] += _ONWARD * (u_out - surface[e, 1])

        for z in range(zones):
            mass = humidity_capacity[z] / 3600.0
            open_flow = vented[z] / max(air_mean[h, z] - outdoor_air[h], 0.1)
            # a heat exchanger keeps heat, not water: ventilation counts with all its air
            flow = (carried[z] - supply[h, z] + min(open_flow, vent_most[z])) / air_heat
            flow += fresh_air[h, z]
            brought = mass * humidity[z] + flow * outdoor_humidity[h] + vapour_gain[h, z]
            humidity[z] = brought / (mass + flow)
        if t < 0:
            # running in: hours at the year's end are written again when they come
            air_mean[h], star_mean[h], power_mean[h] = 0.0, 0.0, 0.0
            continue
        for z in range(zones):
            node[2 * z] = air_mean[h, z]
            node[2 * z + 1] = star_mean[h, z]
        for e in range(massive, elements):
            i = 2 * zone_inside[e]
            x_in = load_in[e] + convection[e, 0] * node[i] + radiation[e, 0] * node[i + 1]
            x_out = load_out[e]
            if zone_outside[e] >= 0:
                o = 2 * zone_outside[e]
                x_out += convection[e, 1] * node[o] + radiation[e, 1] * node[o + 1]
            mean_in[e] = reach[e, 0] * x_in + reach[e, 1] * x_out
            mean_out[e] = reach[e, 1] * x_in + reach[e, 2] * x_out
        for z in range(zones):
            air_loss[h, z] = carried[z] * (air_mean[h, z] - outdoor_air[h]) + vented[z]
            humidity_end[h, z] = humidity[z]
        for e in range(elements):
            i = zone_inside[e]
            entering = convection[e, 0] * (air_mean[h, i] - mean_in[e]) + inside_source[e, h]
            entering += radiation[e, 0] * (star_mean[h, i] - mean_in[e])
            flow_in[h, e] = area[e] * entering
            o = zone_outside[e]
            if o < 0:
                entering = outside_drive[e, h] - outside_film[e, h] * mean_out[e]
            else:
                entering = convection[e, 1] * (air_mean[h, o] - mean_out[e]) + outside_drive[e, h]
                entering += radiation[e, 1] * (star_mean[h, o] - mean_out[e])
            flow_out[h, e] = area[e] * entering
    stored[1] = _stored(area, capacitance, first, storage, air_capacity, modes, surface, air)
    return air_mean, star_mean, power_mean, flow_in, flow_out, air_loss, humidity_end, stored
