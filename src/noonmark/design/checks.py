"""Checks that need arithmetic only: what keeps a design from standing, one rule a function."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations

from noonmark import catalog
from noonmark.design import eave_checks, opening_checks, outdoor_checks, plant_checks, roof_checks
from noonmark.design.derived import (
    OPPOSITE,
    WallFace,
    material_of,
    neighbour,
    roof_triangle,
    rows_of_zones,
    thickness,
    wall_faces,
    zone_corners,
)
from noonmark.design.model import (
    SIDE_TURN,
    Building,
    GlazingUnit,
    Homestead,
    LayerPart,
    Side,
)
from noonmark.design.quantities import spoken_length
from noonmark.errors import InputError, Problem
from noonmark.glazing.unit import GLASS_CONDUCTIVITY
from noonmark.place.clock import standard_offset
from noonmark.place.site import azimuth_name, check_coordinates
from noonmark.units import Quantity

THINNEST_LAYER = 1e-4
"""A layer thinner than 0.1 mm [m] does nothing a year could show (common practice)."""

LEAST_RESISTANCE = 1e-3
"""A layer given by a resistance below this [m2K/W] resists nothing (common practice)."""

LEAST_GAP = 1e-3
"""Zones closer than this [m] stand wall to wall."""

Rule = Callable[[Homestead, str, Building], Iterator[Problem]]


def check_design(homestead: Homestead) -> list[Problem]:
    """Return everything that keeps the design from standing, in the file's order."""
    problems = [
        *_place(homestead),
        *outdoor_checks.skyline(homestead),
        *_constructions(homestead),
    ]
    for name, building in homestead.buildings.items():
        found = [p for rule in _FIRST for p in rule(homestead, name, building)]
        if not found and not problems:
            found = [p for rule in _THEN for p in _applied(rule, homestead, name, building)]
        # several rules may fail to look for the same reason
        problems += [p for i, p in enumerate(found) if p not in found[:i]]
    return problems


def _applied(rule: Rule, homestead: Homestead, name: str, building: Building) -> list[Problem]:
    """Return what a rule finds, or what keeps it from looking."""
    try:
        return list(rule(homestead, name, building))
    except InputError as error:
        return [p.at(path=f"{name}.{p.path}") for p in error.problems]


def require_sound(homestead: Homestead) -> None:
    """Raise `InputError` with every problem of `check_design`."""
    if problems := check_design(homestead):
        raise InputError(problems)


def _place(homestead: Homestead) -> Iterator[Problem]:
    place = homestead.place
    try:
        offset = standard_offset(place.time_zone, year=2022)
    except InputError as error:
        yield from (p.at(path="place.time_zone") for p in error.problems)
        return
    found = check_coordinates(
        latitude=place.latitude,
        longitude=place.longitude,
        altitude_m=place.altitude,
        utc_offset_h=offset,
    )
    yield from (p.at(path=f"place.{p.path}") for p in found)


def _constructions(homestead: Homestead) -> Iterator[Problem]:
    for name, construction in homestead.construction.items():
        for index, layer in enumerate(construction.layers, start=1):
            path = f"construction.{name}.layers.{index}"
            yield from (p.at(path=path) for p in _layer(homestead, layer))
    for name, unit in homestead.glazing.items():
        yield from (p.at(path=f"glazing.{name}.{p.path}".rstrip(".")) for p in _glazing(unit))


def _glazing(unit: GlazingUnit) -> Iterator[Problem]:
    """A unit is known by its maker's values, by its gaps or by what resists between its panes."""
    unknown = list(_known(catalog.Pane, unit.pane))
    yield from (p.at(path="pane") for p in unknown)
    whole = None not in (unit.u_value, unit.shgc, unit.transmittance)
    ways = sum((whole, unit.gaps is not None, unit.resistance is not None))
    if ways != 1 and (unit.panes > 1 or unit.resistance is not None):
        yield Problem("design.glazing_half")
    elif unit.gaps is not None and len(unit.gaps) != unit.panes - 1:
        yield Problem("design.glazing_gaps", values={"panes": unit.panes, "gaps": len(unit.gaps)})
    elif unit.resistance is not None and not unknown:
        glass = unit.panes * catalog.find(catalog.Pane, unit.pane).thickness / GLASS_CONDUCTIVITY
        if unit.panes == 1 or unit.resistance <= glass:
            yield Problem("design.glazing_resistance", values={"limit": f"{glass:.3g} m2K/W"})


