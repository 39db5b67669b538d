"""What a march takes once an hour from the temperatures at its start.

Drivers by the hour, covers, air flows, gains and stoves, natural films, and the
vapour: all that bends or switches. Columns, rows and memory: `noonmark.balance.block`.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from noonmark.balance import block as b
from noonmark.balance import memory as mem
from noonmark.balance.block import FloatArray, Layout, Numbers, Weather
from noonmark.balance.lanes import (
    any_above,
    cube_root,
    least,
    lowest,
    most,
    part,
    placed,
    put,
    take,
    where,
    width,
)
from noonmark.balance.memory import Memory
from noonmark.balance.small import solve
from noonmark.compiled import compiled

_STILL_AIR = 0.1
"""Least difference between surface and air [K] that a natural film is computed for."""

_HELD = 1e-6
"""A room that opened windows hold at a temperature counts as above it, short of so many K:
rounding must not say whether heat is kept."""

LATENT_HEAT = 2.454e6
"""Of vapour at 20 degC [J/kg] (ASHRAE Fundamentals, psychrometrics, from memory)."""

_FEWEST_LATENT, _MOST_LATENT = 0.05, 0.95
"""Between these the share of a body's heat leaves as vapour, however cold or warm it is."""


@compiled()
def _lookup(table: FloatArray, x: Any) -> Any:
    """Return the saturation table at a temperature, straight between its points."""
    place = (x - b.SATURATION_FROM) / b.SATURATION_STEP
    place = least(most(place, 0.0), b.SATURATION_COUNT - 1.001)
    point, low, high = place, place, place
    for lane in range(width(x)):
        index = int(take(place, lane))
        point = put(point, lane, float(index))
        low, high = put(low, lane, table[index]), put(high, lane, table[index + 1])
    return low + (place - point) * (high - low)


@compiled()
def look_ahead(layout: Layout, numbers: Numbers, weather: Weather, memory: Memory, h: int) -> None:
    """Sum a number and terms of the weather for the rows that change by the hour.

    Of hour `h` and those that follow it, `AHEAD` in all, the year going round.
    """
    count = weather.outdoor_air.size
    first, second = weather.signal[h], weather.signal[(h + 1) % count]
    third, fourth = weather.signal[(h + 2) % count], weather.signal[(h + 3) % count]
    for i in range(layout.changing.size):
        one = numbers.steady[layout.changing[i]]
        two, three, four = one, one, one  # sums in registers
        for t in range(layout.term_first[i], layout.term_first[i + 1]):
            number, s = numbers.coefficient[t], layout.term_signal[t]
            one += number * first[s]
            two += number * second[s]
            three += number * third[s]
            four += number * fourth[s]
        memory.ahead[i, 0] = one
        memory.ahead[i, 1] = two
        memory.ahead[i, 2] = three
        memory.ahead[i, 3] = four


@compiled()
def drivers(
    layout: Layout, numbers: Numbers, weather: Weather, memory: Memory, h: int, place: int
) -> None:
    """Write the rows of the layout that change by the hour, from a `place` of those ahead.

    Covers come first: by schedule, or while they are allowed to and it is warm inside.
    """
    room = memory.zone
    signal = weather.signal[h]
    for i in range(layout.changing.size):
        memory.lines[layout.changing[i]] = memory.ahead[i, place]
    for k in range(layout.cover_zone.size):
        at = b.COVER_ROWS * k
        warm = room[layout.cover_zone[k], mem.AIR] > numbers.cover[k, 0]
        shut = most(memory.now[at + b.CLOSED], memory.now[at + b.ALLOWED])
        memory.closed[k] = where(warm, shut, memory.now[at + b.CLOSED])
    for c in range(layout.covered_row.size):
        stopped = signal[layout.covered_signal[c]] * memory.closed[layout.covered_by[c]]
        memory.lines[layout.covered_row[c]] += numbers.covered[c] * stopped


