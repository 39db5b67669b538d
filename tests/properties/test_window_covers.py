"""Shutters against cold, blinds against heat, and the sun they stop."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from designs import Edit, design, put
from mutants import Data
from noonmark.balance.drive import hourly_values
from noonmark.balance.enclosure import Year
from noonmark.climate.year import HOURS, MONTH_OF_HOUR
from noonmark.design import Homestead
from noonmark.study.assemble import assemble
from noonmark.study.covers import as_marched
from noonmark.study.results.year import BuildingYear
from noonmark.study.year import building_year
from sample_house import golden, house, with_house

HOUR = np.arange(HOURS) % 24
SHUTTER = {"resistance": "0.5 m2K/W", "from": 18, "to": 7, "months": [10, 11, 12, 1, 2, 3, 4]}
BLIND = {"passes": 0.15, "sun_above": "150 W/m2", "months": [5, 6, 7, 8, 9]}


def covered(**cover: object) -> Edit:
    def edit(data: Data) -> None:
        data["house"]["cover"] = {"mine": cover}
        for window in data["house"]["window"]:
            window["cover"] = "mine"

    return edit


def of(*edits: Edit) -> Homestead:
    return design(*edits).homestead


def year_of(homestead: Homestead) -> tuple[BuildingYear, Year]:
    found, year = building_year(homestead, "house", golden())
    assert found.closure_error < 1e-6
    return found, year


@cache
def bare() -> BuildingYear:
    return year_of(of())[0]


@pytest.mark.parametrize("inside", [False, True])
def test_a_shutter_at_night_lowers_the_heating(inside: bool) -> None:
    found, year = year_of(of(covered(**SHUTTER, inside=inside)))
    assert found.heating_kwh < 0.75 * bare().heating_kwh
    assert found.peak_heating_w < 0.9 * bare().peak_heating_w
    closed = ((HOUR >= 18) | (HOUR < 7)) & ~np.isin(MONTH_OF_HOUR, [4, 5, 6, 7, 8])
    assert {item.hours_closed for item in found.covers} == {float(closed.sum())}
    assert (year.closed == closed[:, None]).all()


@pytest.mark.parametrize("inside", [False, True])
def test_a_summer_blind_lowers_the_hours_above_26_c(inside: bool) -> None:
    found, _ = year_of(of(covered(**BLIND, inside=inside)))
    assert found.hours_above_26_c < (0.8 if inside else 0.5) * bare().hours_above_26_c
    # only summer months were touched
    assert found.heating_kwh == pytest.approx(bare().heating_kwh, rel=0.1)


@pytest.mark.parametrize("inside", [False, True])
def test_parts_and_air_take_what_the_zone_gets_behind_blinds(inside: bool) -> None:
    cover = {"passes": 0.2, "absorbs": 0.5, "resistance": 0.1, "sun_above": "200 W/m2"}
    homestead = of(covered(**cover, inside=inside))
    _, year = year_of(homestead)
    ready = assemble(homestead, homestead.buildings["house"], golden())
    (zone,) = ready.zones
    sun = sum(
        part.element.area * as_marched(part.element.inside_source, year.closed).sum()
        for part in ready.parts
    )
    given = hourly_values(zone.gain_air, HOURS) + hourly_values(zone.gain_star, HOURS)
    got = year.plant.sum() + given.sum() + sun + year.latent.sum()
    gone = year.flow_inside.sum() + year.air_loss.sum()
    # the air itself may end the year some kelvin warmer or colder than it began
    assert gone == pytest.approx(got, abs=10.0 * zone.air_capacity / 3600.0)
    assert 10.0 * zone.air_capacity / 3600.0 < 0.001 * got


def test_an_outside_blind_keeps_out_more_heat_than_an_inside_one() -> None:
    outside, inside = (
        year_of(of(covered(**BLIND, absorbs=0.5, inside=inside)))[0] for inside in (False, True)
    )
    assert outside.temp_max_c < inside.temp_max_c < bare().temp_max_c


def test_a_blind_by_warmth_leaves_the_winter_sun_alone() -> None:
    always = {"passes": 0.15, "sun_above": "150 W/m2"}
    greedy, _ = year_of(of(covered(**always)))
    wise, year = year_of(of(covered(**always, warmer_than="24 C")))
    assert wise.heating_kwh < greedy.heating_kwh - 200.0
    assert wise.hours_above_26_c < 0.5 * bare().hours_above_26_c
    # it looks at the air as an hour begins, after the hour before
    before = np.roll(year.air[:, 0], 1)
    shut = year.closed[:, 0] > 0.0
    assert before[shut].min() > 23.0


def test_a_cover_that_does_nothing_changes_nothing() -> None:
    found, _ = year_of(of(covered(passes=1.0, absorbs=0.0)))
    assert found.heating_kwh == pytest.approx(bare().heating_kwh, rel=1e-9)
    assert found.temp_max_c == pytest.approx(bare().temp_max_c, rel=1e-9)


def test_behind_closed_shutters_it_is_dark() -> None:
    homestead = of(covered(passes=0.0))
    ready = assemble(homestead, homestead.buildings["house"], golden())
    closed = np.ones((HOURS, len(ready.covered)))
    for part in ready.parts:
        np.testing.assert_allclose(as_marched(part.element.inside_source, closed), 0.0, atol=1e-9)
    assert all(not power.any() for power in ready.kept(closed)[0].values())
    found, _ = year_of(homestead)
    solar = [flow.kwh for flow in found.zones[0].gains if flow.part == "solar"]
    assert solar == pytest.approx([0.0] * 4, abs=1e-9)
    assert all(month.solar_kwh == 0.0 for month in found.zones[0].months)


def test_half_of_the_light_is_half_of_what_every_surface_gets() -> None:
    homestead = of(covered(passes=0.5, absorbs=0.0))
    ready = assemble(homestead, homestead.buildings["house"], golden())
    dark, bright = (np.full((HOURS, len(ready.covered)), value) for value in (1.0, 0.0))
    (floor, *_) = (part for part in ready.parts if part.kind == "floor")
    one, whole = (as_marched(floor.element.inside_source, closed) for closed in (dark, bright))
    np.testing.assert_allclose(one, 0.5 * whole, rtol=1e-12)
    assert whole.sum() > 0.0


@pytest.mark.parametrize("inside", [False, True])
def test_glass_under_a_closed_cover_is_as_its_four_faces_say(inside: bool) -> None:
    """Nodes outdoors to inside in a row, solved at once, hour by hour.

    The cover lies outside or inside of the pane, which takes up sun at both
    faces; the cover takes up its own share.
    """
    absorbs, passes, extra = 0.3, 0.4, 0.2
    cover = {"absorbs": absorbs, "passes": passes, "resistance": extra, "inside": inside}
    homestead = of(covered(**cover))
    ready = assemble(homestead, homestead.buildings["house"], golden())
    _, year = year_of(homestead)
    open_house = of()
    plain = assemble(open_house, open_house.buildings["house"], golden())
    index = next(i for i, p in enumerate(ready.parts) if p.kind == "window" and p.faces[0].loses)
    part, light, item = ready.parts[index], ready.entered[0], ready.covered[0]
    element = part.element
    met = item.met
    assert met.max() > 500.0
    own = 1.0 / element.modes.conductance[0, 0]
    film = hourly_values(element.outside_film, HOURS)
    # as open: the drive of the dark glass, what its outer pane takes up, the inner, light inside
    open_drive = hourly_values(plain.parts[index].element.outside_drive, HOURS)
    bounced = np.sum([source.at(index) for source in plain.sources], axis=0)
    bounced_out = np.sum([s.at(index, outside=True) for s in plain.sources], axis=0)
    inner = hourly_values(plain.parts[index].element.inside_source, HOURS) - bounced
    cold = open_drive - item.pane - bounced_out
    past = (light.beam + light.scattered) / element.area
    radiation = element.radiation[0]
    stopped = 1.0 if inside else passes
    for hour in range(60, HOURS, 491):
        air, star = year.air[hour, 0], year.star[hour, 0]
        surface = year.surface[hour, index]
        # the film of the hour is what the flow into the surface says
        source = as_marched(element.inside_source, year.closed)[hour]
        flow = year.flow_inside[hour, index] / element.area
        convection = (flow - source - radiation * (star - surface)) / (air - surface)
        # nodes: outdoor face, pane's outer face, pane's inner face, room face
        first, last = (0.0, extra) if inside else (extra, 0.0)
        k = [1.0 / max(first, 1e-9), 1.0 / own, 1.0 / max(last, 1e-9)]
        matrix = np.zeros((4, 4))
        for i, conductance in enumerate(k):
            matrix[i : i + 2, i : i + 2] += conductance * np.array([[1.0, -1.0], [-1.0, 1.0]])
        matrix[0, 0] += film[hour]
        matrix[3, 3] += convection + radiation
        room = convection * air + radiation * star
        taken_by_cover = absorbs * (past if inside else met)[hour]
        right = np.array(
            [
                cold[hour] + passes * bounced_out[hour],
                stopped * item.pane[hour],
                stopped * inner[hour],
                room + passes * bounced[hour],
            ]
        )
        right[3 if inside else 0] += taken_by_cover
        assert surface == pytest.approx(np.linalg.solve(matrix, right)[3], abs=1e-4)


@pytest.mark.parametrize(("side", "noon_before"), [("left", True), ("right", False)])
def test_a_blind_in_the_east_closes_before_noon_and_in_the_west_after(
    side: str, noon_before: bool
) -> None:
    index = 2 if side == "left" else 3
    edits = [
        put("house.cover", {"blind": {"sun_above": "300 W/m2"}}),
        put(f"house.window.{index}.cover", "blind"),
    ]
    found, year = year_of(of(*edits))
    (item,) = found.covers
    assert item.side == ("E" if side == "left" else "W")
    noon = golden().sun.solar_noon_h[np.arange(HOURS) // 24]
    before = noon > HOUR + 0.5
    share = year.closed[before, 0].sum() / year.closed[:, 0].sum()
    assert share > 0.9 if noon_before else share < 0.1


def test_light_on_an_opening_is_what_the_plane_and_its_shade_say() -> None:
    eave = house().eave.model_copy(update={"ends": 0.0})
    homestead = with_house(of(covered(passes=0.5)), eave=eave)
    ready = assemble(homestead, homestead.buildings["house"], golden())
    west = next(item for item in ready.covered if item.window.side == "right")
    plane = golden().plane(90.0, 270.0)
    # no eave and no roof past the wall at that side: all of the plane's light
    np.testing.assert_allclose(west.met, plane.total, rtol=1e-9, atol=1e-9)
