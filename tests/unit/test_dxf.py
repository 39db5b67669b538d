"""Section and elevations as DXF: read back and measured against the design."""

from __future__ import annotations

import io
import math
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.filemanagement import read as read_dxf
from shapely.geometry import Point, Polygon

from designs import design, put, together
from noonmark.cards.speech import Speech
from noonmark.design import Homestead
from noonmark.design.derived import roof_triangle
from noonmark.sheets.dxf import LAYERS
from noonmark.sheets.dxfwords import elevation_file, section_file
from noonmark.study.elevation import elevations
from noonmark.study.section import section_view
from noonmark.units import System
from noonmark.units.writing import dimension
from sample_house import sample
from sunspace import sunspace

DAYS = [date(2022, 12, 21), date(2022, 3, 20), date(2022, 6, 21)]
UNIT = {"metric": 1.0, "us": 0.0254}
SYSTEMS: tuple[System, ...] = ("metric", "us")


def southern() -> Homestead:
    """Return the sample turned in the south, with a cantilever, a gutter and an inner bearing."""
    where = {"latitude": -33.9, "longitude": 151.2, "altitude": 10, "time_zone": "Australia/Sydney"}
    return design(
        together(
            put("place", where),
            put("house.faces", 20.0),
            put("house.eave.gutter", {}),
            put("house.eave.soffit_height", "9 ft"),
            put("house.roof.truss", "cantilever"),
            put("house.roof.bearing", "10 in"),
            put("house.window.0.hood", {"projection": 0.5}),
            put("house.window.1.fins", {"projection": 0.4}),
        )
    ).homestead


HOMES: dict[str, Callable[[], Homestead]] = {
    "sample": sample,
    "southern": southern,
    "sunspace": sunspace,
}


def section(home: Homestead, system: System, title: str = "Larkspur") -> Drawing:
    views = [section_view(home, "house", day=day) for day in DAYS]
    faces = home.buildings["house"].faces
    return read(section_file(views, title=title, faces=faces, speech=Speech(system)))


def walls(home: Homestead, system: System, title: str = "Larkspur") -> list[Drawing]:
    days = [elevations(home, "house", day) for day in DAYS]
    return [
        read(elevation_file(list(zip(DAYS, wall, strict=True)), title=title, speech=Speech(system)))
        for wall in zip(*days, strict=True)
    ]


def read(content: bytes) -> Drawing:
    return read_dxf(io.StringIO(content.decode("utf-8")))


def outlines(drawing: Drawing, layer: str, unit: float) -> list[list[tuple[float, float]]]:
    """Return the corners of the polylines of a layer [m]."""
    found = entities(drawing, f'LWPOLYLINE[layer=="{layer}"]')
    return [[(x * unit, y * unit) for x, y in line.get_points("xy")] for line in found]


def measures(drawing: Drawing, unit: float) -> list[tuple[float, str]]:
    """Return what each dimension measures [m], with its words."""
    found = entities(drawing, "DIMENSION")
    return [(float(d.get_measurement()) * unit, d.dxf.text) for d in found]


def entities(drawing: Drawing, query: str) -> list[Any]:
    """Return entities; what each kind has, the library's types do not tell."""
    return list(drawing.modelspace().query(query))


def texts(drawing: Drawing) -> list[str]:
    return [text.dxf.text for text in entities(drawing, "TEXT")]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", HOMES)
