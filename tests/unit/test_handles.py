"""A building's shape for a page: where its windows stand, and what of it can be dragged."""

from __future__ import annotations

from datetime import date

import pytest

from designs import Edit, design, drop, put, together
from noonmark.design import DesignFile, parse_design
from noonmark.design.file import changed
from noonmark.design.truss import truss_line
from noonmark.study.elevation import elevations
from noonmark.study.handles import APART, BuildingShape, Handle, building_shape
from noonmark.study.section import section_view
from noonmark.units import Quantity
from sunspace import sunspace

THICK = 0.0127 + 0.1397 + 0.0111125 + 0.1016 + 0.01905
"""The layers of the sample's walls [m]."""


def shape(*edits: Edit) -> BuildingShape:
    return building_shape(design(*edits).homestead, "house")


def test_section_is_that_of_the_drawing() -> None:
    home = design().homestead
    found, drawn = building_shape(home, "house"), section_view(home, "house", day=date(2022, 1, 1))
    section = drawn.section
    for name in ("span", "pitch", "projection", "heel", "plate", "chord_depth", "bearing", "truss"):
        assert getattr(found.roof, name) == getattr(section.roof, name)
    for name in ("wall_thickness", "floor_thickness", "floor_insulation", "ceiling_insulation"):
        assert getattr(found, name) == getattr(section, name)
    assert (found.ground, found.wall_height) == (section.ground, section.roof.plate)
    assert found.header_depth == pytest.approx(0.254)
    assert found.ends == pytest.approx(0.4572)
    assert found.wall_length == pytest.approx(12.5 + 2 * THICK)
    shown = found.windows[0]
    assert found.shown == shown.number == 1
    assert section.window
    assert (shown.sill, shown.head) == (section.window.sill, section.window.head)
    assert shown.ceiling == pytest.approx(2.7432)
    assert shown.room_depth == 8.0


def test_gutter_and_sloped_soffit_are_told() -> None:
    found = shape(
        together(
            put("house.eave.soffit", "sloped"),
            put("house.eave.gutter", {"width": "5 in", "depth": "4 in", "drop": "1 in"}),
            put("house.eave.fascia_drop", "2 cm"),
        )
    ).roof
    assert (found.sloped, found.fascia_drop) == (True, 0.02)
    assert found.gutter
    assert found.gutter.width == pytest.approx(0.127)
    assert shape().roof.gutter is None


# --- windows ------------------------------------------------------------------------------------


@pytest.mark.parametrize("latitude", [39.73, -39.73])
def test_windows_stand_where_the_elevation_draws_them(latitude: float) -> None:
    """The elevation counts from the inside corner, the page from the outside one."""
    home = design(
        put("place.latitude", latitude), put("climate.file", "none.csv"), put("house.faces", 350)
    ).homestead
    sunny = next(e for e in elevations(home, "house", date(2022, 3, 20)) if e.face.side == "sunny")
    drawn = sorted(float(pane.hole[:, 0].min()) + THICK for pane in sunny.panes)
    found = building_shape(home, "house").windows
    assert sorted(left for window in found for left in window.lefts) == pytest.approx(drawn)
    assert [(w.number, w.count, w.azimuth) for w in found] == [(1, 3, 350.0), (2, 1, 350.0)]


def test_window_with_a_place_of_its_own_is_measured_from_the_other_end_outdoors() -> None:
    """Its `left` counts from the left end of somebody inside."""
    window = {"side": "sunny", "width": "2 m", "sill": "1 m", "head": "2 m", "left": "1 m"}
    found = shape(put("house.window", [window | {"glazing": "double clear"}]))
    assert found.windows[0].lefts == pytest.approx((THICK + 12.5 - 1.0 - 2.0,))
    assert found.windows[0].name == "1"


def test_numbers_count_all_windows_of_the_building() -> None:
    windows = [
        {"side": side, "width": "1 m", "sill": "1 m", "head": "2 m", "glazing": "double clear"}
        for side in ("back", "sunny", "left", "sunny")
    ]
    assert [w.number for w in shape(put("house.window", windows)).windows] == [2, 4]


def test_building_without_a_sunny_window_shows_none() -> None:
    found = shape(put("house.window", []))
    assert (found.windows, found.shown) == ((), None)
    assert found.wall_thickness == pytest.approx(THICK)


def test_windows_of_rooms_beside_each_other_share_one_wall() -> None:
    window = {"width": "1 m", "sill": "1 m", "head": "2 m", "glazing": "double clear"}
    found = shape(
        together(
            put("house.zone.east", {"length": "4 m", "width": "6 m", "height": "9 ft"}),
            put("house.wall", [{"zone": "rooms", "side": "left", "next_to": "east"}]),
            put("house.window", [
                {**window, "zone": "rooms", "side": "sunny", "left": "12 m", "width": "0.5 m"},
                {**window, "zone": "east", "side": "sunny", "left": "0 m"},
            ]),
        )
    )  # fmt: skip
    assert found.wall_length == pytest.approx(16.5 + 2 * THICK)
    rooms, east = found.windows
    assert rooms.lefts == pytest.approx((THICK,)), "at the right hand inside, at the left outdoors"
    assert east.lefts == pytest.approx((THICK + 16.5 - 1.0,))
    assert (rooms.room_depth, east.room_depth, east.zone) == (8.0, 6.0, "east")
    assert found.zones == ("rooms", "east")


