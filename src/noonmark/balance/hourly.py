"""What a march takes once an hour from the temperatures at its start.

Drivers by the hour, covers, air flows, gains and stoves, natural films, and the
vapour: all that bends or switches. Columns, rows and memory: `noonmark.balance.block`.
"""

from __future__ import annotations

import math
from typing import Any

from noonmark.balance import block as b
from noonmark.balance.block import FloatArray, Layout, Memory, Numbers, Weather
from noonmark.balance.compiled import compiled
from noonmark.balance.lanes import cube_root, least, most, put, take, where, width
from noonmark.balance.small import solve

_STILL_AIR = 0.1
"""Least difference between surface and air [K] that a natural film is computed for."""

LATENT_HEAT = 2.454e6
"""Of vapour at 20 degC [J/kg] (ASHRAE Fundamentals, psychrometrics, from memory)."""

_FEWEST_LATENT, _MOST_LATENT = 0.05, 0.95
"""Between these the share of a body's heat leaves as vapour, however cold or warm it is."""


@compiled()
def _lookup(table: FloatArray, x: Any) -> Any:
    """Return the saturation table at a temperature, straight between its points."""
    found = x
    for lane in range(width(x)):
        place = (take(x, lane) - b.SATURATION_FROM) / b.SATURATION_STEP
        place = min(max(place, 0.0), b.SATURATION_COUNT - 1.001)
        index = int(place)
        low = table[index]
        found = put(found, lane, low + (place - index) * (table[index + 1] - low))
    return found


@compiled()
def drivers(layout: Layout, numbers: Numbers, weather: Weather, memory: Memory, h: int) -> None:
    """Write the rows of the layout that change by the hour: coefficients times signals.

    Covers come first: by schedule, or while they are allowed to and it is warm inside.
    """
    for i in range(layout.changing.size):
        r = layout.changing[i]
        first = layout.row_first[r]
        total = numbers.coefficient[first] * weather.signal[h, layout.row_signal[first]]
        for t in range(first + 1, layout.row_first[r + 1]):
            total += numbers.coefficient[t] * weather.signal[h, layout.row_signal[t]]
        memory.now[r] = total
    for k in range(layout.cover_zone.size):
        at = b.COVER_ROWS * k
        warm = memory.air[layout.cover_zone[k]] > numbers.cover[k, 0]
        shut = most(memory.now[at + b.CLOSED], memory.now[at + b.ALLOWED])
        memory.closed[k] = where(warm, shut, memory.now[at + b.CLOSED])
    for c in range(layout.covered_row.size):
        signal = weather.signal[h, layout.covered_signal[c]]
        change = numbers.covered[c] * signal * memory.closed[layout.covered_by[c]]
        memory.now[layout.covered_row[c]] += change