def test_audit_finds_nothing_and_every_dimension_says_what_it_measures(
    name: str, system: System
) -> None:
    home = HOMES[name]()
    for drawing in (section(home, system), *walls(home, system)):
        audit = drawing.audit()
        assert (audit.errors, audit.fixes) == ([], [])
        assert drawing.dxfversion == "AC1024"
        assert drawing.header["$INSUNITS"] == (6 if system == "metric" else 1)
        assert drawing.header["$MEASUREMENT"] == (1 if system == "metric" else 0)
        told = measures(drawing, UNIT[system])
        assert len(told) > 4
        for metres, words in told:
            assert words == dimension(metres, system)
        for dim in entities(drawing, "DIMENSION"):
            assert dim.dxf.layer == "DIMENSIONS"
            assert drawing.dimstyles.get(dim.dxf.dimstyle).dxf.dimlfac == 1.0


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", HOMES)
def test_section_has_the_heights_and_the_eave_of_the_design(name: str, system: System) -> None:
    home = HOMES[name]()
    building = home.buildings["house"]
    roof, unit = roof_triangle(home, building), UNIT[system]
    largest = max(
        (w for w in building.window if w.side == "sunny"), key=lambda w: w.count * w.width
    )
    drawing = section(home, system)
    wanted = [
        largest.sill, largest.head - largest.sill, roof.soffit - largest.head, roof.plate,
        roof.ridge - roof.plate, roof.projection, roof.top_edge(0.0) - roof.plate, roof.span,
    ]  # fmt: skip
    if name == "southern":
        wanted += [roof.projection + roof.bearing, roof.end_heel]
    told = [metres for metres, _ in measures(drawing, unit)]
    for metres in wanted:
        assert min(abs(metres - other) for other in told) < 1e-6
    trim = [corner for line in outlines(drawing, "TRIM", unit) for corner in line]
    assert min(x for x, _ in trim) == pytest.approx(-roof.reach, abs=1e-6)
    soffit = min(y for x, y in trim if abs(x + roof.projection) < 1e-6)
    assert soffit == pytest.approx(roof.soffit, abs=1e-6)
    (glass,) = outlines(drawing, "GLASS", unit)
    assert {round(y, 6) for _, y in glass} == {round(largest.sill, 6), round(largest.head, 6)}


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", HOMES)
def test_elevations_have_every_window_at_its_size(name: str, system: System) -> None:
    home = HOMES[name]()
    unit = UNIT[system]
    wanted = Counter(
        {
            (w.name or str(i), round(w.width, 6), round(w.sill, 6), round(w.head, 6)): int(w.count)
            for i, w in enumerate(home.buildings["house"].window, start=1)
            if not w.wall  # else it lies between two rooms
        }
    )
    found: Counter[tuple[str, float, float, float]] = Counter()
    for drawing in walls(home, system):
        holes = outlines(drawing, "WINDOW", unit)
        told = [metres for metres, _ in measures(drawing, unit)]
        for corners in holes:
            xs, ys = zip(*corners, strict=True)
            width, sill, head = max(xs) - min(xs), min(ys), max(ys)
            (inside,) = {
                text.dxf.text
                for text in entities(drawing, "TEXT")
                if Polygon(corners).contains(_point(text.get_placement()[1], unit))
            }
            found[(inside, *(round(float(size), 6) for size in (width, sill, head)))] += 1
            assert min(abs(width - other) for other in told) < 1e-6
            assert min(abs(head - sill - other) for other in told) < 1e-6
    assert found == wanted


def _point(place: tuple[float, float, float], unit: float) -> Point:
    return Point(place[0] * unit, place[1] * unit)


def test_windows_stand_as_somebody_outdoors_sees_them() -> None:
    """The sunny wall of the sample: the bedroom is at the right hand of one who looks out."""
    south = walls(sample(), "metric")[0]
    places = {t.dxf.text: t.get_placement()[1][0] for t in entities(south, "TEXT")}
    assert places["bedroom, sunny"] < places["living room"]


