"""Energy closes and loads move the right way, whatever the design."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from box import LAYERS, make_slab, make_zone, run, window_layer
from noonmark.balance.drive import hourly_values
from noonmark.balance.enclosure import OUTDOORS
from noonmark.design import Building, Homestead
from noonmark.design.derived import wall_faces
from noonmark.design.model import Window
from noonmark.design.services import Cooling, Heating
from noonmark.study.assemble import assemble
from noonmark.study.results.year import BuildingYear
from noonmark.study.twin import unshaped_twin
from noonmark.study.year import building_year
from sample_house import golden, house, sample, with_house, with_layer

HOURS = 48


def year_of(homestead: Homestead) -> BuildingYear:
    return building_year(homestead, "house", golden())[0]


@cache
def sample_year() -> BuildingYear:
    return year_of(sample())


@settings(max_examples=6, deadline=None)
@given(
    faces=st.sampled_from([0.0, 30.0, 90.0, 180.0, 250.0]),
    projection=st.floats(0.0, 1.5),
    leakage=st.floats(0.0, 15.0),
    capacity=st.sampled_from([None, 0.0, 1500.0]),
    cooled=st.booleans(),
    carpet=st.floats(0.0, 1.0),
    furniture=st.floats(0.0, 100e3),
)
def test_energy_closes_in_any_year(
    faces: float,
    projection: float,
    leakage: float,
    capacity: float | None,
    cooled: bool,
    carpet: float,
    furniture: float,
) -> None:
    own = house()
    rooms = own.zone["rooms"].model_copy(update={"furniture": furniture})
    design = with_house(
        faces=faces,
        zone={"rooms": rooms},
        eave=own.eave.model_copy(update={"projection": projection}),
        air=own.air.model_copy(update={"leakage": leakage}),
        floor=own.floor.model_copy(update={"carpet": carpet}),
        heating=Heating(setpoint=20.0, capacity=capacity),
        cooling=Cooling(setpoint=26.0, capacity=capacity) if cooled else None,
    )
    found = year_of(design)
    assert found.closure_error < 1e-6
    assert (found.cooling_kwh > 0.0) == (cooled and capacity != 0.0)
    if capacity is not None:
        assert found.peak_heating_w <= capacity * (1.0 + 1e-9)


@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_energy_closes_in_any_enclosure(data: st.DataObject) -> None:
    """Two zones, random parts, air exchange and plants: what came and did not leave is stored."""
    rng = np.random.default_rng(data.draw(st.integers(0, 2**32 - 1)))
    limit = data.draw(st.sampled_from([np.inf, 800.0, 0.0]))
    steps = data.draw(st.sampled_from([1, 3]))
    outdoor = rng.normal(5.0, 8.0, HOURS)
    supply = rng.uniform(0.0, 40.0, HOURS)
    zones = [
        make_zone(
            HOURS,
            name=name,
            capacity=float(rng.uniform(1e4, 5e6)),
            supply=supply,
            gain_air=rng.uniform(0.0, 500.0, HOURS),
            gain_star=rng.uniform(0.0, 500.0, HOURS),
            heat_set=rng.choice([10.0, 20.0], HOURS),
            cool_set=24.0,
            heat_most=limit,
            cool_most=limit,
        )
        for name in ("one", "two")
    ]
    kinds = [*LAYERS.values(), [window_layer()]]
    slabs = [
        make_slab(
            f"part {i}",
            float(rng.uniform(1.0, 60.0)),
            kinds[rng.integers(len(kinds))],
            outdoor,
            film=float(rng.uniform(2.0, 40.0)),
            convection=float(rng.uniform(0.5, 6.0)),
            radiation=float(rng.uniform(0.5, 6.0)),
            absorbed=rng.uniform(0.0, 100.0, HOURS),
            source=rng.uniform(0.0, 100.0, HOURS),
            zone=i % 2,
            other=1 - i % 2 if i > 4 else OUTDOORS,
        )
        for i in range(7)
    ]
    between = float(rng.uniform(0.0, 200.0))
    year = run(
        zones,
        slabs,
        outdoor,
        exchange=between,
        steps_per_hour=steps,
        run_in_hours=24,
    )
    gains = sum(
        float(hourly_values(gain, HOURS).sum())
        for zone in zones
        for gain in (zone.gain_air, zone.gain_star)
    )
    sun_inside = sum(slab.area * float(slab.source.sum()) for slab in slabs)
    sun_between = sum(
        slab.area * float(slab.drive.sum()) for slab in slabs if slab.other != OUTDOORS
    )
    outer = [i for i, slab in enumerate(slabs) if slab.other == OUTDOORS]
    came = year.plant.sum() + gains + sun_inside + sun_between
    came += year.flow_outside[:, outer].sum() - year.air_loss.sum()
    stored = (year.stored[1] - year.stored[0]) / 3600.0
    moved = gains + sun_inside + np.abs(year.plant).sum() + np.abs(year.air_loss).sum()
    assert abs(stored - came) < 1e-6 * moved
    # the air carries out what its mean temperature says
    assert year.air_loss == pytest.approx(supply[:, None] * (year.air - outdoor[:, None]))


@pytest.mark.parametrize(
    ("construction", "layer", "thickness"),
    [("wall", 3, 0.15), ("wall", 3, 0.30), ("ceiling", 2, 0.45)],
)
def test_more_insulation_never_costs_heat(construction: str, layer: int, thickness: float) -> None:
    before = sample().construction[construction].layers[layer].thickness
    assert before is not None
    assert thickness > before
    thicker = year_of(with_layer(construction, layer, thickness=thickness))
    assert thicker.heating_kwh < sample_year().heating_kwh


def solar_by_side(design: Homestead) -> dict[str, float]:
    """Return the sun that stays inside in the year by side [kWh]."""
    ready = assemble(design, design.buildings["house"], golden())
    return {side: float(power.sum() / 1000.0) for side, power in ready.by_side[0].items()}


@cache
def sample_solar() -> dict[str, float]:
    return solar_by_side(sample())


def windows_changed(building: Building, side: str, **changes: object) -> list[Window]:
    return [
        window.model_copy(update=changes) if window.side == side else window
        for window in building.window
    ]


def test_wider_sunny_glass_lets_in_more_sun() -> None:
    wider = solar_by_side(with_house(window=windows_changed(house(), "sunny", width=2.2)))
    assert wider["S"] > 1.1 * sample_solar()["S"]


def test_a_longer_eave_never_lets_in_more_sun() -> None:
    gains = []
    for projection in (0.0, 0.3, 0.762, 1.2, 2.0):
        eave = house().eave.model_copy(update={"projection": projection})
        gains.append(solar_by_side(with_house(eave=eave))["S"])
    assert np.all(np.diff(gains) < 0.0)


def test_east_glass_gains_before_noon_and_west_glass_after() -> None:
    own = [window for window in house().window if window.side == "sunny"][:1]
    sides: dict[str, list[Window]] = {
        "E": [window.model_copy(update={"side": "left"}) for window in own],
        "W": [window.model_copy(update={"side": "right"}) for window in own],
    }
    day = np.repeat(np.arange(365), 24)
    before_noon = (np.arange(8760) % 24) + 0.5 < golden().sun.solar_noon_h[day]
    for side, windows in sides.items():
        ready = assemble(sample(), house().model_copy(update={"window": windows}), golden())
        power = ready.by_side[0][side]
        morning = float(power[before_noon].sum() / power.sum())
        assert morning > 0.7 if side == "E" else morning < 0.3
        # through the glass the sun comes half a day late or early, never through its back
        beam = golden().plane(90.0, 90.0 if side == "E" else 270.0).beam
        wrong_half = ~before_noon if side == "E" else before_noon
        assert beam[wrong_half].sum() < 0.02 * beam.sum()


def glass_area(building: Building) -> dict[str, float]:
    return {face.side or "": face.window_area for face in wall_faces(building)}


@pytest.mark.parametrize("count", [1.0, 3.0, 2.5])
def test_twin_has_the_same_glass_and_floor_in_other_places(count: float) -> None:
    design = with_house(window=windows_changed(house(), "back", count=count))
    own = design.buildings["house"]
    twin = unshaped_twin(design).buildings["house"]
    assert twin.floor_area == own.floor_area
    assert sum(glass_area(twin).values()) == pytest.approx(sum(glass_area(own).values()), abs=1e-9)
    assert twin.faces == 90.0
    # in proportion to the walls: 12.5 m and 8 m long
    spread = glass_area(twin)
    assert spread["sunny"] == pytest.approx(spread["back"])
    assert spread["left"] / spread["sunny"] == pytest.approx(8.0 / 12.5)
    counts = [window.count for window in twin.window if window.name == "back"]
    assert len(counts) == 4
    assert sum(counts) == pytest.approx(count, abs=1e-9)


def test_twin_burns_more_than_the_sample() -> None:
    twin = year_of(unshaped_twin(sample()))
    assert twin.heating_kwh > 1.05 * sample_year().heating_kwh
    assert twin.glass_by_side_m2.keys() == {"E", "W", "N", "S"}
    assert sum(twin.glass_by_side_m2.values()) == pytest.approx(
        sum(sample_year().glass_by_side_m2.values()), abs=1e-9
    )


def test_turned_to_the_west_burns_more() -> None:
    assert year_of(with_house(faces=270.0)).heating_kwh > 1.05 * sample_year().heating_kwh
