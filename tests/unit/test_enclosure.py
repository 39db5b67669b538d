"""What a march refuses, and the states of its plants."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from box import FloatArray, Slab, as_element, make_slab, make_zone, run
from noonmark.balance.enclosure import Air, Element, Zone
from noonmark.balance.run import run_year
from noonmark.envelope.layers import resistance_layer
from noonmark.errors import PhysicsError

HOURS = 24
COLD: FloatArray = np.zeros(HOURS)


def wall(*, zone: int = 0, other: int = -1, resistance: float = 1.0, area: float = 20.0) -> Slab:
    return make_slab(
        f"wall {zone}",
        area,
        [resistance_layer(resistance)],
        COLD,
        film=25.0,
        convection=2.5,
        radiation=5.0,
        zone=zone,
        other=other,
    )


def refused(zones: list[Zone], elements: list[Element]) -> tuple[str, str, object]:
    with pytest.raises(PhysicsError) as caught:
        run_year(zones, elements, Air(COLD, COLD + 0.005, 101325.0, 1006.0))
    (problem,) = caught.value.problems
    return problem.code, problem.path, problem.values["quantity"]


@pytest.mark.parametrize(
    ("change", "quantity"),
    [
        ({"gain_air": np.where(np.arange(HOURS) == 5, np.nan, 0.0)}, "gain_air"),
        ({"supply": np.full(HOURS, np.inf)}, "supply"),
        ({"heat_set": np.full(HOURS, np.nan)}, "heat_set"),
        ({"leak_scale": np.nan}, "leak_scale"),
    ],
)
def test_numbers_that_are_none_are_refused(change: dict[str, Any], quantity: str) -> None:
    zone = replace(make_zone(HOURS), **change)
    found = refused([zone], [as_element(wall())])
    assert found == ("balance.not_finite", "box", quantity)


@pytest.mark.parametrize(
    ("change", "code", "quantity"),
    [
        ({"area": 0.0}, "balance.no_area", "area"),
        ({"area": -3.0}, "balance.no_area", "area"),
        ({"outside_film": np.zeros(HOURS)}, "balance.no_film", "outside_film"),
        ({"outside_drive": np.full(HOURS, np.nan)}, "balance.not_finite", "outside_drive"),
    ],
)
def test_elements_that_can_not_be_are_refused(
    change: dict[str, Any], code: str, quantity: str
) -> None:
    element = replace(as_element(wall()), **change)
    assert refused([make_zone(HOURS)], [element]) == (code, "wall 0", quantity)


def test_air_without_capacity_is_refused() -> None:
    zone = make_zone(HOURS, capacity=0.0)
    found = refused([zone], [as_element(wall())])
    assert found == ("balance.no_capacity", "box", "air_capacity")


def test_zone_that_touches_nothing_is_refused() -> None:
    zones = [make_zone(HOURS), make_zone(HOURS, name="loft")]
    found = refused(zones, [as_element(wall())])
    assert found == ("balance.zone_alone", "loft", "zone")


def test_zone_behind_a_partition_only_is_not_alone() -> None:
    zones = [make_zone(HOURS), make_zone(HOURS, name="loft")]
    year = run(zones, [wall(), wall(other=1)], COLD, run_in_hours=240)
    assert np.all(np.isfinite(year.air))
    assert year.air == pytest.approx(0.0, abs=0.01)


def test_two_zones_one_at_its_limit() -> None:
    """The first is held at 20; the second gets its 300 W and stays below its set-point."""
    zones = [
        make_zone(HOURS, name="held", heat_set=20.0),
        make_zone(HOURS, name="capped", heat_set=22.0, heat_most=300.0),
    ]
    slabs = [wall(zone=0), wall(zone=1, area=30.0), wall(zone=0, other=1, area=10.0)]
    between = 15.0
    year = run(
        zones,
        slabs,
        COLD,
        exchange=between,
        run_in_hours=24 * 20,
    )
    air, plant = year.air[-1], year.plant[-1]
    assert air[0] == pytest.approx(20.0)
    assert plant[1] == pytest.approx(300.0)
    assert air[1] < 22.0
    # steady: what both plants give leaves through the two outer walls
    assert plant.sum() == pytest.approx(year.flow_inside[-1, 0] + year.flow_inside[-1, 1], rel=1e-6)
    to_second = between * (air[0] - air[1]) + year.flow_inside[-1, 2]
    assert to_second + 300.0 == pytest.approx(year.flow_inside[-1, 1], rel=1e-6)
    assert to_second > 0.0


def test_one_heated_beside_one_cooled() -> None:
    hot = make_zone(HOURS, name="hot", gain_air=3000.0, cool_set=24.0)
    cold = make_zone(HOURS, name="cold", heat_set=20.0)
    slabs = [wall(zone=0), wall(zone=1, area=60.0), wall(zone=0, other=1)]
    year = run([hot, cold], slabs, COLD, run_in_hours=24 * 10)
    assert year.air[-1] == pytest.approx([24.0, 20.0])
    assert year.plant[-1, 0] < 0.0 < year.plant[-1, 1]


@pytest.mark.parametrize("outdoor", [-20.0, 22.0, 50.0])
def test_plant_rests_between_its_set_points(outdoor: float) -> None:
    air = np.full(HOURS, outdoor)
    zone = make_zone(HOURS, heat_set=20.0, cool_set=26.0)
    slab = make_slab("wall", 20.0, [resistance_layer(1.0)], air, film=25.0)
    year = run([zone], [slab], air, run_in_hours=240)
    assert np.sign(year.plant[-1, 0]) == np.sign(np.clip(outdoor, 20.0, 26.0) - outdoor)
    assert year.air[-1, 0] == pytest.approx(np.clip(outdoor, 20.0, 26.0), abs=1e-6)
