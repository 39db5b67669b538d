"""What stands in the sun, wrongly written: refused by name, and its rightly written twin is not."""

from __future__ import annotations

import pytest

from designs import Edit, put, refused, sample_text

AWNING = {"projection": "1 m"}
SLATS = {"depth": "4 in", "spacing": "4 in"}
CANOPY = {"side": "sunny", "left": 0, "width": "2 m", "height": "2.4 m", "projection": "1 m"}
TREE = {
    "azimuth": 180, "distance": "8 m", "top": "9 m", "crown_bottom": "2 m", "crown_width": "5 m",
}  # fmt: skip
BLOCK = {"azimuth": 90, "distance": "8 m", "width": "9 m", "depth": "9 m", "top": "6 m"}


@pytest.mark.parametrize(
    ("edit", "codes"),
    [
        (put("place.skyline", [[90, 5], [180, 10], [270, 5]]), []),
        (put("place.skyline", [[270, 5], [0, 10], [90, 5]]), []),
        (put("place.skyline", [[0, 8]]), []),
        (put("place.skyline", [[0, 5], [180, 10], [350, 5], [20, 3]]), ["design.skyline_twice"]),
        (put("place.skyline", [[180, 5], [90, 10], [30, 4]]), ["design.skyline_twice"]),
        (put("place.skyline", [[90, 5], [90, 10]]), ["design.skyline_twice"]),
        (put("place.skyline", [[90, 95]]), ["design.skyline_point"]),
        (put("place.skyline", [[-20, 5]]), ["design.skyline_point"]),
        (put("place.skyline", [[90]]), ["design.list_too_short"]),
        (put("house.window.0.awning", AWNING), []),
        (put("house.window.0.awning", {**AWNING, "put_up": "5-15", "take_down": "9-1"}), []),
        (put("house.window.0.awning", {**AWNING, "put_up": "5-15"}), ["design.shade_half_a_year"]),
        (put("house.window.0.slats", {**SLATS, "take_down": "9-1"}), ["design.shade_half_a_year"]),
        (put("house.window.0.awning", {**AWNING, "put_up": "2-30", "take_down": "9-1"}),
         ["design.bad_day"]),
        (put("house.window.0.awning", {**AWNING, "put_up": 5, "take_down": "9-1"}),
         ["design.bad_day"]),
        (put("house.window.0.awning", {**AWNING, "drop": "4 m"}), ["design.awning_low"]),
        (put("house.window.0.fins", {"projection": 0.5, "top": -0.5, "bottom": "-1 ft"}), []),
        (put("house.window.0.fins", {"projection": 0.5, "top": -1, "bottom": -1}),
         ["design.fins_of_no_height"]),
        (put("house.window.0.slats", SLATS), []),
        (put("house.window.0.slats", {**SLATS, "spacing": 0}), ["design.not_above"]),
        (put("house.canopy", [CANOPY]), []),
        (put("house.canopy", [{**CANOPY, "wall": "sunny"}]), ["design.canopy_side_or_wall"]),
        (put("house.canopy", [{**CANOPY, "zone": "barn"}]), ["design.canopy_nowhere"]),
        (put("house.tree", [TREE]), []),
        (put("house.tree", [{**TREE, "top": "1 m"}]), ["design.tree_upside_down"]),
        (put("house.tree", [{**TREE, "leaf_months": [13]}]), ["design.above"]),
        (put("house.neighbour", [BLOCK]), []),
        (put("house.neighbour", [{**BLOCK, "ridge": "8 m"}]), []),
        (put("house.neighbour", [{**BLOCK, "ridge": "5 m"}]), ["design.ridge_below_top"]),
        (put("house.neighbour", [{**BLOCK, "passes": 1.5}]), ["design.above_bare"]),
    ],
)  # fmt: skip
def test_refused_by_name(edit: Edit, codes: list[str]) -> None:
    assert [problem.code for problem in refused(sample_text(edit))] == codes
