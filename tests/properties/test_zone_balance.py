"""What a zone gets goes into its parts or out with its air: the tables of losses and gains."""

from __future__ import annotations

from functools import cache

import numpy as np
import psychrolib
import pytest

from noonmark.balance.drive import hourly_values
from noonmark.balance.enclosure import Year
from noonmark.design.services import Use
from noonmark.study.assemble import assemble
from noonmark.study.results.year import BuildingYear, PartFlow
from noonmark.study.year import building_year
from sample_house import golden, house, sample, with_house


@cache
def sample_year() -> tuple[BuildingYear, Year]:
    return building_year(sample(), "house", golden())


def total(flows: tuple[PartFlow, ...]) -> float:
    return sum(flow.kwh for flow in flows)


def test_parts_and_air_take_what_the_zone_gets() -> None:
    """Independent of what the outside surfaces and the stores say, which close the year."""
    _, year = sample_year()
    ready = assemble(sample(), house(), golden())
    (zone,) = ready.zones
    sun = sum(
        part.element.area * hourly_values(part.element.inside_source, 8760).sum()
        for part in ready.parts
    )
    given = hourly_values(zone.gain_air, 8760) + hourly_values(zone.gain_star, 8760)
    got = year.plant.sum() + given.sum() + sun + year.latent.sum()
    gone = year.flow_inside.sum() + year.air_loss.sum()
    # the air itself may end the year some kelvin warmer or colder than it began
    assert gone == pytest.approx(got, abs=10.0 * zone.air_capacity / 3600.0)
    assert 10.0 * zone.air_capacity / 3600.0 < 0.001 * got


def test_losses_of_the_heating_months_are_its_gains() -> None:
    zone = sample_year()[0].zones[0]
    # but for what the slab keeps from autumn to spring
    assert total(zone.losses) == pytest.approx(total(zone.gains), rel=0.01)
    parts = {(flow.part, flow.side) for flow in zone.losses}
    sides = ("S", "W", "N", "E")
    assert parts == {
        *((part, side) for part in ("wall", "window") for side in sides),
        ("roof", ""),
        ("floor", ""),
        ("air", ""),
    }
    assert all(flow.kwh > 0.0 for flow in zone.losses)


def test_an_empty_house_with_leaks_is_as_humid_as_outdoors() -> None:
    leaky = house().air.model_copy(update={"leakage": 50.0})
    design = with_house(air=leaky, use=Use(people=0.0, appliances=0.0))
    _, year = building_year(design, "house", golden())
    weather = golden().weather
    psychrolib.SetUnitSystem(psychrolib.SI)
    outdoors = [
        psychrolib.GetHumRatioFromTDewPoint(float(dew), float(pressure))
        for dew, pressure in zip(weather.dew_point, weather.pressure, strict=True)
    ]
    assert year.humidity[:, 0].mean() == pytest.approx(np.mean(outdoors), rel=0.01)


@pytest.mark.parametrize(("basis", "kwh_a_cord"), [("net", 5618.0), ("gross", 6067.0)])
def test_wood_by_hand(basis: str, kwh_a_cord: float) -> None:
    heating = house().heating
    assert heating is not None
    design = with_house(heating=heating.model_copy(update={"basis": basis}))
    found = building_year(design, "house", golden())[0]
    assert found.fuel is not None
    assert found.fuel.basis == basis
    assert found.fuel.delivered_kwh == pytest.approx(found.heating_kwh / 0.72)
    assert found.fuel.amount == pytest.approx(found.heating_kwh / 0.72 / kwh_a_cord)
    assert found.fuel.full_cords == found.fuel.amount
