"""Whatever the house, its sheet is well-formed, keeps its words apart and stays on the paper."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from drawing import boxes, classed, collisions, corners, outside, parsed
from noonmark.shape import (
    Gutter,
    Opening,
    RoofTriangle,
    Trim,
    WallSection,
    heel_for_soffit,
    shade_line,
)
from noonmark.shape.roof import Truss
from noonmark.sheets import Mark, SectionLabels, draw_section
from noonmark.units import System

LABELS = SectionLabels(
    "House", "Noon", "Wall", "floor", "sill", "head", "soffit", "plate", "fascia", "gutter",
    "heel", "end heel", "insulation", "pole",
)  # fmt: skip


TRIMS = st.builds(
    Trim,
    sloped=st.just(False),
    fascia_drop=st.just(0.0) | st.floats(0.01, 0.2),
    gutter=st.none() | st.builds(Gutter, st.floats(0.08, 0.2), st.floats(0.06, 0.15)),
)


@st.composite
def houses(draw: st.DrawFn) -> WallSection:
    """A house that can be built: soffit at or above the head, heel deep enough."""
    pitch = draw(st.floats(0.0, 1.2))
    projection = draw(st.floats(0.0, 1.5))
    plate, chord = 2.5, draw(st.floats(0.09, 0.2))
    thickness, depth = draw(st.floats(0.1, 0.5)), draw(st.floats(2.5, 12))
    span = draw(st.sampled_from([depth + 2 * thickness, depth + 4]))
    truss: Truss = draw(st.sampled_from(["tail", "cantilever"]))
    more = draw(st.floats(0.0, 0.4))
    trim = draw(TRIMS)
    if truss == "cantilever":
        heel = chord * math.hypot(1.0, pitch) + projection * pitch + more
    else:
        trim = replace(trim, sloped=draw(st.booleans()))
        soffit = max(2.1, plate - projection * pitch) + more
        heel = heel_for_soffit(
            soffit, pitch=pitch, projection=projection, plate=plate, chord_depth=chord
        )
    bearing = draw(st.just(0.0) | st.floats(0.0, thickness))
    return WallSection(
        roof=RoofTriangle(span, pitch, projection, heel, plate, chord, truss, bearing, trim),
        wall_thickness=thickness,
        floor_thickness=draw(st.floats(0.1, 0.4)),
        ground=draw(st.floats(-0.6, 0.2)),
        ceiling=2.45,
        room_depth=depth,
        ceiling_insulation=draw(st.floats(0.0, 0.6)),
        window=draw(
            st.none()
            | st.builds(Opening, st.floats(0, 1.2), st.floats(1.4, 2.1), st.floats(0, 0.4))
        ),
    )


@settings(deadline=None)
@given(houses(), st.floats(1, 89), st.sampled_from(["metric", "us"]))
def test_section_sheet(section: WallSection, sun: float, system: System) -> None:
    marks = [Mark(f"{s} Jan", shade_line(section, s), s == 45) for s in range(20, 80, 5)]
    root = parsed(
        draw_section(section, LABELS, profile_angle=sun, marks=marks, system=system).sheet()
    )
    assert collisions(root) == []
    assert outside(root) == []
    _, _, width, height = (float(n) for n in root.get("viewBox", "").split())
    rays = classed(root, "polyline", "ray")
    assert len(rays) == (section.roof.reach > 0)
    ends = [Point(end) for ray in rays for end in corners(ray)]
    assert all(box(0, 0, width, height).covers(end) for end in ends)
    for part in classed(root, "polygon", "beam"):
        beam = Polygon(corners(part)).buffer(0)
        assert [b.content for b in boxes(root) if b.shape.intersection(beam).area > 1] == []