def test_rooms_that_share_no_wall_stand_apart() -> None:
    shed = {"length": "4 m", "width": "3 m", "height": "9 ft", "heated": False, "lived_in": False}
    found = shape(put("house.zone.shed", shed))
    assert found.wall_length == pytest.approx(12.5 + APART + 4.0 + 2 * THICK)


def test_sunspace_has_the_windows_of_its_own_front() -> None:
    found = building_shape(sunspace(), "house")
    (window,) = found.windows
    assert (window.zone, window.number, window.count) == ("sun room", 1, 2)
    space = (12.5 - 2 * 3.0) / 3
    assert window.lefts == pytest.approx((THICK + space, THICK + 2 * space + 3.0))


# --- handles ------------------------------------------------------------------------------------

HEEL: Edit = together(drop("house.eave.soffit_height"), put("house.roof.heel", "55 cm"))
CANTILEVER: Edit = together(put("house.roof.truss", "cantilever"), drop("house.eave.soffit_height"))
FLAT: Edit = together(
    put("house.roof.attic", False), put("house.roof.pitch", 0), drop("house.eave.soffit_height")
)


def spoken(handle: Handle) -> str | None:
    return handle.locked.key if handle.locked else None


def dragged(found: DesignFile, handle: Handle, value: float) -> BuildingShape:
    unit = " m" if handle.kind == "length" else ""
    return building_shape(changed(found, [f"{handle.path}={value!r}{unit}"]).homestead, "house")


@pytest.mark.parametrize("edit", [put("title", "As it is"), HEEL, CANTILEVER, FLAT])
def test_value_put_at_its_path_comes_back(edit: Edit) -> None:
    found = design(edit)
    handles = building_shape(found.homestead, "house").handles
    for name, handle in handles.items():
        assert handle.least <= handle.value <= handle.most, name
        if handle.path is None:
            continue
        value = round(handle.value + 0.011, 4)
        assert dragged(found, handle, value).handles[name].value == pytest.approx(value), name


def test_windows_are_dragged_at_their_number() -> None:
    found = design()
    limits = building_shape(found.homestead, "house").window_limits
    assert limits["head"] == limits["sill"] == (0.0, 30.0)
    assert limits["width"] == (0.001, 200.0)
    moved = changed(found, ["house.window.2.sill=0.9 m"]).homestead
    assert building_shape(moved, "house").windows[1].sill == 0.9


def test_either_soffit_or_heel_is_held_by_the_file() -> None:
    soffit = shape().handles
    assert soffit["soffit"].path == "house.eave.soffit_height"
    assert (soffit["heel"].path, spoken(soffit["heel"])) == (None, None)
    heel = shape(HEEL).handles
    assert heel["heel"].path == "house.roof.heel"
    assert (heel["soffit"].path, spoken(heel["soffit"])) == (None, None)
    line = truss_line(design().homestead, "house")[0].values
    assert isinstance(line["heel"], Quantity)
    assert soffit["heel"].value == line["heel"].value


def test_both_given_can_not_be_dragged_apart() -> None:
    both = shape(put("house.roof.heel", f"{shape().roof.heel} m")).handles
    assert spoken(both["soffit"]) == spoken(both["heel"]) == "handle.heel_and_soffit"
    assert both["soffit"].path is both["heel"].path is None


def test_cantilever_holds_its_soffit_level_with_the_plate() -> None:
    found = shape(CANTILEVER).handles
    assert spoken(found["soffit"]) == "handle.level_with_plate"
    assert found["soffit"].value == pytest.approx(2.7432)
    assert found["heel"].path == "house.roof.heel"
    ended = shape(CANTILEVER, put("house.roof.end_heel", "30 cm")).handles["heel"]
    assert (ended.path, spoken(ended)) == (None, "handle.end_heel")


def test_flat_roof_has_no_pitch_to_drag() -> None:
    found = shape(FLAT).handles
    assert (found["pitch"].path, spoken(found["pitch"])) == (None, "handle.no_attic")
    assert spoken(found["heel"]) == "handle.joists_on_plate"


def test_layers_dragged_are_the_best_insulation_and_the_heaviest() -> None:
    found = shape().handles
    assert found["wall"].path == "construction.wall.layers.2.thickness"
    assert found["attic"].path == "construction.ceiling.layers.3.thickness"
    assert found["floor"].path == "construction.slab.layers.1.thickness"
    thicker = shape(put("construction.wall.layers.3.thickness", "20 cm")).handles
    assert thicker["wall"].path == "construction.wall.layers.4.thickness"


def test_bare_resistances_and_marked_names_can_not_be_dragged() -> None:
    bare = shape(put("construction.slab.layers", [{"resistance": "3 m2K/W"}])).handles["floor"]
    assert (bare.path, spoken(bare)) == (None, "handle.no_layer")
    layers = [{"material": "softwood", "thickness": "10 cm"}]
    marked = shape(
        put("construction.wall 1-1/2", {"layers": layers}),
        put("house.wall_construction", "wall 1-1/2"),
    )
    assert marked.handles["wall"].path == "construction.wall 1-1/2.layers.1.thickness"
    data = design().text.replace("[construction.wall]", '[construction."w 1.5"]')

    found = parse_design(data.replace('wall_construction = "wall"', 'wall_construction = "w 1.5"'))
    handle = building_shape(found.homestead, "house").handles["wall"]
    assert (handle.path, spoken(handle)) == (None, "handle.name_with_mark")
