"""The result trees of sun marks: where they are to be made, and what made ones tell."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from noonmark.errors import Sentence
from noonmark.study.results.printed import Printed, described


@dataclass(frozen=True)
class SunMark:
    """Where the shade edge of the eave stands on the wall, the middle of its blur."""

    date: date = described("", "the day")
    clock_time: str = described("", "by the place's clock, daylight saving included, hh:mm")
    when: str = described("", "noon, morning, afternoon; or clock, the time asked for")
    below_soffit_m: float = described("m", "down from where the soffit meets the wall")
    above_sill_m: float | None = described("m", "up from the sill; null without a window")
    above_floor_m: float = described("m", "up from the finished floor")
    blur_m: float = described("m", "from full sun to full shade")


@dataclass(frozen=True)
class NoMark:
    """A day and time without a mark."""

    date: date = described("", "the day")
    clock_time: str = described("", "by the place's clock, hh:mm")
    when: str = described("", "noon; or clock, the time asked for")
    why: str = described(
        "",
        "no_sun (it is down), behind (of the wall), ground (the edge falls below the wall's foot), "
        "soffit (it is less than a finger below the soffit), "
        "eave_end (past the end of the eave), other_shade (something else shades the spot)",
    )


@dataclass(frozen=True)
class MarksResult(Printed):
    """The sun marks of a wall under an eave."""

    FORMAT = "noonmark.marks/1"

    building: str = described("", "the building's key in the design file")
    window: str | None = described("", "the window beside which they are made; null for none")
    faces_deg: float = described("deg", "where the wall looks, clockwise from true north")
    projection_m: float = described("m", "of the eave, level from the wall's outside face")
    soffit_m: float = described("m", "where the soffit meets the wall, above the floor")
    sill_m: float | None = described("m", "sill of the window above the floor; null without")
    marks: tuple[SunMark, ...] = described("", "in the order of time")
    no_marks: tuple[NoMark, ...] = described("", "the days and times asked for that have none")


@dataclass(frozen=True)
class Told:
    """What marks tell of one size, and whether they tell it at all."""

    value: float = described("as named", "best value; near the drawing where they tell little")
    band: tuple[float, float] = described(
        "as named", "lowest and highest; all four bands together hold with 95 in 100"
    )
    told: bool = described("", "whether the marks pin it down well enough to build on")


@dataclass(frozen=True)
class MarkFit:
    """What a set of marks tells of wall, eave and clock."""

    faces: Told = described("deg", "where the wall looks, clockwise from true north")
    projection: Told = described("m", "of the eave, level from the wall's outside face")
    soffit: Told = described("m", "where the soffit meets the wall, above the floor")
    clock: Told = described("min", "how much the clock that was read is fast; slow is negative")


@dataclass(frozen=True)
class ReadRow:
    """One mark of the file beside what the fitted eave would throw."""

    row: int = described("", "its line in the file")
    date: date = described("", "the day, as it was taken")
    clock_time: str = described("", "the time, as it was written, hh:mm")
    read_m: float = described("m", "the height, as it was taken")
    expected_m: float = described("m", "the same by the fitted eave")
    left_out: bool = described("", "it lies too far off and did not count")


@dataclass(frozen=True)
class ReadBack(Printed):
    """Real marks read back into wall azimuth, eave, soffit and clock."""

    FORMAT = "noonmark.marks-read/1"

    building: str = described("", "the building's key in the design file")
    window: str | None = described("", "the window beside which they were made; null for none")
    measured: str = described("", "what heights count from: below_soffit, above_sill, above_floor")
    fit: MarkFit = described("", "what the marks tell")
    spread_m: float | None = described(
        "m", "root mean square of what is left, of the marks that counted; null where none fit"
    )
    mistakes: tuple[Sentence, ...] = described("", "slips that were recognised and put right")
    notes: tuple[Sentence, ...] = described("", "what they can not tell, why, and what would")
    rows: tuple[ReadRow, ...] = described("", "in the order of the file")
