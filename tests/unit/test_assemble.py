"""The sample as zones and parts, by hand."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from eaves import sunlit_fraction
from noonmark.balance.drive import hourly_values
from noonmark.climate.year import HOURS
from noonmark.design.derived import wall_faces
from noonmark.study.assemble import Assembled, assemble
from noonmark.study.elements import Part
from noonmark.study.obstacles import Obstacles, eave_over
from noonmark.study.sunny import WallSun, placed_windows, siding_sun
from sample_house import golden, house, sample, with_house

HEAT = 965.8
"""0.9600 kg/m3 at 1876 m and 20 C, times 1006 J/kgK [J/m3K]."""

VOLUME = 100.0 * 9 * 0.3048
STEFAN_BOLTZMANN = 5.670374e-8


@cache
def ready() -> Assembled:
    """The sample with a roof that ends at its end walls, so that these stand in the open."""
    flush = with_house(eave=house().eave.model_copy(update={"ends": 0.0}))
    return assemble(flush, flush.buildings["house"], golden())


def parts(kind: str, side: str) -> list[Part]:
    return [part for part in ready().parts if (part.kind, part.side) == (kind, side)]


def sky_loss(part: Part) -> np.ndarray:
    """Return what a dark surface at air temperature gives to the sky [W/m2], less its sun."""
    film = hourly_values(part.element.outside_film, HOURS)
    return film * golden().weather.temp_air - hourly_values(part.element.outside_drive, HOURS)


def black_sky_loss() -> np.ndarray:
    air, sky = golden().weather.temp_air + 273.15, golden().sky + 273.15
    return np.asarray(0.9 * STEFAN_BOLTZMANN * (air**4 - sky**4))


def test_air_of_the_zone() -> None:
    (zone,) = ready().zones
    assert zone.air_mass == pytest.approx(0.9600 * VOLUME, rel=1e-3)
    assert zone.air_capacity == pytest.approx(1e6 + HEAT * VOLUME, rel=1e-3)
    # 60 cfm are 0.028317 m3/s; the exchanger keeps 0.7 of their heat
    assert zone.supply == pytest.approx(0.028317 * HEAT, rel=1e-3)
    assert zone.recovery == 0.7
    # six changes an hour
    assert zone.opened.base == pytest.approx(6.0 * VOLUME * HEAT / 3600.0, rel=1e-3)
    assert zone.opened.above == 24.0


def test_leaks_of_the_zone() -> None:
    (zone,) = ready().zones
    # 1.5 changes are 0.1143 m3/s at 50 Pa, 0.022134 at 4 Pa; sqrt(0.96 / 8) of it in m2: 76.67 cm2
    assert zone.leak_scale == pytest.approx(0.07667 * HEAT, rel=2e-3)
    assert zone.leak_stack == pytest.approx(0.000145)
    # wind measured at 2 m over open country is 5^0.14 = 1.2527 times as strong at 10 m
    wind = 1.2527 * golden().weather.wind_speed
    np.testing.assert_allclose(hourly_values(zone.leak_wind, HOURS), 0.000246 * wind**2, rtol=1e-3)


def test_a_wall_sees_half_the_sky_and_the_roof_all() -> None:
    night = golden().sun.up_fraction == 0.0
    night &= golden().weather.dhi == 0.0
    (roof,), (east,), (south,) = parts("roof", ""), parts("wall", "E"), parts("wall", "S")
    lost = black_sky_loss()[night]
    np.testing.assert_allclose(sky_loss(roof)[night], lost, rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(sky_loss(east)[night], 0.5 * lost, rtol=1e-6, atol=1e-6)
    share = sky_loss(south)[night] / lost
    assert share == pytest.approx(share[0], rel=1e-6)
    assert 0.2 < share[0] < 0.42  # under the eave


@pytest.mark.parametrize(
    ("kind", "side", "tilt", "azimuth", "absorptance", "sky"),
    [("wall", "E", 90.0, 90.0, 0.35, 0.5), ("roof", "", 0.0, 180.0, 0.7, 1.0)],
)
def test_sun_on_siding_and_roof(
    kind: str, side: str, tilt: float, azimuth: float, absorptance: float, sky: float
) -> None:
    (part,) = parts(kind, side)
    taken = sky * black_sky_loss() - sky_loss(part)
    light = golden().plane(tilt, azimuth).total
    np.testing.assert_allclose(taken, absorptance * light, rtol=1e-6, atol=1e-6)


def test_siding_between_the_windows_is_lit_as_its_own_patches_are() -> None:
    """The south wall cut into patches of 0.1 m, those in a window left out."""
    face = next(face for face in wall_faces(house()) if face.side == "sunny")
    eave = eave_over(sample(), house(), face)
    assert eave is not None
    sun = WallSun(golden(), Obstacles(face, eave), golden().plane(90.0, 180.0))
    received, sky = siding_sun(sun, placed_windows(sun))
    # four windows, five equal spaces of (12.5 - 3 x 1.8288 - 1.2192) / 5 = 1.15888 m
    sizes = [(1.8288, 0.6096)] * 3 + [(1.2192, 0.762)]
    windows, left = [], 0.0
    for width, sill in sizes:
        left += 1.15888
        windows.append((left, left + width, sill, 2.1844))
        left += width
    hours = np.flatnonzero(sun.plane.beam > 200.0)[::150]
    lit, total = np.zeros(hours.size), 0.0
    for x in np.arange(0.0, 12.5, 0.1):
        for y in np.arange(0.0, 2.7, 0.1):
            if any(a < x + 0.05 < b and low < y + 0.05 < top for a, b, low, top in windows):
                continue
            lit += sunlit_fraction(
                golden().sun.altitude[hours],
                golden().sun.azimuth[hours],
                wall_azimuth=180.0,
                width=0.1,
                height=0.1,
                gap=2.7432 - y - 0.1,
                eave_projection=0.762,
                left_extension=eave.left_end + x,
                right_extension=eave.right_end + 12.5 - x - 0.1,
            )
            total += 1.0
    plane = sun.plane
    direct = received - plane.dome * sky - plane.horizon - plane.ground
    share = direct[hours] / (plane.beam + plane.circumsolar)[hours]
    assert np.ptp(share) > 0.3
    assert share == pytest.approx(lit / total, abs=0.02)


def test_glass_and_frame_of_the_windows() -> None:
    glass = [part for part in parts("window", "S") if part.faces[0].loses]
    frames = [part for part in parts("window", "S") if not part.faces[0].loses]
    # three of 1.8288 x 1.5748 m with a frame of 0.09 m around: 1.6488 x 1.3948 m of glass each
    assert glass[0].element.area == pytest.approx(3 * 1.6488 * 1.3948)
    assert frames[0].element.area == pytest.approx(3 * (1.8288 * 1.5748 - 1.6488 * 1.3948))
    # wood 1.8 and 0.06 W/mK of spacer on 6.0872 m over 0.5802 m2: 2.4295, without films 4.139
    assert frames[0].element.modes.conductance[0, 0] == pytest.approx(4.139, rel=1e-3)
    # 1.457 W/m2K less 0.04 and 0.13 m2K/W of films
    assert glass[0].element.modes.conductance[0, 0] == pytest.approx(1.0 / (1 / 1.457 - 0.17))


def test_sun_on_a_frame_without_eave() -> None:
    (frame,) = (part for part in parts("window", "E") if not part.faces[0].loses)
    taken = 0.5 * black_sky_loss() - sky_loss(frame)
    np.testing.assert_allclose(taken, 0.5 * golden().plane(90.0, 90.0).total, rtol=1e-6, atol=1e-6)