def _layer(homestead: Homestead, layer: LayerPart) -> Iterator[Problem]:
    if (layer.material is None) == (layer.resistance is None):
        yield Problem("design.layer_half")
    elif layer.material is not None and layer.thickness is None:
        yield Problem("design.layer_thickness", values={"material": layer.material})
    elif layer.thickness is not None and layer.thickness < THINNEST_LAYER:
        values = {
            "read": f"{1000 * layer.thickness:.2g} mm",
            "limit": f"{1000 * THINNEST_LAYER:g} mm",
        }
        yield Problem("design.layer_thin", values=values)
    if layer.resistance is not None and layer.resistance < LEAST_RESISTANCE:
        yield Problem("design.layer_resists", values={"limit": f"{LEAST_RESISTANCE:g} m2K/W"})
    if layer.diffusion is not None and layer.perms is not None:
        yield Problem("design.layer_vapour_twice")
    if (layer.studs is None) != (layer.stud_fraction == 0.0):
        yield Problem("design.layer_studs")
    for material in (layer.material, layer.studs):
        if material is not None:
            yield from _material(homestead, material)


def _known(kind: type, name: str) -> Iterator[Problem]:
    try:
        catalog.find(kind, name)
    except InputError as error:
        yield from error.problems


def _material(homestead: Homestead, name: str) -> Iterator[Problem]:
    try:
        material_of(homestead, name)
    except InputError as error:
        yield from error.problems


