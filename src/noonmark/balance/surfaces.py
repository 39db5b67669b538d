"""Elements between their films: surfaces follow loads and nodes, and add to the zone matrix.

Surfaces are eliminated before the nodes of the zones are solved, and follow
them afterwards. Columns and memory: `noonmark.balance.block`, `.memory`.
"""

from __future__ import annotations

from typing import Any

from noonmark.balance import block as b
from noonmark.balance import memory as mem
from noonmark.balance.block import FloatArray, Layout, Numbers
from noonmark.balance.lanes import filled, part, together
from noonmark.balance.memory import Memory
from noonmark.compiled import compiled


@compiled()
def reach(
    layout: Layout, numbers: Numbers, memory: Memory, e: int, beyond: Any, slab: Any, g: float
) -> None:
    """Write how the surfaces of an element follow their loads: the 2 x 2 inverse of their films.

    And what surfaces and buried layers receive in this hour. `beyond` [W/m2K] are the films
    at the outside, `slab` [W/m2] is put into what is heated, in stages `g` [s] long.
    """
    own, element = memory.element, numbers.element
    own[e, mem.SOURCE_IN] = memory.drive[e, b.INSIDE_SOURCE] + element[e, b.BURIED_IN] * slab
    own[e, mem.SOURCE_OUT] = memory.drive[e, b.OUTSIDE_DRIVE] + element[e, b.BURIED_OUT] * slab
    if layout.heated:
        for m in range(layout.first[e], layout.first[e + 1]):
            memory.mode[m, mem.PUSH] = g * numbers.mode[m, b.BURIED] * slab
    ii = own[e, mem.STIFF_II] + own[e, mem.FILM_IN] + element[e, b.RADIATION_IN]
    io = own[e, mem.STIFF_IO]
    oo = own[e, mem.STIFF_OO] + beyond
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
    for e in range(layout.facing_first[zones], layout.facing_first[zones + 1]):
        _eliminate_walls(layout, numbers, memory, e)


@compiled()
def _eliminate_walls(layout: Layout, numbers: Numbers, memory: Memory, e: int) -> None:
    """Add the eliminated surfaces of a group of walls between zones to the zone matrices."""
    own, zones = memory.element, memory.zone.shape[0]
    response, lever, star = memory.response, memory.lever, memory.star
    area = numbers.element[e, b.AREA]
    hc, hr = own[e, mem.FILM_IN], numbers.element[e, b.RADIATION_IN]
    kc, kr = own[e, mem.FILM_OUT], numbers.element[e, b.RADIATION_OUT]
    near, far, cross = own[e, mem.REACH_II], own[e, mem.REACH_OO], area * own[e, mem.REACH_IO]
    for k in range(layout.begin[e], layout.begin[e + 1]):
        w, lane = k - layout.element_first[zones], layout.lane[k]
        i, o = layout.wall_inside[w], layout.wall_outside[w]
        one = response[i * zones + i]
        response[i * zones + i] += part(area * hc * (1.0 - near * hc), lane, one)
        response[o * zones + o] += part(area * kc * (1.0 - far * kc), lane, one)
        star[i * zones + i] += part(area * hr * (1.0 - near * hr), lane, one)
        star[o * zones + o] += part(area * kr * (1.0 - far * kr), lane, one)
        lever[i * zones + i] -= part(area * hc * near * hr, lane, one)
        lever[o * zones + o] -= part(area * kc * far * kr, lane, one)
        between = part(cross * hc * kc, lane, one)
        response[i * zones + o] -= between
        response[o * zones + i] -= between
        between = part(cross * hr * kr, lane, one)
        star[i * zones + o] -= between
        star[o * zones + i] -= between
        lever[i * zones + o] -= part(cross * hc * kr, lane, one)
        lever[o * zones + i] -= part(cross * hr * kc, lane, one)


@compiled()
def put_beside(layout: Layout, memory: Memory) -> None:
    """Write the nodes of the zones to where the walls between them stand."""
    node = memory.node
    for w in range(layout.wall_inside.size):
        place = layout.wall_place[w]
        i, o = 2 * layout.wall_inside[w], 2 * layout.wall_outside[w]
        for k in range(2):
            memory.beside[mem.NODES_IN + k, place] = node[i + k]
            memory.beside[mem.NODES_OUT + k, place] = node[o + k]


