"""What a design may say beyond the sample, seen in zones and parts."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from designs import Edit, design, drop, put, together
from noonmark.balance.block import NEVER
from noonmark.balance.drive import Hourly, hourly_values
from noonmark.climate.year import HOURS, MONTH_OF_HOUR
from noonmark.design import Homestead
from noonmark.study.assemble import Assembled, assemble
from noonmark.study.constructions import glazing_of
from noonmark.study.elements import Part
from noonmark.study.site import prepare_site
from noonmark.study.year import building_year, short_heater
from sample_house import golden

HEAT = 965.8
"""0.9600 kg/m3 at 1876 m and 20 C, times 1006 J/kgK [J/m3K]."""

AREA, HEIGHT = 100.0, 9 * 0.3048
NO_EDGE_NO_CARPET = (drop("house.floor.edge"), drop("house.floor.carpet"))
HOUR = np.arange(8760) % 24


def made(*edits: Edit) -> Homestead:
    return design(*edits).homestead


def ready(*edits: Edit) -> Assembled:
    whole = made(*edits)
    return assemble(whole, whole.buildings["house"], golden())


def year(value: Hourly | None) -> np.ndarray:
    assert value is not None
    return hourly_values(value, HOURS)


def parts(found: Assembled, kind: str, zone: int = 0) -> Sequence[Part]:
    return [p for p in found.parts if p.kind == kind and p.element.zone_inside == zone]


def u_value(part: Part) -> float:
    """Return the steady conductance between the surfaces of a part [W/m2K]."""
    modes = part.element.modes
    coupled = modes.coupling[:, 0] * modes.coupling[:, 1] / modes.rates
    return float(-modes.conductance[0, 1] + coupled.sum())


def sun_room(**zone: object) -> Edit:
    """Return an edit that puts a sun room of a quarter of the rooms' floor to the left."""
    size = {"length": "3.125 m", "width": "8 m", "height": "9 ft", **zone}
    partition = {"side": "left", "next_to": "sun room"}
    return together(
        put("house.zone.sun room", size), put("house.wall", [partition]), drop("house.window.2")
    )


def test_steady_infiltration_stands_in_for_leaks() -> None:
    (zone,) = ready(put("house.air.infiltration", "0.5 ach"), drop("house.air.leakage")).zones
    carried = 0.5 * AREA * HEIGHT / 3600.0  # m3/s
    ventilation = 0.028317  # 60 cfm
    # scale times the root of one, whatever the weather
    assert (zone.leak_stack, zone.leak_wind) == (0.0, 1.0)
    assert zone.leak_scale == pytest.approx(carried * HEAT, rel=1e-3)
    assert zone.supply == pytest.approx(ventilation * HEAT, rel=1e-3)


def test_fan_runs_by_the_clock() -> None:
    plain, fan = (
        ready(*edits).zones[0]
        for edits in ([], [put("house.air.fan", {"airflow": "360 m3/h", "from": 22, "to": 6})])
    )
    night = (HOUR >= 22) | (HOUR < 6)
    assert plain.fan is None
    assert fan.fan is not None
    np.testing.assert_allclose(year(fan.fan.flow), 0.1 * HEAT * night, rtol=1e-3, atol=1e-9)


def test_cooler_works_by_day() -> None:
    (zone,) = ready(put("house.cooling", {"setpoint": "27 C", "from": 7, "to": 18})).zones
    day = (HOUR >= 7) & (HOUR < 18)
    assert (year(zone.cool_set)[day] == 27.0).all()
    assert (year(zone.cool_set)[~day] == np.inf).all()


def test_set_backs_hold_the_lower_set_point() -> None:
    night = {"from": 22, "to": 6, "setpoint": "16 C", "ramp": 2}
    noon = {"from": 10, "to": 14, "setpoint": "18 C"}
    (zone,) = ready(put("house.heating.setback", [night, noon])).zones
    day = [16.0] * 6 + [17.0, 19.0, 20.0, 20.0] + [18.0] * 4 + [20.0] * 8 + [16.0] * 2
    assert year(zone.heat_set)[:24].tolist() == day
    assert (year(zone.heat_set).reshape(365, 24) == day).all()


def test_steady_heat_is_shared_between_air_and_surfaces() -> None:
    plain, with_more = (
        ready(*edits).zones[0]
        for edits in (
            [],
            [put("house.use.steady", "200 W"), put("house.use.steady_radiant", "60 %")],
        )
    )
    np.testing.assert_allclose(year(with_more.gain_air) - year(plain.gain_air), 80.0, rtol=1e-9)
    np.testing.assert_allclose(year(with_more.gain_star) - year(plain.gain_star), 120.0, rtol=1e-9)


