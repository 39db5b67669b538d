"""The year of a homestead and its twin."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.errors import Sentence
from noonmark.study.results.printed import Printed, derived, described


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
