"""Where a beam lands, against rays followed one by one; and nothing of it is missing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonmark.design.derived import WallFace
from noonmark.envelope.modes import massless_element
from noonmark.glazing.unit import Side as GlassSide
from noonmark.inside.box import PLACES, WALLS, Box
from noonmark.shading.plates import Opening
from noonmark.study.elements import Part, outdoor_part
from noonmark.study.landing import land
from noonmark.study.site import Site
from noonmark.study.sunny import LetIn, WallSun
from noonmark.sun.irradiance import PlaneIrradiance
from sample_house import golden

BOX = Box(7.0, 5.0, 2.6, 1.5, -4.0)
AZIMUTH = {"sunny": 170.0, "right": 260.0, "back": 350.0, "left": 80.0}
"""A house that looks to 170 deg, told by the compass."""
BLACK = GlassSide(np.zeros(91), np.ones(91), np.zeros(91))


def room(openings: dict[str, tuple[Opening, ...]]) -> list[Part]:
    """Return a room whose every surface takes up all that meets it."""
    parts = []
    for place in PLACES:
        plate = BOX.surface(place)
        spans = sorted(high - low for low, high in (plate.x, plate.y, plate.w))
        holes = openings.get(place, ())
        area = spans[1] * spans[2] - sum(hole.area for hole in holes)
        parts.append(part(place, area))
        if holes:
            parts.append(part(place, sum(hole.area for hole in holes), holes))
    return parts


def part(place: str, area: float, openings: tuple[Opening, ...] = ()) -> Part:
    nothing = np.zeros(8760)
    return outdoor_part(
        golden(), kind="window" if openings else "wall", side=place, zone=0, area=area,
        modes=massless_element(1.0), facing="wall", sky_view=0.5, absorbed=nothing,
        keeps=0.0 if openings else 1.0, place=place, openings=openings,
        glass=BLACK if openings else None,
    )  # fmt: skip


def wall_sun(side: str, thickness: float = 0.0) -> WallSun:
    site: Site = golden()
    nothing = np.zeros(8760)
    plane = PlaneIrradiance(*[nothing] * 5)
    face = WallFace("z", side, side, AZIMUTH[side], BOX.wall_length(side), 2.6, "", 0.5, None, ())  # type: ignore[arg-type]
    return WallSun(site, face, plane, None, thickness)


HOLES: dict[str, tuple[Opening, ...]] = {
    "sunny": (Opening(0.6, 2.0, 0.3, 1.9), Opening(4.5, 1.0, 0.9, 1.2)),
    "right": (Opening(1.0, 2.5, 0.8, 1.3),),
    "back": (Opening(0.5, 1.5, 0.2, 2.0),),
    "left": (Opening(2.2, 1.8, 0.0, 2.1),),
}


def followed(side: str, opening: Opening, altitude: float, azimuth: float) -> dict[str, float]:
    """Follow a grid of rays through an opening, in east, north, up about the room's middle."""
    alt, azi = np.radians([altitude, azimuth])
    way = -np.array([np.cos(alt) * np.sin(azi), np.cos(alt) * np.cos(azi), np.sin(alt)])
    axes = {}
    for wall, angle in AZIMUTH.items():
        facing = np.radians(angle)
        out = np.array([np.sin(facing), np.cos(facing), 0.0])
        right = np.array([np.cos(facing), -np.sin(facing), 0.0])
        half = 0.5 * (BOX.width if wall in ("sunny", "back") else BOX.length)
        axes[wall] = out, right, half, 0.5 * BOX.wall_length(wall)
    out, right, half, reach = axes[side]
    steps = (np.arange(80) + 0.5) / 80
    along = opening.left + opening.width * steps[:, None, None] - reach
    up = opening.bottom + opening.height * steps[None, :, None]
    starts = (half * out + along * right + up * np.array([0.0, 0.0, 1.0])).reshape(-1, 3)
    found: dict[str, float] = {}
    for start in starts:
        times = {"floor": -start[2] / way[2]}
        for wall, (out, _, half, _) in axes.items():
            if wall != side and way @ out > 1e-12:
                times[wall] = (half - start @ out) / (way @ out)
        place = min(times, key=lambda name: times[name])
        end = start + times[place] * way
        for hole in HOLES.get(place, ()):
            _, right, _, reach = axes[place]
            x, y = end @ right + reach - hole.left, end[2] - hole.bottom
            if 0.0 < x < hole.width and 0.0 < y < hole.height:
                place = f"glass {place}"
                break
        found[place] = found.get(place, 0.0) + 1.0 / len(starts)
    return found


