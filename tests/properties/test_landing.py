"""Where a beam lands, against rays followed one by one; and nothing of it is missing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dark_rooms import AZIMUTH, beam_through, dark_part, dark_rooms, open_wall, wall_sun
from noonmark.design.model import SIDE_TURN, Side
from noonmark.inside.box import OPPOSITE, PLACES, Box
from noonmark.shading.plates import Opening
from noonmark.study.elements import Part
from noonmark.study.landing import Source, land, lit_parts
from sample_house import golden

BOX = Box(7.0, 5.0, 2.6, 1.5, -4.0)
HOLES: dict[tuple[int, str], tuple[Opening, ...]] = {
    (0, "sunny"): (Opening(0.6, 2.0, 0.3, 1.9), Opening(4.5, 1.0, 0.9, 1.2)),
    (0, "right"): (Opening(1.0, 2.5, 0.8, 1.3),),
    (0, "back"): (Opening(0.5, 1.5, 0.2, 2.0),),
    (0, "left"): (Opening(2.2, 1.8, 0.0, 2.1),),
}


def followed(side: Side, opening: Opening, altitude: float, azimuth: float) -> dict[str, float]:
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
        times: dict[str, float] = {"floor": -start[2] / way[2]}
        for wall, (out, _, half, _) in axes.items():
            if wall != side and way @ out > 1e-12:
                times[wall] = (half - start @ out) / (way @ out)
        place = min(times, key=lambda name: times[name])
        end = start + times[place] * way
        for hole in HOLES.get((0, place), ()):
            right, reach = axes[place][1], axes[place][3]  # type: ignore[index]
            x, y = end @ right + reach - hole.left, end[2] - hole.bottom
            if 0.0 < x < hole.width and 0.0 < y < hole.height:
                place = f"glass {place}"
                break
        found[place] = found.get(place, 0.0) + 1.0 / len(starts)
    return found


@pytest.mark.parametrize("side", SIDE_TURN)
def test_beam_lands_where_rays_do(side: Side) -> None:
    parts = dark_rooms([BOX], HOLES)
    sun, year = wall_sun(side, BOX.wall_length(side)), golden().sun
    low = sun.slopes[0] & (year.altitude > 2.0)
    hours = np.flatnonzero(low)[:: max(1, int(low.sum()) // 10)]
    glass = next(p.faces[0] for p in parts if p.kind == "window" and p.side == side)
    for number, opening in enumerate(HOLES[0, side]):
        # one of the openings lets light in, at a time
        alone = replace(glass, openings=(opening,), area=opening.area)
        own = [replace(p, faces=(alone,)) if p.faces[0] is glass else p for p in parts]
        (source,) = land([BOX], own, [beam_through(sun, alone)])
        for hour in hours:
            expected = followed(side, opening, year.altitude[hour], year.azimuth[hour])
            for index, part in enumerate(own):
                name = f"glass {part.side}" if part.kind == "window" else part.side
                got = source.at(index)[hour] * part.element.area
                if part.faces[0] is alone:
                    assert got == 0.0
                    continue
                # an area may be off by the rim of the grid
                assert got == pytest.approx(expected.get(name, 0.0), abs=0.03), (number, hour, name)


def test_a_thick_wall_keeps_light_on_its_reveal() -> None:
    opening = Opening(1.0, 2.0, 0.5, 1.5)
    parts = dark_rooms([BOX], {(0, "sunny"): (opening,)})
    glass = next(p.faces[0] for p in parts if p.kind == "window")
    wall = next(i for i, p in enumerate(parts) if p.kind == "wall" and p.side == "sunny")
    taken = {}
    for thickness in (0.0, 0.4):
        light = beam_through(wall_sun("sunny", 7.0, thickness), glass)
        (source,) = land([BOX], parts, [light])
        found = [source.at(i) * p.element.area for i, p in enumerate(parts)]
        np.testing.assert_allclose(sum(found), light.beam, atol=1e-9)
        # nothing thrown back reaches this wall, and yet it gets its own
        lit = lit_parts(parts, [source])[wall].element
        np.testing.assert_allclose(np.asarray(lit.inside_source) * lit.area, found[wall])
        taken[thickness] = found[wall]
    assert taken[0.0].max() < 1e-12
    before, sideways, rise = wall_sun("sunny", 7.0).slopes
    across = np.maximum(0.0, 1.0 - 0.4 * np.abs(sideways) / 2.0)
    through = across * np.maximum(0.0, 1.0 - 0.4 * rise / 1.5)
    np.testing.assert_allclose(taken[0.4][before], 1.0 - through, atol=1e-9)


def test_a_side_without_a_part_throws_all_back() -> None:
    window = {(0, "sunny"): (Opening(1.0, 2.0, 0.5, 1.5),)}
    parts = dark_rooms([BOX], window, without=[(0, "back"), (0, "left")])
    glass = next(p.faces[0] for p in parts if p.kind == "window")
    light = beam_through(wall_sun("sunny", 7.0), glass)
    (source,) = land([BOX], parts, [light])
    taken = sum(source.at(i) * p.element.area for i, p in enumerate(parts))
    np.testing.assert_allclose(taken, light.beam, atol=1e-9)


def test_walls_without_a_place_send_their_beam_to_the_floor() -> None:
    bay = dark_part(0, "", 2.0, (Opening(0.0, 2.0, 0.5, 1.0),))
    parts = [*dark_rooms([BOX], {}), bay]
    light = replace(beam_through(wall_sun("sunny", 7.0), bay.faces[0]), scattered=np.ones(8760))
    (source,) = land([BOX], parts, [light])
    floor = source.at(0) * parts[0].element.area
    assert floor[light.beam > 0.0].min() > 1.0
    taken = sum(source.at(i) * p.element.area for i, p in enumerate(parts))
    np.testing.assert_allclose(taken, light.beam + 1.0)


def on_walls(source: Source, parts: list[Part], place: str) -> np.ndarray:
    found = [
        source.at(i) * part.element.area
        for i, part in enumerate(parts)
        if part.kind == "wall" and part.faces[0].place == place
    ]
    return np.asarray(sum(found))


@pytest.mark.parametrize("side", ["back", "left", "right"])
def test_an_open_wall_between_two_rooms_is_no_wall(side: Side) -> None:
    """Beam through a hole as large as the wall lands where it would in one long room."""
    window = {(0, "sunny"): (Opening(1.5, 2.5, 0.4, 1.9),)}
    first = Box(7.0, 3.0, 2.6)
    second, whole = {
        "back": (Box(7.0, 4.0, 2.6, 0.0, 3.0), Box(7.0, 7.0, 2.6)),
        "left": (Box(5.0, 3.0, 2.6, -5.0), Box(12.0, 3.0, 2.6, -5.0)),
        "right": (Box(5.0, 3.0, 2.6, 7.0), Box(12.0, 3.0, 2.6)),
    }[side]
    moved = {(0, "sunny"): (whole.opening("sunny", first.window("sunny", window[0, "sunny"][0])),)}
    one = dark_rooms([whole], moved)
    two = dark_rooms([first, second], window, without=[(0, side), (1, OPPOSITE[side])])
    two.append(open_wall(first, second, side))
    beams = [
        beam_through(
            wall_sun("sunny", length), next(p.faces[0] for p in parts if p.kind == "window")
        )
        for parts, length in ((one, whole.length), (two, 7.0))
    ]
    (alone,) = land([whole], one, beams[:1])
    (split,) = land([first, second], two, beams[1:])
    before, sideways, rise = beams[0].sun.slopes
    # a grazing sun makes much of the millimetre
    hours = np.flatnonzero(before)[(np.abs(sideways) < 10.0) & (rise < 10.0)]
    for place in PLACES:
        got, expected = on_walls(split, two, place), on_walls(alone, one, place)
        np.testing.assert_allclose(got[hours], expected[hours], atol=0.01)
    assert sum(on_walls(split, two, place).sum() for place in PLACES) == pytest.approx(
        beams[1].beam.sum(), rel=0.002
    )
