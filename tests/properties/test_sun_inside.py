"""The sun that comes through the glass lands inside, all of it; the eave takes the rest."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonmark.balance.drive import hourly_values
from noonmark.climate.year import HOURS
from noonmark.design.derived import wall_faces
from noonmark.design.model import Fins, Homestead, Hood, Side, Wall
from noonmark.study.assemble import assemble
from noonmark.study.elements import Part
from noonmark.study.landing import Source, land
from noonmark.study.layout import boxes_of
from noonmark.study.obstacles import EaveOver, Obstacles, eave_over
from noonmark.study.site import Site
from noonmark.study.sunny import (
    LetIn,
    WallSun,
    placed_windows,
    siding_sun,
    window_parts_of,
)
from sample_house import golden, house, sample, with_house

JUNE_NOONS = (np.arange(151, 181) * 24)[:, None] + np.array([11, 12])
JANUARY_NOONS = (np.arange(31) * 24)[:, None] + np.array([11, 12])


def let_in(design: Homestead, site: Site) -> tuple[list[Part], list[LetIn], list[Source]]:
    """Return the unlit windows of a house, what they let in, and where it ends."""
    building = design.buildings["house"]
    parts: list[Part] = []
    entered = []
    for face in wall_faces(building):
        if face.next_to is None:
            eave = eave_over(design, building, face)
            sun = WallSun(site, Obstacles(face, eave), site.plane(90.0, face.azimuth))
            for item in placed_windows(sun):
                found, light = window_parts_of(
                    design, sun, item, list(building.zone).index(face.zone)
                )
                parts += found
                entered.append(light)
    return parts, entered, land(boxes_of(building), parts, entered)


def test_what_stays_inside_is_what_the_surfaces_take_up() -> None:
    ready = assemble(sample(), house(), golden())
    # glass absorbs before the sun is inside; every other surface takes up what came in
    taken = sum(
        part.element.area * hourly_values(part.element.inside_source, HOURS)
        for part in ready.parts
        if not part.faces[0].loses
    )
    np.testing.assert_allclose(taken, ready.solar[0], rtol=1e-9, atol=1e-9)
    sides = sum(ready.by_side[0].values())
    np.testing.assert_allclose(sides, ready.solar[0], rtol=1e-12)


def test_some_of_the_sun_goes_out_again() -> None:
    ready = assemble(sample(), house(), golden())
    _, entered, _ = let_in(sample(), golden())
    came = sum((light.beam + light.scattered).sum() for light in entered)
    lost = 1.0 - ready.solar[0].sum() / came
    # 3 to 7 % of what comes in is the usual range for a room with a tenth of glass
    assert 0.01 < lost < 0.08


@pytest.mark.parametrize(("projection", "shaded"), [(0.0, False), (2.0, True)])
def test_a_deep_eave_keeps_the_junes_noon_off_the_glass(projection: float, shaded: bool) -> None:
    face = next(face for face in wall_faces(house()) if face.side == "sunny")
    sun = WallSun(
        golden(), Obstacles(face, level_eave(2.75, projection)), golden().plane(90.0, 180.0)
    )
    beams = [window_parts_of(sample(), sun, item, 0)[1].beam for item in placed_windows(sun)]
    power = np.sum(beams, axis=0)
    assert (power[JUNE_NOONS].max() == 0.0) == shaded
    assert power[JANUARY_NOONS].max() > 1000.0


WALL = 0.0127 + 0.1397 + 0.0111125 + 0.1016 + 0.01905
"""The sample's wall: 1/2, 5 1/2, 7/16, 4 and 3/4 inches [m]."""


def test_eave_runs_past_the_outside_of_the_end_walls() -> None:
    for face in wall_faces(house()):
        eave = eave_over(sample(), house(), face)
        if face.side in ("left", "right"):
            assert eave is None
        else:
            assert eave is not None
            assert (eave.left_end, eave.right_end) == pytest.approx((0.4572 + WALL,) * 2)