def test_sun_room_without_heat_and_people() -> None:
    found = ready(sun_room(heated=False, lived_in=False), put("house.cooling", {"capacity": 800}))
    alone = ready(drop("house.window.2"), put("house.cooling", {"capacity": 800})).zones[0]
    rooms, sun = found.zones
    assert (rooms.name, sun.name) == ("rooms", "sun room")
    # all of heater, people and ventilation is in the rooms
    assert (rooms.heat_most, rooms.cool_most) == (6000.0, 800.0)
    np.testing.assert_allclose(year(rooms.gain_air), year(alone.gain_air))
    assert rooms.supply == alone.supply
    assert (sun.heat_most, sun.cool_most) == (0.0, 0.0)
    assert (sun.heat_set, sun.cool_set) == (-NEVER, NEVER)
    assert not any(year(value).any() for value in (sun.gain_air, sun.gain_star, sun.supply))
    assert sun.leak_scale == pytest.approx(0.25 * alone.leak_scale)


def test_a_heated_sun_room_takes_its_share_by_floor_area() -> None:
    rooms, sun = ready(sun_room()).zones
    assert (rooms.heat_most, sun.heat_most) == pytest.approx((4800.0, 1200.0))
    assert year(sun.gain_air).sum() == pytest.approx(0.25 * year(rooms.gain_air).sum())


def test_goals_and_heater_look_at_the_rooms_only() -> None:
    whole = made(
        sun_room(heated=False, lived_in=False),
        put("house.window.0.zone", "sun room"),
        put("house.window.0.count", 1),
        put("house.window.0.width", "2.9 m"),
        put("house.goals", {"hours_above_26_c": 100}),
    )
    tree, year = building_year(whole, "house", golden())
    rooms, sun = tree.zones
    assert sun.hours_above_26_c > 100.0 > rooms.hours_above_26_c
    for name in ("hours_above_26_c", "temp_min_c", "temp_max_c"):
        assert getattr(tree, name) == getattr(rooms, name)
    assert tree.missed_goals == ()
    assert sun.heating_kwh == sun.cooling_kwh == 0.0
    assert sun.temp_min_c < rooms.temp_min_c - 5.0
    assert not list(short_heater(whole, "house", year))


def test_a_heater_that_follows_its_set_back_is_not_too_small() -> None:
    night = {"from": 20, "to": 8, "setpoint": "12 C", "ramp": 4}
    capacity = put("house.heating.capacity", "2 kW")
    for edits in ([capacity], [capacity, put("house.heating.setback", [night])]):
        whole = made(*edits)
        _, year = building_year(whole, "house", golden())
        hours = [caution.values["hours"] for caution in short_heater(whole, "house", year)]
        behind = year.air[:, 0] < (20.0 if len(edits) == 1 else setpoints()) - 1.0
        flat_out = year.plant[:, 0] > 1999.0
        assert hours == ([np.count_nonzero(behind & flat_out)] if (behind & flat_out).any() else [])


def setpoints() -> np.ndarray:
    """Return 12 C from 20 to 8 h, then 13, 15, 17, 19 C, then 20 C."""
    return np.tile([12.0] * 8 + [13.0, 15.0, 17.0, 19.0] + [20.0] * 8 + [12.0] * 4, 365)


def test_constructions_of_a_zone() -> None:
    own = {"wall_construction": "slab", "roof_construction": "wall", "floor_construction": "wall"}
    found = ready(sun_room(**own), put("house.floor.below", "10 C"), *NO_EDGE_NO_CARPET)
    walls = {round(u_value(part), 6) for part in parts(found, "wall", 1)}
    (slab,) = {round(u_value(part), 6) for part in parts(found, "floor", 0)}
    assert walls == {slab}
    (wall,) = {round(u_value(part), 6) for part in parts(found, "wall", 0)}
    (floor,) = parts(found, "floor", 1)
    assert u_value(floor) == pytest.approx(wall, rel=0.01)  # surface resistances differ a little
    assert u_value(parts(found, "roof", 1)[0]) < wall  # with the attic


def test_flat_roof_has_no_attic() -> None:
    (attic,) = parts(ready(), "roof")
    flat = ready(put("house.roof.attic", False), put("house.roof.pitch", 0))
    (roof,) = parts(flat, "roof")
    assert 1.0 / u_value(attic) - 1.0 / u_value(roof) == pytest.approx(0.2)


