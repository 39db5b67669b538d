"""Sun and shade: seasons of windows, eaves, movable shades, boards."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from noonmark.study.results.printed import Printed, described


@dataclass(frozen=True)
class SeasonDates:
    """When a window's light turns; null where it never does.

    Full sun is all of the glass lit but for what the sun's disc blurs (0.5 %), at
    least 99 % of a clear day's beam for `day`; full shade is none of it (0.05 %),
    at most 1 % for `day`.
    """

    full_sun_until: date | None = described("", "last day of winter's full sun")
    half_shaded_on: date | None = described("", "first day with half or less, until midsummer")
    full_shade_from: date | None = described("", "first day of summer's full shade")
    full_shade_to: date | None = described("", "last day of summer's full shade")
    full_sun_from: date | None = described("", "first day of full sun again")
    all_year: str | None = described(
        "", "full_sun or full_shade when that holds every day; no sun on the glass counts as shade"
    )
    most: float = described("", "largest lit share of any day, 0 to 1")


@dataclass(frozen=True)
class WindowSeason:
    """One window entry through the year."""

    building: str = described("", "the building's key in the design file")
    number: int = described("", "its number among the building's windows in the file, from 1")
    window: str = described("", "its name, or its number in the file")
    azimuth: float = described("deg", "where its wall looks, clockwise from true north")
    noon: SeasonDates = described("", "at solar noon")
    clock_9: SeasonDates = described("", "at 9 by the clock, daylight saving included")
    clock_12: SeasonDates = described("", "at 12 by the clock")
    clock_15: SeasonDates = described("", "at 15 by the clock")
    day: SeasonDates = described("", "over the clear day, by the energy of the beam")
    sun_hours: tuple[float, ...] = described(
        "h", "sun on the glass on a clear day, mean of each of twelve months, by lit share"
    )
    noon_reach_m: tuple[float, ...] = described(
        "m",
        "how deep the noon sun reaches over the floor on the 21st of each month, from the inner "
        "face of the wall; the room's depth where it climbs the far wall, 0 without sun",
    )


@dataclass(frozen=True)
class SeasonResult(Printed):
    """The windows of a homestead with their dates in one year."""

    FORMAT = "noonmark.season/1"

    year: int = described("", "calendar year of the dates")
    windows: tuple[WindowSeason, ...] = described("", "in the order of the file")


@dataclass(frozen=True)
class EaveSolution:
    """An edge over a window that holds a wish."""

    part: str = described("", "eave; hood or awning over a wall without one")
    projection_m: float = described("m", "level, from the outside face of the wall")
    soffit_above_head_m: float = described("m", "height of the edge over the head of the window")
    set: tuple[str, ...] = described("", "the `--set` words that build it")
    noon: SeasonDates = described("", "the days it then gives at solar noon")


@dataclass(frozen=True)
class EavePoint:
    """An edge that holds one of the days wished for, and the days it gives at noon."""

    projection_m: float = described("m", "level, from the outside face of the wall")
    soffit_above_head_m: float = described("m", "height of the edge over the head of the window")
    full_sun_until: date | None = described("", "last day of full sun; null if never")
    full_shade_from: date | None = described("", "first day of full shade; null if never")


@dataclass(frozen=True)
class EaveResult(Printed):
    """The edges over a window that hold a wish at solar noon."""

    FORMAT = "noonmark.eave/1"

    window: str = described("", "the window's name")
    sun_until: date | None = described("", "full sun wished for until this day")
    shade_from: date | None = described("", "full shade wished for from this day")
    solutions: tuple[EaveSolution, ...] = described("", "one for two days, a row of them for one")
    curve: tuple[EavePoint, ...] = described("", "edges that hold one day or the other")


@dataclass(frozen=True)
class Tried:
    """What a year with some shade comes to."""

    heating_kwh: float = described("kWh", "heat of heater, stove and heated floor")
    hours_above_26_c: float = described("h", "hours with a room lived in above 26 degC")


@dataclass(frozen=True)
class EaveYear:
    """An eave run through the year."""

    projection_m: float = described("m", "level, from the outside face of the wall")
    soffit_above_head_m: float = described("m", "height of the soffit over the head of the window")
    year: Tried = described("", "what the year comes to")
    set: tuple[str, ...] = described("", "the `--set` words that build it")


@dataclass(frozen=True)
class MovableShade(Printed):
    """A shade that is put up and taken down, run through the year."""

    FORMAT = "noonmark.awning/1"

    put_up: date = described("", "first day it stands")
    take_down: date = described("", "last day it stands")
    year: Tried = described("", "what the year comes to with it")
    without: Tried = described("", "what it comes to without any")
    set: tuple[str, ...] = described("", "the `--set` words that put it up")


@dataclass(frozen=True)
class EaveYearResult(Printed):
    """The eave over a window that the heat balance of the year prefers."""

    FORMAT = "noonmark.eave-year/1"

    window: str = described("", "the window's name")
    hour_counts_kwh: float = described("kWh", "heat that an hour too warm counts as much as")
    solutions: tuple[EaveYear, ...] = described("", "the eave that costs least")
    tried: tuple[EaveYear, ...] = described("", "all that were run")
    without: Tried = described("", "the year without an eave")
    spring_kwh: float = described("kWh", "heat it costs in the three months about spring's equinox")
    autumn_hours: float = described("h", "hours too warm it spares about autumn's equinox")
    movable: MovableShade | None = described(
        "", "the same edge, put up and taken down on the best days; null if it is never worth it"
    )


@dataclass(frozen=True)
class CutPiece:
    """Equal pieces to cut."""

    part: str = described("", "board, or side that carries them")
    count: int = described("", "how many")
    length_m: float = described("m", "how long each")


@dataclass(frozen=True)
class SlatPlan:
    """A shade of boards at one tilt that lets no beam through in the hours wished for."""

    tilt_deg: float = described(
        "deg", "how far outer edges hang down, or those of upright boards lie away from the sun"
    )
    spacing_m: float = described("m", "from board to board")
    view_share: float = described("", "what is left of the level view straight out, 0 to 1")
    width_m: float = described("m", "of all boards together, along the wall")
    height_m: float = described("m", "from the sill of the window to the top of the shade")
    first_m: float = described("m", "from the end of a side to the first board's mark")
    marks_m: tuple[float, ...] = described("m", "of the boards along a side, from the first mark")
    left_m: float = described("m", "frame past the window, left of somebody inside looking out")
    right_m: float = described("m", "the same, right")
    top_m: float = described("m", "frame above the head of the window")
    bottom_m: float = described("m", "frame below its sill")
    pieces: tuple[CutPiece, ...] = described("", "the cut list")
    lumber_m: float = described("m", "all pieces together")
    set: tuple[str, ...] = described("", "the `--set` word that puts it before the window")


@dataclass(frozen=True)
class SlatsResult(Printed):
    """Shades of boards for a window, by tilt."""

    FORMAT = "noonmark.slats/1"

    building: str = described("", "its name")
    window: str = described("", "the window's name")
    window_width_m: float = described("m", "its width")
    window_height_m: float = described("m", "from sill to head")
    depth_m: float = described("m", "of a board, edge to edge")
    thickness_m: float = described("m", "of a board")
    upright: bool = described("", "boards stand upright")
    stand_off_m: float = described("m", "inner edges of the boards off the face of the wall")
    lowest_profile_deg: float = described("deg", "lowest profile angle of the sun in the hours")
    stopped_deg: float = described(
        "deg", "angle the spacing goes by: that one, or for upright boards the least to the side"
    )
    sun_side: str = described(
        "", "left or right of somebody inside looking out, for upright boards; else empty"
    )
    plans: tuple[SlatPlan, ...] = described("", "for each tilt that leaves room between boards")
    recommended: int = described("", "which of them, from 0: the least tilt worth making")