@pytest.mark.parametrize("system", SYSTEMS)
def test_shade_of_each_day_has_its_layer(system: System) -> None:
    """At noon over a south wall the shade ends so far under the soffit: projection times tan."""
    home, unit = sample(), UNIT[system]
    roof = roof_triangle(home, home.buildings["house"])
    for drawing in (section(home, system), walls(home, system)[0]):
        for day in DAYS:
            view = section_view(home, "house", day=day)
            assert view.profile_angle is not None
            edge = roof.soffit - roof.projection * math.tan(math.radians(view.profile_angle))
            shades = outlines(drawing, f"SHADE {day:%m-%d}", unit)
            heights = [y for line in shades for _, y in line]
            assert min(abs(edge - y) for y in heights) < 0.004  # the sun's noon, its profile
            assert f"SUN {day:%m-%d}" in drawing.layers
    dark = walls(home, system)[2]  # the north wall
    assert outlines(dark, "SHADE 12-21", unit) == []


@pytest.mark.parametrize("name", HOMES)
def test_layers_have_plain_names_and_cut_parts_are_closed(name: str) -> None:
    dated = {f"{word} {day:%m-%d}" for word in ("SUN", "SHADE") for day in DAYS}
    home = HOMES[name]()
    for drawing in (section(home, "us"), *walls(home, "us")):
        layers = {layer.dxf.name for layer in drawing.layers}
        assert layers - {"0", "Defpoints"} == set(LAYERS) | dated
        for line in entities(drawing, "LWPOLYLINE"):
            if line.dxf.layer in ("WALL", "FRAMING", "FLOOR", "WINDOW", "GLASS") or (
                line.dxf.layer in dated
            ):
                assert line.closed
        used = {entity.dxf.layer for entity in drawing.modelspace()}
        assert used <= layers


def test_walls_cut_have_the_area_they_have_in_nature() -> None:
    """Two walls of nine feet less the window's height, by their thickness; shapely measures."""
    drawing = section(sample(), "us")
    cut = sum(Polygon(line).area for line in outlines(drawing, "WALL", 0.0254))
    thickness = 0.0254 * (0.5 + 5.5 + 7 / 16 + 4 + 0.75)
    assert cut == pytest.approx(thickness * 0.3048 * (2 * 9 - (7 + 2 / 12 - 2)), abs=1e-6)
    hatches = entities(drawing, "HATCH")
    assert len(hatches) > 8


@pytest.mark.parametrize("system", SYSTEMS)
def test_same_design_gives_the_same_bytes(system: System) -> None:
    home = sample()
    views = [section_view(home, "house", day=day) for day in DAYS]
    first, second = (
        section_file(views, title="Larkspur", faces=180.0, speech=Speech(system)) for _ in range(2)
    )
    assert first == second
    assert not options.write_fixed_meta_data_for_testing


def test_words_of_a_design_steer_nothing() -> None:
    title = "100%%c ^J\n{\\H3;x} é <script> \U0001f600"
    plain = "100% %c ^ J {\\H3;x} é <script> \U0001f600"
    drawing = section(sample(), "metric", title)
    assert f"{plain}: section of the south wall" in texts(drawing)
    assert drawing.audit().errors == []


def test_heights_below_nothing_and_a_bare_wall() -> None:
    home = design(put("house.window", [])).homestead
    drawing = section(home, "metric")
    assert outlines(drawing, "GLASS", 1.0) == []
    assert "ground −0.200 m" in texts(drawing)
    assert not any(word.startswith("sill") for word in texts(drawing))
    assert walls(home, "metric") == []


def test_sun_behind_the_wall_leaves_its_layers_empty() -> None:
    home = design(put("house.faces", 0.0)).homestead
    drawing = section(home, "metric")
    assert outlines(drawing, "SUN 12-21", 1.0) == []
    assert "SUN 12-21" in drawing.layers


def test_a_day_at_night_has_no_sun() -> None:
    view = section_view(sample(), "house", day=DAYS[0])
    dark = replace(view, profile_angle=None)
    content = section_file([dark], title="x", faces=180.0, speech=Speech())
    drawing = read(content)
    assert outlines(drawing, "SHADE 12-21", 1.0) == []
    assert any("no sun on this wall" in word for word in texts(drawing))
