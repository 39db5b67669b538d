"""A wall seen from outdoors: large at one hour of a day, small at every hour of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonmark.shape.polygon import Points, points
from noonmark.sheets import svg
from noonmark.sheets.dimensions import Level, draw_levels, levels_width
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.hatch import cut
from noonmark.sheets.paper import CONCRETE, EARTH, ROOM, SHADE, SHADED, SMALL, WOOD
from noonmark.sheets.sunparts import (
    ROW,
    Label,
    draw_rows,
    light,
    rows_of,
    scale_bar,
    shade_on_wall,
)
from noonmark.sheets.view import View
from noonmark.study.elevation import Elevation, Hour
from noonmark.units import System
from noonmark.units.writing import dimension

TALL, SMALL_TALL = 440.0, 210.0  # px, height of the large and of a small picture at most
COLUMNS = (3, 4, 5)  # of small pictures; more than the first where room is short
GAP = 30.0  # px between pictures
DUG = 0.3  # m of earth shown
AIR = 0.2  # m shown around the house
FRAME = 0.05  # m, width of a window frame as drawn


@dataclass(frozen=True)
class ElevationLabels:
    """All words of a sheet with an elevation; `hours` name the small pictures.

    `levels` are the words of its heights by their keys; `names` the windows in their
    order, `shares` how much of each is lit, at each of the hours.
    """

    title: str
    subtitle: str
    description: str
    levels: dict[str, str]
    names: tuple[str, ...]
    hours: tuple[str, ...]
    shares: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()


def draw_elevation(
    elevation: Elevation,
    labels: ElevationLabels,
    *,
    system: System = "metric",
    stage: Stage = SCREEN,
) -> Drawing:
    """Return an elevation on a stage.

    The large picture shows the hour at which the sun meets the wall most squarely,
    the small ones all hours.
    """
    top = stage.top(labels.title, labels.subtitle)
    levels = _levels(elevation, labels, system)
    left = stage.margin + levels_width(levels) + GAP
    columns = COLUMNS if stage.scales else COLUMNS[:1]
    for view in _views(elevation, left, top, stage):
        large, below = _large(elevation, labels, levels, view, stage)
        large += scale_bar(stage.margin, view.bottom + 12, view.scale, system)
        for count in columns:
            small, foot = _small(elevation, labels, below + GAP, count, stage)
            if stage.holds(stage.right, foot):
                break
        else:
            continue
        break
    return Drawing(
        labels.title,
        labels.subtitle,
        labels.description,
        labels.notes,
        (*large, *small),
        right=stage.width,
        top=top,
        foot=foot,
        scale=view.scale,
    )


def _levels(elevation: Elevation, labels: ElevationLabels, system: System) -> list[Level]:
    """Return the heights to write, each with the place where it is met."""
    left = min(float(part[:, 0].min()) for part in elevation.walls)
    roof = [corner for part in (*elevation.slopes, *elevation.boards) for corner in part]
    ridge = max(roof, key=lambda corner: (round(corner[1], 6), -corner[0]), default=(left, 0.0))
    return [
        Level(f"{labels.levels[key]} {dimension(height, system)}", height, x)
        for key, height in elevation.levels.items()
        for x in [float(ridge[0]) if key == "ridge" else left]
    ]


def _views(elevation: Elevation, left: float, top: float, stage: Stage) -> list[View]:
    """Return the large picture at each scale that has the width, the largest first."""
    scales = stage.scales or (_scale(elevation, stage.right - left, TALL),)
    views = [_view(elevation, left, top, stage.right, scale) for scale in scales]
    return [view for view in views if view.x0 >= left - 1e-6] or views[-1:]


def _large(
    elevation: Elevation,
    labels: ElevationLabels,
    levels: Sequence[Level],
    view: View,
    stage: Stage,
) -> tuple[list[str], float]:
    """Return the large picture with its heights, names and shares, and where it ends [px]."""
    level_x = stage.margin + levels_width(levels)
    hour = elevation.fullest
    rows: list[list[Label]] = []
    if hour is not None:
        shares = labels.shares[elevation.hours.index(hour)]
        rows = rows_of(_shares(view, elevation, shares), SMALL, level_x + GAP, stage.right)
    names = rows_of(_names(view, elevation, labels), SMALL, level_x + GAP, stage.right)
    below = view.bottom + 4
    foot = below + ROW * max(len(rows) + len(names), 2)
    parts = [
        *_picture(view, elevation, hour, framed=True),
        *draw_levels(view, level_x, levels),
        *draw_rows(rows, below, "name"),
        *draw_rows(names, below + ROW * len(rows)),
    ]
    return parts, foot


def _small(
    elevation: Elevation, labels: ElevationLabels, top: float, columns: int, stage: Stage
) -> tuple[list[str], float]:
    """Return a picture for each hour in rows of some `columns`, and where they end [px]."""
    width = (stage.right - stage.margin - (columns - 1) * GAP) / columns
    parts: list[str] = []
    for index in range(0, len(elevation.hours), columns):
        ends = [top]
        for column in range(min(columns, len(elevation.hours) - index)):
            x = stage.margin + column * (width + GAP)
            cell, end = _cell(elevation, labels, index + column, (x, top, x + width))
            parts += cell
            ends.append(end)
        top = max(ends) + GAP / 2
    return parts, top


def _cell(
    elevation: Elevation, labels: ElevationLabels, index: int, place: tuple[float, float, float]
) -> tuple[list[str], float]:
    """Return the small picture of an hour between two edges of the sheet [px], and its end."""
    left, top, right = place
    hour = elevation.hours[index]
    scale = _scale(elevation, right - left, SMALL_TALL)
    view = _view(elevation, left, top + ROW + 8, right, scale)
    rows = rows_of(_shares(view, elevation, labels.shares[index]), SMALL, left, right)
    parts = [
        svg.text(left, top + SMALL, labels.hours[index], SMALL, class_="name"),
        *_picture(view, elevation, hour, framed=False),
        *draw_rows(rows, view.bottom + 2),
    ]
    return parts, view.bottom + 2 + ROW * len(rows)


def _scale(elevation: Elevation, wide: float, tall: float) -> float:
    """Return the largest scale at which the wall with its roof has room [px]."""
    left, right, low, high = _bounds(elevation)
    return min(wide / (right - left), tall / (high - low))


def _view(elevation: Elevation, x0: float, y0: float, x1: float, scale: float) -> View:
    """Return the picture of the wall with its roof, midway between two edges of the sheet [px]."""
    left, right, low, high = _bounds(elevation)
    indent = (x1 - x0 - scale * (right - left)) / 2
    return View(left, right, low, high, scale, x0 + indent, y0)


def _bounds(elevation: Elevation) -> tuple[float, float, float, float]:
    """Return left, right, low and high of what is shown [m]."""
    whole = [*elevation.walls, *elevation.meets, *elevation.slopes, *elevation.boards]
    left, right = (f(float(f(part[:, 0])) for part in whole) for f in (min, max))
    high = max(float(part[:, 1].max()) for part in whole) + AIR
    return left - AIR, right + AIR, elevation.ground - DUG, high


def _names(view: View, elevation: Elevation, labels: ElevationLabels) -> list[Label]:
    """Return the name of each entry of windows, once, about their middle."""
    middles: dict[str, list[float]] = {}
    for pane, name in zip(elevation.panes, labels.names, strict=True):
        middles.setdefault(name, []).append(view.x(float(pane.hole[:, 0].mean())))
    return [Label(sum(places) / len(places), name) for name, places in middles.items()]


def _shares(view: View, elevation: Elevation, shares: Sequence[str]) -> list[Label]:
    return [
        Label(view.x(float(pane.hole[:, 0].mean())), words)
        for pane, words in zip(elevation.panes, shares, strict=True)
    ]


def _picture(view: View, elevation: Elevation, hour: Hour | None, *, framed: bool) -> list[str]:
    """Return the wall with its shade at an hour; all in the shade without one."""
    dark = {} if hour else {"fill_opacity": ".75"}
    back = ROOM if hour else SHADED
    return [
        *(svg.polygon(view.drawn(part), fill=back, **dark) for part in elevation.walls),
        *(item for lit in (hour.wall if hour else ()) for item in shade_on_wall(view, lit)),
        *(svg.polygon(view.drawn(part), class_="edge", fill="none") for part in elevation.walls),
        *_windows(view, elevation, hour, framed=framed),
        *(cut(view.drawn(part), "url(#nm-slant)") for part in elevation.meets),
        *(svg.polygon(view.drawn(part), class_="edge", fill=CONCRETE) for part in elevation.slopes),
        *(svg.polygon(view.drawn(part), class_="edge", fill=WOOD) for part in elevation.boards),
        *(svg.polygon(view.drawn(part), class_="edge", fill=CONCRETE) for part in elevation.gutter),
        *(svg.polygon(view.drawn(part), class_="near") for part in elevation.before),
        *(svg.polyline(view.drawn(part), class_="stout") for part in elevation.plates),
        *_ground(view, elevation, "url(#nm-earth)" if framed else EARTH),
    ]


def _windows(view: View, elevation: Elevation, hour: Hour | None, *, framed: bool) -> list[str]:
    """Return the windows with the light on their glass."""
    parts = []
    for index, pane in enumerate(elevation.panes):
        hole = view.drawn(pane.hole)
        parts.append(svg.polygon(hole, fill=SHADE, fill_opacity=".75", class_="glass"))
        if hour is not None:
            parts += light(view, hour.panes[index])
        parts.append(svg.polygon(hole, class_="edge", fill="none"))
        if framed:
            parts.append(svg.polygon(view.drawn(inner_edge(pane.hole)), class_="fine"))
    return parts


def inner_edge(hole: Points) -> Points:
    """Return the inner edge of a window frame."""
    middle = hole.mean(axis=0)
    half = abs(hole - middle).max(axis=0)
    return points(middle + (hole - middle) * (1.0 - FRAME / half))


def _ground(view: View, elevation: Elevation, fill: str) -> list[str]:
    """Return the earth before the wall."""
    earth = view.box(view.left, view.low, view.right, elevation.ground)
    level = view.y(elevation.ground)
    return [
        svg.polygon(earth, fill=fill),
        svg.line(view.x(view.left), level, view.x(view.right), level, class_="cut"),
    ]
