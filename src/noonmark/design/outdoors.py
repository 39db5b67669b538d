"""What stands in the sun of a building: trees, neighbours, canopies, awnings, slats.

Shares tell how much of the sun that meets a thing passes it. Heights are above
the finished floor; azimuths and distances count from the middle of the sunny
wall's outside face.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from noonmark.design.part import Part, Side
from noonmark.design.quantities import (
    Azimuth,
    Day,
    Height,
    Length,
    Month,
    Share,
    Span,
    Thickness,
)

FarLength = Annotated[Length, Field(ge=0.0, le=2000.0)]
Level = Annotated[Length, Field(ge=-50.0, le=300.0)]
Tilt = Annotated[float, Field(ge=-80.0, le=80.0)]


class Tree(Part):
    """A tree, or a row of bushes seen as one: a rounded crown, its trunk left out.

    Bare it still takes about 40 % of the sun, in leaf about 80 % (measured on
    single trees by several authors, from memory).
    """

    name: str | None = None
    azimuth: Azimuth
    distance: FarLength
    top: Level
    crown_bottom: Level
    crown_width: Span
    bare: Share = 0.6
    leafed: Share = 0.2
    leaf_months: Annotated[list[Month], Field(max_length=12)] | None = None


class Neighbour(Part):
    """A building, wall or hedge close by: a block, with a ridge along its width if it has one.

    `azimuth` and `distance` lead to the middle of its near side, which faces
    back here unless `faces` says otherwise.
    """

    name: str | None = None
    azimuth: Azimuth
    distance: FarLength
    width: Annotated[Length, Field(gt=0.0, le=2000.0)]
    depth: Annotated[Length, Field(gt=0.0, le=2000.0)]
    top: Level
    ridge: Level | None = None
    faces: Azimuth | None = None
    passes: Share = 0.0


class Canopy(Part):
    """A roof, balcony or trellis that stands out of a wall, level or sloped.

    `height` is that of its outer edge and `rise` how much higher it meets the
    wall. A trellis passes `leafed` in its months with leaves. A `railing` stands
    up from its outer edge.
    """

    name: str | None = None
    zone: str | None = None
    side: Side | None = None
    wall: str | None = None
    left: Annotated[Length, Field(ge=-20.0, le=200.0)]
    width: Span
    height: Height
    projection: Annotated[Length, Field(gt=0.0, le=20.0)]
    rise: Annotated[Length, Field(ge=-10.0, le=10.0)] = 0.0
    passes: Share = 0.0
    leafed: Share | None = None
    leaf_months: Annotated[list[Month], Field(max_length=12)] | None = None
    railing: Annotated[Length, Field(ge=0.0, le=3.0)] = 0.0
    railing_passes: Share = 0.0


class Season(Part):
    """A shade that is put up and taken down every year, or stays."""

    put_up: Day | None = None
    take_down: Day | None = None


class Awning(Season):
    """Cloth that falls from a line over the window to its outer edge."""

    projection: Annotated[Length, Field(gt=0.0, le=6.0)]
    drop: Annotated[Length, Field(ge=0.0, le=6.0)] = 0.0
    gap: Annotated[Length, Field(ge=0.0, le=4.0)] = 0.0
    left: Annotated[Length, Field(ge=0.0, le=20.0)] = 0.0
    right: Annotated[Length, Field(ge=0.0, le=20.0)] = 0.0
    passes: Share = 0.1


class Slats(Season):
    """Boards before a window: level ones, or upright ones.

    `tilt` is how far the outer edge of a board hangs down, or that of an upright
    one lies to the left of somebody inside who looks out [deg]. They cover the
    window, and as far past it as is said.
    """

    depth: Thickness
    spacing: Thickness
    tilt: Tilt = 0.0
    upright: bool = False
    stand_off: Annotated[Length, Field(ge=0.0, le=2.0)] = 0.05
    left: Annotated[Length, Field(ge=0.0, le=5.0)] = 0.0
    right: Annotated[Length, Field(ge=0.0, le=5.0)] = 0.0
    top: Annotated[Length, Field(ge=0.0, le=5.0)] = 0.0
