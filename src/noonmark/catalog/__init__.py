"""Read-only tables of materials, glazings, frames, soils and fuels."""

from noonmark.catalog.tables import Frame, Fuel, Material, Pane, ReadyGlazing, Soil, find, table

__all__ = ["Frame", "Fuel", "Material", "Pane", "ReadyGlazing", "Soil", "find", "table"]
