"""What an eave hangs into the sun's way, worked by hand."""

from __future__ import annotations

import datetime
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString

from designs import design, put, together
from noonmark.errors import PhysicsError
from noonmark.shape import (
    Gutter,
    RoofTriangle,
    Trim,
    WallSection,
    eave_outline,
    shade_line,
    shading_edge,
)
from noonmark.study.section import section_view

# Pitch 3/4, chord 0.15 plumb, fascia from 2.15 to 2.30, 0.8 m out.
ROOF = RoofTriangle(span=8.0, pitch=0.75, projection=0.8, heel=0.5, plate=2.4, chord_depth=0.12)
GUTTER = Gutter(width=0.12, depth=0.10, drop=0.02)
HALF = math.degrees(math.atan(0.5))
FOOT = 0.3048


def outline(roof: RoofTriangle) -> list[tuple[float, float]]:
    return [(round(float(x), 9), round(float(y), 9)) for x, y in eave_outline(roof)]


def trimmed(**parts: object) -> RoofTriangle:
    return replace(ROOF, trim=Trim(**parts))  # type: ignore[arg-type]


def test_level_soffit() -> None:
    assert outline(ROOF) == [(0.0, 2.15), (-0.8, 2.15)]
    assert outline(replace(ROOF, projection=0.0)) == [(0.0, 2.75)]


def test_sloped_soffit_climbs_to_the_wall() -> None:
    """0.8 m at 3/4 is 0.6 up: the tails' underside at the wall, plate + heel - chord plumb."""
    assert outline(trimmed(sloped=True)) == [(0.0, 2.75), (-0.8, 2.15)]
    assert trimmed(sloped=True).soffit_at_wall == pytest.approx(2.4 + 0.5 - 0.15)


def test_fascia_below_the_soffit() -> None:
    assert outline(trimmed(fascia_drop=0.05)) == [(0.0, 2.15), (-0.8, 2.15), (-0.8, 2.10)]


def test_gutter() -> None:
    """Lip 0.02 below the roof's edge at 2.30, foot 0.10 below that: 2.28 and 2.18."""
    hung = trimmed(gutter=GUTTER)
    assert outline(hung) == [(0.0, 2.15), (-0.8, 2.15), (-0.8, 2.18), (-0.92, 2.18), (-0.92, 2.28)]
    assert hung.reach == pytest.approx(0.92)


def test_cantilever_with_its_gutter() -> None:
    """Soffit at the plate, 2.4; end heel 0.2, so the roof's edge at 2.6 and the lip at 2.58."""
    roof = replace(ROOF, truss="cantilever", heel=0.8, trim=Trim(gutter=GUTTER))
    assert outline(roof) == [(0.0, 2.4), (-0.8, 2.4), (-0.8, 2.48), (-0.92, 2.48), (-0.92, 2.58)]


@pytest.mark.parametrize(
    ("parts", "edge"),
    [
        ({}, (-0.8, 2.15)),
        ({"fascia_drop": 0.05}, (-0.8, 2.10)),
        ({"gutter": GUTTER}, (-0.92, 2.18)),  # 2.18 - 0.92 / 2 = 1.72 lies below 2.15 - 0.8 / 2
        ({"gutter": GUTTER, "fascia_drop": 0.2}, (-0.8, 1.95)),  # 1.55 lies below 1.72
    ],
)
def test_the_deepest_shade_counts(parts: dict[str, object], edge: tuple[float, float]) -> None:
    """A sun that sinks one metre in two."""
    roof = trimmed(**parts)
    assert shading_edge(roof, HALF) == pytest.approx(edge)


def test_low_sun_finds_the_fascia_high_sun_the_gutter() -> None:
    """Foot of fascia at 2.10, of gutter 0.12 farther out at 2.18: equal at tan p = 0.08 / 0.12."""
    roof = trimmed(gutter=GUTTER, fascia_drop=0.05)
    even = math.degrees(math.atan(0.08 / 0.12))
    assert shading_edge(roof, even - 0.1)[0] == pytest.approx(-0.8)
    assert shading_edge(roof, even + 0.1)[0] == pytest.approx(-0.92)