@compiled()
def air_flows(
    layout: Layout, numbers: Numbers, memory: Memory, at: int, outdoor: float, matrix: FloatArray
) -> None:
    """Write what air carries outdoors and between zones, and begin the zone matrix with it.

    `at` is the first row of the zones.
    """
    zone, passage, now = numbers.zone, numbers.passage, memory.now
    for i in range(matrix.shape[0]):
        for j in range(matrix.shape[1]):
            matrix[i, j] = 0.0
    for z in range(zone.shape[0]):
        row = at + b.ZONE_ROWS * z
        air = memory.air[z]
        warmer = air - outdoor
        apart = most(warmer, -warmer)
        supply = now[row + b.SUPPLY]
        # heat is let go in summer: while it is warm inside and cooler outside
        bypass = (air > zone[z, b.BYPASS_ABOVE]) & (warmer > 0.0)
        recovered = where(bypass, 0.0, supply * zone[z, b.RECOVERY])
        runs = (air > zone[z, b.FAN_ABOVE]) & (warmer > zone[z, b.FAN_COOLER])
        fan = where(runs, now[row + b.FAN], 0.0)
        pressure = zone[z, b.LEAK_STACK] * apart + now[row + b.LEAK_WIND]
        leak = zone[z, b.LEAK_SCALE] * math.sqrt(pressure)
        memory.fresh[z] = supply + fan + leak
        memory.carried[z] = memory.fresh[z] - recovered
        pressure = zone[z, b.VENT_STACK] * apart + now[row + b.VENT_WIND]
        memory.vent_most[z] = zone[z, b.VENT_BASE] + zone[z, b.VENT_SCALE] * math.sqrt(pressure)
        matrix[2 * z, 2 * z] = memory.slow_air[z] + memory.carried[z]
    for p in range(layout.passage_from.size):
        one, other = layout.passage_from[p], layout.passage_to[p]
        row = b.COVER_ROWS * layout.cover_zone.size + b.PASSAGE_ROWS * p
        warmer = memory.air[one] - memory.air[other]
        through = passage[p, b.DOORWAY] * math.sqrt(most(warmer, -warmer))
        blows = (warmer > passage[p, b.BLOWER_DIFFERENCE]) & (
            memory.air[other] < passage[p, b.BLOWER_BELOW]
        )
        flow = now[row + b.OPEN] * (passage[p, b.STEADY] + through)
        flow += where(blows, now[row + b.BLOWING] * passage[p, b.BLOWER], 0.0)
        memory.between[p] = flow
        matrix[2 * one, 2 * one] += flow
        matrix[2 * other, 2 * other] += flow
        matrix[2 * one, 2 * other] -= flow
        matrix[2 * other, 2 * one] -= flow


@compiled()
def gains(
    layout: Layout,
    numbers: Numbers,
    weather: Weather,
    memory: Memory,
    at: int,
    outdoor: float,
) -> None:
    """Write what warms the zones in this hour: people, bodies, leaves, stoves, heated slabs.

    `steady` takes what goes to air and star node, `slab` [W/m2] what goes into
    the heated elements, `brought` [kg/s] the vapour.
    """
    zone, now = numbers.zone, memory.now
    charge = numbers.curve.shape[1]
    for z in range(zone.shape[0]):
        row = at + b.ZONE_ROWS * z
        air = memory.air[z]
        all_heat = now[row + b.BODIES]
        share = zone[z, b.BODY_LATENT] + zone[z, b.BODY_LATENT_PER_K] * (air - 20.0)
        share = least(most(share, _FEWEST_LATENT), _MOST_LATENT)
        sensible = all_heat * (1.0 - share)
        damp = now[row + b.VAPOUR] + (all_heat - sensible) * (1.0 / LATENT_HEAT)
        taken = 0.0 * air
        if layout.leaves:
            short = most(_lookup(weather.saturation, air) - memory.humidity[z], 0.0)
            leaves = now[row + b.LEAVES] + zone[z, b.LEAF_FLOW] * short
            damp += leaves
            taken = leaves * LATENT_HEAT
        fire = 0.0 * air
        if charge > 0:
            cold = air < now[row + b.STOVE_SET]
            lit = cold & (memory.burning[z] > charge - 0.5)
            memory.burning[z] = where(lit, 0.0, memory.burning[z])
            for lane in range(width(fire)):
                hour = int(take(memory.burning[z], lane))
                if hour < charge:
                    fire = put(fire, lane, take(numbers.curve[z, hour], lane))
            memory.burning[z] += 1.0
        need = (now[row + b.SLAB_SET] - air) / zone[z, b.SLAB_BAND]
        memory.slab[z] = zone[z, b.SLAB_MOST] * least(most(need, 0.0), 1.0)
        memory.bodies[z] = sensible
        memory.stove[z] = fire
        memory.taken[z] = taken
        memory.given_back[z] = memory.condensed[z] * LATENT_HEAT
        memory.brought[z] = damp
        radiant = zone[z, b.BODY_RADIANT] * sensible + zone[z, b.STOVE_RADIANT] * fire
        gained = now[row + b.GAIN_AIR] + sensible + fire - radiant - taken
        memory.steady[2 * z] = memory.carried[z] * outdoor + gained
        memory.steady[2 * z + 1] = now[row + b.GAIN_STAR] + radiant


