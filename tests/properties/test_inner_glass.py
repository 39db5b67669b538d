"""Light that passes a window between two zones: nothing is missing, and it lands where rays do."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from noonmark.design.derived import wall_faces
from noonmark.design.model import SIDE_TURN, Side
from noonmark.study.assemble import Assembled, assemble
from noonmark.study.twin import unshaped_twin
from sample_house import golden
from sunspace import sunspace


@cache
def ready(side: Side = "sunny", owner: str = "rooms") -> Assembled:
    homestead = sunspace(side, owner)
    return assemble(homestead, homestead.buildings["house"], golden())


@pytest.mark.parametrize("side", SIDE_TURN)
def test_what_enters_is_taken_up_or_leaves(side: Side) -> None:
    found = ready(side)
    for light, source in zip(found.entered, found.sources, strict=True):
        came = light.beam + light.scattered
        taken = sum(
            part.element.area * (source.at(i) + source.at(i, outside=True))
            for i, part in enumerate(found.parts)
        )
        np.testing.assert_allclose(taken + source.leaves(), came, rtol=1e-9, atol=1e-9)
        # zones keep all but what panes to the outdoors take up
        panes = sum(
            part.element.area * (source.at(i) + source.at(i, outside=True))
            for i, part in enumerate(found.parts)
            if part.kind == "window" and part.faces[0].loses
        )
        kept = sum(source.stays(zone) for zone in range(2))
        np.testing.assert_allclose(kept + panes, taken, rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("side", SIDE_TURN)
def test_house_behind_the_sunspace_gets_its_part(side: Side) -> None:
    found = ready(side)
    rooms, sun_room = (sun.sum() for sun in found.solar)
    assert 0.02 < rooms / (rooms + sun_room) < 0.25


@pytest.mark.parametrize("side", SIDE_TURN)
def test_whoever_owns_the_wall_the_light_is_the_same(side: Side) -> None:
    # its panes are alike, so that it is the same seen from either side
    one, other = ready(side), ready(side, "sun room")
    for zone in (0, 1):
        for name, power in one.by_side[zone].items():
            np.testing.assert_allclose(power, other.by_side[zone][name], rtol=1e-9, atol=1e-9)


def test_a_wall_with_a_window_loses_its_area() -> None:
    inner = [part for part in ready().parts if part.kind == "partition"]
    areas = [part.element.area for part in inner]
    assert sum(areas) == pytest.approx(12.5 * 2.7432)
    # 2.4 x 1.8 m with 0.09 m of wood around
    assert areas[1] == pytest.approx(2.22 * 1.62)
    assert areas[1] + areas[2] == pytest.approx(2.4 * 1.8)
    assert not ready().by_side[0].keys() - {"S"}


def test_twin_keeps_the_window_between_its_zones() -> None:
    building = unshaped_twin(sunspace()).buildings["house"]
    (inner,) = (face for face in wall_faces(building) if face.next_to)
    assert [window.wall for window in inner.windows] == ["inner"]
