"""The result tree of damp: what sweats, and whether walls dry."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.study.results.printed import Printed, described


@dataclass(frozen=True)
class ZoneDamp:
    """The air of one zone through the year."""

    name: str = described("", "the zone's key in the design file")
    temp_c: tuple[float, ...] = described("degC", "mean of each of twelve months")
    humidity: tuple[float, ...] = described("", "relative humidity of that mean, 0 to 1")
    condensed_kg: float = described("kg", "water that the air itself lost to the coldest surface")


@dataclass(frozen=True)
class WindowDamp:
    """One window entry: how warm its parts stay, and for how long they are wet.

    A factor of 1 is as warm as the room, of 0 as cold as outdoors (f_Rsi of EN ISO 13788).
    """

    number: int = described("", "its number among the building's windows in the file, from 1")
    window: str = described("", "its name, or its number in the file")
    zone: str = described("", "the zone it stands in")
    glass_factor: float = described("", "of the middle of the glass")
    edge_factor: float = described("", "of the strip of glass along the frame")
    frame_factor: float | None = described("", "of the frame; null without one")
    glass_hours: int = described("h", "hours of the year with the glass below the room's dew point")
    edge_hours: int = described("h", "the same of its edge")


@dataclass(frozen=True)
class LayersDamp:
    """The layers of walls or roof of one zone."""

    part: str = described("", "wall or roof")
    zone: str = described("", "the zone behind it")
    construction: str = described("", "its name in the design file")
    corner_factor: float = described(
        "", "how warm corners and walls behind furniture stay (f_Rsi with 0.25 m2K/W)"
    )
    mould_hours: int = described("h", "hours with more than 80 % at that surface")
    verdict: str = described("", "dry; dries, within the year; or stays, so that it gets wetter")
    most_kg_m2: float = described("kg/m2", "most water at one place in the layers")
    place: str = described("", "the layer it gathers at, counted from inside, in words; else empty")
    month: int | None = described("", "month of the most water, 1 to 12; null while dry")
    dry_by: int | None = described("", "month in which the last of it has dried; null otherwise")


@dataclass(frozen=True)
class SafeHumidity:
    """The highest humidity of a room of 20 degC that leaves its coldest parts alone."""

    outdoor_c: float = described("degC", "outdoor temperature")
    glass: float | None = described("", "before the worst glass sweats, 0 to 1; null without any")
    edge: float | None = described("", "before the worst edge does")
    corner: float = described("", "before a corner holds more than 80 %")


@dataclass(frozen=True)
class BuildingDamp:
    """The damp of one building."""

    name: str = described("", "the building's key in the design file")
    zones: tuple[ZoneDamp, ...] = described("", "in the order of the file")
    windows: tuple[WindowDamp, ...] = described("", "outside ones, in the order of the file")
    layers: tuple[LayersDamp, ...] = described("", "walls, then roof")
    safe: tuple[SafeHumidity, ...] = described("", "by outdoor temperature")


@dataclass(frozen=True)
class DampResult(Printed):
    """What sweats in a homestead, and which walls dry."""

    FORMAT = "noonmark.damp/1"

    buildings: tuple[BuildingDamp, ...] = described("", "in the order of the file")