@compiled()
def air_flows(layout: Layout, numbers: Numbers, memory: Memory, at: int, outdoor: float) -> None:
    """Write what air carries outdoors and between zones, and begin the zone matrices with it.

    `at` is the first row of the zones.
    """
    room = memory.zone
    zone, passage, now = numbers.zone, numbers.passage, memory.now
    response, zones = memory.response, zone.shape[0]
    for i in range(zones):
        for j in range(zones):
            response[i * zones + j] = 0.0
            memory.lever[i * zones + j] = 0.0
            memory.star[i * zones + j] = 0.0
    for z in range(zone.shape[0]):
        row = at + b.ZONE_ROWS * z
        air = room[z, mem.AIR]
        warmer = air - outdoor
        apart = most(warmer, -warmer)
        supply = now[row + b.SUPPLY]
        # heat is let go in summer: while it is warm inside and cooler outside
        bypass = (air > zone[z, b.BYPASS_ABOVE] - _HELD) & (warmer > 0.0)
        recovered = where(bypass, 0.0, supply * zone[z, b.RECOVERY])
        runs = (air > zone[z, b.FAN_ABOVE]) & (warmer > zone[z, b.FAN_COOLER])
        fan = where(runs, now[row + b.FAN], 0.0)
        pressure = zone[z, b.LEAK_STACK] * apart + now[row + b.LEAK_WIND]
        leak = zone[z, b.LEAK_SCALE] * math.sqrt(pressure)
        room[z, mem.FRESH] = supply + fan + leak
        room[z, mem.CARRIED] = room[z, mem.FRESH] - recovered
        pressure = zone[z, b.VENT_STACK] * apart + now[row + b.VENT_WIND]
        room[z, mem.VENT_MOST] = zone[z, b.VENT_BASE] + zone[z, b.VENT_SCALE] * math.sqrt(pressure)
        response[z * zones + z] = room[z, mem.SLOW_AIR] + room[z, mem.CARRIED]
    for p in range(layout.passage_from.size):
        one, other = layout.passage_from[p], layout.passage_to[p]
        row = b.COVER_ROWS * layout.cover_zone.size + b.PASSAGE_ROWS * p
        warmer = room[one, mem.AIR] - room[other, mem.AIR]
        through = passage[p, b.DOORWAY] * math.sqrt(most(warmer, -warmer))
        blows = (warmer > passage[p, b.BLOWER_DIFFERENCE]) & (
            room[other, mem.AIR] < passage[p, b.BLOWER_BELOW]
        )
        flow = now[row + b.OPEN] * (passage[p, b.STEADY] + through)
        flow += where(blows, now[row + b.BLOWING] * passage[p, b.BLOWER], 0.0)
        memory.between[p] = flow
        response[one * zones + one] += flow
        response[other * zones + other] += flow
        response[one * zones + other] -= flow
        response[other * zones + one] -= flow


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

    `lasting` takes what goes to air and star node, `slab` [W/m2] what goes into
    the heated elements, `brought` [kg/s] the vapour.
    """
    room = memory.zone
    zone, now = numbers.zone, memory.now
    charge = numbers.curve.shape[1]
    for z in range(zone.shape[0]):
        row = at + b.ZONE_ROWS * z
        air = room[z, mem.AIR]
        all_heat = now[row + b.BODIES]
        share = zone[z, b.BODY_LATENT] + zone[z, b.BODY_LATENT_PER_K] * (air - 20.0)
        share = least(most(share, _FEWEST_LATENT), _MOST_LATENT)
        sensible = all_heat * (1.0 - share)
        damp = now[row + b.VAPOUR] + (all_heat - sensible) * (1.0 / LATENT_HEAT)
        taken = 0.0 * air
        if layout.leaves:
            short = most(_lookup(weather.saturation, air) - room[z, mem.HUMIDITY], 0.0)
            leaves = now[row + b.LEAVES] + zone[z, b.LEAF_FLOW] * short
            damp += leaves
            taken = leaves * LATENT_HEAT
        fire = 0.0 * air
        if charge > 0:
            cold = air < now[row + b.STOVE_SET]
            lit = cold & (room[z, mem.BURNING] > zone[z, b.STOVE_HOURS] - 0.5)
            room[z, mem.BURNING] = where(lit, 0.0, room[z, mem.BURNING])
            for lane in range(width(fire)):
                hour = int(take(room[z, mem.BURNING], lane))
                if hour < charge:
                    fire = put(fire, lane, take(numbers.curve[z, hour], lane))
            room[z, mem.BURNING] += 1.0
        need = (now[row + b.SLAB_SET] - air) / zone[z, b.SLAB_BAND]
        room[z, mem.SLAB] = zone[z, b.SLAB_MOST] * least(most(need, 0.0), 1.0)
        room[z, mem.BODIES] = sensible
        room[z, mem.STOVE] = fire
        room[z, mem.TAKEN] = taken
        room[z, mem.GIVEN_BACK] = room[z, mem.CONDENSED] * LATENT_HEAT
        room[z, mem.BROUGHT] = damp
        radiant = zone[z, b.BODY_RADIANT] * sensible + zone[z, b.STOVE_RADIANT] * fire
        gained = now[row + b.GAIN_AIR] + sensible + fire - radiant - taken
        memory.lasting[2 * z] = room[z, mem.CARRIED] * outdoor + gained
        memory.lasting[2 * z + 1] = now[row + b.GAIN_STAR] + radiant


@compiled()
def natural_film(numbers: Numbers, memory: Memory, e: int, side: int, air: Any) -> None:
    """Write the convective film of an element towards a zone, by temperatures of the last hour.

    `side` 0 is the inside, 1 the outside, `air` [degC] what it faces there.
    """
    own, element = memory.element, numbers.element
    at = b.FILM_OUT if side else b.FILM_IN
    difference = own[e, mem.MEAN_IN + side] - air
    root = cube_root(most(most(difference, -difference), _STILL_AIR))
    warm = element[e, at] + element[e, at + 1] * root
    cool = element[e, at + 2] + element[e, at + 3] * root
    own[e, mem.FILM_IN + side] = where(difference > 0.0, warm, cool)


@compiled()
def covered_conductance(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write the conductance of windows by how far their covers are closed."""
    own, element = memory.element, numbers.element
    for w in range(layout.with_cover.size):
        e, lane = layout.group[layout.with_cover[w]], layout.lane[layout.with_cover[w]]
        shut = placed(own[e, mem.SHUT], lane, memory.closed[layout.its_cover[w]])
        own[e, mem.SHUT] = shut
        change = shut * element[e, b.COVERED]
        own[e, mem.STIFF_II] = element[e, b.CONDUCT_II] + change
        own[e, mem.STIFF_IO] = element[e, b.CONDUCT_IO] - change
        own[e, mem.STIFF_OO] = element[e, b.CONDUCT_OO] + change


