"""Noon sun in a wall section against measured and tabulated houses.

Altitude at noon = 90 - latitude + declination; at noon an equator-facing wall's
profile angle is the altitude.
"""

from __future__ import annotations

import pytest

from noonmark.shape import (
    Opening,
    RoofTriangle,
    WallSection,
    floor_reach,
    heel_for_soffit,
    shade_line,
)

FOOT = 0.3048


def wall(projection: float, head: float) -> WallSection:
    """A thin wall, so that lengths count from the glass."""
    heel = heel_for_soffit(2.6, pitch=0.5, projection=projection, plate=2.5, chord_depth=0.09)
    return WallSection(
        roof=RoofTriangle(9.0, 0.5, projection, heel, 2.5, 0.09),
        wall_thickness=0.0,
        floor_thickness=0.1,
        ground=-0.2,
        ceiling=2.5,
        room_depth=9.0,
        ceiling_insulation=0.3,
        window=Opening(sill=0.0, head=head),
    )


def test_floor_reach_of_a_logged_house() -> None:
    """40.0 N, no eave, head 6 ft 8 in: 21 December noon (26.55 deg) reaches 13.3 ft.

    Source: geometry logged by the house's owner, from the glass.
    """
    reach = floor_reach(wall(0.0, 80 / 12 * FOOT), 26.55)
    assert reach / FOOT == pytest.approx(13.3, abs=0.05)


@pytest.mark.parametrize(
    ("declination", "feet"),
    [(-23.45, 2.0), (-0.4, 4.9), (23.45, 12.7)],
    ids=["21 Dec", "20 Mar", "21 Jun"],
)
def test_shade_under_a_five_foot_eave_at_45_north(declination: float, feet: float) -> None:
    """Shade line below the eave's edge at noon, 45 N.

    Source: builder's table of noon shade, given to a tenth of a foot.
    """
    section = wall(5 * FOOT, 2.0)
    below = section.soffit - shade_line(section, 90 - 45 + declination)
    assert below / FOOT == pytest.approx(feet, abs=0.1)
