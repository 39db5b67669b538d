"""Checks of what stands in the sun: awnings, slats, canopies, trees, neighbours, the skyline."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from noonmark.design.derived import wall_faces
from noonmark.design.model import Building, Homestead
from noonmark.design.quantities import spoken_length
from noonmark.errors import Problem


def seasonal_shades(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A shade that is put up is taken down too."""
    for index, window in enumerate(building.window, start=1):
        for key, shade in (("awning", window.awning), ("slats", window.slats)):
            if shade is not None and (shade.put_up is None) != (shade.take_down is None):
                path = f"{name}.window.{index}.{key}"
                yield Problem("design.shade_half_a_year", path=path)


def awnings(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """The outer edge of an awning stays above the ground."""
    for index, window in enumerate(building.window, start=1):
        if window.awning and window.head + window.awning.gap - window.awning.drop < 0.0:
            path = f"{name}.window.{index}.awning.drop"
            yield Problem("design.awning_low", path=path)


def fins(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Fins that end short of head and sill keep some height."""
    for index, window in enumerate(building.window, start=1):
        if window.fins is None:
            continue
        tall = window.head - window.sill + window.fins.top + window.fins.bottom
        if window.head > window.sill and tall <= 0.0:
            yield Problem("design.fins_of_no_height", path=f"{name}.window.{index}.fins")


def canopies(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """A canopy stands on a wall that is there."""
    walls = wall_faces(building)
    for index, part in enumerate(building.canopy, start=1):
        path = f"{name}.canopy.{index}"
        if (part.side is None) == (part.wall is None):
            yield Problem("design.canopy_side_or_wall", path=path)
            continue
        zone = part.zone or next(iter(building.zone))
        known = [f.name for f in walls if f.zone == zone and f.next_to is None]
        if (part.wall or part.side) not in known:
            values = {"read": part.wall or part.side or "", "zone": zone, "walls": known}
            yield Problem("design.canopy_nowhere", path=path, values=values)


def standing_things(_: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """Crowns have a height, and ridges stand over walls."""
    for index, tree in enumerate(building.tree, start=1):
        if tree.top <= tree.crown_bottom:
            heights = {"top": spoken_length(tree.top), "bottom": spoken_length(tree.crown_bottom)}
            yield Problem("design.tree_upside_down", path=f"{name}.tree.{index}", values=heights)
    for index, block in enumerate(building.neighbour, start=1):
        if block.ridge is not None and block.ridge < block.top:
            heights = {"ridge": spoken_length(block.ridge), "top": spoken_length(block.top)}
            path = f"{name}.neighbour.{index}.ridge"
            yield Problem("design.ridge_below_top", path=path, values=heights)


def skyline(homestead: Homestead) -> Iterator[Problem]:
    """The skyline goes once round, clockwise, above the ground and below the zenith."""
    pairs = homestead.place.skyline
    steps = [(b[0] - a[0]) % 360.0 for a, b in pairwise(pairs)]
    for index, (azimuth, altitude) in enumerate(pairs, start=1):
        if not (0.0 <= azimuth <= 360.0 and -5.0 <= altitude < 90.0):
            values = {"azimuth": azimuth, "altitude": altitude}
            yield Problem("design.skyline_point", path=f"place.skyline.{index}", values=values)
    if sum(steps) >= 360.0 or 0.0 in steps:
        yield Problem("design.skyline_twice", path="place.skyline")
