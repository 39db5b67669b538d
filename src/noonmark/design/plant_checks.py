"""Checks of what runs in a building: plant, fan, clocks, people, air."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark import catalog
from noonmark.design.derived import charge_heat, material_of
from noonmark.design.model import Building, Homestead
from noonmark.design.part import Clock, Hours
from noonmark.design.services import Cooling, Stove
from noonmark.errors import Problem
from noonmark.sources.people import SENSIBLE_PER_PERSON
from noonmark.sources.stove import burn_curve
from noonmark.units import Quantity

MOST_INNER_GAIN = 50.0
"""Heat of people and appliances no house exceeds over a year [W/m2] (common practice: 3 to 10)."""


def plant_order(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Heater, opened windows and cooler do not work against each other."""
    heating, cooling = building.heating, building.cooling
    if heating is None:
        return
    warm = Quantity(heating.setpoint, "temperature")
    air = building.air
    opened = air.open_area is not None or air.open_air_changes > 0.0
    if opened and air.open_above <= heating.setpoint:
        values = {"open": Quantity(air.open_above, "temperature"), "heat": warm}
        yield Problem("design.opens_while_heating", path=f"{name}.air.open_above", values=values)
    elif air.recovery > 0.0 and air.bypass <= heating.setpoint:
        values = {"read": Quantity(air.bypass, "temperature"), "heat": warm}
        yield Problem("design.bypass_while_heating", path=f"{name}.air", values=values)
    if air.fan and air.fan.above is not None and air.fan.above <= heating.setpoint:
        values = {"read": Quantity(air.fan.above, "temperature"), "heat": warm}
        yield Problem("design.fan_while_heating", path=f"{name}.air.fan.above", values=values)
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
    clocks: dict[str, Clock | Hours | Cooling | Stove | None] = {
        "air.fan": building.air.fan,
        "cooling": building.cooling,
        "heating.stove": building.heating.stove if building.heating else None,
        **{f"cover.{key}": cover for key, cover in building.cover.items()},
        **{f"passage.{index}": item for index, item in enumerate(building.passage, start=1)},
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


MOST_STOVE = 30_000.0
"""Power no stove of a house exceeds [W] (common practice: 4 to 15 kW)."""


def stove(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A stove burns wood, has no capacity, and stands in a heated zone."""
    heating = building.heating
    if heating is None or heating.stove is None:
        return
    path = f"{name}.heating.stove"
    if heating.capacity is not None:
        yield Problem("design.stove_capacity", path=f"{name}.heating.capacity")
    zone = heating.stove.zone
    if zone is not None and zone not in building.zone:
        values = {"read": zone, "known": list(building.zone)}
        yield Problem("design.no_zone", path=f"{path}.zone", values=values)
    elif zone is not None and not building.zone[zone].heated:
        yield Problem("design.stove_unheated", path=f"{path}.zone", values={"read": zone})
    fuel = catalog.table(catalog.Fuel).get(heating.fuel)
    if fuel is not None and not fuel.cords and fuel.name != "pellets":
        yield Problem("design.stove_fuel", path=f"{name}.heating.fuel", values={"read": fuel.name})


def charge(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A charge lasts as long as it is said to burn at its lowest, and no stove is a furnace."""
    heating = building.heating
    if heating is None or heating.stove is None:
        return
    heat, burns = charge_heat(heating), heating.stove.burns
    most = heat / burns
    if heating.stove.lowest > most:
        values = {
            "read": Quantity(heating.stove.lowest, "power"),
            "limit": Quantity(most, "power"),
            "hours": burns,
        }
        yield Problem("design.charge_too_small", path=f"{name}.heating.stove.lowest", values=values)
    elif (peak := max(burn_curve(heat, hours=burns, lowest=heating.stove.lowest))) > MOST_STOVE:
        values = {
            "read": Quantity(peak, "power"),
            "limit": Quantity(MOST_STOVE, "power"),
            "hours": burns,
        }
        yield Problem("design.charge_too_large", path=f"{name}.heating.stove.charge", values=values)


def heated_floor(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """The heated layer is there and stores heat."""
    heating = building.floor.heating
    if heating is None:
        return
    used = {
        zone.floor_construction or building.floor.construction
        for zone in building.zone.values()
        if zone.heated
    }
    for construction in sorted(used & set(homestead.construction)):
        layers = homestead.construction[construction].layers
        place = heating.layer - 1
        material = layers[place].material if place < len(layers) else None
        stores = material is not None and material_of(homestead, material).density > 0.0
        if not stores:
            values = {"read": heating.layer, "construction": construction}
            yield Problem("design.heated_layer", path=f"{name}.floor.heating.layer", values=values)


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
