"""Elements between their films: surfaces follow loads and nodes, and add to the zone matrix.

Surfaces are eliminated before the nodes of the zones are solved, and follow
them afterwards. Columns and memory: `noonmark.balance.block`, `.memory`.
"""

from __future__ import annotations

from typing import Any

from noonmark.balance import block as b
from noonmark.balance import memory as mem
from noonmark.balance.block import FloatArray, Layout, Numbers
from noonmark.balance.lanes import together
from noonmark.balance.memory import Memory
from noonmark.compiled import compiled


@compiled()
def reach(layout: Layout, numbers: Numbers, memory: Memory, e: int) -> None:
    """Write how the surfaces of an element follow their loads: the 2 x 2 inverse of their films."""
    element, own = numbers.element, memory.element
    film = memory.drive[e, b.OUTSIDE_FILM]
    if layout.zone_outside[e] >= 0:
        film = own[e, mem.FILM_OUT] + element[e, b.RADIATION_OUT]
    ii = own[e, mem.STIFF_II] + own[e, mem.FILM_IN] + element[e, b.RADIATION_IN]
    io = own[e, mem.STIFF_IO]
    oo = own[e, mem.STIFF_OO] + film
    scale = 1.0 / (ii * oo - io * io)
    own[e, mem.REACH_II] = oo * scale
    own[e, mem.REACH_IO] = -io * scale
    own[e, mem.REACH_OO] = ii * scale