@compiled()
def _arrives(numbers: Numbers, memory: Memory, e: int) -> Any:
    """Return area times inside temperature of an element whose zones are at 0 degC [m2K]."""
    own = memory.element
    warmed = (
        own[e, mem.REACH_II] * own[e, mem.LOAD_IN] + own[e, mem.REACH_IO] * own[e, mem.LOAD_OUT]
    )
    return numbers.element[e, b.AREA] * warmed


@compiled()
def _bring(layout: Layout, numbers: Numbers, memory: Memory, e: int, right: FloatArray) -> None:
    """Add what the loads of a group of walls between zones bring to the nodes at both sides."""
    element, own = numbers.element, memory.element
    inner = _arrives(numbers, memory, e)
    outer = own[e, mem.REACH_IO] * own[e, mem.LOAD_IN]
    outer += own[e, mem.REACH_OO] * own[e, mem.LOAD_OUT]
    outer *= element[e, b.AREA]
    first = layout.element_first[memory.zone.shape[0]]
    for k in range(layout.begin[e], layout.begin[e + 1]):
        i, o = 2 * layout.wall_inside[k - first], 2 * layout.wall_outside[k - first]
        lane, one = layout.lane[k], right[i]
        right[i] += part(own[e, mem.FILM_IN] * inner, lane, one)
        right[i + 1] += part(element[e, b.RADIATION_IN] * inner, lane, one)
        right[o] += part(own[e, mem.FILM_OUT] * outer, lane, one)
        right[o + 1] += part(element[e, b.RADIATION_OUT] * outer, lane, one)


@compiled()
def surface_temperatures(
    numbers: Numbers, memory: Memory, e: int, air: Any, star: Any
) -> tuple[Any, Any]:
    """Return both surface temperatures of element `e` from the nodes at its inside."""
    own = memory.element
    inner = own[e, mem.LOAD_IN] + own[e, mem.FILM_IN] * air
    inner += numbers.element[e, b.RADIATION_IN] * star
    outer = own[e, mem.LOAD_OUT]
    return (
        own[e, mem.REACH_II] * inner + own[e, mem.REACH_IO] * outer,
        own[e, mem.REACH_IO] * inner + own[e, mem.REACH_OO] * outer,
    )


@compiled()
def wall_temperatures(layout: Layout, numbers: Numbers, memory: Memory, e: int) -> tuple[Any, Any]:
    """Return both surface temperatures of a group of walls between zones, from `beside`."""
    own, beside = memory.element, memory.beside_lines
    w = e - layout.facing_first[memory.zone.shape[0]]
    air, star = beside[mem.NODES_IN, w], beside[mem.NODES_IN + 1, w]
    inner, outer = surface_temperatures(numbers, memory, e, air, star)
    driven = own[e, mem.FILM_OUT] * beside[mem.NODES_OUT, w]
    driven += numbers.element[e, b.RADIATION_OUT] * beside[mem.NODES_OUT + 1, w]
    return inner + own[e, mem.REACH_IO] * driven, outer + own[e, mem.REACH_OO] * driven


@compiled()
def _load(layout: Layout, memory: Memory, e: int) -> None:
    """Write the loads of an element that stores heat in a stage."""
    own, mode = memory.element, memory.mode
    surface, beyond = own[e, mem.SURFACE_IN], own[e, mem.SURFACE_OUT]
    inner = own[e, mem.SLOW_II] * surface + own[e, mem.SLOW_IO] * beyond
    outer = own[e, mem.SLOW_IO] * surface + own[e, mem.SLOW_OO] * beyond
    for m in range(layout.first[e], layout.first[e + 1]):
        was = mode[m, mem.MODE] + mode[m, mem.PUSH]
        inner += mode[m, mem.PAST_IN] * was
        outer += mode[m, mem.PAST_OUT] * was
    own[e, mem.LOAD_IN] = inner + own[e, mem.SOURCE_IN]
    own[e, mem.LOAD_OUT] = outer + own[e, mem.SOURCE_OUT]


