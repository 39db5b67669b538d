from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from drawing import boxes, classed, collisions, corners, outside, parsed
from noonmark.shape import (
    Gutter,
    Opening,
    RoofTriangle,
    Trim,
    WallSection,
    beam_polygon,
    eave_outline,
    heel_for_soffit,
    shade_line,
)
from noonmark.sheets import Mark, SectionLabels, draw_section
from noonmark.units import System

LABELS = SectionLabels(
    title="Larkspur: south wall",
    subtitle="21 Dec, sun noon, 27° high",
    description="A wall cut open; the sun reaches the floor.",
    floor="floor",
    sill="sill",
    head="head",
    soffit="soffit",
    plate="plate",
    fascia="fascia",
    gutter="gutter",
    heel="heel",
    end_heel="end heel",
    insulation="insulation",
    pole="story pole",
    notes=("Heights count from the finished floor.",),
)
GUTTER = Gutter(0.13, 0.09, 0.025)
SUNS = {
    "21 Dec": 26.9,
    "5 Jan · 7 Dec": 27.7,
    "20 Jan · 22 Nov": 30.1,
    "4 Feb · 7 Nov": 33.9,
    "19 Feb · 23 Oct": 38.6,
    "20 Mar · 23 Sep": 49.9,
    "19 Apr · 24 Aug": 61.6,
    "20 May · 24 Jul": 70.4,
    "21 Jun": 73.7,
}


def house(
    projection: float = 0.9, pitch: float = 0.5, depth: float = 8.0, soffit: float = 2.55
) -> WallSection:
    heel = heel_for_soffit(soffit, pitch=pitch, projection=projection, plate=2.5, chord_depth=0.09)
    return WallSection(
        roof=RoofTriangle(depth + 0.6, pitch, projection, heel, 2.5, 0.09),
        wall_thickness=0.3,
        floor_thickness=0.12,
        ground=-0.2,
        ceiling=2.45,
        room_depth=depth,
        ceiling_insulation=0.4,
        window=Opening(sill=0.6, head=2.1, header_depth=0.24),
    )


def cantilevered(projection: float = 0.9, pitch: float = 0.5) -> WallSection:
    heel = 0.2 + projection * pitch
    roof = RoofTriangle(8.6, pitch, projection, heel, 2.5, 0.09, "cantilever", 0.15)
    return replace(house(), roof=roof)


def trimmed(section: WallSection, **parts: object) -> WallSection:
    trim = Trim(**parts)  # type: ignore[arg-type]
    return replace(section, roof=replace(section.roof, trim=trim))


def marks(section: WallSection, current: str) -> list[Mark]:
    return [Mark(day, shade_line(section, sun), day == current) for day, sun in SUNS.items()]


def drawn(
    section: WallSection, day: str = "21 Dec", system: System = "metric"
) -> ElementTree.Element:
    return parsed(
        draw_section(
            section, LABELS, profile_angle=SUNS[day], marks=marks(section, day), system=system
        ).sheet()
    )


def scale_and_floor(root: ElementTree.Element, section: WallSection) -> tuple[float, float]:
    """Read the scale [px/m] and the floor [px] off the stick, from the ground to the soffit."""
    stick = classed(root, "rect", "seen")[0]
    height, top = float(stick.get("height", "")), float(stick.get("y", ""))
    scale = height / (section.soffit - section.ground)
    return scale, top + scale * section.soffit


@pytest.mark.parametrize("day", ["21 Dec", "20 Mar · 23 Sep"])
def test_beam_is_the_geometry(day: str) -> None:
    section = house()
    root = drawn(section, day)
    scale, floor = scale_and_floor(root, section)
    (part,) = classed(root, "polygon", "beam")
    seen = np.array(corners(part))
    metres = beam_polygon(section, SUNS[day], outdoors=0.9 + 0.35)
    expected = np.column_stack([metres[:, 0] * scale, floor - metres[:, 1] * scale])
    shift = seen[:, 0].max() - expected[:, 0].max()
    expected[:, 0] += shift
    overlap = Polygon(seen).symmetric_difference(Polygon(expected)).area
    assert overlap < 0.002 * Polygon(expected).area


