"""The view out of a window hides the sun exactly where the shading of the program does.

The other side of each comparison is `lit_areas`, which cuts shadows out of openings in
the plane of the wall and knows nothing of skies; the drawn outlines are held to it
by shapely.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from any_outdoors import any_outdoors
from designs import design, put, together
from noonmark.design import Homestead
from noonmark.design.derived import wall_faces
from noonmark.shading.plates import Opening
from noonmark.shading.shade import sun_slopes
from noonmark.study.floorsun import openings_of
from noonmark.study.obstacles import obstacles_of
from noonmark.study.outlook import Eye, Outlook, outlooks

SQUARE, AROUND = 1e-4, 4e-3
PLACES = [(39.73, -105.18, "America/Denver"), (-43.5, 172.6, "Pacific/Auckland")]
DAYS = [date(2022, 12, 21), date(2022, 3, 20), date(2022, 6, 21)]


def somewhere(seed: int) -> Homestead:
    rng = np.random.default_rng(seed)
    latitude, longitude, zone = PLACES[seed % 2]
    where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
    edits = [put("place", where), put("house.faces", float(rng.uniform(0.0, 360.0)))]
    for index in range(5):
        if rng.random() < 0.5:
            edits.append(put(f"house.window.{index}.reveal", float(rng.uniform(0.02, 0.28))))
        if rng.random() < 0.3:
            edits.append(
                put(f"house.window.{index}.hood", {"projection": float(rng.uniform(0.1, 1))})
            )
        if rng.random() < 0.3:
            edits.append(
                put(f"house.window.{index}.fins", {"projection": float(rng.uniform(0.1, 1))})
            )
    return design(together(*edits, any_outdoors(seed))).homestead


def eyes(homestead: Homestead) -> Iterator[Eye]:
    for building in homestead.buildings.values():
        for face in wall_faces(building):
            if face.next_to is None and face.windows:
                obstacles = obstacles_of(homestead, building, face)
                for placed in openings_of(building, face):
                    yield Eye(obstacles, placed.opening)


def lit_at(eye: Eye, sideways: np.ndarray, rise: np.ndarray, day: int, size: float) -> np.ndarray:
    """Return the lit share of a square about the point of the wall's face that each ray passes."""
    hole, (left, bottom, depth) = eye.opening, eye.place
    found = np.zeros(rise.size)
    for index, (right, up) in enumerate(zip(sideways, rise, strict=True)):
        x, y = left + depth * right, bottom + depth * up
        inside = hole.left <= x <= hole.left + hole.width and y <= hole.bottom + hole.height
        if inside or not hole.depth:
            spot = Opening(x - size / 2.0, size, y - size / 2.0, size)
            way = np.array([right]), np.array([up]), np.array([day])
            found[index] = eye.obstacles.lit(*way, spot)[0]
    return found


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_the_sun_is_hidden_where_the_exact_shading_says(seed: int) -> None:
    rng = np.random.default_rng(seed)
    for eye in eyes(somewhere(seed)):
        azimuth = eye.obstacles.face.azimuth + rng.uniform(-89.0, 89.0, 60)
        altitude = np.degrees(np.arcsin(rng.uniform(0.0, 0.99, 60)))
        _, sideways, rise = sun_slopes(altitude, azimuth, eye.obstacles.face.azimuth)
        day = int(rng.integers(0, 365))
        share = eye.share(sideways, rise, day)
        lit = lit_at(eye, sideways, rise, day, SQUARE)
        apart = np.flatnonzero(np.abs(share - lit) > 1e-6)
        assert apart.size <= 3
        for index in apart:  # only where an edge runs through the square about it
            way = sideways[index : index + 1], rise[index : index + 1]
            near = lit_at(eye, *way, day, AROUND)[0]
            edge = abs(near - share[index]) > 1e-6 and abs(near - lit[index]) > 1e-9
            hole = eye.opening
            aside = hole.depth * abs(way[0][0]) - hole.width / 2.0
            over = hole.depth * way[1][0] - hole.height
            assert edge or min(abs(aside), abs(over)) < AROUND, (
                seed,
                index,
                share[index],
                lit[index],
            )


def drawn_over(outlook: Outlook, index: int, turn: float, altitude: float) -> set[str]:
    """Return the kinds of what is drawn over a place in the sky on one of the days."""
    spot = Point(turn, altitude)
    found = {
        str(item.kind)
        for item in outlook.outlines
        if item.days[index] and Polygon(item.corners).buffer(0).contains(spot)
    }
    if len(outlook.frame) and not Polygon(outlook.frame).contains(spot):
        found.add("frame")
    if len(outlook.skyline) and altitude < np.interp(turn, *outlook.skyline.T):
        found.add("hills")
    return found


@pytest.mark.parametrize("seed", range(12))
def test_tracks_are_strong_where_nothing_drawn_hides_them(seed: int) -> None:
    checked = 0
    for outlook in outlooks(somewhere(seed), "house", DAYS):
        for index, track in enumerate(outlook.tracks):
            for run in track.runs:
                for turn, altitude in run.way[4:-4:10]:  # away from where it changes
                    over = drawn_over(outlook, index, float(turn), float(altitude))
                    checked += 1
                    if over - {"thin"}:
                        assert run.state == "hidden", over
                    elif not over:  # boards may be open or shut
                        assert run.state == "open"
    assert checked > 50


@pytest.mark.parametrize("reveal", [0.0, 0.15])
@pytest.mark.parametrize("place", PLACES)
def test_the_edge_of_the_eave_stands_at_drop_over_projection(
    place: tuple[float, float, str], reveal: float
) -> None:
    latitude, longitude, zone = place
    where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
    faces = 180.0 if latitude > 0 else 0.0
    homestead = design(
        together(
            put("place", where), put("house.faces", faces), put("house.window.0.reveal", reveal)
        )
    ).homestead
    building = homestead.buildings["house"]
    face = next(face for face in wall_faces(building) if face.side == "sunny")
    eave = obstacles_of(homestead, building, face).eave
    assert eave is not None
    sill = building.window[0].sill
    first = next(iter(outlooks(homestead, "house", DAYS)))
    assert first.number == 1
    over = [item.corners for item in first.outlines if item.kind == "own"]
    lowest = min(
        float(altitude) for corners in over for turn, altitude in corners if abs(turn) < 2.0
    )
    level = [(x, y) for x, y in eave.outline]
    expected = min(math.degrees(math.atan2(y - sill, reveal - x)) for x, y in level if x < 0.0)
    # a degree or two aside the same edge stands lower: cos 2 deg is 0.9994
    assert lowest == pytest.approx(expected, abs=0.05)
    if len(eave.outline) == 2:  # a level soffit alone
        (_, soffit), (edge, _) = eave.outline
        assert expected == pytest.approx(math.degrees(math.atan((soffit - sill) / (reveal - edge))))


def test_left_and_right_are_east_and_west_in_both_hemispheres() -> None:
    for latitude, longitude, zone in PLACES:
        where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
        faces = 180.0 if latitude > 0 else 0.0
        homestead = design(together(put("place", where), put("house.faces", faces))).homestead
        first = next(iter(outlooks(homestead, "house", DAYS)))
        for track in first.tracks:
            morning = next(tick for tick in track.ticks if tick.hour == 11)
            afternoon = next(tick for tick in track.ticks if tick.hour == 15)
            # who looks south has the morning at the left, who looks north at the right
            assert (morning.turn < 0.0 < afternoon.turn) == (latitude > 0)