@compiled()
def loads(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Write what drives nodes and elements that store heat in a stage: `right`, `load`."""
    own, room, zones = memory.element, memory.zone, memory.zone.shape[0]
    for z in range(zones):
        to_air, to_star = 0.0, 0.0
        for e in range(layout.facing_first[z], layout.facing_middle[z]):
            _load(layout, memory, e)
            brought = _arrives(numbers, memory, e)
            to_air += own[e, mem.FILM_IN] * brought
            to_star += numbers.element[e, b.RADIATION_IN] * brought
        one = memory.lasting[2 * z]
        own_air = room[z, mem.SLOW_AIR] * room[z, mem.AIR]
        memory.right[2 * z] = one + own_air + together(to_air, one)
        memory.right[2 * z + 1] = memory.lasting[2 * z + 1] + together(to_star, one)
    for e in range(layout.facing_first[zones], layout.facing_middle[zones]):
        _load(layout, memory, e)
        _bring(layout, numbers, memory, e, memory.right)


@compiled()
def massless_loads(layout: Layout, numbers: Numbers, memory: Memory) -> None:
    """Add what elements that store nothing bring to the nodes in all stages of the hour."""
    own, zones = memory.element, memory.zone.shape[0]
    for z in range(zones):
        to_air, to_star = 0.0, 0.0
        for e in range(layout.facing_middle[z], layout.facing_first[z + 1]):
            own[e, mem.LOAD_IN] = own[e, mem.SOURCE_IN]
            own[e, mem.LOAD_OUT] = own[e, mem.SOURCE_OUT]
            brought = _arrives(numbers, memory, e)
            to_air += own[e, mem.FILM_IN] * brought
            to_star += numbers.element[e, b.RADIATION_IN] * brought
        one = memory.lasting[2 * z]
        memory.lasting[2 * z] += together(to_air, one)
        memory.lasting[2 * z + 1] += together(to_star, one)
    for e in range(layout.facing_middle[zones], layout.facing_first[zones + 1]):
        own[e, mem.LOAD_IN] = own[e, mem.SOURCE_IN]
        own[e, mem.LOAD_OUT] = own[e, mem.SOURCE_OUT]
        _bring(layout, numbers, memory, e, memory.lasting)


@compiled()
def _go_on(
    layout: Layout, memory: Memory, e: int, inner: Any, outer: Any, g: float, share: float,
    onward: float,
) -> None:  # fmt: skip
    """Let an element that stores heat follow its surface temperatures: see `follow`."""
    own, mode = memory.element, memory.mode
    own[e, mem.MEAN_IN] += share * inner
    own[e, mem.MEAN_OUT] += share * outer
    for m in range(layout.first[e], layout.first[e + 1]):
        drive = g * (mode[m, mem.PAST_IN] * inner + mode[m, mem.PAST_OUT] * outer)
        now = mode[m, mem.KEEP] * (mode[m, mem.MODE] + mode[m, mem.PUSH]) + drive
        mode[m, mem.MODE] += onward * (now - mode[m, mem.MODE])
    own[e, mem.SURFACE_IN] += onward * (inner - own[e, mem.SURFACE_IN])
    own[e, mem.SURFACE_OUT] += onward * (outer - own[e, mem.SURFACE_OUT])


@compiled()
def follow(
    layout: Layout, numbers: Numbers, memory: Memory, g: float, share: float, onward: float
) -> None:
    """Let surfaces and modes follow the nodes, and add their `share` to the hour's means."""
    node, zones = memory.node, memory.zone.shape[0]
    put_beside(layout, memory)
    for z in range(zones):
        air, star = filled(node[2 * z]), filled(node[2 * z + 1])
        for e in range(layout.facing_first[z], layout.facing_middle[z]):
            inner, outer = surface_temperatures(numbers, memory, e, air, star)
            _go_on(layout, memory, e, inner, outer, g, share, onward)
    for e in range(layout.facing_first[zones], layout.facing_middle[zones]):
        inner, outer = wall_temperatures(layout, numbers, memory, e)
        _go_on(layout, memory, e, inner, outer, g, share, onward)