def test_notches_stand_at_their_heights() -> None:
    section = house()
    root = drawn(section)
    scale, floor = scale_and_floor(root, section)
    wanted = [max(mark.height, section.ground) for mark in marks(section, "21 Dec")]
    notches = [floor - float(n.get("y1", "")) for n in classed(root, "line", "notch")]
    assert notches == pytest.approx([scale * height for height in wanted], abs=0.2)


def test_mark_below_the_foot_is_written_with_an_arrow() -> None:
    written = [part.text for part in classed(drawn(house()), "text", "mark")]
    assert written[0] == "21 Dec"
    assert written[-1] == "21 Jun ↓"


def test_mark_above_the_pole_gives_no_notch() -> None:
    section = house()
    high = [Mark("too early", 3.0), Mark("21 Dec", 2.0)]
    root = parsed(draw_section(section, LABELS, profile_angle=27, marks=high).sheet())
    assert [part.text for part in classed(root, "text", "mark")] == ["21 Dec"]


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("day", ["21 Dec", "19 Feb · 23 Oct", "19 Apr · 24 Aug", "21 Jun"])
@pytest.mark.parametrize(
    "section",
    [
        house(),
        house(0.3, 0.9, 5.0),
        house(1.4, 0.25, 3.5, 2.3),
        house(0.0, 0.5, 4.0),
        trimmed(house(), sloped=True, fascia_drop=0.05, gutter=GUTTER),
        trimmed(house(0.3, 0.9, 5.0), fascia_drop=0.15),
        cantilevered(),
        cantilevered(0.2, pitch=0.1),
        trimmed(cantilevered(1.3, pitch=1.0), gutter=GUTTER, fascia_drop=0.02),
    ],
    ids=[
        "larkspur", "steep", "flat and deep", "no eave", "sloped soffit", "fascia drop",
        "cantilever", "flat cantilever", "steep cantilever",
    ],
)  # fmt: skip
def test_no_text_collides_or_stands_on_the_beam(
    section: WallSection, day: str, system: System
) -> None:
    root = drawn(section, day, system)
    assert collisions(root) == []
    assert outside(root) == []
    for part in classed(root, "polygon", "beam"):
        beam = Polygon(corners(part))
        assert [b.content for b in boxes(root) if b.shape.intersection(beam).area > 1] == []


def test_crowded_notches_are_thinned_and_keep_ends_and_the_shown_day() -> None:
    section = house(0.25)
    days = [part.text for part in classed(drawn(section, "20 Mar · 23 Sep"), "text", "mark")]
    assert days == [
        "21 Dec",
        "20 Jan · 22 Nov",
        "19 Feb · 23 Oct",
        "20 Mar · 23 Sep",
        "19 Apr · 24 Aug",
        "21 Jun",
    ]
    shown = Mark("1 Mar", 2.3, current=True)
    root = parsed(draw_section(section, LABELS, marks=marks(section, ""), own=shown).sheet())
    assert "1 Mar" in [part.text for part in classed(root, "text", "mark")]


def test_insulation_lies_under_the_slab_between_the_stems() -> None:
    section = replace(house(depth=4.0), floor_insulation=0.15)
    root = drawn(section)
    scale, floor = scale_and_floor(root, section)
    (boards,) = classed(root, "polygon", "boards")
    across, heights = zip(*corners(boards), strict=True)
    depths = (min(heights) - floor, max(heights) - floor)
    assert depths == pytest.approx((0.12 * scale, 0.27 * scale), abs=0.2)
    assert max(across) - min(across) == pytest.approx(4.0 * scale, abs=0.2)
    assert classed(drawn(house()), "polygon", "boards") == []


def test_dimensions_are_written_in_the_readers_units() -> None:
    metric = {b.content for b in boxes(drawn(house()))}
    assert {"soffit 2.550 m", "plate 2.500 m", "head 2.100 m", "sill 0.600 m"} <= metric
    # heel 0.05 + 0.9 / 2 + 0.09 * sqrt(1.25); the insulation lies whole under it
    assert {"0.900 m", "heel 0.601 m", "insulation 0.400 m"} <= metric
    us = {b.content for b in boxes(drawn(house(), system="us"))}
    assert {"head 6' 10 3/4\"", "sill 1' 11 1/2\"", "2' 11 1/2\""} <= us


def wood(root: ElementTree.Element, x: float, y: float) -> bool:
    """Return whether a point [px] lies in framing or a board of the drawing."""
    return any(
        Polygon(corners(part)).buffer(0.6).covers(Point(x, y))
        for name in ("seen", "cut", "soffit")
        for part in classed(root, "polygon", name)
    )