@compiled()
def natural_films(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write the convective films at surfaces towards zones, by the last hour's temperatures."""
    element = numbers.element
    for e in range(layout.zone_inside.size):
        for side in range(1 if layout.zone_outside[e] < 0 else 2):
            at = b.FILM_IN if side == 0 else b.FILM_OUT
            z = layout.zone_inside[e] if side == 0 else layout.zone_outside[e]
            difference = memory.mean[e, side] - memory.air_mean[z]
            root = cube_root(most(most(difference, -difference), _STILL_AIR))
            warm = element[e, at] + element[e, at + 1] * root
            cool = element[e, at + 2] + element[e, at + 3] * root
            memory.convection[e, side] = where(difference > 0.0, warm, cool)


@compiled()
def covered_conductance(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write the conductance of windows by how far their covers are closed."""
    element = numbers.element
    for e in range(layout.massive, layout.zone_inside.size):
        k = layout.element_cover[e]
        if k >= 0:
            change = memory.closed[k] * element[e, b.COVERED]
            memory.stiff[e, 0] = element[e, b.CONDUCT_II] + change
            memory.stiff[e, 1] = element[e, b.CONDUCT_IO] - change
            memory.stiff[e, 2] = element[e, b.CONDUCT_OO] + change


@compiled()
def vapour(layout: Layout, numbers: Numbers, weather: Weather, memory: Memory, h: int) -> None:
    """March the vapour of all zones through the hour; what condenses warms its surface next hour.

    Condensation goes to the coldest surface of a zone (walls between zones never
    are) and follows its convection (Lewis number 1). It runs off.
    """
    zone, humidity, wet = numbers.zone, memory.humidity, memory.wet
    zones = humidity.size
    per_flow = 1.0 / weather.air_heat
    outdoors = weather.outdoor_humidity[h]
    for z in range(zones):
        memory.coldest[z] = 0.0 * humidity[z] + b.NEVER
    for e in range(layout.zone_inside.size):
        z = layout.zone_inside[e]
        colder = memory.mean[e, 0] < memory.coldest[z]
        memory.coldest[z] = where(colder, memory.mean[e, 0], memory.coldest[z])
        film = numbers.element[e, b.AREA] * memory.convection[e, 0] * per_flow
        memory.reaching[z] = where(colder, film, memory.reaching[z])
        memory.where_wet[z] = where(colder, float(e), memory.where_wet[z])
    for attempt in range(2):  # dry first; then those condense that can
        for z in range(zones):
            mass = zone[z, b.DRY_AIR] * (1.0 / 3600.0)
            opened = memory.vented[z] / most(memory.air_mean[z] - weather.outdoor_air[h], 0.1)
            # a heat exchanger keeps heat, not water: ventilation counts with all its air
            flow = (memory.fresh[z] + least(opened, memory.vent_most[z])) * per_flow
            for y in range(zones):
                wet[z, y] = 0.0
            wet[z, z] = mass + flow
            memory.damp[z] = mass * humidity[z] + flow * outdoors + memory.brought[z]
            if attempt == 1:
                dew = _lookup(weather.saturation, memory.coldest[z])
                caught = where(memory.trial[z] > dew, memory.reaching[z], 0.0)
                memory.caught[z] = caught
                memory.dew[z] = dew
                wet[z, z] += caught
                memory.damp[z] += caught * dew
        for p in range(layout.passage_from.size):
            one, other = layout.passage_from[p], layout.passage_to[p]
            flow = memory.between[p] * per_flow
            wet[one, one] += flow
            wet[other, other] += flow
            wet[one, other] -= flow
            wet[other, one] -= flow
        solve(wet, memory.damp)
        for z in range(zones):
            memory.trial[z] = memory.damp[z]
    for z in range(zones):
        humidity[z] = memory.trial[z]
        memory.condensed[z] = memory.caught[z] * most(humidity[z] - memory.dew[z], 0.0)
