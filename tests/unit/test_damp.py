"""What sweats and what dries: factors by hand, directions of change, words."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import pytest

from command_line import Run
from noonmark.air.moist import saturation_pressure
from noonmark.design.file import DesignFile, changed, parse_design
from noonmark.errors import InputError
from noonmark.study.damp import damp
from noonmark.study.results.damp import BuildingDamp
from sunspace import sunspace

SEALED = ("house.use.people=8", "house.air.ventilation=5 cfm", "house.air.leakage=0.3 ach")
"""Many people in a house that hardly breathes."""


def sample(*words: str) -> DesignFile:
    text = files("noonmark.design").joinpath("data/larkspur.toml").read_text("utf-8")
    return changed(parse_design(text, name="larkspur.toml"), words)


def house(*words: str) -> BuildingDamp:
    (found,) = damp(sample(*words).homestead).buildings
    return found


def test_factors_are_those_of_the_resistances() -> None:
    """Source: EN ISO 13788, 0.13 m2K/W at glass, 0.25 in corners, 0.04 outside, by hand.

    Glass of the living room: U 1.457 W/m2K with 0.13 and 0.04 (EN 673).
    """
    found = house()
    living = found.windows[0]
    assert living.glass_factor == pytest.approx(1.0 - 0.13 * 1.457, abs=1e-4)
    assert living.frame_factor == pytest.approx(1.0 - 0.13 * 1.8)
    assert living.edge_factor == pytest.approx(1.0 - 0.13 * (1.457 + 0.5 * 0.06 / 0.0635), abs=1e-4)
    wall = next(item for item in found.layers if item.part == "wall")
    layers = 0.0127 / 0.25 + 0.1397 / 0.039 + 0.0111125 / 0.13 + 0.1016 / 0.043
    outside = layers + 0.13  # the siding is vented
    assert wall.corner_factor == pytest.approx(outside / (outside + 0.25), abs=1e-4)


def test_safe_humidity_is_that_of_the_dew_point() -> None:
    """At the highest safe humidity the dew point is the temperature of the coldest spot."""
    found = house()
    worst = min(item.glass_factor for item in found.windows)
    for row in found.safe:
        cold = row.outdoor_c + worst * (20.0 - row.outdoor_c)
        vapour = (row.glass or 0.0) * float(saturation_pressure(20.0))
        assert vapour == pytest.approx(float(saturation_pressure(cold)))
        assert (row.edge or 0.0) < (row.glass or 0.0)
    glass = [row.glass or 0.0 for row in found.safe]
    assert glass == sorted(glass)


def test_dry_air_and_open_walls_stay_dry() -> None:
    found = house()
    assert {item.verdict for item in found.layers} == {"dry"}
    assert {item.mould_hours for item in found.layers} == {0}
    assert {item.glass_hours for item in found.windows} == {0}
    assert found.zones[0].condensed_kg == 0.0


def test_sealed_house_full_of_people_sweats() -> None:
    """More at the edge than at the glass, more at double than at triple glass."""
    found = house(*SEALED)
    assert all(item.edge_hours >= item.glass_hours for item in found.windows)
    by_name = {item.window: item for item in found.windows}
    assert by_name["living room"].glass_hours > by_name["back"].glass_hours
    assert found.zones[0].condensed_kg > 10.0
    assert max(found.zones[0].humidity) > 0.5


def test_barrier_outside_is_worse_than_inside() -> None:
    """The same barrier on the plasterboard keeps the sheathing dry; on the sheathing it wets it."""
    inside = house(*SEALED, "construction.wall.layers.1.diffusion=50 m")
    outside = house(*SEALED, "construction.wall.layers.3.diffusion=50 m")
    dry, wet = (
        next(item for item in found.layers if item.part == "wall") for found in (inside, outside)
    )
    assert dry.verdict == "dry"
    assert wet.verdict in ("dries", "stays")
    assert wet.most_kg_m2 > 0.2
    assert wet.place in ("osb", "cellulose")


def test_perms_are_the_same_in_another_measure() -> None:
    """1 US perm is 5.72135e-11 kg/s m2 Pa (NIST SP 811), still air 2e-10 kg/msPa: 3.4957 m."""
    metric = house(*SEALED, "construction.wall.layers.3.diffusion=3.4957 m")
    perms = house(*SEALED, "construction.wall.layers.3.perms=1")
    for one, other in zip(metric.layers, perms.layers, strict=True):
        assert one.most_kg_m2 == pytest.approx(other.most_kg_m2, rel=1e-4)


def test_both_at_once_are_asked_back() -> None:
    with pytest.raises(InputError) as caught:
        sample("construction.wall.layers.3.diffusion=1 m", "construction.wall.layers.3.perms=1")
    assert [p.code for p in caught.value.problems] == ["design.layer_vapour_twice"]


def test_own_material_without_vapour_is_asked_for() -> None:
    own = "material={hemp={conductivity=0.05, density=100, specific_heat=1700}}"
    with pytest.raises(InputError) as caught:
        damp(sample(own, "construction.wall.layers.2.material=hemp").homestead)
    (problem,) = caught.value.problems
    assert (problem.code, problem.values["material"]) == ("damp.no_vapour", "hemp")


def test_sunspace_and_house_are_told_apart() -> None:
    """Two zones with glass between them: outside windows alone, each with its own zone's air."""
    (found,) = damp(sunspace()).buildings
    assert len(found.zones) == 2
    assert {item.zone for item in found.windows} <= {zone.name for zone in found.zones}
    assert len({zone.humidity for zone in found.zones}) == 2
    numbers = [item.number for item in found.windows]
    assert numbers == sorted(set(numbers))


def test_command_in_words_and_json(run: Run, file: Path) -> None:
    code, out, _ = run("damp", file)
    assert code == 0
    assert "no water gathers" in out
    assert "A flag, not a promise" in out
    code, out, _ = run("damp", file, "--json", "--set", SEALED[0])
    data = json.loads(out)
    assert data["format"] == "noonmark.damp/1"
    assert len(data["buildings"][0]["zones"][0]["humidity"]) == 12
    code, _, err = run("damp", file, "--set", "construction.wall.layers.3.perms=-1")
    assert code == 2
    assert "perms" in err