@pytest.mark.parametrize("owner", ["near", "far"])
def test_eave_goes_on_over_the_zone_beside(owner: str) -> None:
    rooms = house().zone["rooms"]
    zones = {"near": rooms, "far": rooms.model_copy(update={"length": 4.0})}
    # whoever names the wall between them: "far" lies to the left of "near"
    side: Side = "left" if owner == "near" else "right"
    other = "far" if owner == "near" else "near"
    design = with_house(zone=zones, wall=[Wall(zone=owner, side=side, next_to=other)], window=[])
    building = design.buildings["house"]
    found = {
        (face.zone, face.side): eave_over(design, building, face)
        for face in wall_faces(building)
        if face.next_to is None
    }
    past = 0.4572 + WALL
    beside = past + rooms.length
    expected: dict[tuple[str, Side | None], tuple[float, float]] = {
        ("near", "sunny"): (past + 4.0, past),
        ("near", "back"): (past, past + 4.0),
        ("far", "sunny"): (past, beside),
        ("far", "back"): (beside, past),
    }
    for key, ends in expected.items():
        eave = found[key]
        assert eave is not None
        assert (eave.left_end, eave.right_end) == pytest.approx(ends)


def level_eave(soffit: float, projection: float) -> EaveOver:
    return EaveOver(((0.0, soffit), (-projection, soffit)), 0.5, 0.5)


def south(eave: EaveOver | None, **window: object) -> WallSun:
    """Return the sunny wall of the sample with one window two metres from its left end."""
    one = house().window[0].model_copy(update={"count": 1.0, "left": 2.0, **window})
    face = next(face for face in wall_faces(house()) if face.side == "sunny")
    own = replace(face, windows=(one,))
    return WallSun(golden(), Obstacles(own, eave), golden().plane(90.0, 180.0))


def test_a_hood_as_large_as_an_eave_shades_as_it_does() -> None:
    width = house().window[0].width
    ends = {"left": 2.0 + 0.5, "right": 12.5 - 2.0 - width + 0.5}
    hood = Hood(projection=0.9, gap=0.3, **ends)
    eave = level_eave(house().window[0].head + 0.3, 0.9)
    (under,), (below) = placed_windows(south(eave)), placed_windows(south(None, hood=hood))
    np.testing.assert_allclose(under.lit, below[0].lit, atol=1e-12)
    assert under.seen == below[0].seen
    one, other = siding_sun(south(eave), [under]), siding_sun(south(None, hood=hood), below)
    # the eave's wall ends at its soffit; above the hood the siding sees all
    assert one[1] < other[1]
    assert one[0].sum() < other[0].sum()


@pytest.mark.parametrize("side", ["left", "right"])
def test_fins_take_morning_or_evening_sun(side: str) -> None:
    """The left fin of a south window stands in the east."""
    free, both = south(None), south(None, fins=Fins(projection=0.6, top=0.5, bottom=0.5))
    hour = np.arange(8760) % 24
    morning = hour < 11 if side == "left" else hour > 13
    (bare,), (finned,) = placed_windows(free), placed_windows(both)
    beam = free.plane.beam * morning
    assert (finned.lit * beam).sum() < 0.95 * (bare.lit * beam).sum()
    assert finned.seen.ground < 1.0
    assert finned.seen.horizon < 1.0


def test_glass_deep_in_the_wall_gets_less_sun() -> None:
    (flush,), (deep,) = placed_windows(south(None)), placed_windows(south(None, reveal=0.25))
    assert (deep.lit <= flush.lit).all()
    assert (
        0.7
        < (deep.lit * golden().plane(90.0, 180.0).beam).sum()
        / (flush.lit * golden().plane(90.0, 180.0).beam).sum()
        < 0.95
    )
    _, entered, sources = let_in(
        with_house(window=[w.model_copy(update={"reveal": 0.25}) for w in house().window]), golden()
    )
    assert sum(source.leaves().sum() for source in sources) > 0.0
    assert all((light.beam >= 0.0).all() for light in entered)


def test_a_bay_without_a_place_in_the_box_still_gets_and_gives_its_light() -> None:
    bay = Wall(name="bay", azimuth=150.0, length=3.0)
    window = house().window[0].model_copy(update={"wall": "bay", "side": None, "count": 1.0})
    design = with_house(wall=[bay], window=[window])
    ready = assemble(design, design.buildings["house"], golden())
    (light,), (source,) = ready.entered, ready.sources
    taken = sum(
        part.element.area * (source.at(i) + source.at(i, outside=True))
        for i, part in enumerate(ready.parts)
    )
    np.testing.assert_allclose(taken + source.leaves(), light.beam + light.scattered, rtol=1e-9)
    assert light.beam.max() > 1000.0
