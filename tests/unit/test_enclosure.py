"""What a march refuses, and the states of its plants."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from box import FloatArray, Slab, as_element, make_slab, make_zone, run
from noonmark.air.films import Film
from noonmark.balance.drive import Drive
from noonmark.balance.enclosure import (
    Air,
    Bodies,
    Cover,
    Element,
    Fan,
    Leaves,
    Opened,
    Passage,
    SlabHeat,
    Stove,
    Zone,
)
from noonmark.balance.run import run_year
from noonmark.envelope.layers import Layer, resistance_layer
from noonmark.envelope.modes import wall_modes
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


AIR = Air(COLD, COLD + 0.005, 101325.0, 1006.0)


def refused(
    zones: list[Zone],
    elements: list[Element],
    *,
    air: Air = AIR,
    covers: tuple[Cover, ...] = (),
    passages: tuple[Passage, ...] = (),
) -> tuple[str, str, object]:
    with pytest.raises(PhysicsError) as caught:
        run_year(zones, elements, air, covers=covers, passages=passages)
    (problem,) = caught.value.problems
    return problem.code, problem.path, problem.values["quantity"]


@pytest.mark.parametrize(
    ("change", "quantity"),
    [
        ({"gain_air": np.where(np.arange(HOURS) == 5, np.nan, 0.0)}, "gain_air"),
        ({"supply": np.full(HOURS, np.inf)}, "supply"),
        ({"heat_set": np.full(HOURS, np.nan)}, "heat_set"),
        ({"leak_scale": np.nan}, "leak_scale"),
        ({"heat_most": np.nan}, "heat_most"),
        ({"air_mass": np.inf}, "air_mass"),
        ({"gain_star": np.inf}, "gain_star"),
        ({"gain_star": Drive(((np.nan, COLD + 1.0),))}, "gain_star"),
        ({"vapour_gain": np.nan}, "vapour_gain"),
        ({"opened": Opened(scale=np.nan)}, "scale"),
        ({"opened": Opened(wind=np.full(HOURS, np.nan))}, "wind"),
        ({"fan": Fan(10.0, cooler=np.nan)}, "cooler"),
        ({"fan": Fan(np.full(HOURS, np.inf))}, "fan"),
        ({"bodies": Bodies(100.0, np.nan, 0.0, 0.5)}, "latent"),
        ({"bodies": Bodies(COLD + np.nan, 0.3, 0.0, 0.5)}, "bodies"),
        ({"leaves": Leaves(0.0, np.inf)}, "flow"),
        ({"leaves": Leaves(COLD + np.nan, 0.0)}, "leaves"),
        ({"stove": Stove(18.0, (100.0, np.nan))}, "curve"),
        ({"stove": Stove(COLD + np.nan, (100.0,))}, "stove"),
        ({"slab": SlabHeat(20.0, np.nan)}, "most"),
        ({"slab": SlabHeat(COLD + np.nan, 10.0)}, "slab"),
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


@pytest.mark.parametrize("sides", [(0.0, 2.5), (2.5, 0.0), (Film(1.0, 1.0, 0.0, 0.0), 2.5)])
def test_surfaces_without_film_are_refused(sides: tuple[Film | float, Film | float]) -> None:
    zones = [make_zone(HOURS), make_zone(HOURS, name="loft")]
    partition = replace(as_element(wall(other=1)), convection=sides)
    found = refused(zones, [as_element(wall()), partition])
    assert found == ("balance.no_film", "wall 0", "convection")


def test_cover_on_a_massive_part_is_refused() -> None:
    heavy = replace(as_element(wall()), modes=wall_modes([Layer(0.1, 0.5, 1400.0, 1000.0)]))
    blind = Cover("blind", zone=0)
    found = refused([make_zone(HOURS)], [replace(heavy, cover=0)], covers=(blind,))
    assert found == ("balance.cover_on_mass", "wall 0", "cover")


@pytest.mark.parametrize(
    ("change", "quantity"),
    [
        ({"resistance": np.nan}, "resistance"),
        ({"above": np.inf}, "above"),
        ({"closed": COLD + np.nan}, "closed"),
        ({"allowed": np.inf}, "allowed"),
    ],
)
def test_covers_of_no_numbers_are_refused(change: dict[str, Any], quantity: str) -> None:
    blind = replace(Cover("blind", zone=0), **change)
    found = refused([make_zone(HOURS)], [as_element(wall())], covers=(blind,))
    assert found == ("balance.not_finite", "blind", quantity)


@pytest.mark.parametrize(
    ("change", "quantity"),
    [
        ({"steady": np.nan}, "steady"),
        ({"doorway": np.inf}, "doorway"),
        ({"below": np.nan}, "below"),
        ({"open": COLD + np.nan}, "open"),
        ({"blowing": np.nan}, "blowing"),
    ],
)
def test_passages_of_no_numbers_are_refused(change: dict[str, Any], quantity: str) -> None:
    zones = [make_zone(HOURS), make_zone(HOURS, name="loft")]
    door = replace(Passage("door", 0, 1), **change)
    walls = [as_element(wall()), as_element(wall(zone=1))]
    assert refused(zones, walls, passages=(door,)) == ("balance.not_finite", "door", quantity)


@pytest.mark.parametrize("band", [0.0, -1.0])
def test_a_slab_without_band_is_refused(band: float) -> None:
    zone = replace(make_zone(HOURS), slab=SlabHeat(20.0, 30.0, band=band))
    assert refused([zone], [as_element(wall())]) == ("balance.no_band", "box", "band")


def test_arrays_of_another_length_are_refused() -> None:
    zone = replace(make_zone(HOURS), gain_air=np.zeros(HOURS + 1))
    assert refused([zone], [as_element(wall())]) == ("balance.hours", "box", "gain_air")


@pytest.mark.parametrize("quantity", ["temperature", "humidity"])
def test_weather_of_no_numbers_is_refused(quantity: str) -> None:
    air = replace(AIR, **{quantity: COLD + np.nan})  # type: ignore[arg-type]
    found = refused([make_zone(HOURS)], [as_element(wall())], air=air)
    assert found == ("balance.not_finite", "weather", quantity)


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


@pytest.mark.parametrize(
    ("change", "quantity"),
    [
        ({"zone_inside": 1}, "zone_inside"),
        ({"zone_outside": 2}, "zone_outside"),
        ({"zone_outside": -2}, "zone_outside"),
        ({"cover": 0}, "cover"),
        ({"inside_source": Drive((), ((0, 1.0, COLD),))}, "cover"),
    ],
)
def test_places_that_are_not_there_are_refused(change: dict[str, Any], quantity: str) -> None:
    element = replace(as_element(wall()), **change)
    assert refused([make_zone(HOURS)], [element]) == ("balance.no_place", "wall 0", quantity)


def test_a_year_without_an_answer_is_refused() -> None:
    """A driving pressure below zero has no root."""
    zone = replace(make_zone(HOURS), leak_scale=10.0, leak_wind=-5.0)
    assert refused([zone], [as_element(wall())]) == ("balance.no_answer", "", "stored heat")


def test_no_answer_reads_memory_that_nothing_wrote(monkeypatch: pytest.MonkeyPatch) -> None:
    """The room for a year comes as it is: whatever stood there must not show."""
    zones = [make_zone(HOURS, name="one", heat_set=20.0), make_zone(HOURS, name="two")]
    slabs = [wall(zone=0), wall(zone=1), wall(zone=0, other=1)]
    clean = run(zones, slabs, COLD, run_in_hours=HOURS)

    def soiled(shape: Any, dtype: Any = float) -> Any:
        return np.full(shape, np.nan if dtype is float else 1, dtype)

    monkeypatch.setattr(np, "empty", soiled)
    dirty = run(zones, slabs, COLD, run_in_hours=HOURS)
    for name, values in vars(clean).items():
        np.testing.assert_array_equal(getattr(dirty, name), values, err_msg=name)
