"""Eave shadows against rays, crossed strings and noon sums."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from eaves import dome_view_factor, sunlit_fraction, under_eave
from noonmark.shading import shade
from noonmark.shading.plates import upright_plate
from noonmark.sun.angles import hour_angle_position

pytestmark = pytest.mark.validation

Record = Callable[..., None]
TOPIC = "shading"


@pytest.mark.parametrize(
    ("day", "altitude", "shadow_m", "shaded"),
    [
        ("21 Jun", 73.65, 3.409, 1.0),
        ("1 Aug", 68.1, 2.488, 0.994),
        ("equinox", 50.2, 1.200, 0.350),
        ("21 Oct", 39.5, 0.824, 0.162),
        ("21 Dec", 26.75, 0.504, 0.002),
    ],
)
def test_noon_under_a_wide_overhang(
    record: Record, day: str, altitude: float, shadow_m: float, shaded: float
) -> None:
    # south window 2.0 m high, its head 0.5 m below a plate 1.0 m deep
    lit = sunlit_fraction(
        altitude, 180.0, wall_azimuth=180.0, width=3.0, height=2.0, gap=0.5, eave_projection=1.0
    )
    record(
        f"overhang_noon_case610.{day}.shaded",
        TOPIC,
        "noon altitude at 39.8 N; depth times tangent",
        "computed",
        expected=shaded,
        got=1.0 - float(lit),
        tol=0.002,
    )
    # against the plate itself, so that the shaded part of a tall strip is the shadow's length
    tall = sunlit_fraction(
        altitude, 180.0, wall_azimuth=180.0, width=3.0, height=10.0, gap=0.0, eave_projection=1.0
    )
    record(
        f"overhang_noon_case610.{day}.shadow_m",
        TOPIC,
        "noon altitude at 39.8 N; depth times tangent",
        "computed",
        expected=shadow_m,
        got=10.0 * (1.0 - float(tall)),
        tol=0.005,
    )


def test_noon_altitudes_are_those_of_the_dates(record: Record) -> None:
    for day, declination, altitude in (("21 Jun", 23.45, 73.65), ("equinox", 0.0, 50.2)):
        got, _ = hour_angle_position(39.8, declination, 0.0)
        record(
            f"overhang_noon_case610.{day}.altitude",
            TOPIC,
            "90 - latitude + declination",
            "computed",
            expected=altitude,
            got=float(got),
            tol=0.01,
        )


@pytest.mark.parametrize(
    ("alt", "gamma", "long", "w3m"),
    [
        (30, 0, 0.9615, 0.9615),
        (30, 30, 0.9165, 0.9306),
        (45, 0, 0.75, 0.75),
        (45, 45, 0.5430, 0.6461),
        (60, 20, 0.3285, 0.3803),
        (20, 60, 0.8860, 0.9415),
    ],
)
def test_sunlit_fractions(
    record: Record, alt: float, gamma: float, long: float, w3m: float
) -> None:
    # window 3 x 2 m, overhang 1 m deep, 0.5 m above the head
    for name, expected, end in (("long", long, np.inf), ("w3m", w3m, 0.0)):
        got = sunlit_fraction(
            alt,
            180.0 + gamma,
            wall_azimuth=180.0,
            width=3.0,
            height=2.0,
            gap=0.5,
            eave_projection=1.0,
            left_extension=end,
            right_extension=end,
        )
        record(
            f"overhang_sunlit_fractions.{alt}_{gamma}.{name}",
            TOPIC,
            "ray test on a grid of 2000 x 2000",
            "computed",
            expected=expected,
            got=float(got),
            tol=0.002,
        )


@pytest.mark.parametrize(
    ("alt", "gamma", "lit"),
    [(30, 0, 0.9615), (30, 30, 0.7401), (45, 0, 0.75), (45, 45, 0.3619), (60, 20, 0.2886),
     (20, 60, 0.3743)],
)  # fmt: skip
def test_sunlit_fraction_between_fins(record: Record, alt: float, gamma: float, lit: float) -> None:
    # fins 1 m deep at both edges, from the plate, 0.5 m above the head, to 0.2 m below the sill
    opening, plates = under_eave(
        width=3.0, height=2.0, gap=0.5, eave_projection=1.0, left_extension=0.0, right_extension=0.0
    )
    fins = [upright_plate(place=x, projection=1.0, bottom=-2.2, top=0.5) for x in (0.0, 3.0)]
    got = shade.sunlit_fraction(
        alt, 180.0 + gamma, wall_azimuth=180.0, opening=opening, plates=[*plates, *fins]
    )
    record(
        f"overhang_sunlit_fractions.{alt}_{gamma}.w3m_fins",
        TOPIC,
        "ray test on a grid of 2000 x 2000",
        "computed",
        expected=lit,
        got=float(got),
        tol=0.002,
    )


def test_sky_view_by_crossed_strings(record: Record) -> None:
    got = dome_view_factor(width=3.0, height=2.0, gap=0.5, eave_projection=1.0)
    for name, expected, value in (
        ("F_window_sky", 0.39364, got),
        ("F_window_overhang", 0.10636, 0.5 - got),
    ):
        record(
            f"overhang_sky_view.{name}",
            TOPIC,
            "crossed-strings rule",
            "computed",
            expected=expected,
            got=value,
            tol=0.0005,
        )