def _names(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Everything named must be there: constructions, glazings, frames, soils, fuels, zones."""
    constructions = {
        "wall_construction": building.wall_construction,
        "partition_construction": building.partition_construction,
        "roof.construction": building.roof.construction,
        "floor.construction": building.floor.construction,
        **{f"wall.{i}.construction": w.construction for i, w in enumerate(building.wall, 1)},
        **{
            f"zone.{zone}.{key}": getattr(part, key)
            for zone, part in building.zone.items()
            for key in ("wall_construction", "roof_construction", "floor_construction")
        },
    }
    for key, wanted in constructions.items():
        if wanted is not None and wanted not in homestead.construction:
            values = {"read": wanted, "known": list(homestead.construction)}
            yield Problem("design.no_construction", path=f"{name}.{key}", values=values)
    for index, window in enumerate(building.window, start=1):
        path = f"{name}.window.{index}"
        if window.glazing not in homestead.glazing:
            for p in _known(catalog.ReadyGlazing, window.glazing):
                yield p.at(path=f"{path}.glazing")
        yield from (p.at(path=f"{path}.frame") for p in _known(catalog.Frame, window.frame))
        if window.zone is not None and window.zone not in building.zone:
            values = {"read": window.zone, "known": list(building.zone)}
            yield Problem("design.no_zone", path=f"{path}.zone", values=values)
    for p in _known(catalog.Soil, building.floor.soil):
        yield p.at(path=f"{name}.floor.soil")
    if building.heating:
        for p in _known(catalog.Fuel, building.heating.fuel):
            yield p.at(path=f"{name}.heating.fuel")
    if building.floor.edge:
        for p in _material(homestead, building.floor.edge.material):
            yield p.at(path=f"{name}.floor.edge.material")


def _walls(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A wall has a side or an azimuth; a neighbour is another zone; one entry a side."""
    seen: set[tuple[str | None, str]] = set()
    for index, wall in enumerate(building.wall, start=1):
        path = f"{name}.wall.{index}"
        if (wall.side is None) == (wall.azimuth is None):
            yield Problem("design.wall_side_or_azimuth", path=path)
        if wall.side is None and wall.length is None:
            yield Problem("design.missing", path=path, values={"key": "length"})
        for key in (wall.zone, wall.next_to):
            if key is not None and key not in building.zone:
                values = {"read": key, "known": list(building.zone)}
                yield Problem("design.no_zone", path=path, values=values)
        if wall.next_to is not None and wall.next_to == (wall.zone or next(iter(building.zone))):
            yield Problem("design.next_to_itself", path=path, values={"read": wall.next_to})
        if wall.next_to is not None and wall.side is None:
            yield Problem("design.partition_side", path=path)
        if wall.side is not None:
            if (wall.zone, wall.side) in seen:
                yield Problem("design.wall_twice", path=path, values={"read": wall.side})
            seen.add((wall.zone, wall.side))


def _partitions(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A side of a zone touches one other zone; no way through partitions leads in a ring."""
    taken: set[tuple[str, Side]] = set()
    joined: dict[str, str] = {zone: zone for zone in building.zone}
    for index, wall in enumerate(building.wall, start=1):
        if wall.next_to not in joined or wall.side is None:
            continue
        zone, other = wall.zone or next(iter(building.zone)), wall.next_to
        sides = {(zone, wall.side), (other, OPPOSITE[wall.side])}
        path = f"{name}.wall.{index}"
        if sides & taken:
            yield Problem("design.partition_zones", path=path)
        elif zone in joined and joined[zone] == joined[other] and zone != other:
            yield Problem("design.partition_ring", path=path)
        taken |= sides
        old, new = joined[other], joined.get(zone, zone)
        joined = {key: new if group == old else group for key, group in joined.items()}


def _plan(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Zones that partitions hold together meet nowhere else."""
    corners = zone_corners(building)
    for group in rows_of_zones(building):
        for one, other in combinations(group, 2):
            if other in (neighbour(building, one, side) for side in SIDE_TURN):
                continue
            apart = []
            for axis, size in enumerate(("length", "width")):
                ends = [(corners[z][axis], getattr(building.zone[z], size)) for z in (one, other)]
                (low, long), (high, _) = sorted(ends)
                apart.append(high - low - long)
            # two rectangles meet along a wall or in each other unless a corner or air parts them
            if min(apart) < -LEAST_GAP and max(apart) < LEAST_GAP:
                values = {"one": one, "other": other}
                yield Problem("design.zones_meet", path=f"{name}.zone", values=values)


def _window_places(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A window has a side or a wall."""
    for index, window in enumerate(building.window, start=1):
        if (window.side is None) == (window.wall is None):
            yield Problem("design.window_side_or_wall", path=f"{name}.window.{index}")


def _window_heights(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """The head stands above the sill, and under the header that carries the roof."""
    for index, window in enumerate(building.window, start=1):
        path = f"{name}.window.{index}"
        zone = building.zone.get(window.zone or next(iter(building.zone)))
        if window.count != round(window.count):
            read = {"read": window.count}
            yield Problem("design.count_not_whole", path=f"{path}.count", values=read)
        if window.head <= window.sill:
            heights = {"head": spoken_length(window.head), "sill": spoken_length(window.sill)}
            yield Problem("design.head_below_sill", path=f"{path}.head", values=heights)
        if zone and window.head > zone.height - building.roof.header_depth + 1e-9:
            limit = zone.height - building.roof.header_depth
            values = {
                "head": spoken_length(window.head),
                "limit": spoken_length(limit),
                "plate": spoken_length(zone.height),
                "header": spoken_length(building.roof.header_depth),
            }
            yield Problem("design.head_above_header", path=f"{path}.head", values=values)


def _eave_over_heads(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """No soffit meets the wall below the head of a window under it."""
    soffit = roof_triangle(homestead, building).soffit_at_wall
    for index, window in enumerate(building.window, start=1):
        if window.side in building.eave.sides and window.head > soffit + 1e-9:
            values = {"head": spoken_length(window.head), "soffit": spoken_length(soffit)}
            yield Problem(
                "design.soffit_below_head", path=f"{name}.window.{index}.head", values=values
            )


def _reveals_fit(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """The glass lies inside the wall, where the wall's thickness is known."""
    for face in wall_faces(building):
        layers = homestead.construction[face.construction].layers
        if any(layer.thickness is None for layer in layers):
            continue
        wall = thickness(homestead, face.construction)
        for window in face.windows:
            if window.reveal > wall:
                values = {"read": spoken_length(window.reveal), "wall": spoken_length(wall)}
                index = 1 + next(i for i, w in enumerate(building.window) if w is window)
                path = f"{name}.window.{index}.reveal"
                yield Problem("design.reveal_too_deep", path=path, values=values)


def _lefts(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Windows with a place of their own are single, lie in the wall, and beside each other."""
    for index, window in enumerate(building.window, start=1):
        if window.left is not None and window.count != 1.0:
            read = {"read": window.count}
            yield Problem("design.left_of_many", path=f"{name}.window.{index}.left", values=read)
    for face in wall_faces(building):
        given = [window.left is not None for window in face.windows]
        if any(given) and not all(given):
            values = {"side": azimuth_name(face.azimuth)}
            yield Problem("design.left_for_some", path=f"{name}.window", values=values)
        elif any(given):
            yield from _placed(name, face)


def _inner_windows(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """What shades a window stands outdoors."""
    inner = {id(w) for face in wall_faces(building) if face.next_to for w in face.windows}
    for index, window in enumerate(building.window, start=1):
        if id(window) in inner and (window.hood or window.fins or window.reveal > 0.0):
            yield Problem("design.shade_inside", path=f"{name}.window.{index}")


def _placed(name: str, face: WallFace) -> Iterator[Problem]:
    spots = [(window.left or 0.0, window) for window in face.windows]
    side = azimuth_name(face.azimuth)
    for index, (left, window) in enumerate(spots):
        if left + window.width > face.length + 1e-9:
            values = {
                "side": side,
                "right": spoken_length(left + window.width),
                "wall": spoken_length(face.length),
            }
            yield Problem("design.window_past_wall", path=f"{name}.window", values=values)
        for other, beside in spots[:index]:
            apart = left >= other + beside.width - 1e-9 or other >= left + window.width - 1e-9
            above = window.sill >= beside.head - 1e-9 or beside.sill >= window.head - 1e-9
            if not (apart or above):
                values = {"side": side, "left": spoken_length(left), "other": spoken_length(other)}
                yield Problem("design.windows_overlap", path=f"{name}.window", values=values)


def _windows_fit(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """The windows of a wall stand beside or above each other inside it."""
    for face in wall_faces(building):
        widest = sum(window.count * window.width for window in face.windows)
        one = max((w.width for w in face.windows), default=0.0)
        if one > face.length or face.window_area >= 0.98 * face.length * face.height:
            yield _too_wide(name, face, max(one, widest))
        elif widest > face.length and not _stacked(face):
            yield _too_wide(name, face, widest)


def _stacked(face: WallFace) -> bool:
    """Return whether some windows of the wall stand above others."""
    lowest_head = min(window.head for window in face.windows)
    return any(window.sill >= lowest_head for window in face.windows)


def _flat_roof(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A roof without attic lies flat; every roof reaches over the inside of the end walls."""
    if not building.roof.attic and building.roof.pitch > 0.0:
        read = Quantity(building.roof.pitch, "pitch")
        yield Problem("design.flat_roof", path=f"{name}.roof.pitch", values={"read": read})
    least = -thickness(homestead, building.wall_construction)
    if building.eave.ends < least - 1e-9:
        values = {"read": spoken_length(building.eave.ends), "limit": spoken_length(least)}
        yield Problem("design.eave_ends", path=f"{name}.eave.ends", values=values)


def _too_wide(name: str, face: WallFace, width: float) -> Problem:
    values = {
        "side": azimuth_name(face.azimuth),
        "windows": spoken_length(width),
        "wall": spoken_length(face.length),
    }
    return Problem("design.windows_too_wide", path=f"{name}.window", values=values)


_FIRST: tuple[Rule, ...] = (
    _names,
    plant_checks.plant_order,
    plant_checks.setbacks,
    plant_checks.clocks,
    plant_checks.served,
    plant_checks.one_leakage,
    plant_checks.below,
    plant_checks.stove,
    opening_checks.opened_once,
    opening_checks.covers,
    opening_checks.passages,
    outdoor_checks.seasonal_shades,
    outdoor_checks.awnings,
    outdoor_checks.fins,
    outdoor_checks.standing_things,
    _walls,
    _partitions,
    _window_places,
)
_THEN: tuple[Rule, ...] = (
    plant_checks.inner_gain,
    plant_checks.charge,
    plant_checks.heated_floor,
    opening_checks.covers_outdoors,
    opening_checks.glass_is_left,
    outdoor_checks.canopies,
    _plan,
    _window_heights,
    _windows_fit,
    _lefts,
    _reveals_fit,
    _inner_windows,
    _flat_roof,
    roof_checks.face_known,
    _eave_over_heads,
    eave_checks.under_eave,
)
