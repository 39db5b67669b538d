"""Checks of what opens and closes: windows by area, covers, doorways and fans between zones."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark import catalog
from noonmark.design.derived import wall_faces
from noonmark.design.model import Building, Homestead
from noonmark.design.quantities import spoken_length
from noonmark.design.services import Passage
from noonmark.errors import PhysicsError, Problem
from noonmark.glazing.window import window_parts


def opened_once(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Opened windows are told by air changes, or by area and height."""
    air = building.air
    if (air.open_area is None) != (air.open_height is None):
        yield Problem("design.open_half", path=f"{name}.air")
    if air.open_area is not None and "open_air_changes" in air.model_fields_set:
        yield Problem("design.opened_twice", path=f"{name}.air.open_area")


def glass_is_left(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Frames leave some glass."""
    for index, window in enumerate(building.window, start=1):
        frame = catalog.find(catalog.Frame, window.frame).width
        if window.head <= window.sill:
            continue
        try:
            window_parts(
                width=window.width,
                height=window.head - window.sill,
                frame_width=frame,
                casements=window.casements,
            )
        except PhysicsError as error:
            yield from (p.at(path=f"{name}.window.{index}") for p in error.problems)


def covers(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A cover splits the sun into what passes, what it takes up and what it throws back."""
    for key, cover in building.cover.items():
        if cover.passes + cover.absorbs > 1.0 + 1e-9:
            shares = {"passes": cover.passes, "absorbs": cover.absorbs}
            yield Problem("design.cover_sun", path=f"{name}.cover.{key}", values=shares)
    for index, window in enumerate(building.window, start=1):
        if window.cover is not None and window.cover not in building.cover:
            values = {"read": window.cover, "known": list(building.cover)}
            path = f"{name}.window.{index}.cover"
            yield Problem("design.no_cover", path=path, values=values)


def covers_outdoors(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Windows between two zones have no cover."""
    inner = {id(w) for face in wall_faces(building) if face.next_to for w in face.windows}
    for index, window in enumerate(building.window, start=1):
        if id(window) in inner and window.cover is not None:
            yield Problem("design.cover_between", path=f"{name}.window.{index}.cover")


def passages(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Air goes between two zones that are there, through an opening of a size or by a fan."""
    for index, passage in enumerate(building.passage, start=1):
        path = f"{name}.passage.{index}"
        missing = [zone for zone in passage.zones if zone not in building.zone]
        for zone in missing:
            values = {"read": zone, "known": list(building.zone)}
            yield Problem("design.no_zone", path=f"{path}.zones", values=values)
        if passage.zones[0] == passage.zones[1]:
            values = {"read": passage.zones[0]}
            yield Problem("design.passage_to_itself", path=f"{path}.zones", values=values)
        elif not missing:
            yield from (p.at(path=path) for p in _size(building, passage))


def _size(building: Building, passage: Passage) -> Iterator[Problem]:
    """An opening has width and height and lies in a wall both zones share; a fan has a flow."""
    if passage.kind == "fan":
        if passage.airflow is None:
            yield Problem("design.missing", values={"key": "airflow"})
        return
    if passage.width is None or passage.height is None:
        yield Problem("design.passage_size")
        return
    first = next(iter(building.zone))
    shared = any({wall.zone or first, wall.next_to} == set(passage.zones) for wall in building.wall)
    if not shared:
        yield Problem("design.passage_no_wall", values={"zones": passage.zones})
    limit = min(building.zone[zone].height for zone in passage.zones)
    if passage.height > limit + 1e-9:
        values = {"read": spoken_length(passage.height), "limit": spoken_length(limit)}
        yield Problem("design.passage_too_tall", values=values)
