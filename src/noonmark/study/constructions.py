"""From names in a design to layers, glazings and soil as the physics rooms take them."""

from __future__ import annotations

from functools import cache

from noonmark import catalog
from noonmark.design.derived import material_of
from noonmark.design.model import EdgeStrip, GlazingUnit, Homestead, LayerPart
from noonmark.envelope.ground import EdgeInsulation, Soil
from noonmark.envelope.layers import Direction, Layer, homogenised, resistance_layer
from noonmark.envelope.modes import WallModes, wall_modes
from noonmark.glazing.gap import Gap
from noonmark.glazing.optics import pane_with_transmittance
from noonmark.glazing.unit import GLASS_CONDUCTIVITY, Glazing, plain_glazing, ready_glazing


def layers_of(homestead: Homestead, construction: str, direction: Direction) -> list[Layer]:
    """Return plain layers, inside first, with the combined-method U-value of the construction."""
    parts = homestead.construction[construction].layers
    return homogenised([_layer(homestead, part) for part in parts], direction=direction)


def modes_of(layers: list[Layer], *, heated_layer: int | None = None) -> WallModes:
    """Return the modes of layers, each different stack reduced once (see `wall_modes`)."""
    return _modes(tuple(layers), heated_layer)


@cache
def _modes(layers: tuple[Layer, ...], heated_layer: int | None) -> WallModes:
    return wall_modes(layers, heated_layer=heated_layer)


def _layer(homestead: Homestead, part: LayerPart) -> Layer:
    if part.material is None:
        return resistance_layer(part.resistance or 0.0)
    base = material_of(homestead, part.material)
    stud = material_of(homestead, part.studs) if part.studs else base
    return Layer(
        thickness=part.thickness or 0.0,
        conductivity=base.conductivity,
        density=base.density,
        specific_heat=base.specific_heat,
        stud_fraction=part.stud_fraction,
        stud_conductivity=stud.conductivity,
        stud_density=stud.density,
        stud_specific_heat=stud.specific_heat,
    )


def glazing_of(homestead: Homestead, name: str) -> Glazing:
    """Return a glazing by its name in the design or in the catalogue."""
    if name in homestead.glazing:
        return _own_glazing(homestead.glazing[name])
    row = catalog.find(catalog.ReadyGlazing, name)
    return _ready(row.u_value, row.shgc, row.transmittance, row.panes)


def _own_glazing(unit: GlazingUnit) -> Glazing:
    if unit.u_value is not None and unit.shgc is not None and unit.transmittance is not None:
        return _ready(unit.u_value, unit.shgc, unit.transmittance, unit.panes)
    shares = (
        {"air": 1.0}
        if unit.gas == "air"
        else {unit.gas: unit.gas_share, "air": 1.0 - unit.gas_share}
    )
    pane = catalog.find(catalog.Pane, unit.pane)
    faces = (pane.emissivity, pane.emissivity)
    return plain_glazing(
        [pane_with_transmittance(unit.pane_transmittance or pane.transmittance)] * unit.panes,
        pane_thickness=pane.thickness,
        gaps=[Gap(width, shares, faces) for width in unit.gaps or ()],
        gap_conductance=_given_gaps(unit, pane.thickness),
    )


def _given_gaps(unit: GlazingUnit, pane_thickness: float) -> list[float] | None:
    """Return equal gap conductances [W/m2K] that leave the unit its given resistance."""
    if unit.resistance is None:
        return None
    between = unit.resistance - unit.panes * pane_thickness / GLASS_CONDUCTIVITY
    return [(unit.panes - 1) / between] * (unit.panes - 1)


@cache
def _ready(u_value: float, shgc: float, transmittance: float, panes: int) -> Glazing:
    return ready_glazing(u_value=u_value, shgc=shgc, transmittance=transmittance, panes=panes)


def soil_of(name: str) -> Soil:
    """Return a soil of the catalogue."""
    row = catalog.find(catalog.Soil, name)
    return Soil(row.conductivity, row.volumetric_heat_capacity)


def edge_of(homestead: Homestead, edge: EdgeStrip | None) -> EdgeInsulation | None:
    """Return the edge insulation of a floor, if it has any."""
    if edge is None:
        return None
    conductivity = material_of(homestead, edge.material).conductivity
    return EdgeInsulation(edge.placing, edge.extent, edge.thickness, conductivity)
