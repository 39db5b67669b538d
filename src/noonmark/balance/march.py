"""The march through the hours, compiled.

Each step is a two-stage diagonally implicit Runge-Kutta step, stiffly accurate
and L-stable (R. Alexander 1977, SIAM J. Numer. Anal. 14, 1006, doi:10.1137/0714068):
both stages solve the same small system, and flows weighted by the stage weights
close the energy balance exactly. Surfaces are eliminated first, then air and
star node of every zone are solved together.

The whole compiled code lives in this one file, so that an edit can not leave an
old compiled callee behind.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

_GAMMA = 1.0 - 1.0 / math.sqrt(2.0)


@njit(cache=True, error_model="numpy", fastmath={"contract", "reassoc", "arcp"})
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


@njit(cache=True, error_model="numpy", fastmath={"contract", "reassoc", "arcp"})
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


@njit(cache=True, error_model="numpy", fastmath={"contract", "reassoc", "arcp"})
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


@njit(cache=True, error_model="numpy", fastmath={"contract", "reassoc", "arcp"})
def _stored(
    area: FloatArray,
    mode_count: IntArray,
    storage: FloatArray,
    capacitance: FloatArray,
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
        for m in range(mode_count[e]):
            areal += storage[e, m] * modes[e, m]
        total += area[e] * areal
    for z in range(air_capacity.size):
        total += air_capacity[z] * air[z]
    return total


@njit(cache=True, error_model="numpy", fastmath={"contract", "reassoc", "arcp"})
def march_year(
    hours_before: int,
    steps_per_hour: int,
    area: FloatArray,  # (e,) m2
    zone_inside: IntArray,  # (e,)
    zone_outside: IntArray,  # (e,) -1: outdoors or ground
    convection: FloatArray,  # (e, 2) W/m2K inside, outside (outside: towards zones only)
    radiation: FloatArray,  # (e, 2) W/m2K
    conductance: FloatArray,  # (e, 3) W/m2K inside-inside, inside-outside, outside-outside
    capacitance: FloatArray,  # (e, 3) J/m2K, ordered like conductance
    mode_count: IntArray,  # (e,)
    rates: FloatArray,  # (e, m) 1/s
    coupling: FloatArray,  # (e, m, 2)
    storage: FloatArray,  # (e, m)
    outside_film: FloatArray,  # (h, e) W/m2K
    outside_drive: FloatArray,  # (h, e) W/m2: film times its temperature plus absorbed sun
    inside_source: FloatArray,  # (h, e) W/m2 absorbed at the inside surface
    air_capacity: FloatArray,  # (z,) J/K
    outdoor_air: FloatArray,  # (h,) degC
    supply: FloatArray,  # (h, z) W/K ventilation with outdoor air after recovery
    vent_most: FloatArray,  # (z,) W/K with all windows open
    vent_above: FloatArray,  # (z,) degC
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
    hours, elements = outside_film.shape
    zones = air_capacity.size
    n = 2 * zones
    step = 3600.0 / steps_per_hour
    g = _GAMMA * step
    onward = (1.0 - _GAMMA) / _GAMMA
    most = rates.shape[1]

    air_mean = np.zeros((hours, zones))
    star_mean = np.zeros((hours, zones))
    power_mean = np.zeros((hours, zones))
    flow_in = np.zeros((hours, elements))
    flow_out = np.zeros((hours, elements))
    air_loss = np.zeros((hours, zones))
    humidity_end = np.zeros((hours, zones))
    stored = np.zeros(2)

    # constants of the stage equations
    keep = np.empty((elements, most))  # 1 / (1 + g rate)
    a_ii = conductance[:, 0] + capacitance[:, 0] / g
    a_io = conductance[:, 1] + capacitance[:, 1] / g
    a_oo = conductance[:, 2] + capacitance[:, 2] / g
    for e in range(elements):
        for m in range(mode_count[e]):
            keep[e, m] = 1.0 / (1.0 + g * rates[e, m])
            weight = g * keep[e, m]
            a_ii[e] -= coupling[e, m, 0] ** 2 * weight
            a_io[e] -= coupling[e, m, 0] * coupling[e, m, 1] * weight
            a_oo[e] -= coupling[e, m, 1] ** 2 * weight

    # state: start everywhere at the mean of outdoors and 20 degC
    start = 0.5 * (20.0 + outdoor_air[0])
    air = np.full(zones, start)
    surface = np.full((elements, 2), start)
    modes = storage * start
    humidity = np.full(zones, outdoor_humidity[0])

    air_star = np.empty(zones)
    surface_star = np.empty((elements, 2))
    modes_star = np.empty((elements, most))
    m_ii = np.empty(elements)
    m_io = np.empty(elements)
    m_oo = np.empty(elements)
    r_in = np.empty(elements)
    r_out = np.empty(elements)
    matrix = np.empty((n, n))
    inverse = np.empty((n, n))
    response = np.empty((zones, zones))
    right = np.empty(n)
    free = np.empty(zones)
    given = np.empty(zones)
    node = np.empty(n)
    power = np.zeros(zones)
    held = np.zeros(zones, np.int64)
    plant = np.empty((zones, zones))
    carried = np.empty(zones)

    for t in range(-hours_before, hours):
        h = t % hours
        record = t >= 0
        if t == 0:
            stored[0] = _stored(
                area, mode_count, storage, capacitance, air_capacity, modes, surface, air
            )
        # air flow of this hour, driven by the temperatures at its start
        matrix[:, :] = 0.0
        for z in range(zones):
            drive = leak_stack[z] * abs(air[z] - outdoor_air[h]) + leak_wind[h, z]
            carried[z] = supply[h, z] + leak_scale[z] * math.sqrt(drive)
            if air[z] > outdoor_air[h]:
                carried[z] += vent_most[z] * min(max(0.5 * (air[z] - vent_above[z]), 0.0), 1.0)
            matrix[2 * z, 2 * z] = air_capacity[z] / g + carried[z]
            for y in range(zones):
                matrix[2 * z, 2 * z] += exchange[z, y]
                matrix[2 * z, 2 * y] -= exchange[z, y]
        for e in range(elements):
            hc = convection[e, 0]
            hr = radiation[e, 0]
            outer = zone_outside[e]
            ho = outside_film[h, e] if outer < 0 else convection[e, 1] + radiation[e, 1]
            det = (a_ii[e] + hc + hr) * (a_oo[e] + ho) - a_io[e] ** 2
            m_ii[e] = (a_oo[e] + ho) / det
            m_io[e] = -a_io[e] / det
            m_oo[e] = (a_ii[e] + hc + hr) / det
            i = 2 * zone_inside[e]
            matrix[i, i] += area[e] * hc * (1.0 - m_ii[e] * hc)
            matrix[i + 1, i + 1] += area[e] * hr * (1.0 - m_ii[e] * hr)
            matrix[i, i + 1] -= area[e] * hc * m_ii[e] * hr
            matrix[i + 1, i] -= area[e] * hc * m_ii[e] * hr
            if outer >= 0:
                kc = convection[e, 1]
                kr = radiation[e, 1]
                o = 2 * outer
                matrix[o, o] += area[e] * kc * (1.0 - m_oo[e] * kc)
                matrix[o + 1, o + 1] += area[e] * kr * (1.0 - m_oo[e] * kr)
                matrix[o, o + 1] -= area[e] * kc * m_oo[e] * kr
                matrix[o + 1, o] -= area[e] * kc * m_oo[e] * kr
                cross = area[e] * m_io[e]
                matrix[i, o] -= cross * hc * kc
                matrix[o, i] -= cross * hc * kc
                matrix[i, o + 1] -= cross * hc * kr
                matrix[o + 1, i] -= cross * hc * kr
                matrix[i + 1, o] -= cross * hr * kc
                matrix[o, i + 1] -= cross * hr * kc
                matrix[i + 1, o + 1] -= cross * hr * kr
                matrix[o + 1, i + 1] -= cross * hr * kr
        _invert(matrix, inverse)
        for z in range(zones):
            for y in range(zones):
                response[z, y] = inverse[2 * z, 2 * y]

        for _ in range(steps_per_hour):
            air_star[:] = air
            surface_star[:, :] = surface
            modes_star[:, :] = modes
            for stage in range(2):
                share = ((1.0 - _GAMMA) if stage == 0 else _GAMMA) / steps_per_hour
                for z in range(zones):
                    right[2 * z] = (
                        air_capacity[z] / g * air_star[z]
                        + carried[z] * outdoor_air[h]
                        + gain_air[h, z]
                    )
                    right[2 * z + 1] = gain_star[h, z]
                for e in range(elements):
                    was_in = surface_star[e, 0] / g
                    was_out = surface_star[e, 1] / g
                    past_in = capacitance[e, 0] * was_in + capacitance[e, 1] * was_out
                    past_out = capacitance[e, 1] * was_in + capacitance[e, 2] * was_out
                    for m in range(mode_count[e]):
                        past = modes_star[e, m] * keep[e, m]
                        past_in += coupling[e, m, 0] * past
                        past_out += coupling[e, m, 1] * past
                    r_in[e] = past_in + inside_source[h, e]
                    r_out[e] = past_out + outside_drive[h, e]
                    i = 2 * zone_inside[e]
                    y_in = area[e] * (m_ii[e] * r_in[e] + m_io[e] * r_out[e])
                    right[i] += convection[e, 0] * y_in
                    right[i + 1] += radiation[e, 0] * y_in
                    if zone_outside[e] >= 0:
                        o = 2 * zone_outside[e]
                        y_out = area[e] * (m_io[e] * r_in[e] + m_oo[e] * r_out[e])
                        right[o] += convection[e, 1] * y_out
                        right[o + 1] += radiation[e, 1] * y_out
                for z in range(zones):
                    total = 0.0
                    for j in range(n):
                        total += inverse[2 * z, j] * right[j]
                    free[z] = total
                # the second stage makes the mean of the step: what the first gave is
                # counted, so that a room ends on its set-point and not beyond it
                weight = 1.0 if stage == 0 else _GAMMA
                for z in range(zones):
                    given[z] = 0.0 if stage == 0 else onward * power[z]
                for z in range(zones):
                    for y in range(zones):
                        free[z] -= response[z, y] * given[y]
                _plant(
                    free,
                    response,
                    heat_set[h],
                    cool_set[h],
                    heat_most / weight,
                    cool_most / weight,
                    power,
                    held,
                    plant,
                )
                for z in range(zones):
                    if record and stage == 1:  # both stages together, exactly 0 when idle
                        power_mean[h, z] += share * power[z]
                    power[z] -= given[z]
                    right[2 * z] += power[z]
                for j in range(n):
                    total = 0.0
                    for k in range(n):
                        total += inverse[j, k] * right[k]
                    node[j] = total
                for z in range(zones):
                    air[z] = node[2 * z]
                    if record:
                        air_mean[h, z] += share * node[2 * z]
                        star_mean[h, z] += share * node[2 * z + 1]
                        air_loss[h, z] += share * carried[z] * (node[2 * z] - outdoor_air[h])
                for e in range(elements):
                    i = 2 * zone_inside[e]
                    outer = zone_outside[e]
                    x_in = r_in[e] + convection[e, 0] * node[i] + radiation[e, 0] * node[i + 1]
                    x_out = r_out[e]
                    if outer >= 0:
                        x_out += (
                            convection[e, 1] * node[2 * outer]
                            + radiation[e, 1] * node[2 * outer + 1]
                        )
                    u_in = m_ii[e] * x_in + m_io[e] * x_out
                    u_out = m_io[e] * x_in + m_oo[e] * x_out
                    surface[e, 0] = u_in
                    surface[e, 1] = u_out
                    for m in range(mode_count[e]):
                        drive = coupling[e, m, 0] * u_in + coupling[e, m, 1] * u_out
                        modes[e, m] = (modes_star[e, m] + g * drive) * keep[e, m]
                    if record:
                        flow_in[h, e] += (
                            share
                            * area[e]
                            * (
                                convection[e, 0] * (node[i] - u_in)
                                + radiation[e, 0] * (node[i + 1] - u_in)
                                + inside_source[h, e]
                            )
                        )
                        if outer < 0:
                            entering = outside_drive[h, e] - outside_film[h, e] * u_out
                        else:
                            entering = (
                                convection[e, 1] * (node[2 * outer] - u_out)
                                + radiation[e, 1] * (node[2 * outer + 1] - u_out)
                                + outside_drive[h, e]
                            )
                        flow_out[h, e] += share * area[e] * entering
                if stage == 0:
                    for z in range(zones):
                        air_star[z] += onward * (air[z] - air_star[z])
                    for e in range(elements):
                        for side in range(2):
                            surface_star[e, side] += onward * (
                                surface[e, side] - surface_star[e, side]
                            )
                        for m in range(mode_count[e]):
                            modes_star[e, m] += onward * (modes[e, m] - modes_star[e, m])
        for z in range(zones):
            mass = humidity_capacity[z] / 3600.0
            flow = carried[z] / air_heat
            humidity[z] = (mass * humidity[z] + flow * outdoor_humidity[h] + vapour_gain[h, z]) / (
                mass + flow
            )
            if record:
                humidity_end[h, z] = humidity[z]
    stored[1] = _stored(area, mode_count, storage, capacitance, air_capacity, modes, surface, air)
    return air_mean, star_mean, power_mean, flow_in, flow_out, air_loss, humidity_end, stored
