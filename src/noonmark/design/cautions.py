"""What a licensed person or the local code must decide about a design, one caution a function.

Cautions are always said and never stop a run. Their figures are US model codes
as quoted in the trade and common practice; other countries differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from noonmark import catalog
from noonmark.design.derived import roof_triangle, stove_zone
from noonmark.design.model import Building, Homestead
from noonmark.design.quantities import spoken_length
from noonmark.design.truss import over_wall
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name, equator_azimuth
from noonmark.units import Quantity

ESCAPE_OPENING = 0.53
"""Least clear opening of an escape window, 5.7 sq ft [m2] (US model code, as quoted)."""

ESCAPE_WIDTH, ESCAPE_HEIGHT = 0.508, 0.610
"""Least clear width and height of an escape window, 20 in and 24 in [m] (as quoted)."""

ESCAPE_SILL = 1.118
"""Highest sill of an escape window, 44 in [m] (US model code, as quoted)."""

FRAMES = 0.1
"""What sash and frame take off a rough size, both sides together [m] (common practice)."""

LOW_GLASS = 0.457
"""Glass nearer to the floor than 18 in [m] is to be safety glass (US model code, as quoted)."""

LONG_EAVE = 0.61
"""Overhang above which the truss engineer must be asked, 2 ft [m] (common practice)."""

TIGHT_SHELL = 3.0
"""Leakage below which a fire needs air of its own [1/h at 50 Pa] (common practice)."""


def cautions(homestead: Homestead) -> list[Sentence]:
    """Return what a licensed person or the local code must decide about a sound design."""
    return [
        sentence
        for name, building in homestead.buildings.items()
        for caution in _CAUTIONS
        for sentence in caution(homestead, name, building)
    ]


def window_cautions(homestead: Homestead, name: str) -> list[Sentence]:
    """Return what is to be asked about the windows of one building."""
    building = homestead.buildings[name]
    return [item for caution in _OF_WINDOWS for item in caution(homestead, name, building)]


def _escape_window(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    escapes = [window for window in building.window if window.escape]
    if not escapes:
        yield Sentence("caution.no_escape", {"building": name})
    for window in escapes:
        width = max(0.0, window.width / window.casements - FRAMES)
        height = max(0.0, window.head - window.sill - FRAMES)
        small = width < ESCAPE_WIDTH or height < ESCAPE_HEIGHT or width * height < ESCAPE_OPENING
        if small or window.sill > ESCAPE_SILL:
            values = {
                "building": name,
                "window": window.name or "",
                "width": spoken_length(width),
                "height": spoken_length(height),
            }
            yield Sentence("caution.escape_small", values)


def _safety_glass(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    low = [w for w in building.window if w.sill < LOW_GLASS and not w.safety_glass]
    for window in low:
        values = {"building": name, "window": window.name or "", "sill": spoken_length(window.sill)}
        yield Sentence("caution.safety_glass", values)


def _long_eave(homestead: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    roof = roof_triangle(homestead, building)
    values = {
        "building": name,
        "projection": spoken_length(roof.projection),
        "overhang": spoken_length(roof.overhang),
    }
    if roof.overhang > LONG_EAVE:
        yield Sentence("caution.long_overhang" if roof.bearing else "caution.long_eave", values)
    if roof.truss == "cantilever":
        yield Sentence("caution.cantilever", values)


def _long_shade(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    for index, window in enumerate(building.window, start=1):
        out = max((part.projection for part in (window.hood, window.awning) if part), default=0.0)
        if out > LONG_EAVE:
            values = {"building": name, "window": window.name or str(index)}
            yield Sentence("caution.long_shade", values | {"projection": spoken_length(out)})
    for index, canopy in enumerate(building.canopy, start=1):
        if canopy.projection > LONG_EAVE:
            values = {"building": name, "canopy": canopy.name or str(index)}
            far = spoken_length(canopy.projection)
            yield Sentence("caution.long_canopy", values | {"projection": far})


def _escape_shaded(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    for index, window in enumerate(building.window, start=1):
        if window.escape and (window.slats or window.awning or window.cover):
            values = {"building": name, "window": window.name or str(index)}
            yield Sentence("caution.escape_shaded", values)


def _not_yours(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    if building.tree or building.neighbour:
        yield Sentence("caution.not_yours", {"building": name})


def _tight_with_fire(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    if building.heating is None or building.heating.fuel == "electricity":
        return
    yield Sentence("caution.fire", {"building": name})
    if building.air.leakage < TIGHT_SHELL:
        yield Sentence("caution.tight_fire", {"building": name})


def _stove_elsewhere(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    stove = stove_zone(building)
    if stove is None:
        return
    reached = [stove]
    for zone in reached:
        ends = [passage.zones for passage in building.passage if zone in passage.zones]
        reached += [other for pair in ends for other in pair if other not in reached]
    for zone, part in building.zone.items():
        if part.heated and zone not in reached:
            values = {"building": name, "zone": zone, "stove": stove}
            yield Sentence("caution.stove_elsewhere", values)


def _carpet_on_lit_slab(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    if building.floor.carpet > 0.2 and any(w.side == "sunny" for w in building.window):
        yield Sentence("caution.carpet", {"building": name, "share": building.floor.carpet})


def _looks_away(homestead: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    equator = equator_azimuth(homestead.place.latitude)
    off = abs((building.faces - equator + 180.0) % 360.0 - 180.0)
    if off > 30.0:
        values = {"building": name, "off": Quantity(off, "angle"), "side": azimuth_name(equator)}
        yield Sentence("caution.looks_away", values)


def _low_gain_glass(_: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    for window in building.window:
        row = catalog.table(catalog.ReadyGlazing).get(window.glazing)
        if window.side == "sunny" and row is not None and row.shgc < 0.45:
            yield Sentence("caution.low_gain", {"building": name, "window": window.name or ""})


def _deep_attic(homestead: Homestead, name: str, building: Building) -> Iterator[Sentence]:
    layers = homestead.construction[building.roof.construction].layers
    if building.roof.attic and sum(layer.thickness or 0.0 for layer in layers) > 0.35:
        yield Sentence("caution.deep_attic", {"building": name})


def _squeezed_at_the_eave(
    homestead: Homestead, name: str, building: Building
) -> Iterator[Sentence]:
    over = over_wall(homestead, building)
    if not building.roof.attic or over.fits:
        return
    roof = roof_triangle(homestead, building)
    values = {
        "building": name,
        "room": spoken_length(over.outside),
        "depth": spoken_length(over.ceiling),
    }
    if roof.truss == "cantilever":
        heel = {"heel": spoken_length(over.heel - roof.projection * roof.pitch)}
        yield Sentence("caution.squeezed_cantilever", values | heel)
    else:
        lifted = {
            "heel": spoken_length(over.heel),
            "soffit": spoken_length(roof.soffit + over.heel - roof.heel),
        }
        yield Sentence("caution.squeezed", values | lifted)


def _walls_without_thickness(
    homestead: Homestead, name: str, building: Building
) -> Iterator[Sentence]:
    layers = homestead.construction[building.wall_construction].layers
    if any(layer.thickness is None for layer in layers):
        values = {"building": name, "construction": building.wall_construction}
        yield Sentence("caution.no_thickness", values)


def _no_promise(_: Homestead, name: str, _building: Building) -> Iterator[Sentence]:
    yield Sentence("caution.no_promise", {"building": name})


Caution = Callable[[Homestead, str, Building], Iterator[Sentence]]

_OF_WINDOWS: tuple[Caution, ...] = (_escape_window, _safety_glass, _escape_shaded)
_CAUTIONS: tuple[Caution, ...] = (
    _escape_window,
    _safety_glass,
    _long_eave,
    _long_shade,
    _escape_shaded,
    _not_yours,
    _tight_with_fire,
    _stove_elsewhere,
    _carpet_on_lit_slab,
    _looks_away,
    _low_gain_glass,
    _deep_attic,
    _squeezed_at_the_eave,
    _walls_without_thickness,
    _no_promise,
)
