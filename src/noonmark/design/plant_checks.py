"""Checks of what runs in a building: plant, fan, clocks, people, air."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.design.model import Building, Cooling, Fan, Homestead, SetBack
from noonmark.errors import Problem
from noonmark.sources.people import SENSIBLE_PER_PERSON
from noonmark.units import Quantity

MOST_INNER_GAIN = 50.0
"""Heat of people and appliances no house exceeds over a year [W/m2] (common practice: 3 to 10)."""


def plant_order(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Heater, opened windows and cooler do not work against each other."""
    heating, cooling = building.heating, building.cooling
    if heating is None:
        return
    warm = Quantity(heating.setpoint, "temperature")
    if building.air.open_air_changes > 0.0 and building.air.open_above <= heating.setpoint:
        values = {"open": Quantity(building.air.open_above, "temperature"), "heat": warm}
        yield Problem("design.opens_while_heating", path=f"{name}.air.open_above", values=values)
    if cooling is not None and cooling.setpoint <= heating.setpoint:
        values = {"cool": Quantity(cooling.setpoint, "temperature"), "heat": warm}
        yield Problem("design.cools_while_heating", path=f"{name}.cooling.setpoint", values=values)


def setbacks(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A set-back is lower than the set-point."""
    for index, back in enumerate(building.heating.setback if building.heating else (), start=1):
        if building.heating and back.setpoint >= building.heating.setpoint:
            values = {
                "read": Quantity(back.setpoint, "temperature"),
                "heat": Quantity(building.heating.setpoint, "temperature"),
            }
            path = f"{name}.heating.setback.{index}.setpoint"
            yield Problem("design.setback_above", path=path, values=values)


def clocks(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Hours of the day leave some time between them."""
    back = building.heating.setback if building.heating else []
    clocks: dict[str, Fan | SetBack | Cooling | None] = {
        "air.fan": building.air.fan,
        "cooling": building.cooling,
        **{f"heating.setback.{index}": item for index, item in enumerate(back, start=1)},
    }
    for path, clock in clocks.items():
        if clock and clock.begin % 24 == clock.end % 24 and (clock.begin, clock.end) != (0, 24):
            values = {"begin": clock.begin, "end": clock.end}
            yield Problem("design.no_hours", path=f"{name}.{path}", values=values)


def served(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Some zone is heated and some zone is lived in."""
    for key in ("heated", "lived_in"):
        if not any(getattr(zone, key) for zone in building.zone.values()):
            yield Problem("design.nowhere", path=f"{name}.zone", values={"key": key})


def one_leakage(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Leaks are told by a blower door or as a steady exchange."""
    if building.air.infiltration is not None and "leakage" in building.air.model_fields_set:
        yield Problem("design.leakage_twice", path=f"{name}.air.infiltration")


def below(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Under a floor there is one temperature, or one a month, or the ground with its edge."""
    below = building.floor.below
    if below is None:
        return
    if len(below) not in (1, 12):
        yield Problem(
            "design.below_months", path=f"{name}.floor.below", values={"read": len(below)}
        )
    if building.floor.edge is not None:
        yield Problem("design.below_edge", path=f"{name}.floor.edge")


def inner_gain(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """People and appliances warm it as those of a house do, not as an oven's."""
    use = building.use
    area = sum(zone.floor_area for zone in building.zone.values() if zone.lived_in)
    gain = (use.people * SENSIBLE_PER_PERSON + use.appliances + use.steady) / area
    if gain > MOST_INNER_GAIN:
        values = {
            "read": Quantity(gain, "power_density"),
            "limit": Quantity(MOST_INNER_GAIN, "power_density"),
        }
        yield Problem("design.inner_gain", path=f"{name}.use", values=values)