@compiled()
def eliminate(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Add the eliminated surfaces to the zone matrices."""
    element, own = numbers.element, memory.element
    response, lever, star = memory.response, memory.lever, memory.star
    zones = memory.zone.shape[0]
    for z in range(zones):
        # sums in registers: through memory each would wait for the one before
        to_air, to_star, between = 0.0, 0.0, 0.0
        for e in range(layout.facing_first[z], layout.facing_first[z + 1]):
            near = own[e, mem.REACH_II]
            hc = element[e, b.AREA] * own[e, mem.FILM_IN]
            hr = element[e, b.AREA] * element[e, b.RADIATION_IN]
            to_air += hc * (1.0 - near * own[e, mem.FILM_IN])
            to_star += hr * (1.0 - near * element[e, b.RADIATION_IN])
            between -= hc * near * element[e, b.RADIATION_IN]
        one = response[z * zones + z]
        response[z * zones + z] += together(to_air, one)
        star[z * zones + z] += together(to_star, one)
        lever[z * zones + z] += together(between, one)
    for p in range(layout.partition.size):
        e = layout.partition[p]
        i, o = layout.zone_inside[e], layout.zone_outside[e]
        hc, hr = own[e, mem.FILM_IN], element[e, b.RADIATION_IN]
        kc, kr = own[e, mem.FILM_OUT], element[e, b.RADIATION_OUT]
        far = own[e, mem.REACH_OO]
        area, one = element[e, b.AREA], response[o * zones + o]
        response[o * zones + o] += together(area * kc * (1.0 - far * kc), one)
        star[o * zones + o] += together(area * kr * (1.0 - far * kr), one)
        lever[o * zones + o] -= together(area * kc * far * kr, one)
        cross = area * own[e, mem.REACH_IO]
        between = together(cross * hc * kc, one)
        response[i * zones + o] -= between
        response[o * zones + i] -= between
        between = together(cross * hr * kr, one)
        star[i * zones + o] -= between
        star[o * zones + i] -= between
        lever[i * zones + o] -= together(cross * hc * kr, one)
        lever[o * zones + i] -= together(cross * hr * kc, one)


@compiled()
def _arrives(numbers: Numbers, memory: Memory, e: int) -> Any:
    """Return area times inside temperature of an element whose zones are at 0 degC [m2K]."""
    own = memory.element
    warmed = (
        own[e, mem.REACH_II] * own[e, mem.LOAD_IN] + own[e, mem.REACH_IO] * own[e, mem.LOAD_OUT]
    )
    return numbers.element[e, b.AREA] * warmed


@compiled()
def _arrive_behind(layout: Layout, numbers: Numbers, memory: Memory, right: FloatArray) -> None:
    """Add what the loads of walls between zones bring to the zones at their outside."""
    element, own = numbers.element, memory.element
    for p in range(layout.partition.size):
        e = layout.partition[p]
        o = 2 * layout.zone_outside[e]
        warmed = own[e, mem.REACH_IO] * own[e, mem.LOAD_IN]
        warmed += own[e, mem.REACH_OO] * own[e, mem.LOAD_OUT]
        warmed *= element[e, b.AREA]
        right[o] += together(own[e, mem.FILM_OUT] * warmed, right[o])
        right[o + 1] += together(element[e, b.RADIATION_OUT] * warmed, right[o])


@compiled()
def surface_temperatures(
    layout: Layout, numbers: Numbers, memory: Memory, e: int, node: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return both surface temperatures of element `e` from the nodes of its zones."""
    own = memory.element
    element = numbers.element
    i = 2 * layout.zone_inside[e]
    inner = own[e, mem.LOAD_IN] + own[e, mem.FILM_IN] * node[i]
    inner += element[e, b.RADIATION_IN] * node[i + 1]
    outer = own[e, mem.LOAD_OUT]
    if layout.zone_outside[e] >= 0:
        o = 2 * layout.zone_outside[e]
        outer += own[e, mem.FILM_OUT] * node[o] + element[e, b.RADIATION_OUT] * node[o + 1]
    return (
        own[e, mem.REACH_II] * inner + own[e, mem.REACH_IO] * outer,
        own[e, mem.REACH_IO] * inner + own[e, mem.REACH_OO] * outer,
    )


@compiled()
def loads(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write what drives nodes and elements that store heat in a stage: `right`, `load`."""
    element, own, room, mode = numbers.element, memory.element, memory.zone, memory.mode
    for z in range(room.shape[0]):
        to_air, to_star = 0.0, 0.0
        for e in range(layout.facing_first[z], layout.facing_middle[z]):
            surface, beyond = own[e, mem.SURFACE_IN], own[e, mem.SURFACE_OUT]
            inner = own[e, mem.SLOW_II] * surface + own[e, mem.SLOW_IO] * beyond
            outer = own[e, mem.SLOW_IO] * surface + own[e, mem.SLOW_OO] * beyond
            for m in range(layout.first[e], layout.first[e + 1]):
                was = mode[m, mem.MODE] + mode[m, mem.PUSH]
                inner += mode[m, mem.PAST_IN] * was
                outer += mode[m, mem.PAST_OUT] * was
            own[e, mem.LOAD_IN] = inner + own[e, mem.SOURCE_IN]
            own[e, mem.LOAD_OUT] = outer + own[e, mem.SOURCE_OUT]
            brought = _arrives(numbers, memory, e)
            to_air += own[e, mem.FILM_IN] * brought
            to_star += element[e, b.RADIATION_IN] * brought
        one = memory.lasting[2 * z]
        own_air = room[z, mem.SLOW_AIR] * room[z, mem.AIR]
        memory.right[2 * z] = one + own_air + together(to_air, one)
        memory.right[2 * z + 1] = memory.lasting[2 * z + 1] + together(to_star, one)
    _arrive_behind(layout, numbers, memory, memory.right)


@compiled()
def massless_loads(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Add what elements that store nothing bring to the nodes in all stages of the hour."""
    element, own = numbers.element, memory.element
    for z in range(memory.zone.shape[0]):
        to_air, to_star = 0.0, 0.0
        for e in range(layout.facing_middle[z], layout.facing_first[z + 1]):
            own[e, mem.LOAD_IN] = own[e, mem.SOURCE_IN]
            own[e, mem.LOAD_OUT] = own[e, mem.SOURCE_OUT]
            brought = _arrives(numbers, memory, e)
            to_air += own[e, mem.FILM_IN] * brought
            to_star += element[e, b.RADIATION_IN] * brought
        one = memory.lasting[2 * z]
        memory.lasting[2 * z] += together(to_air, one)
        memory.lasting[2 * z + 1] += together(to_star, one)


@compiled()
def follow(
    layout: Layout, numbers: Numbers, memory: Memory, g: float, share: float, onward: float
) -> None:
    """Let surfaces and modes follow the nodes, and add their `share` to the hour's means."""
    own = memory.element
    mode = memory.mode
    for z in range(memory.zone.shape[0]):
        for e in range(layout.facing_first[z], layout.facing_middle[z]):
            inner, outer = surface_temperatures(layout, numbers, memory, e, memory.node)
            own[e, mem.MEAN_IN] += share * inner
            own[e, mem.MEAN_OUT] += share * outer
            for m in range(layout.first[e], layout.first[e + 1]):
                drive = g * (
                    memory.mode[m, mem.PAST_IN] * inner + memory.mode[m, mem.PAST_OUT] * outer
                )
                now = (
                    memory.mode[m, mem.KEEP] * (mode[m, mem.MODE] + memory.mode[m, mem.PUSH])
                    + drive
                )
                mode[m, mem.MODE] += onward * (now - mode[m, mem.MODE])
            own[e, mem.SURFACE_IN] += onward * (inner - own[e, mem.SURFACE_IN])
            own[e, mem.SURFACE_OUT] += onward * (outer - own[e, mem.SURFACE_OUT])