@pytest.mark.parametrize("side", WALLS)
def test_beam_lands_where_rays_do(side: str) -> None:
    parts = room(HOLES)
    sun = wall_sun(side)
    before = sun.slopes[0]
    year = golden().sun
    low = before & (year.altitude > 2.0)
    hours = np.flatnonzero(low)[:: max(1, int(low.sum()) // 10)]
    for number, opening in enumerate(HOLES[side]):
        # only one of the openings lets light in
        glass = next(p.faces[0] for p in parts if p.kind == "window" and p.side == side)
        alone = replace(glass, openings=(opening,), area=opening.area)
        own = [replace(p, faces=(alone,)) if p.faces[0] is glass else p for p in parts]
        beam = np.zeros(8760)
        beam[hours] = 100.0
        light = LetIn(sun, alone, np.ones(8760), beam, np.zeros(8760))
        (source,) = land([BOX], own, [light])
        for hour in hours:
            expected = followed(side, opening, year.altitude[hour], year.azimuth[hour])
            for index, p in enumerate(own):
                name = f"glass {p.side}" if p.kind == "window" else p.side
                got = source.at(index)[hour] * p.element.area / 100.0
                if p.faces[0] is alone:
                    assert got == 0.0
                    continue
                # an area may be off by the rim of the grid
                assert got == pytest.approx(expected.get(name, 0.0), abs=0.03), (number, hour, name)


def test_a_thick_wall_keeps_light_on_its_reveal() -> None:
    opening = Opening(1.0, 2.0, 0.5, 1.5)
    parts = room({"sunny": (opening,)})
    beam = np.where(wall_sun("sunny").slopes[0], 1.0, 0.0)
    glass = next(p.faces[0] for p in parts if p.kind == "window")
    taken = {}
    for thickness in (0.0, 0.4):
        sun = wall_sun("sunny", thickness)
        light = LetIn(sun, glass, np.ones(8760), beam, np.zeros(8760))
        (source,) = land([BOX], parts, [light])
        taken[thickness] = [source.at(i) * p.element.area for i, p in enumerate(parts)]
        np.testing.assert_allclose(sum(taken[thickness]), beam, atol=1e-9)
    wall = next(i for i, p in enumerate(parts) if p.kind == "wall" and p.side == "sunny")
    assert taken[0.0][wall].max() < 1e-12
    before, sideways, rise = wall_sun("sunny").slopes
    through = np.maximum(0.0, 1 - 0.4 * np.abs(sideways) / 2) * np.maximum(
        0.0, 1 - 0.4 * rise / 1.5
    )
    np.testing.assert_allclose(taken[0.4][wall][before], 1.0 - through, atol=1e-9)


def test_walls_without_a_place_send_their_beam_to_the_floor() -> None:
    parts = room({})
    bay = part("", 2.0, (Opening(0.0, 2.0, 0.5, 1.0),))
    beam = np.where(wall_sun("sunny").slopes[0], 1.0, 0.0)
    light = LetIn(wall_sun("sunny"), bay.faces[0], np.ones(8760), beam, np.ones(8760))
    (source,) = land([BOX], [*parts, bay], [light])
    floor = source.at(0) * parts[0].element.area
    assert floor[beam > 0.0].min() > 1.0
    taken = sum(source.at(i) * p.element.area for i, p in enumerate([*parts, bay]))
    np.testing.assert_allclose(taken, beam + 1.0)
