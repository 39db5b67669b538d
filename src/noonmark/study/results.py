"""THE result trees: frozen dataclasses for Python, `--json`, page and report.

Every field carries its unit and meaning; `docs/result-tree.md` is written from them.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Any, ClassVar, cast

from noonmark.errors import Sentence


def described(unit: str, meaning: str) -> Any:
    """Return a dataclass field with its unit and its meaning."""
    return field(metadata={"unit": unit, "meaning": meaning})


def derived(unit: str, meaning: str) -> Any:
    """Return a described field that the class fills in itself."""
    return field(init=False, metadata={"unit": unit, "meaning": meaning})


class Printed:
    """A tree that `--json` prints, under the name and version of its `FORMAT`."""

    FORMAT: ClassVar[str]

    def as_data(self) -> dict[str, Any]:
        """Return plain dictionaries and lists, ready for JSON."""
        return {"format": self.FORMAT, **asdict(cast("Any", self))}


@dataclass(frozen=True)
class ClimateUsed:
    """Which weather the year ran on."""

    source: str = described("", "station or data set of the weather year")
    trust: str = described("", "how far it can be trusted: typical_year is a real typical year")
    latitude: float = described("deg", "latitude of the weather year, north positive")
    longitude: float = described("deg", "longitude, east positive")
    altitude_m: float = described("m", "altitude above the sea")
    radiation_closure: float = described("", "sum of dni cos z + dhi over ghi; 1 when they agree")
    repaired_values: int = described("", "how many values of the file were filled or corrected")


@dataclass(frozen=True)
class MonthYear:
    """One month of one zone."""

    month: int = described("", "1 to 12")
    heating_kwh: float = described("kWh", "heat of heater, stove and heated floor")
    cooling_kwh: float = described("kWh", "heat the cooler takes out")
    solar_kwh: float = described("kWh", "sun let in by the glass, less what leaves again")
    temp_mean_c: float = described("degC", "mean operative temperature")
    outdoor_mean_c: float = described("degC", "mean outdoor air temperature")


@dataclass(frozen=True)
class PartFlow:
    """A part of the heat balance in the heating months."""

    part: str = described(
        "",
        "wall, window, roof, floor, partition, air, between (air to or from other zones); "
        "or solar, inside, heater, stove, slab",
    )
    side: str = described("", "compass point of the side, empty where there is none")
    kwh: float = described("kWh", "heat lost (losses) or gained (gains)")


@dataclass(frozen=True)
class ZoneYear:
    """One zone through the year."""

    name: str = described("", "the zone's key in the design file")
    floor_area_m2: float = described("m2", "inside floor area")
    lived_in: bool = described("", "whether people live in it, so that goals count it")
    heating_kwh: float = described("kWh", "heat of heater, stove and heated floor in the year")
    cooling_kwh: float = described("kWh", "heat the cooler takes out in the year")
    peak_heating_w: float = described("W", "largest hourly mean of heater, stove and heated floor")
    peak_cooling_w: float = described("W", "largest hourly mean of the cooler")
    temp_min_c: float = described("degC", "lowest hourly mean operative temperature")
    temp_max_c: float = described("degC", "highest hourly mean operative temperature")
    hours_above_26_c: float = described("h", "hours with an operative temperature above 26 degC")
    hours_below_18_c: float = described("h", "hours with an operative temperature below 18 degC")
    humidity_winter_mean: float = described("", "mean relative humidity 0 to 1, coldest month")
    heated_floor_max_c: float | None = described(
        "degC", "highest surface of a heated floor while it is heated; null if it never is"
    )
    months: tuple[MonthYear, ...] = described("", "twelve months")
    losses: tuple[PartFlow, ...] = described("", "where the heat goes in the heating months")
    gains: tuple[PartFlow, ...] = described("", "where it comes from in the heating months")


@dataclass(frozen=True)
class CoverYear:
    """A cover at the windows of one entry."""

    cover: str = described("", "the cover's key in the design file")
    window: str = described("", "what the window is called, empty if it has no name")
    side: str = described("", "compass point of its wall")
    hours_closed: float = described("h", "how long it is closed in the year")


@dataclass(frozen=True)
class FuelYear:
    """What the year burns."""

    fuel: str = described("", "catalogue name of the fuel")
    unit: str = described("", "what it is bought in")
    basis: str = described("", "net or gross heating value, as the efficiency counts it")
    amount: float = described("units", "how much is bought")
    delivered_kwh: float = described("kWh", "energy in that fuel on its basis")
    charges: float = described("", "fillings of the stove, 0 without one")
    full_cords: float = described("cord", "stacked wood in cords of 128 cubic feet, 0 otherwise")


@dataclass(frozen=True)
class BuildingYear:
    """One building through the year."""

    name: str = described("", "the building's key in the design file")
    kind: str = described("", "house")
    faces_deg: float = described("deg", "azimuth its sunny side looks to, from true north")
    floor_area_m2: float = described("m2", "inside floor area")
    glass_by_side_m2: dict[str, float] = described("m2", "rough window area by compass point")
    heating_kwh: float = described("kWh", "heat of heater, stove and heated floor in the year")
    cooling_kwh: float = described("kWh", "heat the cooler takes out in the year")
    peak_heating_w: float = described("W", "largest hourly mean of all heaters together")
    peak_cooling_w: float = derived("W", "largest hourly means of all coolers, added")
    temp_min_c: float = derived("degC", "lowest operative temperature of any zone lived in")
    temp_max_c: float = derived("degC", "highest operative temperature of any zone lived in")
    hours_above_26_c: float = derived("h", "hours above 26 degC in the warmest zone lived in")
    fuel: FuelYear | None = described("", "what the year burns; null without a heater")
    zones: tuple[ZoneYear, ...] = described("", "its zones")
    covers: tuple[CoverYear, ...] = described("", "its shutters, blinds and night covers")
    closure_error: float = described("", "energy left unexplained over energy moved")
    missed_goals: tuple[Sentence, ...] = described("", "the design's own goals that it misses")

    def __post_init__(self) -> None:
        """Fill in what follows from the zones."""
        rooms = [zone for zone in self.zones if zone.lived_in]
        follows = {
            "peak_cooling_w": sum(zone.peak_cooling_w for zone in self.zones),
            "temp_min_c": min(zone.temp_min_c for zone in rooms),
            "temp_max_c": max(zone.temp_max_c for zone in rooms),
            "hours_above_26_c": max(zone.hours_above_26_c for zone in rooms),
        }
        for name, value in follows.items():
            object.__setattr__(self, name, value)


@dataclass(frozen=True)
class YearResult(Printed):
    """The whole answer of a year."""

    FORMAT = "noonmark.year/1"

    title: str = described("", "title of the design")
    climate: ClimateUsed = described("", "the weather it ran on")
    buildings: tuple[BuildingYear, ...] = described("", "the buildings as designed")
    twin: tuple[BuildingYear, ...] = described(
        "", "the unshaped twins: same size, insulation and glass area, long side turned east"
    )
    cautions: tuple[Sentence, ...] = described("", "what a licensed person or the code decides")

    @property
    def saving(self) -> float:
        """Return which share of the twin's heating the shaping saves (negative: costs)."""
        twin = sum(building.heating_kwh for building in self.twin)
        own = sum(building.heating_kwh for building in self.buildings)
        return 1.0 - own / twin if twin > 0.0 else 0.0


