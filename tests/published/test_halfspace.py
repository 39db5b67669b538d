"""A slab on a half-space of ground: exact, beside the published value and EN ISO 13370."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import dblquad

from halfspace import flow_past, point_flow, slab_flow
from noonmark.envelope.ground import SURFACE_INSIDE, SURFACE_OUTSIDE, Soil, slab_u_value

pytestmark = pytest.mark.validation

Record = Callable[..., None]
SIDE, WALL, CONDUCTIVITY, DIFFERENCE = 12.0, 0.24, 1.9, 20.0
PUBLISHED = 2432.597
SOURCE = "IEA ground-coupling cases, NREL/TP-550-43388 (2008), GC10a; Delsante et al. 1983"


def exact(points: int = 40) -> float:
    return slab_flow(
        length=SIDE,
        width=SIDE,
        wall=WALL,
        conductivity=CONDUCTIVITY,
        difference=DIFFERENCE,
        points=points,
    )


def test_exact_slab(record: Record) -> None:
    record(
        "GC10a", "building cases", SOURCE, "from memory, computed", expected=PUBLISHED, got=exact(),
        tol=0.001 * PUBLISHED,
    )  # fmt: skip


def test_the_standard_slab_beside_it(record: Record) -> None:
    """EN ISO 13370 without its surface resistances: the ground starts at the floor's surface."""
    area, perimeter = SIDE * SIDE, 4.0 * SIDE
    u_value = slab_u_value(
        area=area,
        perimeter=perimeter,
        wall_thickness=WALL,
        floor_resistance=-SURFACE_INSIDE - SURFACE_OUTSIDE,
        soil=Soil(CONDUCTIVITY, 2e6),
    )
    record(
        "GC10a.EN_ISO_13370_over_exact", "building cases", SOURCE, "computed", low=0.97, high=1.03,
        got=u_value * area * DIFFERENCE / exact(), informs=True,
    )  # fmt: skip


def test_the_quadrature_has_converged() -> None:
    """The only sum in it, over the fall under the wall: 18, 1.5, 0.11, 0.008, 0.0002 W off."""
    misses = [abs(exact(points) - exact(200)) for points in (2, 4, 8, 16, 40)]
    assert misses[0] < 20.0
    assert all(after < 0.5 * before for before, after in pairwise(misses))
    assert misses[-1] < 1e-3


def test_closed_form_over_the_slab_against_a_sum_of_points() -> None:
    gap, length, width = 0.5, 7.0, 4.0
    by_points, _ = dblquad(
        lambda y, x: point_flow(x, y, length=length, width=width, gap=gap), 0.0, length, 0.0, width
    )
    assert flow_past(length, width, gap) == pytest.approx(by_points, rel=1e-7)


def test_flow_at_a_point_against_the_surface_integral() -> None:
    """1 / 2 pi r^3 over everything beyond the rectangle, in rings of a polar sum by hand."""
    x, y, length, width, gap = 2.0, 1.0, 7.0, 4.0, 0.5
    angles = (np.arange(400_000) + 0.5) / 400_000 * 2.0 * np.pi
    c, s = np.cos(angles), np.sin(angles)
    with np.errstate(divide="ignore"):
        across = np.where(c > 0.0, (length - x + gap) / c, -(x + gap) / c)
        along = np.where(s > 0.0, (width - y + gap) / s, -(y + gap) / s)
    reach = np.minimum(across, along)  # what lies beyond adds 1 / reach
    by_angle = float(np.mean(1.0 / reach))
    got = point_flow(x, y, length=length, width=width, gap=gap)
    assert got == pytest.approx(by_angle, rel=1e-6)


def strip_flow(width: float, wall: float) -> float:
    """Return the flow of an endless strip per metre, W/mK and K, by hand.

    At a distance s beyond the strip's edge everything is as warm: 2 / pi ln((B + s) / s), whose
    mean over the wall is found from the integral a ln(a) - a of the logarithm.
    """

    def integral(a: float) -> float:
        return a * math.log(a) - a

    mean = (integral(width + wall) - integral(width) - integral(wall)) / wall
    return 2.0 / math.pi * mean


def test_a_long_slab_is_a_strip() -> None:
    long, longer = (
        slab_flow(length=length, width=6.0, wall=0.3, conductivity=1.0, difference=1.0)
        for length in (2000.0, 4000.0)
    )
    assert (longer - long) / 2000.0 == pytest.approx(strip_flow(6.0, 0.3), rel=1e-4)


def test_where_the_standard_differs() -> None:
    """Its short formula stands 2.0 % above the strip, and the strip 1.2 % above the square."""
    ratio = 2.0 * SIDE * SIDE / (4.0 * SIDE)  # characteristic dimension
    strip = CONDUCTIVITY * strip_flow(ratio, WALL) / ratio
    square = exact() / (SIDE * SIDE * DIFFERENCE)
    short = 2.0 * CONDUCTIVITY / (math.pi * ratio + WALL) * math.log(math.pi * ratio / WALL + 1.0)
    assert short / strip == pytest.approx(1.020, abs=0.001)
    assert strip / square == pytest.approx(1.012, abs=0.001)


def test_mirrored_and_scaled() -> None:
    one = slab_flow(length=8.0, width=5.0, wall=0.4, conductivity=2.0, difference=10.0)
    turned = slab_flow(length=5.0, width=8.0, wall=0.4, conductivity=2.0, difference=10.0)
    large = slab_flow(length=16.0, width=10.0, wall=0.8, conductivity=2.0, difference=10.0)
    assert turned == pytest.approx(one, rel=1e-12)
    assert large == pytest.approx(2.0 * one, rel=1e-9)