TRIMS = st.builds(
    Trim,
    sloped=st.booleans(),
    fascia_drop=st.floats(0, 0.3),
    gutter=st.none() | st.builds(Gutter, st.floats(0.05, 0.3), st.floats(0.05, 0.3)),
)


@given(TRIMS, st.floats(1, 80), st.floats(0.0, 1.2))
def test_the_ray_past_the_edge_touches_the_eave_and_no_more(
    trim: Trim, angle: float, projection: float
) -> None:
    """Checked with shapely: a hair lower the ray is free, a hair higher it meets the outline."""
    roof = replace(ROOF, trim=trim, projection=projection)
    section = WallSection(roof, 0.3, 0.1, -0.2, 2.4, 5.0, 0.3)
    edge, slope = shade_line(section, angle), math.tan(math.radians(angle))
    outside = LineString([(0.0, 9.0), *eave_outline(roof)])  # the wall goes on up behind it
    for lower, meets in ((1e-6, False), (-1e-6, True)):
        ray = LineString([(-3.0, edge - lower + 3.0 * slope), (0.0, edge - lower)])
        assert ray.intersects(outside) is meets


def test_no_trim_moves_the_plain_eave_s_shade() -> None:
    section = WallSection(ROOF, 0.3, 0.1, -0.2, 2.4, 5.0, 0.3)
    for angle in (5.0, 26.9, 45.0, 73.7):
        assert shade_line(section, angle) == 2.15 - 0.8 * math.tan(math.radians(angle))


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (lambda: Gutter(0.0, 0.1), "shape.not_positive"),
        (lambda: Gutter(0.1, math.nan), "shape.not_positive"),
        (lambda: Gutter(0.1, 0.1, -0.1), "shape.negative"),
        (lambda: Trim(fascia_drop=-0.1), "shape.negative"),
        (
            lambda: replace(ROOF, truss="cantilever", heel=0.8, trim=Trim(sloped=True)),
            "shape.sloped_under_chord",
        ),
    ],
)
def test_trim_that_can_not_be(make: object, code: str) -> None:
    assert callable(make)
    with pytest.raises(PhysicsError) as caught:
        make()
    assert caught.value.problems[0].code == code


def noon_shade(day: datetime.date) -> float:
    """Return the noon shade line [ft above floor] of a 4 ft eave under a 9 ft soffit at 52.5 N."""
    where = {"latitude": 52.5, "longitude": 15.0, "altitude": 0, "time_zone": "Europe/Berlin"}
    home = design(together(put("place", where), put("house.eave.projection", "4 ft"))).homestead
    view = section_view(home, "house", day=day)
    assert view.profile_angle is not None
    assert view.section.soffit == pytest.approx(9 * FOOT)
    return shade_line(view.section, view.profile_angle) / FOOT


def test_four_feet_of_eave_near_52_north() -> None:
    """Common practice, no source: soffit at 9 ft, a 4 ft eave, the sill at 3 ft.

    Glass that ends a foot under the soffit is in full sun at the winter solstice;
    the whole window is in shade from the middle of May on. By hand: the shade lies
    4 tan(90 - 52.5 - 23.44) = 1.00 ft down in December, and 6 ft down from a noon sun
    of atan(6 / 4) = 56.31 deg, a declination of 18.81 deg. Cooper's formula gives 18.79
    on 15 May and 19.03 on the day after, so 16 May; the sun's true place is 0.1 deg
    higher, so 15 May in most years at 52.5 N, and 16 May a little north of it.
    """
    assert noon_shade(datetime.date(2022, 12, 21)) == pytest.approx(8.0, abs=0.02)
    days = [datetime.date(2022, 5, 1) + datetime.timedelta(days=i) for i in range(31)]
    shaded = [day for day in days if noon_shade(day) <= 3.0]
    assert shaded[0] in {datetime.date(2022, 5, 15), datetime.date(2022, 5, 16)}
    assert shaded == days[days.index(shaded[0]) :]