@dataclass(frozen=True)
class BrightDay:
    """The warmest hour of the bright days of winter, when the low sun comes in deepest.

    Of the three months in a row with the coldest outdoor air, the tenth of days count
    on which the most of the sun above the air reaches the ground.
    """

    peak_c: float = described("degC", "highest operative temperature of any zone lived in")
    zone: str = described("", "the zone that has it")
    month: int = described("", "1 to 12")
    day: int = described("", "of the month, from 1")
    hour: int = described("h", "from which on it is so, 0 to 23 of standard time")
    outdoor_min_c: float = described("degC", "coldest outdoor hour of that day")
    outdoor_max_c: float = described("degC", "warmest outdoor hour of that day")
    days: int = described("", "how many days count")


@dataclass(frozen=True)
class ColdDawn:
    """The coldest room at the end of the year's coldest night, without heat from sunset on.

    The heater rests, the heated floor too, and no stove is lit (a charge that burns at
    sunset burns down) until the sun is up; people and appliances stay.
    """

    temp_c: float = described("degC", "lowest operative temperature of any zone lived in")
    zone: str = described("", "the zone that has it")
    month: int = described("", "1 to 12, of the sunrise")
    day: int = described("", "of the month, from 1")
    hour: int = described("h", "that holds the sunrise, 0 to 23 of standard time")
    outdoor_c: float = described("degC", "coldest outdoor hour of that night")
    sunset_c: float = described("degC", "what the zone had in the last hour with heat")
    hours: int = described("h", "without heat")


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