@compiled()
def _find_coldest(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write the temperature of the coldest surface inside each zone."""
    own, room, zones = memory.element, memory.zone, memory.zone.shape[0]
    for z in range(zones):
        coldest = 0.0 * own[0, mem.MEAN_IN] + b.NEVER
        for e in range(layout.facing_first[z], layout.facing_first[z + 1]):
            surface = where(numbers.element[e, b.AREA] > 0.0, own[e, mem.MEAN_IN], b.NEVER)
            coldest = least(coldest, surface)
        room[z, mem.COLDEST] = lowest(coldest, room[z, mem.HUMIDITY])
    for w in range(layout.wall_inside.size):
        i, inside = int(layout.element_first[zones]) + w, layout.wall_inside[w]
        coldest = room[inside, mem.COLDEST]
        surface = part(own[layout.group[i], mem.MEAN_IN], layout.lane[i], coldest)
        room[inside, mem.COLDEST] = least(surface, coldest)


@compiled()
def _reaching(layout: Layout, numbers: Numbers, memory: Memory, z: int) -> Any:
    """Return the convection of the coldest surface of zone `z` [W/K], and write its place."""
    own, coldest, zones = memory.element, memory.zone[z, mem.COLDEST], memory.zone.shape[0]
    place = 0.0 * coldest
    for i in range(layout.element_first[z], layout.element_first[z + 1]):
        surface = part(own[layout.group[i], mem.MEAN_IN], layout.lane[i], coldest)
        place = where(surface <= coldest, float(i), place)
    for w in range(layout.wall_inside.size):
        if layout.wall_inside[w] == z:
            i = int(layout.element_first[zones]) + w
            surface = part(own[layout.group[i], mem.MEAN_IN], layout.lane[i], coldest)
            place = where(surface <= coldest, float(i), place)
    memory.zone[z, mem.WHERE_WET] = place
    reaching = 0.0 * place
    for lane in range(width(place)):
        found = np.uint32(take(place, lane))
        e, there = layout.group[found], layout.lane[found] + lane
        film = take(memory.element[e, mem.FILM_IN], there)
        reaching = put(reaching, lane, take(numbers.element[e, b.AREA], there) * film)
    return reaching


@compiled()
def vapour(layout: Layout, numbers: Numbers, weather: Weather, memory: Memory, h: int) -> None:
    """March the vapour of all zones through the hour; what condenses warms its surface next hour.

    Condensation goes to the coldest surface of a zone (outsides of walls between zones
    never are) and follows its convection (Lewis number 1). It runs off.
    """
    room = memory.zone
    zone, wet = numbers.zone, memory.wet
    zones = zone.shape[0]
    per_flow = 1.0 / weather.air_heat
    outdoors = weather.outdoor_humidity[h]
    _find_coldest(layout, numbers, memory)
    for z in range(zones):
        room[z, mem.DEW] = _lookup(weather.saturation, room[z, mem.COLDEST])
        room[z, mem.CAUGHT] = 0.0
    # dry first; then those condense that can, until none that condenses falls below its dew
    for attempt in range(1 + zones):
        changed = 0.0 * wet[0]
        for z in range(zones if attempt > 0 else 0):
            before = room[z, mem.CAUGHT]
            above = room[z, mem.TRIAL] - room[z, mem.DEW]
            can = before
            if attempt == 1 and any_above(above, 0.0):
                can = _reaching(layout, numbers, memory, z) * per_flow
            caught = where(above > 0.0, can, 0.0)
            changed = where((caught < before) | (caught > before), 1.0, changed)
            room[z, mem.CAUGHT] = caught
        if attempt > 0 and not any_above(changed, 0.0):
            break
        for z in range(zones):
            mass = zone[z, b.DRY_AIR] * (1.0 / 3600.0)
            opened = room[z, mem.VENTED] / most(room[z, mem.AIR_MEAN] - weather.outdoor_air[h], 0.1)
            # a heat exchanger keeps heat, not water: ventilation counts with all its air
            flow = (room[z, mem.FRESH] + least(opened, room[z, mem.VENT_MOST])) * per_flow
            caught = room[z, mem.CAUGHT]
            for y in range(zones):
                wet[z * zones + y] = 0.0
            wet[z * zones + z] = mass + flow + caught
            damp = mass * room[z, mem.HUMIDITY] + flow * outdoors + room[z, mem.BROUGHT]
            memory.damp[z] = damp + caught * room[z, mem.DEW]
        for p in range(layout.passage_from.size):
            one, other = layout.passage_from[p], layout.passage_to[p]
            flow = memory.between[p] * per_flow
            wet[one * zones + one] += flow
            wet[other * zones + other] += flow
            wet[one * zones + other] -= flow
            wet[other * zones + one] -= flow
        solve(wet, memory.damp, zones)
        for z in range(zones):
            room[z, mem.TRIAL] = memory.damp[z]
    for z in range(zones):
        room[z, mem.HUMIDITY] = room[z, mem.TRIAL]
        room[z, mem.CONDENSED] = room[z, mem.CAUGHT] * most(
            room[z, mem.HUMIDITY] - room[z, mem.DEW], 0.0
        )
