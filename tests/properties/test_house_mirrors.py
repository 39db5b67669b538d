"""A house seen in a mirror, and on the other half of the earth, gets the same sun.

Only what drives the year can mirror: a house stores heat, so morning sun and
evening sun are worth different things, and its loads do not.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from any_outdoors import any_outdoors, mirrored_outdoors, mirrored_place
from designs import design
from noonmark.balance.drive import hourly_values
from noonmark.climate.year import HOURS
from noonmark.design import Building
from noonmark.design.derived import wall_faces
from noonmark.design.model import Side
from noonmark.place.site import equator_azimuth
from noonmark.study.assemble import Assembled, assemble
from noonmark.study.site import Site
from noonmark.sun.angles import (
    extraterrestrial_normal,
    hour_angle_position,
    spencer_declination,
)
from noonmark.sun.year import SunYear
from sample_house import golden, house, sample
from sunspace import sunspace

Hourly = NDArray[np.float64]
OTHER: dict[Side, Side] = {"left": "right", "right": "left"}
LATITUDE = 39.73


def by_day_reversed(values: Hourly) -> Hourly:
    """Return the hours of each day last to first."""
    return values.reshape(365, 24)[:, ::-1].reshape(-1)


def even(values: Hourly) -> Hourly:
    return 0.5 * (values + by_day_reversed(values))


@cache
def even_sun() -> SunYear:
    """Return a sun that is highest at twelve every day of the year."""
    day = np.arange(HOURS) // 24 + 1.0
    hour_angle = 15.0 * (np.arange(HOURS) % 24 + 0.5 - 12.0)
    altitude, azimuth = hour_angle_position(LATITUDE, spencer_declination(day), hour_angle)
    noon = np.full(365, 12.0)
    up = (altitude > 0.0).astype(float)
    return SunYear(altitude, azimuth, up, extraterrestrial_normal(day), noon - 6, noon + 6, noon)


def site_with(sun: SunYear) -> Site:
    """Return Golden's year made even about noon, under the sun given; the wind follows the sun."""
    weather = golden().weather
    names = ("temp_air", "dew_point", "pressure", "ghi", "dni", "dhi", "wind_speed", "albedo")
    made: dict[str, Any] = {name: even(getattr(weather, name)) for name in names}
    cloud = np.full(HOURS, 0.3)
    site = Site(
        sample().place, replace(weather, cloud_cover=cloud, wind_direction=sun.azimuth, **made)
    )
    site.__dict__["sun"] = sun  # where the cached property keeps it
    return site


def mirrored(building: Building) -> Building:
    windows = [
        window.model_copy(update={"side": OTHER.get(window.side, window.side)})
        if window.side
        else window
        for window in reversed(building.window)  # they stand in a wall in this order
    ]
    return building.model_copy(update={"window": windows})


def by_hour(value: object) -> Hourly:
    return hourly_values(value, HOURS)  # type: ignore[arg-type]


def parts_of(ready: Assembled) -> list[tuple[str, str, float, Hourly, Hourly]]:
    """Return kind, side, area, sun at the outside and at the inside surface of each part."""
    return [
        (part.kind, part.side, item.area, by_hour(item.outside_drive), by_hour(item.inside_source))
        for part in ready.parts
        for item in (part.element,)
    ]


def same(
    one: list[tuple[str, str, float, Hourly, Hourly]],
    other: list[tuple[str, str, float, Hourly, Hourly]],
    names: dict[str, str],
    *,
    backwards: bool,
) -> None:
    """Assert that each part has its like: `names` turns the compass points of `one`."""

    def turned(values: Hourly) -> Hourly:
        return by_day_reversed(values) if backwards else values

    left = list(other)
    for kind, side, area, drive, source in one:
        for index, (kind2, side2, area2, drive2, source2) in enumerate(left):
            if (
                (kind, names.get(side, side)) == (kind2, side2)
                and area == pytest.approx(area2)
                and np.allclose(turned(drive), drive2, atol=1e-6)
                and np.allclose(turned(source), source2, atol=1e-6)
            ):
                del left[index]
                break
        else:
            raise AssertionError(f"{kind} {side} has no like")
    assert not left


def test_mirrored_house_gets_the_evenings_sun_in_the_morning() -> None:
    site = site_with(even_sun())
    own = assemble(sample(), house(), site)
    other = assemble(sample(), mirrored(house()), site)
    same(parts_of(own), parts_of(other), {"E": "W", "W": "E"}, backwards=True)
    for side, like in (("E", "W"), ("W", "E"), ("S", "S"), ("N", "N")):
        np.testing.assert_allclose(
            by_day_reversed(own.by_side[0][side]), other.by_side[0][like], atol=1e-6
        )
    assert own.by_side[0]["E"].sum() != pytest.approx(own.by_side[0]["W"].sum())


def test_mirrored_sunspace_passes_the_same_light_on() -> None:
    building = sunspace().buildings["house"]
    outer, inner = building.window
    assert inner.left is not None
    turned = inner.model_copy(update={"left": 12.5 - inner.left - inner.width})
    other_way = building.model_copy(update={"window": [outer, turned]})
    site = site_with(even_sun())
    own, other = (assemble(sunspace(), each, site) for each in (building, other_way))
    same(parts_of(own), parts_of(other), {"E": "W", "W": "E"}, backwards=True)
    for one, like in zip(own.solar, other.solar, strict=True):
        np.testing.assert_allclose(by_day_reversed(one), like, atol=1e-6)
    assert own.solar[0].sum() > 0.02 * own.solar[1].sum()


def test_house_in_the_south_looks_north_to_its_noon_sun() -> None:
    sun = even_sun()
    north = site_with(sun)
    south = site_with(replace(sun, azimuth=(180.0 - sun.azimuth) % 360.0))
    faces = equator_azimuth(-LATITUDE)
    assert faces == 0.0
    own = assemble(sample(), house(), north)
    # turned round, its left is west: mirrored, its east windows are east again
    turned = mirrored(house()).model_copy(update={"faces": faces})
    other = assemble(sample(), turned, south)
    same(parts_of(own), parts_of(other), {"S": "N", "N": "S"}, backwards=False)
    noon = np.arange(HOURS) % 24 == 11
    winter = np.arange(HOURS) < 24 * 31
    sunny, back = other.by_side[0]["N"], other.by_side[0]["S"]
    assert sunny[noon & winter].sum() > 5.0 * back[noon & winter].sum()


@pytest.mark.parametrize("seed", [1, 2, 3, 7])
def test_mirrored_outdoors_take_in_the_evening_what_they_took_in_the_morning(seed: int) -> None:
    """Trees, neighbours, canopies, awnings, slats and a skyline, by chance."""
    homestead = design(any_outdoors(seed)).homestead
    building = homestead.buildings["house"]
    lengths = {face.side: face.length for face in wall_faces(building) if face.side}
    other = mirrored(mirrored_outdoors(building, lengths))
    place = mirrored_place(homestead.place, building.faces)
    turned = homestead.model_copy(update={"place": place})
    site = site_with(even_sun())
    own, like = assemble(homestead, building, site), assemble(turned, other, site)
    same(parts_of(own), parts_of(like), {"E": "W", "W": "E"}, backwards=True)
    for side, beside in (("E", "W"), ("W", "E"), ("S", "S"), ("N", "N")):
        np.testing.assert_allclose(
            by_day_reversed(own.by_side[0][side]), like.by_side[0][beside], atol=1e-6
        )
    south = own.by_side[0]["S"]
    assert np.abs(south - by_day_reversed(south)).max() > 1.0  # uneven about noon
