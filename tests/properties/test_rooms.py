"""What runs in the rooms, seen in a marched year: air, passages, stove, heated floor, films."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from designs import Edit, design, drop, put, together
from mutants import Data
from noonmark.balance.enclosure import Year
from noonmark.climate.year import HOURS, MONTH_OF_HOUR
from noonmark.design import Homestead
from noonmark.study import run_year
from noonmark.study.assemble import Assembled, assemble
from noonmark.study.results.year import BuildingYear, PartFlow
from noonmark.study.year import building_year
from sample_house import golden

HEAT = 965.8
"""0.9600 kg/m3 at 1876 m and 20 C, times 1006 J/kgK [J/m3K]."""

HOUR = np.arange(HOURS) % 24
DOOR: dict[str, object] = {"zones": ["sun room", "rooms"], "width": "0.9 m", "height": "2 m"}
FAN: dict[str, object] = {
    "zones": ["sun room", "rooms"],
    "kind": "fan",
    "airflow": "360 m3/h",
    "below": "23 C",
}


def of(*edits: Edit) -> Homestead:
    return design(*edits).homestead


def year_of(*edits: Edit) -> tuple[BuildingYear, Year]:
    found, year = building_year(of(*edits), "house", golden())
    assert found.closure_error < 1e-6
    return found, year


def ready(*edits: Edit) -> Assembled:
    homestead = of(*edits)
    return assemble(homestead, homestead.buildings["house"], golden())


@cache
def bare() -> BuildingYear:
    return year_of()[0]


def sunspace(*passages: dict[str, object]) -> Edit:
    """Return an edit that sets an unheated glazed room before the sunny side."""

    def edit(data: Data) -> None:
        house = data["house"]
        house["zone"]["sun room"] = {
            "length": "12.5 m", "width": "2.5 m", "height": "9 ft",
            "heated": False, "lived_in": False,
        }  # fmt: skip
        house["wall"] = [{"side": "sunny", "next_to": "sun room"}]
        for window in house["window"]:
            if window["side"] == "sunny":
                window["zone"] = "sun room"
        house["passage"] = list(passages)

    return edit


def kwh(flows: tuple[PartFlow, ...], part: str) -> float:
    return sum(flow.kwh for flow in flows if flow.part == part)


# --- films --------------------------------------------------------------------------------------


def test_fixed_films_are_those_of_the_standard() -> None:
    found = ready(put("house.inside", {"films": "fixed"}), sunspace())
    wanted = {"wall": 2.5, "window": 2.5, "partition": 2.5, "roof": 5.0, "floor": 0.7}
    for part in found.parts:
        inner, outer = part.element.convection
        film = (wanted[part.kind], 0.0, wanted[part.kind], 0.0)
        assert inner == film
        assert outer == (film if part.kind == "partition" else 0.0)
    natural = ready().parts[0].element.convection[0]
    assert natural == (0.0, 1.31, 0.0, 1.31)


# --- outdoor air --------------------------------------------------------------------------------


def test_a_bypass_lets_summer_heat_go_and_keeps_winter_s() -> None:
    never, _ = year_of(put("house.air.bypass_above", "60 C"))
    assert bare().hours_above_26_c < never.hours_above_26_c
    assert bare().heating_kwh == pytest.approx(never.heating_kwh, rel=0.01)
    # without windows to open it matters more
    shut = put("house.air.open_air_changes", 0)
    by, never = (year_of(shut, put("house.air.bypass_above", t))[0] for t in ("24 C", "60 C"))
    assert by.temp_max_c < never.temp_max_c - 0.5


def test_bypass_is_where_windows_open_unless_it_is_given() -> None:
    assert [zone.bypass_above for zone in ready().zones] == [24.0]
    assert [z.bypass_above for z in ready(put("house.air.bypass_above", "22 C")).zones] == [22.0]


def test_a_night_fan_by_temperature_cools_without_costing_heat() -> None:
    fan = {"airflow": "800 m3/h", "from": 21, "to": 8, "months": [6, 7, 8]}
    blind, _ = year_of(put("house.air.fan", fan))
    wise, year = year_of(put("house.air.fan", {**fan, "above": "23 C"}))
    assert wise.hours_above_26_c < 0.8 * bare().hours_above_26_c
    assert wise.heating_kwh < 1.02 * bare().heating_kwh
    assert blind.heating_kwh > wise.heating_kwh + 200.0
    _, plain = year_of()
    winter = np.isin(MONTH_OF_HOUR, [0, 1, 11])
    assert year.air_loss[winter].sum() == pytest.approx(plain.air_loss[winter].sum(), rel=1e-3)


def test_opened_area_follows_wind_and_warmth() -> None:
    area = together(
        drop("house.air.open_air_changes"),
        put("house.air.open_area", "1.5 m2"),
        put("house.air.open_height", "1.2 m"),
    )
    (zone,) = ready(area).zones
    opened = zone.opened
    assert opened.base == 0.0
    assert opened.scale == pytest.approx(0.75 * HEAT, rel=1e-3)
    assert opened.stack == pytest.approx(0.0035 * 1.2)
    # with no other air, what leaves in hours with wide open windows is what the formula says
    tight = together(
        drop("house.air.leakage"), put("house.air.infiltration", 1e-9),
        put("house.air.ventilation", 0),
    )  # fmt: skip
    found, year = year_of(area, tight)
    wind = 1.2527 * golden().weather.wind_speed
    apart = year.air[:, 0] - golden().weather.temp_air
    wide = (year.air[:, 0] > 24.5) & (apart > 2.0)
    assert wide.sum() > 500
    # the flow is that of the room as the hour begins, its heat that of the hour's end
    before, after = (np.roll(year.air[:, 0], by)[wide] for by in (1, -1))
    began = 0.5 * (year.air[wide, 0] + before) - golden().weather.temp_air[wide]
    most = 0.75 * HEAT * np.sqrt(0.0042 * np.abs(began) + 0.001 * wind[wide] ** 2 + 0.01)
    shares = year.air_loss[wide, 0] / apart[wide] / most
    assert np.abs(shares - 1.0).max() < 0.25
    _, at_rest = np.polyfit(after - before, shares, 1)
    assert at_rest == pytest.approx(1.0, abs=0.02)
    wider, _ = year_of(area, tight, put("house.air.open_area", "6 m2"))
    assert wider.hours_above_26_c < found.hours_above_26_c


def test_two_zones_share_the_opened_area_by_floor() -> None:
    area = together(
        drop("house.air.open_air_changes"),
        put("house.air.open_area", "1.3125 m2"),
        put("house.air.open_height", "1.2 m"),
    )
    rooms, sun = ready(sunspace(), area).zones  # 100 and 31.25 m2
    assert rooms.opened.scale == pytest.approx(0.5 * HEAT, rel=1e-3)
    assert sun.opened.scale == pytest.approx(0.5 * 0.3125 * HEAT, rel=1e-3)


# --- between zones ------------------------------------------------------------------------------


def test_doorway_is_its_formula() -> None:
    (door,) = ready(sunspace(DOOR)).passages
    wanted = 0.2 * 0.9 * 2.0**1.5 * math.sqrt(9.81 / 293.15) * HEAT
    assert door.doorway == pytest.approx(wanted, rel=1e-3)
    assert (door.zone_from, door.zone_to) == (1, 0)


def test_air_between_zones_takes_from_one_what_it_brings_to_the_other() -> None:
    found, year = year_of(sunspace({**DOOR, "from": 10, "to": 16, "months": [1, 2, 3]}))
    np.testing.assert_allclose(year.moved.sum(axis=1), 0.0, atol=1e-9)
    when = (HOUR >= 10) & (HOUR < 16) & (MONTH_OF_HOUR < 3)
    assert (year.moved[~when] == 0.0).all()
    assert (year.moved[when] != 0.0).all()
    # heat goes from the warmer air to the colder
    warmer = year.air[:, 1] - year.air[:, 0]
    clear = when & (np.abs(warmer) > 1.0)
    assert (np.sign(year.moved[clear, 0]) == np.sign(warmer[clear])).all()
    rooms, sun = found.zones
    assert kwh(rooms.gains, "between") > 0.0
    assert kwh(sun.losses, "between") > 0.0
    assert kwh(rooms.losses, "between") == kwh(sun.gains, "between") == 0.0


def test_a_fan_brings_the_sun_of_a_sunspace_to_the_rooms() -> None:
    without, _ = year_of(sunspace())
    found, year = year_of(sunspace(FAN))
    assert found.heating_kwh < 0.9 * without.heating_kwh
    flow = 0.1 * HEAT
    runs = year.moved[:, 0] != 0.0
    warmer = year.air[:, 1] - year.air[:, 0]
    np.testing.assert_allclose(year.moved[runs, 0], flow * warmer[runs], rtol=1e-3)
    # it looks at the air as an hour begins: never while the rooms were warm the hour before
    before = np.roll(year.air, 1, axis=0)[runs]
    assert before[:, 0].max() < 23.5
    assert (before[:, 1] - before[:, 0]).min() > -1.0
    assert 200 < runs.sum() < 3000


def test_tables_of_zones_close_with_a_door_open() -> None:
    for zone in year_of(sunspace(DOOR))[0].zones:
        lost, got = (sum(flow.kwh for flow in flows) for flows in (zone.losses, zone.gains))
        assert lost == pytest.approx(got, rel=0.03, abs=5.0)


# --- stove --------------------------------------------------------------------------------------


def stove(**more: object) -> Edit:
    fire = {"charge": "3 kg", "burns": 6, **more}
    return together(drop("house.heating.capacity"), put("house.heating.stove", fire))


CHARGE = 3.0 * (18.5 * 0.85 - 2.44 * 0.15) / 3.6 * 0.72
"""Heat of 3 kg at 72 % net [kWh]."""


def test_charges_fuel_and_heat_of_a_stove() -> None:
    found, year = year_of(stove())
    assert found.fuel is not None
    assert found.heating_kwh == pytest.approx(year.stove.sum() / 1e3)
    assert (year.plant == 0.0).all()
    assert found.fuel.charges == pytest.approx(found.heating_kwh / CHARGE)
    assert found.fuel.full_cords == pytest.approx(found.heating_kwh / 0.72 / 5618.0)
    # each charge burns its six hours out
    fire = year.stove[:, 0]
    lit = (fire > 0.0) & (np.roll(fire, 1) == 0.0)
    assert found.fuel.charges == pytest.approx(np.count_nonzero(fire) / 6.0, abs=1.0)
    assert lit.sum() <= found.fuel.charges + 1.0
    assert fire.sum() / 1e3 == pytest.approx(CHARGE * np.count_nonzero(fire) / 6.0, rel=0.01)
    assert found.peak_heating_w == pytest.approx(fire.max())


def test_nobody_lights_a_stove_asleep_or_in_a_warm_room() -> None:
    found, year = year_of(stove(**{"from": 7, "to": 20}))
    fire = year.stove[:, 0]
    starts = np.flatnonzero((fire > 0.0) & (np.roll(fire, 1) == 0.0))
    assert set(HOUR[starts]) <= set(range(7, 20))
    # the air as that hour began lies between the means of the hour before and the set-point
    assert year.air[starts - 1, 0].max() < 21.0
    assert found.temp_min_c < 20.0


def test_a_stove_overshoots_and_a_smaller_charge_less() -> None:
    big, small = (year_of(stove(charge=charge))[0] for charge in ("8 kg", "2 kg"))
    assert bare().heating_kwh < small.heating_kwh < big.heating_kwh
    assert big.fuel is not None
    assert small.fuel is not None
    assert big.fuel.charges < small.fuel.charges


def test_a_stove_heats_its_own_zone() -> None:
    two = together(sunspace(DOOR), put("house.zone.sun room.heated", True))
    _, here = year_of(two, stove())
    _, there = year_of(two, stove(zone="sun room"))
    assert here.stove[:, 0].sum() > 0.0 == here.stove[:, 1].sum()
    assert there.stove[:, 1].sum() > 0.0 == there.stove[:, 0].sum()


# --- heated floor -------------------------------------------------------------------------------


def pipes(**more: object) -> Edit:
    heating = {"power": "40 W/m2", "setpoint": "20 C", **more}
    return together(put("house.floor.heating", heating), put("house.heating.capacity", 0))


def test_a_heated_floor_holds_the_room_and_is_counted() -> None:
    found, year = year_of(pipes())
    assert found.temp_min_c > 18.5
    assert found.heating_kwh == pytest.approx(year.slab.sum() / 1e3)
    assert year.slab.max() <= 40.0 * 100.0 * (1.0 + 1e-9)
    (zone,) = found.zones
    assert kwh(zone.gains, "slab") > 0.9 * kwh(zone.gains, "heater") + 500.0
    lost, got = (sum(flow.kwh for flow in flows) for flows in (zone.losses, zone.gains))
    assert lost == pytest.approx(got, rel=0.02)
    # some of it goes into the ground
    assert found.heating_kwh > bare().heating_kwh
    assert zone.heated_floor_max_c is not None
    assert 20.0 < zone.heated_floor_max_c < 29.0


def test_only_heated_zones_have_pipes() -> None:
    found = ready(sunspace(), pipes())
    heated = {
        part.element.zone_inside
        for part in found.parts
        if part.element.modes.buried.any() or part.element.modes.buried_shares.any()
    }
    assert heated == {0}
    assert [zone.slab is not None for zone in found.zones] == [True, False]


def test_a_floor_too_hot_for_feet_is_told_of() -> None:
    def told(*edits: Edit) -> list[str]:
        return [c.key for c in run_year(of(*edits)).result.cautions if c.key == "caution.hot_floor"]

    hot = pipes(power="150 W/m2", setpoint="30 C", band="0.5 K")
    assert told(hot, put("house.air.open_above", "35 C")) == ["caution.hot_floor"]
    assert told(pipes()) == []
    assert told() == []
