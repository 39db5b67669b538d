"""Opened windows, plants and nodes of all zones in a stage, compiled for floats and lanes."""

from __future__ import annotations

import math
from typing import Any

from noonmark.balance import block as b
from noonmark.balance import memory as mem
from noonmark.balance.block import Numbers
from noonmark.balance.lanes import any_above, least, most, put, take, where, width
from noonmark.balance.memory import Memory, Scratch
from noonmark.balance.small import held_power
from noonmark.compiled import compiled

GAMMA = 1.0 - 1.0 / math.sqrt(2.0)
"""Weight of the last stage of a step, and what both count of themselves."""

ONWARD = (1.0 - GAMMA) / GAMMA
"""How far beyond the first stage's changes a state starts into the last one."""

_SWEEPS = 20
_SETTLED = 1e-8
"""The windows of several zones are set again by each other's at most so often, until none
would carry more by so many W."""


@compiled()
def _to_hold(memory: Memory, z: int, zones: int) -> Any:
    """Return what zone `z` needs [W] that all airs go from `FREE` to their `TARGET`."""
    room, holding = memory.zone, memory.holding
    needs = holding[z * zones] * (room[0, mem.TARGET] - room[0, mem.FREE])
    for y in range(1, zones):
        needs += holding[z * zones + y] * (room[y, mem.TARGET] - room[y, mem.FREE])
    return needs


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
    for _sweep in range(_SWEEPS):  # windows of one zone air the next
        for z in range(zones):
            swing, before = response[z * zones + z], room[z, mem.VENT]
            free = room[z, mem.FREE] + swing * before
            room[z, mem.LEFT_AT] = room[z, mem.FREE]
            if not any_above(most(free - zone[z, b.VENT_ABOVE], before), 0.0):
                continue
            cool_set = memory.now[at + b.ZONE_ROWS * z + b.COOL_SET]
            most_open = room[z, mem.VENT_MOST] * widen
            calm = 1.0 / (1.0 + swing * most_open)
            airy = (free + swing * most_open * outdoor) * calm
            if any_above(airy - cool_set, 0.0):
                # fully open beside a cooler, they carry the heat of the room it cools
                over = most((airy - cool_set) * (room[z, mem.HOLDS] + most_open), 0.0)
                airy -= swing * calm * least(over, zone[z, b.COOL_MOST] * widen)
            fully = most(most_open * (airy - outdoor), 0.0)
            # opened just enough to hold `vent_above`, or fully, while it is cooler outside
            vent = least(most((free - zone[z, b.VENT_ABOVE]) * room[z, mem.HOLDS], 0.0), fully)
            room[z, mem.VENT] = vent
            for y in range(zones):
                room[y, mem.FREE] -= response[y * zones + z] * (vent - before)
            room[z, mem.LEFT_AT] = room[z, mem.FREE]
        if zones == 1:
            break
        moved = 0.0 * room[0, mem.VENT]
        for z in range(zones):  # what the windows of the others have changed since its turn
            change = room[z, mem.FREE] - room[z, mem.LEFT_AT]
            moved = most(moved, most(change, -change) * room[z, mem.HOLDS])
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
    widen = 1.0 / GAMMA if last else 1.0
    _open_windows(numbers, memory, at, outdoor, widen, zones)
    if zones == 1:
        heat = (memory.now[at + b.HEAT_SET] - room[0, mem.FREE]) * room[0, mem.HOLDS]
        cool = (room[0, mem.FREE] - memory.now[at + b.COOL_SET]) * room[0, mem.HOLDS]
        heat = least(most(heat, 0.0), zone[0, b.HEAT_MOST] * widen)
        room[0, mem.POWER] = heat - least(most(cool, 0.0), zone[0, b.COOL_MOST] * widen)
        return
    beyond, short = 0.0 * room[0, mem.FREE], 0.0 * room[0, mem.FREE]
    for z in range(zones):
        row, free = at + b.ZONE_ROWS * z, room[z, mem.FREE]
        heat_set, cool_set = memory.now[row + b.HEAT_SET], memory.now[row + b.COOL_SET]
        apart = most(heat_set - free, free - cool_set)
        room[z, mem.TARGET] = where(free < heat_set, heat_set, cool_set)
        beyond, short = most(beyond, apart), most(short, -apart)
        room[z, mem.POWER] = 0.0
    if not any_above(beyond, 0.0):
        return
    if not any_above(short, 0.0):  # all zones beyond their set-points: most often all are held
        for z in range(zones):
            power = _to_hold(memory, z, zones)
            warmer = room[z, mem.TARGET] - room[z, mem.FREE]
            over = most(power - zone[z, b.HEAT_MOST] * widen, -power - zone[z, b.COOL_MOST] * widen)
            short = most(short, where(power * warmer < 0.0, 1.0, over))
            room[z, mem.POWER] = power
        if not any_above(short, 0.0):
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
def nodes(
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
        drives = right[2 * z]
        if last:  # so that a room ends on its set-point and not beyond it
            drives -= ONWARD * (room[z, mem.POWER] - room[z, mem.VENT])
        for y in range(zones):
            drives -= lever[z * zones + y] * right[2 * y + 1]
        right[2 * z] = drives
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
