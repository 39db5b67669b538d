"""The result tree of a stake-out: needle, shadows and stakes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from noonmark.errors import Sentence
from noonmark.study.results.printed import Printed, described


@dataclass(frozen=True)
class Needle:
    """Where the needle of a compass points, by the World Magnetic Model of 2025."""

    declination_deg: float = described("deg", "east of true north; west of it is negative")
    uncertainty_deg: float = described("deg", "one standard deviation of the model")
    yearly_change_deg: float = described("deg", "change of the declination in a year, east counts")
    level_nt: float = described("nT", "level strength of the field, which turns the needle")
    zone: str = described(
        "", "good; caution below 6000 nT, where no compass is trusted; blackout below 2000 nT"
    )
    date_used: date = described("", "day it holds for: the asked one or the model's nearest")
    years_off: float = described("a", "how far the asked day lies outside the model; 0 inside")


@dataclass(frozen=True)
class Direction:
    """A direction on the site, by compass and by the sun."""

    part: str = described(
        "", "equator (true south, or true north south of it), wall (its outward side) or ridge"
    )
    wall: str = described("", "sunny, left, back, right, or the name of a wall; else empty")
    azimuth_deg: float = described("deg", "clockwise from true north; a ridge's is below 180")
    compass_deg: float = described("deg", "what the compass reads along it")
    sun_square: tuple[datetime, ...] = described(
        "", "clock times of the day at which the sun stands in it; none if it never does"
    )


@dataclass(frozen=True)
class NoonShadow:
    """The shadow of a plumb line at solar noon of one day; it lies due north and south."""

    day: date = described("", "the day")
    noon: datetime = described("", "solar noon by the clock, daylight saving included")
    altitude_deg: float = described("deg", "of the sun, as seen; below 0 it does not rise")
    shadow_to: str = described("", "north or south, whither the shadow falls; empty without sun")
    use: str = described(
        "",
        "good; overhead where the shadow is too short to draw a line by, low where it is too long "
        "and faint, dark without sun",
    )
    day_length_h: float = described("h", "from sunrise to sunset")
    shadow_m: float | None = described("m", "of a rod as high as `rod_m`; null without sun")
    blur_m: float | None = described(
        "m", "width of the half-shade beside the tip of that shadow; its middle is the line"
    )
    turn_deg_per_min: float = described(
        "deg", "how far the shadow turns in a minute about noon: the price of a minute's error"
    )


@dataclass(frozen=True)
class CircleMarks:
    """Shadows of equal length before and after noon, which true north halves."""

    radius_m: float = described("m", "of the circle about the foot of the rod")
    altitude_deg: float = described("deg", "of the sun at both marks, as seen")
    morning: datetime = described("", "when the tip of the shadow comes in over the circle")
    afternoon: datetime = described("", "when it goes out again")
    morning_to_deg: float = described("deg", "true direction of the morning's shadow")
    afternoon_to_deg: float = described("deg", "true direction of the afternoon's shadow")
    blur_m: float = described("m", "half-shade at the tip of the shadow, along it")
    off_deg: float = described(
        "deg",
        "how far clockwise of true north (or south) the halved angle lies, because the sun "
        "moved north or south between the marks",
    )


@dataclass(frozen=True)
class Stake:
    """A corner of the building's outside."""

    name: str = described("", "A is the left end of the sunny wall seen from inside; then around")
    east_m: float = described("m", "east of stake A, true")
    north_m: float = described("m", "north of stake A, true")
    from_a_m: float = described("m", "level tape from stake A")
    from_b_m: float = described("m", "level tape from stake B")
    next_m: float = described("m", "to the next stake; the last leads back to A")
    next_azimuth_deg: float = described("deg", "true direction to the next stake")


@dataclass(frozen=True)
class Footprint:
    """Zones that stand together: the stakes of their outside and the rectangle around them."""

    zones: tuple[str, ...] = described("", "the zones")
    stakes: tuple[Stake, ...] = described("", "the corners, in order around the building")
    length_m: float = described("m", "of the rectangle around it, along the sunny wall")
    width_m: float = described("m", "of that rectangle, from front to back")
    diagonal_m: float = described("m", "both its diagonals, equal when it is square")
    three_m: float = described("m", "short leg of the largest round 3-4-5 triangle that fits")
    four_m: float = described("m", "its long leg, along the longer side")
    five_m: float = described("m", "what closes it")


@dataclass(frozen=True)
class BuildingStakes:
    """How one building is staked out."""

    name: str = described("", "the building's key in the design file")
    faces_deg: float = described("deg", "azimuth its sunny side looks to, from true north")
    directions: tuple[Direction, ...] = described("", "by compass and by the sun, on the day")
    footprints: tuple[Footprint, ...] = described("", "its groups of zones")
    off_the_line_m: float = described(
        "m", "how far aside its longer side ends if noon is missed by a minute on the day"
    )


@dataclass(frozen=True)
class StakeoutResult(Printed):
    """How to stake a homestead out to true north, and its buildings."""

    FORMAT = "noonmark.stakeout/1"

    title: str = described("", "title of the design")
    latitude: float = described("deg", "north positive")
    longitude: float = described("deg", "east positive")
    day: date = described("", "the day")
    rod_m: float = described("m", "height of the rod that throws the shadows")
    needle: Needle = described("", "the compass")
    noons: tuple[NoonShadow, ...] = described("", "that day and the next thirteen")
    circle: CircleMarks | None = described(
        "",
        "shadows of equal length on the day; null where the sun is too low for them or stays "
        "about as high",
    )
    buildings: tuple[BuildingStakes, ...] = described("", "the buildings")
    cautions: tuple[Sentence, ...] = described("", "what a licensed person or the law decides")
