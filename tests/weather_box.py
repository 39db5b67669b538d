"""The light and the heavy test box in Denver's typical year, with the product's own defaults.

Sizes, windows and thermostats: test procedure of ANSI/ASHRAE Standard 140, 2020
edition (from memory). Films, sky, glass by angle and where the sun lands are
those every house gets; nothing is tuned.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from box import AIR_CAPACITY, AIR_HEAT, AREAS, GROUND, INFILTRATION, LAYERS, make_zone
from noonmark.balance.enclosure import Year, run_year
from noonmark.climate.tmy3 import read_tmy3
from noonmark.climate.year import HOURS
from noonmark.design.derived import WallFace
from noonmark.design.model import Place, Side
from noonmark.envelope.modes import massless_element, wall_modes
from noonmark.glazing.optics import pane_with_transmittance
from noonmark.glazing.unit import GLASS_EMISSIVITY, Glazing, plain_glazing
from noonmark.inside.box import Box
from noonmark.shading.plates import Opening
from noonmark.study.elements import Part, ground_part, outdoor_part
from noonmark.study.landing import Source, land, lit_parts
from noonmark.study.site import Site
from noonmark.study.sunny import EaveOver, LetIn, WallSun
from weather_samples import denver_file

FloatArray = NDArray[np.float64]

ABSORPTANCE = 0.6
HOUR = np.arange(HOURS) % 24
LENGTHS = {180.0: 8.0, 0.0: 8.0, 90.0: 6.0, 270.0: 6.0}
HEIGHT, SILL, HEAD, WIDTH = 2.7, 0.2, 2.2, 3.0
SOUTH = ((180.0, 0.5), (180.0, 4.5))
EAST_AND_WEST = ((90.0, 1.5), (270.0, 1.5))
NIGHT_FAN = 1703.16 / 129.6 / 0.5 * INFILTRATION
"""1703.16 m3/h from 18 to 7 h [W/K]."""


@dataclass(frozen=True)
class Case:
    """A row of the procedure: windows as (azimuth, left edge), eave over the south wall [m]."""

    heavy: bool = False
    windows: tuple[tuple[float, float], ...] = SOUTH
    eave: float = 0.0
    heat: str = "always"
    cool: str = "always"
    fan: bool = False


LIGHT = {
    "600": Case(),
    "610": Case(eave=1.0),
    "620": Case(windows=EAST_AND_WEST),
    "640": Case(heat="set back"),
    "650": Case(heat="never", cool="by day", fan=True),
    "600FF": Case(heat="never", cool="never"),
    "650FF": Case(heat="never", cool="never", fan=True),
}
CASES = LIGHT | {
    name.replace("6", "9", 1): Case(True, case.windows, case.eave, case.heat, case.cool, case.fan)
    for name, case in LIGHT.items()
}

HEAT_SET = {
    "always": np.full(HOURS, 20.0),
    "never": np.full(HOURS, -np.inf),
    # 10 C from 23 h, up to 20 C through the hour from 7 to 8
    "set back": np.where((HOUR >= 23) | (HOUR < 7), 10.0, np.where(HOUR == 7, 15.0, 20.0)),
}
COOL_SET = {
    "always": np.full(HOURS, 27.0),
    "never": np.full(HOURS, np.inf),
    "by day": np.where((HOUR >= 7) & (HOUR < 18), 27.0, np.inf),
}


@cache
def denver() -> Site:
    weather = read_tmy3(denver_file())
    weather.albedo[:] = 0.2
    place = Place(
        latitude=weather.latitude,
        longitude=weather.longitude,
        altitude=weather.altitude_m,
        time_zone="America/Denver",
        terrain="open",
    )
    return Site(place, weather)


@cache
def glazing() -> Glazing:
    # glass to glass 0.198 m2K/W, so that U is 2.10 with the procedure's films
    thickness = 0.003048
    gap = 1.0 / (0.198 - 2.0 * thickness)
    panes = [pane_with_transmittance(0.834)] * 2
    return plain_glazing(panes, pane_thickness=thickness, gap_conductance=[gap])


SIDES: dict[float, Side] = {180.0: "sunny", 90.0: "left", 0.0: "back", 270.0: "right"}


def wall_sun(azimuth: float, eave: float) -> WallSun:
    face = WallFace(
        "box", "wall", SIDES[azimuth], azimuth, LENGTHS[azimuth], HEIGHT, "", ABSORPTANCE, None, ()
    )
    over = EaveOver(HEIGHT, eave, 0.0, 0.0) if azimuth == 180.0 else None
    return WallSun(denver(), face, denver().plane(90.0, azimuth), over)


def _opaque(case: Case) -> list[Part]:
    weight = "heavy" if case.heavy else "light"
    glass = {a: sum(6.0 for azimuth, _ in case.windows if azimuth == a) for a in LENGTHS}
    parts = []
    for azimuth, length in LENGTHS.items():
        sun = wall_sun(azimuth, case.eave)
        whole = Opening(0.0, length, 0.0, HEIGHT)
        dome = sun.seen(whole).dome
        plane = sun.plane
        received = (plane.beam + plane.circumsolar) * sun.lit(whole)
        received = received + plane.dome * dome + plane.horizon + plane.ground
        parts.append(
            outdoor_part(
                denver(),
                kind="wall",
                side=f"{azimuth:g}",
                zone=0,
                area=length * HEIGHT - glass[azimuth],
                modes=wall_modes(LAYERS[f"{weight}_wall"]),
                facing="wall",
                sky_view=0.5 * dome,
                absorbed=ABSORPTANCE * received,
                keeps=ABSORPTANCE,
                place=sun.place,
            )
        )
    parts.append(
        outdoor_part(
            denver(),
            kind="roof",
            side="",
            zone=0,
            area=AREAS["roof"],
            modes=wall_modes(LAYERS["roof"]),
            facing="ceiling",
            sky_view=1.0,
            absorbed=ABSORPTANCE * denver().plane(0.0, 180.0).total,
            keeps=ABSORPTANCE,
            place="ceiling",
        )
    )
    parts.append(
        ground_part(
            zone=0,
            area=AREAS["floor"],
            modes=wall_modes(LAYERS[f"{weight}_floor"]),
            conductance=1e4,
            temperature=np.full(HOURS, GROUND),
            keeps=ABSORPTANCE,
        )
    )
    return parts


def _windows(case: Case) -> tuple[list[Part], list[LetIn]]:
    """Return the glass and the sun past it."""
    parts, entered = [], []
    unit, even, area = glazing(), glazing().from_outside.even, WIDTH * (HEAD - SILL)
    for azimuth, left in case.windows:
        sun = wall_sun(azimuth, case.eave)
        spot = Opening(left, WIDTH, SILL, HEAD - SILL)
        dome, plane, lit = sun.seen(spot).dome, sun.plane, sun.lit(spot)
        passed, outer, inner = sun.through(unit)
        direct = (plane.beam + plane.circumsolar) * lit
        rest = plane.dome * dome + plane.horizon + plane.ground
        glass = outdoor_part(
            denver(),
            kind="window",
            side=f"{azimuth:g}",
            zone=0,
            area=area,
            modes=massless_element(1.0 / unit.resistance),
            facing="wall",
            sky_view=0.5 * dome,
            absorbed=direct * outer + rest * even[1],
            inside_source=direct * inner + rest * even[2],
            place=sun.place,
            openings=(spot,),
            glass=unit.from_inside,
            emissivity=GLASS_EMISSIVITY,
        )
        parts.append(glass)
        beam, scattered = area * direct * passed, area * rest * even[0]
        entered.append(LetIn(sun, glass.faces[0], lit, beam, scattered))
    return parts, entered


def lit(case: Case) -> tuple[list[Part], list[Source]]:
    """Return the parts of a case with the sun inside, and where it came from."""
    glass, entered = _windows(case)
    parts = [*_opaque(case), *glass]
    sources = land([Box(8.0, 6.0, HEIGHT)], parts, entered)
    return lit_parts(parts, sources), sources


@cache
def marched(name: str) -> Year:
    case = CASES[name]
    parts, _ = lit(case)
    night = (HOUR >= 18) | (HOUR < 7)
    zone = make_zone(
        HOURS,
        capacity=AIR_CAPACITY,
        supply=INFILTRATION + (NIGHT_FAN * night if case.fan else 0.0),
        gain_air=80.0,
        gain_star=120.0,
        heat_set=HEAT_SET[case.heat],
        cool_set=COOL_SET[case.cool],
    )
    return run_year(
        [zone],
        [part.element for part in parts],
        outdoor_air=denver().weather.temp_air,
        outdoor_humidity=np.full(HOURS, 0.005),
        air_heat=AIR_HEAT,
    )


def heating(name: str) -> float:
    """Return the year's heating [MWh]."""
    return float(np.maximum(marched(name).plant, 0.0).sum() / 1e6)


def cooling(name: str) -> float:
    """Return the year's cooling [MWh]."""
    return float(np.maximum(-marched(name).plant, 0.0).sum() / 1e6)


def peak_heating(name: str) -> float:
    """Return the largest hourly mean of the heater [kW]."""
    return float(marched(name).plant.max() / 1e3)