def test_joists_without_heel_lie_on_the_plate() -> None:
    flat = together(put("house.roof.attic", False), put("house.roof.pitch", 0))
    flush = ready(flat, drop("house.eave.soffit_height"))
    given = ready(flat, put("house.eave.soffit_height", "9 ft"))
    for one, other in zip(flush.parts, given.parts, strict=True):
        np.testing.assert_array_equal(one.element.outside_drive, other.element.outside_drive)


def test_floor_over_a_given_temperature() -> None:
    months = [float(m) for m in range(1, 13)]
    for below, wanted in ((["10 C"], [10.0] * 12), (months, months)):
        found = ready(put("house.floor.below", below), drop("house.floor.edge"))
        bare, carpeted = parts(found, "floor")
        for floor in (bare, carpeted):
            temperature = year(floor.element.outside_drive) / year(floor.element.outside_film)
            np.testing.assert_allclose(temperature, np.array(wanted)[MONTH_OF_HOUR])
        # 4 in of concrete (2.0) and of eps (0.036 W/mK), and nothing else
        resistance = 0.1016 / 2.0 + 0.1016 / 0.036
        assert 1.0 / u_value(bare) == pytest.approx(resistance, rel=1e-6)
        assert 1.0 / u_value(carpeted) == pytest.approx(resistance + 0.2, rel=1e-6)
        assert 1.0 / year(bare.element.outside_film).min() < 0.001


def test_own_material_goes_before_the_catalogue_s() -> None:
    own = {"conductivity": 0.5, "density": 900, "specific_heat": 1000}
    plain, changed = (
        parts(found, "wall")[0].element.modes
        for found in (ready(), ready(put("material", {"osb": own})))
    )
    assert changed.areal_heat_capacity - plain.areal_heat_capacity == pytest.approx(
        7 / 16 * 0.0254 * (900 * 1000 - 650 * 1700), rel=1e-6
    )


def test_glass_by_its_resistance() -> None:
    unit = {"panes": 2, "pane": "clear 3 mm", "resistance": "0.198 m2K/W"}
    glazing = glazing_of(made(put("glazing", {"mine": unit})), "mine")
    assert glazing.resistance == pytest.approx(0.198)
    # a pane of 0.834 throws 0.0751 back; two pass 0.834^2 / (1 - 0.0751^2)
    assert glazing.transmittance[0] == pytest.approx(0.6995, abs=2e-4)
    clearer = glazing_of(
        made(put("glazing", {"mine": {**unit, "pane_transmittance": 0.9}})), "mine"
    )
    assert clearer.transmittance[0] > glazing.transmittance[0] + 0.1
    assert clearer.resistance == glazing.resistance


def test_window_without_frame_is_all_glass() -> None:
    found = ready(*(put(f"house.window.{i}.frame", "none") for i in range(5)))
    glass = parts(found, "window")
    assert all(part.faces[0].loses for part in glass)
    assert len(glass) == 5
    area = sum(part.element.area for part in glass)
    rough = (
        3 * 1.8288 * (2.1844 - 0.6096)
        + 1.2192 * (2.1844 - 0.762)
        + 2 * 0.9144 * (2.1844 - 1.0668)
        + 2 * 0.9144 * (2.1844 - 1.2192)
    )
    assert area == pytest.approx(rough)


def test_eave_along_one_side() -> None:
    both, sunny, none = (
        ready(put("house.eave.sides", sides)) for sides in (["sunny", "back"], ["sunny"], [])
    )
    back = [
        year(next(p for p in parts(found, "wall") if p.side == "N").element.outside_drive).sum()
        for found in (both, sunny, none)
    ]
    front = [
        year(next(p for p in parts(found, "wall") if p.side == "S").element.outside_drive).sum()
        for found in (both, sunny, none)
    ]
    assert back[0] != back[1] == back[2]
    assert front[0] == front[1] < front[2]


def test_shorter_ends_let_more_sun_in() -> None:
    long, short = (
        ready(put("house.eave.ends", ends)).let_in[0]["S"].sum() for ends in ("18 in", "-28.4 cm")
    )
    assert short > long


def test_light_walls_keep_less() -> None:
    found = ready(put("house.inside", {"walls": 0.2, "ceiling": 0.1}), sun_room())
    assert {part.faces[0].keeps for part in parts(found, "wall")} == {0.2}
    assert {part.faces[0].keeps for part in parts(found, "roof")} == {0.1}
    assert [face.keeps for face in parts(found, "partition")[0].faces] == [0.2, 0.2]


def test_ground_of_the_place_counts_when_asked() -> None:
    for whose, wanted in (("file", False), ("place", True)):
        whole = made(put("climate.albedo", whose), put("place.ground_albedo", 0.33))
        site = prepare_site(whole.place, whole.climate, design().folder)
        assert bool((site.albedo == 0.33).all()) is wanted
