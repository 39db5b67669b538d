"""The sun that comes through the glass lands inside, all of it; the eave takes the rest."""

from __future__ import annotations

import numpy as np
import pytest

from noonmark.balance.drive import hourly_values
from noonmark.climate.year import HOURS
from noonmark.design.derived import wall_faces
from noonmark.design.model import Homestead, Side, Wall
from noonmark.study.assemble import assemble
from noonmark.study.elements import Part
from noonmark.study.landing import Source, land
from noonmark.study.layout import boxes_of
from noonmark.study.site import Site
from noonmark.study.sunny import (
    EaveOver,
    LetIn,
    WallSun,
    eave_over,
    placed_windows,
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
            eave = eave_over(design, building, face, 2.7432)
            sun = WallSun(site, face, site.plane(90.0, face.azimuth), eave)
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
    sun = WallSun(golden(), face, golden().plane(90.0, 180.0), EaveOver(2.75, projection, 0.5, 0.5))
    beams = [window_parts_of(sample(), sun, item, 0)[1].beam for item in placed_windows(sun)]
    power = np.sum(beams, axis=0)
    assert (power[JUNE_NOONS].max() == 0.0) == shaded
    assert power[JANUARY_NOONS].max() > 1000.0


WALL = 0.0127 + 0.1397 + 0.0111125 + 0.1016 + 0.01905
"""The sample's wall: 1/2, 5 1/2, 7/16, 4 and 3/4 inches [m]."""


def test_eave_runs_past_the_outside_of_the_end_walls() -> None:
    for face in wall_faces(house()):
        eave = eave_over(sample(), house(), face, 2.75)
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
        (face.zone, face.side): eave_over(design, building, face, 2.75)
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
