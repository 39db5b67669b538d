"""Sun marks against a builder's table, the disc of the sun itself, and what is said of its blur."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from numpy.typing import NDArray

from noonmark.design.model import Place
from noonmark.shading.marks import ShadeEdge, shade_edge
from noonmark.shape.eave import eave_outline
from noonmark.study.marks import marked_wall
from noonmark.study.moment import moments, solar_noons
from noonmark.study.section import section_view
from noonmark.sun.angles import sun_half_width
from pencil import drawn, made

FOOT, INCH = 0.3048, 0.0254


def noon_edge(latitude: float, day: date, projection: float) -> ShadeEdge:
    """Return the shade edge below the eave's edge at solar noon, on an equator-facing wall."""
    place = Place(latitude=latitude, longitude=-75.0, altitude=0.0, time_zone="America/New_York")
    suns = moments(place, solar_noons(place, [day]))
    return shade_edge(
        [sun.altitude for sun in suns],
        [sun.azimuth for sun in suns],
        wall_azimuth=180.0 if latitude > 0.0 else 0.0,
        edges=[(projection, 0.0)],
        half_width=sun_half_width([day.timetuple().tm_yday]),
    )


@pytest.mark.parametrize(
    ("month", "day", "feet"),
    [
        (12, 21, 2.0), (2, 5, 2.75), (3, 20, 4.9), (4, 20, 7.5),
        (6, 21, 12.7), (8, 23, 7.6), (9, 22, 5.1), (10, 20, 3.5),
    ],
)  # fmt: skip
def test_noon_marks_of_a_five_foot_eave_at_45_north(month: int, day: int, feet: float) -> None:
    """Noon shadow below the eave's edge, 45 N, projection 5 ft, by date.

    Source: builder's table of noon shade, given to a tenth of a foot; read off a real wall.
    """
    edge = noon_edge(45.0, date(2026, month, day), 5.0 * FOOT)
    assert -edge.height[0] / FOOT == pytest.approx(feet, abs=0.13)


def test_blur_is_half_an_inch_in_december_and_inches_in_june() -> None:
    """Under a 4-ft eave at 45 N and 51 N. Source: common practice, no source."""
    december = noon_edge(45.0, date(2026, 12, 21), 4.0 * FOOT).blur[0]
    june = noon_edge(51.5, date(2026, 6, 21), 4.0 * FOOT).blur[0]
    assert december / INCH == pytest.approx(0.5, abs=0.1)
    assert june / INCH == pytest.approx(2.0, abs=0.1)


@pytest.mark.parametrize(
    ("day", "arcseconds"), [(3, 975.9), (94, 959.7), (185, 943.9)], ids=["near", "mean", "far"]
)
def test_half_width_of_the_disc(day: int, arcseconds: float) -> None:
    """Semidiameter at perihelion, mean distance and aphelion.

    Source: Astronomical Almanac, section C, 16' 15.9" and 15' 43.9" (from memory).
    """
    assert 3600.0 * float(sun_half_width(day)) == pytest.approx(arcseconds, abs=0.8)


def covered(
    height: float, altitude: float, turn: float, half: float, out: float
) -> NDArray[np.float64]:
    """Return the share of the sun's disc that a level edge at height 0 hides, by rays to it.

    The eye is on the wall's face, `height` m from the edge's level; the edge is `out` m before it.
    """
    alt, az = np.radians(altitude), np.radians(turn)
    sun = np.array([np.cos(alt) * np.sin(az), np.cos(alt) * np.cos(az), np.sin(alt)])
    aside = np.array([np.cos(az), -np.sin(az), 0.0])
    above = np.cross(sun, aside)
    r, t = np.meshgrid(np.sqrt((np.arange(40) + 0.5) / 40), np.linspace(0, 2 * np.pi, 61)[:-1])
    rays = (
        sun
        + np.tan(np.radians(half)) * (r * np.cos(t))[..., None] * aside
        + np.tan(np.radians(half)) * (r * np.sin(t))[..., None] * above
    )
    at_edge = height + rays[..., 2] / rays[..., 1] * out
    return np.asarray((at_edge > 0.0).mean())


@pytest.mark.parametrize("altitude", [12.0, 35.0, 62.0])
@pytest.mark.parametrize("turn", [-55.0, 0.0, 40.0])
def test_blur_is_what_rays_to_the_disc_find(altitude: float, turn: float) -> None:
    """No share of the disc is hidden below the blur, half at the mark, all above it.

    Source: rays from a point of the wall to the disc, without any formula of the profile angle.
    """
    half, out = 0.2666, 1.1
    edge = shade_edge(
        altitude, 180.0 + turn, wall_azimuth=180.0, edges=[(out, 0.0)], half_width=half
    )
    low, mark, high = (float(x) for x in (edge.lowest, edge.height, edge.highest))
    fine = 0.01 * (high - low)
    assert covered(low - fine, altitude, turn, half, out) == 0.0
    assert covered(low + 5 * fine, altitude, turn, half, out) > 0.0
    assert covered(mark, altitude, turn, half, out) == pytest.approx(0.5, abs=0.02)
    assert covered(high - 5 * fine, altitude, turn, half, out) < 1.0
    assert covered(high + fine, altitude, turn, half, out) == 1.0


@pytest.mark.parametrize("latitude", [52.0, -38.0])
def test_marks_stand_where_the_section_draws_the_shade(latitude: float) -> None:
    """The marks of the year against the story pole of the section, at both sides of the equator."""
    home = drawn(latitude=latitude, faces=180.0 if latitude > 0.0 else 0.0)
    day = date(2022, 3, 1)
    (mark,) = (m for m in made(home, [day]).marks if m.when == "noon")
    view = section_view(home, "house", day=day)
    lowest = [
        y - abs(x) * np.tan(np.radians(view.profile_angle or 0.0))
        for x, y in eave_outline(view.section.roof)
    ]
    assert mark.above_floor_m == pytest.approx(min(lowest), abs=1e-3)
    assert mark.below_soffit_m + mark.above_floor_m == pytest.approx(marked_wall(home).eave.soffit)