def wall_face(root: ElementTree.Element, section: WallSection) -> float:
    """Return where the wall's outside face stands [px], from the cut back wall's far edge on."""
    whole = max(x for part in classed(root, "polygon", "cut") for x, _ in corners(part))
    scale, _ = scale_and_floor(root, section)
    return whole - scale * (section.back_x + section.wall_thickness)


def whole_house(section: WallSection) -> ElementTree.Element:
    narrow = replace(section, room_depth=4.0, roof=replace(section.roof, span=4.6))
    return parsed(draw_section(narrow, LABELS, marks=marks(narrow, "21 Dec")).sheet())


@pytest.mark.parametrize("truss", ["tail", "cantilever"])
def test_bottom_chord_runs_to_the_fascia_of_a_cantilever_only(truss: str) -> None:
    """Half-way out, below, in and over the soffit: over it lies the chord, or open air."""
    section = house(soffit=2.5) if truss == "tail" else cantilevered()
    root = whole_house(section)
    scale, floor = scale_and_floor(root, section)
    x = wall_face(root, replace(section, room_depth=4.0)) - 0.3 * scale
    heights = [wood(root, x, floor - scale * y) for y in (2.47, 2.505, 2.56)]
    assert heights == [False, True, truss == "cantilever"]


def test_gutter_stands_where_the_outline_has_it() -> None:
    section = trimmed(cantilevered(), gutter=GUTTER)
    root = whole_house(section)
    scale, floor = scale_and_floor(root, section)
    face = wall_face(root, replace(section, room_depth=4.0))
    (drawn_gutter,) = classed(root, "polyline", "gutter")
    seen = np.array(corners(drawn_gutter))[1:]  # its back is hidden by the fascia
    expected = eave_outline(section.roof)[-3:] * [scale, -scale] + [face, floor]
    np.testing.assert_allclose(seen, expected, atol=0.2)


def test_what_the_truss_maker_needs_stands_on_the_sheet() -> None:
    """Projection 0.9, bearing 0.15, end heel 0.2, pitch 0.5: heel 0.65 over the wall."""
    section = trimmed(cantilevered(), fascia_drop=0.05, gutter=GUTTER)
    said = {b.content for b in boxes(drawn(section))}
    # roof's edge at 2.5 + 0.2, the gutter's foot 0.025 + 0.09 under it
    assert {"0.900 m", "1.050 m", "heel 0.650 m", "end heel 0.200 m"} <= said
    assert {"plate 2.500 m", "fascia 2.450 m", "gutter 2.585 m"} <= said
    assert len(classed(drawn(section), "polygon", "bearing")) == 1  # the other past the break
    plain = {b.content.split()[0] for b in boxes(drawn(house()))}
    assert not plain & {"fascia", "gutter", "end"}


def test_deep_room_ends_in_a_break_and_sheets_lie_over_each_other() -> None:
    section = house()
    winter, summer = drawn(section), drawn(section, "21 Jun")
    assert winter.get("viewBox") == summer.get("viewBox")
    assert scale_and_floor(winter, section) == scale_and_floor(summer, section)
    whole = parsed(draw_section(section, LABELS, shown_depth=8.0).sheet())
    cut, full = (
        max(x for part in classed(root, "polygon", "cut") for x, _ in corners(part))
        for root in (winter, whole)
    )
    assert full < cut  # the whole house ends in open air, the broken one at the break


def test_words_from_a_file_are_escaped() -> None:
    labels = replace(LABELS, title="<script>alert(1)</script> & Co", notes=("</svg>",))
    root = parsed(draw_section(house(), labels).sheet())
    assert root[0].text == "<script>alert(1)</script> & Co"
    assert "script" not in {part.tag.split("}")[-1] for part in root.iter()}


def test_wall_without_window_or_sun() -> None:
    blind = replace(house(), window=None)
    root = parsed(draw_section(blind, LABELS, profile_angle=30).sheet())
    assert classed(root, "polygon", "beam") == []
    assert not any(b.content.startswith("sill") for b in boxes(root))
    dark = parsed(draw_section(house(), LABELS).sheet())
    assert classed(dark, "polygon", "beam") + classed(dark, "polygon", "shade") == []
