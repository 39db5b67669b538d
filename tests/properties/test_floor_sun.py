"""Sun on the floors as polygons: their area is the exact one, and rays end where they lie."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import prepare
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

from designs import design, put, together
from noonmark.design import Homestead
from noonmark.design.model import SIDE_TURN, Side
from noonmark.inside.box import Box
from noonmark.shading.plates import Plate
from noonmark.study.floorsun import FloorSun, Patch
from noonmark.study.moment import Moment
from sunspace import sunspace

SIDES: list[Side] = list(SIDE_TURN)


def at(altitude: float, azimuth: float, month: int = 3) -> Moment:
    return Moment(datetime(2022, month, 21, 12, tzinfo=UTC), altitude, azimuth)


def house(*windows: dict[str, Any], faces: float = 180.0, **eave: Any) -> Homestead:
    usual = {"projection": "2 ft 6 in", "soffit_height": "9 ft", "ends": "1 ft 6 in"}
    edits = [
        put("house.faces", faces),
        put("house.window", [{"glazing": "double clear"} | window for window in windows]),
        put("house.eave", usual | eave),
    ]
    return design(together(*edits)).homestead


def floors(home: Homestead) -> FloorSun:
    return FloorSun(home, home.buildings["house"])


@st.composite
def windows(draw: st.DrawFn) -> dict[str, Any]:
    """A window in any side with a reveal, a hood and fins, or without."""
    low = draw(st.floats(0.0, 1.4))
    window: dict[str, Any] = {
        "side": draw(st.sampled_from(SIDES)),
        "width": draw(st.floats(0.3, 2.5)),
        "sill": low,
        "head": draw(st.floats(low + 0.3, 2.3)),
        "left": draw(st.floats(0.0, 5.0)),
        "reveal": draw(st.sampled_from([0.0, 0.1, 0.25])),
    }
    if draw(st.booleans()):
        window["hood"] = {"projection": draw(st.floats(0.1, 1.0)), "gap": 0.1, "left": 0.2}
    if draw(st.booleans()):
        window["fins"] = {"projection": draw(st.floats(0.1, 1.0)), "gap": 0.05, "top": 0.2}
    return window


@settings(deadline=None, max_examples=40)
@given(windows(), st.floats(2.0, 80.0), st.floats(0.0, 360.0), st.sampled_from([0.0, 33.0, 180.0]))
def test_area_is_that_of_the_exact_light(
    window: dict[str, Any], altitude: float, azimuth: float, faces: float
) -> None:
    """The light that ends on a floor, followed row by row, over what a metre of floor takes."""
    gutter = {"width": "13 cm", "depth": "9 cm"}
    home = house(window, faces=faces, gutter=gutter, fascia_drop="5 cm")
    for patch in floors(home).patches(at(altitude, azimuth)):
        assert patch.lit.area == pytest.approx(patch.area, abs=1e-6)


def test_area_behind_leaves_counts_in_part() -> None:
    """A trellis before all of a window: what passes is its share of the whole patch."""
    canopy = {"side": "sunny", "left": -3.0, "width": 12.0, "height": 2.4, "projection": 6.0}
    canopy |= {"passes": 0.3}
    window = {"side": "sunny", "width": 1.5, "sill": 0.2, "head": 2.0, "left": 2.0}
    bare = house(window, projection=0.0)
    behind = design(
        together(
            put("house.window", [{"glazing": "double clear"} | window]),
            put("house.canopy", [canopy]),
            put("house.eave", {"projection": 0.0, "ends": 0.0, "soffit_height": "9 ft"}),
        )
    ).homestead
    (open_air,) = floors(bare).patches(at(40, 190))
    (leafy,) = floors(behind).patches(at(40, 190))
    assert leafy.area == pytest.approx(0.3 * open_air.area, rel=1e-6)
    assert leafy.lit.area == pytest.approx(open_air.lit.area, rel=1e-6)
    assert len(leafy.lit.dimmed) == 1


def covered(patches: list[Patch]) -> Any:
    whole = unary_union([Polygon(patch.lit.whole) for patch in patches])
    prepare(whole)
    return whole


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("faces", [180.0, 0.0, 215.0])
def test_rays_from_the_lit_floor_leave_through_the_window(side: Side, faces: float) -> None:
    """Points of the floor followed towards the sun in east, north and up, past no eave."""
    home = house(
        {"side": side, "width": 1.7, "sill": 0.5, "head": 2.1, "left": 1.1},
        faces=faces, projection=0.0, ends=0.0,
    )  # fmt: skip
    azimuth = faces + SIDE_TURN[side] + 25.0  # to the right of straight out
    patches = floors(home).patches(at(30.0, azimuth))
    lit = covered(patches)
    box, thick = Box(12.5, 8.0, 2.7432), floors(home).walls[0].depth

    def east_north(bearing: float) -> np.ndarray:
        return np.array([np.sin(np.radians(bearing)), np.cos(np.radians(bearing))])

    out = east_north(faces + SIDE_TURN[side])
    right = east_north(faces + SIDE_TURN[side] + 90.0)
    sun = east_north(azimuth)
    half = 0.5 * (box.width if side in ("sunny", "back") else box.length)
    along = 0.5 * (box.length if side in ("sunny", "back") else box.width)
    found = 0
    for x in np.linspace(0.05, 12.45, 45):
        for w in np.linspace(0.05, 7.95, 29):
            # the building's frame about the room's middle: x to the right of who looks out
            spot = (x - 6.25) * east_north(faces + 90.0) - (w - 4.0) * east_north(faces)
            ends = []
            for plane in (half, half + thick):
                far = (plane - spot @ out) / (sun @ out)
                place, height = (spot + far * sun) @ right + along, far * np.tan(np.radians(30.0))
                ends.append(1.1 < place < 2.8 and 0.5 < height < 2.1)
            assert lit.contains(Point(x, w)) == all(ends)
            found += all(ends)
    assert found > 10


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("owner", ["rooms", "sun room"])
def test_sun_passes_a_window_between_zones(side: Side, owner: str) -> None:
    """Through both panes: the patch behind lies in the shadow-free cast of the inner window."""
    home = sunspace(side, owner)
    azimuth = (180.0 + SIDE_TURN[side]) % 360.0
    patches = floors(home).patches(at(12.0, azimuth))
    behind = [patch for patch in patches if patch.zone == "rooms"]
    assert behind
    for patch in patches:
        assert patch.lit.area == pytest.approx(patch.area, abs=1e-6)
    # the inner window stands 4 m from the left end of the rooms' wall and is 2.4 m wide
    box = floors(home).boxes["rooms"]
    start, end = box.along(side)
    left = end - 4.0 - 2.4 if side in ("back", "left") else start + 4.0
    axis = 0 if side in ("sunny", "back") else 1
    for patch in behind:
        across = patch.lit.whole[:, axis]
        assert left - 1e-6 <= across.min() <= across.max() <= left + 2.4 + 1e-6


@given(st.sampled_from(SIDES), st.floats(0.0, 10.0), st.floats(-1.0, 5.0), st.floats(0.0, 0.5))
def test_way_back_from_a_wall_is_the_way_there(
    side: Side, along: float, away: float, depth: float
) -> None:
    box = Box(12.5, 8.0, 2.7, 3.0, -1.0)
    turn, step = box.frame_of(side, depth)
    x, w = turn @ [along, away] + step
    seen = box.seen_from(side, Plate((x, x), (0.0, 0.0), (w, w)), depth)
    assert (seen.x[0], seen.w[0]) == pytest.approx((along, away))
