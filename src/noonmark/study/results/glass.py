"""The result tree of glass by side: what each glazing would bring through the year."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.errors import Sentence
from noonmark.study.results.printed import Printed, described
from noonmark.study.results.shade import Tried


@dataclass(frozen=True)
class GlassOption:
    """One glazing in all windows of a side, everything else as designed."""

    glazing: str = described("", "a glazing of the catalogue, or one of the file's own")
    u_value: float = described("W/m2K", "of the whole windows, by their areas")
    shgc: float = described("", "of the whole windows, by their areas, at right angles")
    visible: float | None = described("", "light through the glass; null where nobody says")
    useful_kwh: tuple[float, ...] = described(
        "kWh", "heat they spare the house in each of twelve months, against no heat through them"
    )
    net_kwh: tuple[float, ...] = described(
        "kWh", "sun let in less heat lost through them in each of twelve months, useful or not"
    )
    useful_year_kwh: float = described("kWh", "what they spare in the year; negative costs")
    year: Tried = described("", "what the building's year comes to with them")


@dataclass(frozen=True)
class GlassSide:
    """The windows of one wall, and every glazing tried in them."""

    building: str = described("", "the building's key in the design file")
    zone: str = described("", "the zone of the wall")
    wall: str = described("", "sunny, back, left, right, or the wall's own name")
    faces_deg: float = described("deg", "where it looks, clockwise from true north")
    area_m2: float = described("m2", "of its windows, frame and all")
    eave_m: float | None = described("m", "projection of the eave over it; null for none")
    designed: str = described("", "glazing with most of that area in the design")
    options: tuple[GlassOption, ...] = described("", "the best for the house first")


@dataclass(frozen=True)
class GlassResult(Printed):
    """Which glass on which side."""

    FORMAT = "noonmark.glass/1"

    hour_counts_kwh: float = described("kWh", "heat that an hour too warm counts as much as")
    sides: tuple[GlassSide, ...] = described("", "walls with windows, in the order of the file")
    bare: tuple[GlassSide, ...] = described("", "sunny walls under an eave once more without it")
    advice: tuple[Sentence, ...] = described("", "where the usual advice holds here and where not")
