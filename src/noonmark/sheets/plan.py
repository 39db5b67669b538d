"""A plan with the sun of a day around it, and on the floors at some of its hours."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from noonmark.shape.polygon import Points, area, clip_convex, points, rectangle
from noonmark.sheets import svg
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.paper import GLASS, INK, ROOM, SMALL
from noonmark.sheets.spread import spread
from noonmark.sheets.sunparts import ROW, light, scale_bar
from noonmark.sheets.view import View
from noonmark.study.plan import Plan, Shot
from noonmark.units import System
from noonmark.units.writing import dimension

RADIUS = 330.0  # px, of the circle of the sun
WORDS = 186.0  # px from the sheet's edge to the circle, for the words of its suns
BESIDE_PLAN = 330.0  # px, breadth of the small pictures at least
AROUND = 58.0  # px between circle and the top and foot of the picture
GAP = 40.0  # px between the large picture and the small ones
SMALL_TALL = 330.0  # px, height of a small picture at most
DISC, TICK = 11.0, 12.0  # px, a sun on the circle; its ray, towards the house
MARK = 13.0  # px, half the size of a window's number
APART = 2 * MARK + 4  # px from number to number
DIMENSION = 50.0  # px from a wall to the line of its dimension
ARROW = 52.0  # px, half the north arrow
LED = 36.0  # px from a sun to its words from where on a line leads there
OVERHEAD = 0.35
"""Share of the radius within which noon's words stand over or under the circle."""


@dataclass(frozen=True)
class PlanLabels:
    """All words of a sheet with a plan.

    `rays` name the suns around it and `shots` the hours shown and how much floor is in
    the sun, in the order of the plan; `dark` are the hours with the sun down. `windows`
    tell what the numbers at the windows mean.
    """

    title: str
    subtitle: str
    description: str
    north: str
    rays: tuple[str, ...]
    shots: tuple[tuple[str, str], ...]
    dark: tuple[str, ...]
    windows: tuple[str, ...]
    notes: tuple[str, ...] = ()


def draw_plan(
    plan: Plan, labels: PlanLabels, *, system: System = "metric", stage: Stage = SCREEN
) -> Drawing:
    """Return a plan on a stage.

    The large picture has the first hour of the plan, that of solar noon where
    the sun is up then.
    """
    top = stage.top(labels.title, labels.subtitle)
    scale, radius = _size(plan, stage, system)
    circle = _Circle((WORDS + radius, top + SMALL + AROUND + radius), radius, plan)
    large, foot = _large(plan, labels, system, circle, scale)
    large += _north(plan, labels.north, (stage.margin + ARROW + 4, top + ARROW + SMALL))
    large += scale_bar(stage.margin, foot - 2 * SMALL, scale, system)
    edges = (2 * (WORDS + radius) - stage.margin + GAP, stage.right)
    small, end = _small(plan, labels, top, edges)
    return Drawing(
        labels.title,
        labels.subtitle,
        labels.description,
        (*labels.windows, *labels.notes),
        (*large, *small),
        right=stage.width,
        top=top,
        foot=max(foot, end) + 8,
        scale=scale,
    )


def _size(plan: Plan, stage: Stage, system: System) -> tuple[float, float]:
    """Return the largest scale [px/m] whose circle the stage holds, and its radius [px].

    Of the scales of the stage, if it has any, the smallest even if it is too large.
    """
    left, right, low, high = _bounds(plan)
    half, up = (right - left) / 2, (high - low) / 2
    words = svg.text_width(dimension(high - low, system), SMALL) / 2
    if stage.scales:
        wide = stage.width - 2 * WORDS - GAP - BESIDE_PLAN
        most = min(wide, stage.height - 2 * AROUND - 2 * SMALL - 8) / 2
        sizes = [(scale, _needed(half * scale, up * scale, words)) for scale in stage.scales]
        return next((size for size in sizes if size[1] <= most), sizes[-1])
    scale = RADIUS / math.hypot(half, up)
    while _needed(half * scale, up * scale, words) > RADIUS:
        scale *= 0.98
    return scale, RADIUS


def _needed(half: float, up: float, words: float) -> float:
    """Return the radius [px] of the circle around a house and its dimensions.

    `half` and `up` are half its breadth and depth [px], `words` half the width of its depth.
    """
    corners = (
        (half + DIMENSION + 8, up),
        (half + DIMENSION + 4 + 1.2 * SMALL, words),
        (half, up + DIMENSION + 4 + 1.2 * SMALL),
    )
    return max(math.hypot(*corner) for corner in corners) + DISC + TICK + 8


@dataclass(frozen=True)
class _Circle:
    """The circle of the sun around a plan: middle and radius [px]."""

    middle: tuple[float, float]
    radius: float
    plan: Plan

    def at(self, azimuth: float, out: float = 0.0) -> tuple[float, float]:
        """Return the place towards an azimuth [deg], `out` [px] from the circle."""
        right, up = self.plan.direction(azimuth)
        far = self.radius + out
        return self.middle[0] + right * far, self.middle[1] - up * far


def _bounds(plan: Plan) -> tuple[float, float, float, float]:
    """Return left, right, low and high of what is cut [m]."""
    corners = np.concatenate([*plan.walls, *(hole.hole for hole in plan.holes)])
    (left, low), (right, high) = corners.min(axis=0), corners.max(axis=0)
    return float(left), float(right), float(low), float(high)


# --- the large picture ---------------------------------------------------------------------------


def _large(
    plan: Plan, labels: PlanLabels, system: System, circle: _Circle, scale: float
) -> tuple[list[str], float]:
    """Return the plan at a scale [px/m] in the circle of its sun, and where it ends [px]."""
    left, right, low, high = _bounds(plan)
    wide, deep = dimension(right - left, system), dimension(high - low, system)
    x, y = circle.middle
    half, up = scale * (right - left) / 2, scale * (high - low) / 2
    view = View(left, right, low, high, scale, x - half, y - up)
    shot = plan.shots[0] if plan.shots else None
    marks = _marks(view, plan, shot)
    parts = [
        *_sun(plan, labels, circle),
        *_house(view, plan, shot, [_ring(x, y) for _, x, y in marks]),
        *(part for mark in marks for part in _draw_mark(*mark)),
        *_dimensions(view, wide, deep),
    ]
    if shot is not None:
        over = y - circle.radius - AROUND
        parts.append(svg.text(x, over, ": ".join(labels.shots[0]), SMALL, class_="name middle"))
    return parts, y + circle.radius + AROUND + SMALL


def _dimensions(view: View, wide: str, deep: str) -> list[str]:
    """Return the outer sizes, below and at the right of the house."""
    left, right = view.x(view.left), view.x(view.right)
    top, foot = view.y0, view.bottom
    y, x = foot + DIMENSION, right + DIMENSION
    return [
        svg.line(left, y, right, y, class_="measure"),
        *(_tick(end, y) for end in (left, right)),
        *(svg.line(end, foot + 6, end, y + 8, class_="reach") for end in (left, right)),
        svg.text((left + right) / 2, y + 4 + SMALL, wide, SMALL, class_="middle"),
        svg.line(x, top, x, foot, class_="measure"),
        *(_tick(x, end) for end in (top, foot)),
        *(svg.line(right + 6, end, x + 8, end, class_="reach") for end in (top, foot)),
        svg.upright(x + 4 + SMALL, (top + foot) / 2, deep, SMALL),
    ]


def _tick(x: float, y: float) -> str:
    return svg.line(x - 6, y + 6, x + 6, y - 6, class_="measure", stroke_width=2.6)


def _marks(view: View, plan: Plan, shot: Shot | None) -> list[tuple[int, float, float]]:
    """Return the number of each window and its place before it [px].

    Between rooms that is where less sun lies. Along each wall they stand apart; those
    of one entry become one where they would not.
    """
    lit = _lit(view, shot)
    rows: dict[tuple[int, int, int], list[tuple[float, float, int]]] = {}
    for hole in plan.holes:
        out = hole.out * np.array([1.0, -1.0]) * (MARK + 5)
        sides = [view.drawn(hole.middle[None])[0] + out]
        if hole.inner:
            sides.append(2 * view.drawn(hole.hole).mean(axis=0) - sides[0])
        spots = [(float(side[0]), float(side[1])) for side in sides]
        x, y = min(spots, key=lambda at: _covered(_ring(*at), lit))
        level = abs(hole.out[0]) < abs(hole.out[1])  # the wall runs across the sheet
        along, across = (x, y) if level else (y, x)
        key = (int(level), round(across), int(np.sign(hole.out.sum())))
        rows.setdefault(key, []).append((along, across, hole.number))
    edges = {1: (view.x(view.left), view.x(view.right)), 0: (view.y0, view.bottom)}
    found = []
    for (level, *_), marks in rows.items():
        for along, across, number in _apart(marks, edges[level]):
            found.append((number, along, across) if level else (number, across, along))
    return found


def _apart(
    marks: Sequence[tuple[float, float, int]], edges: tuple[float, float]
) -> list[tuple[float, float, int]]:
    """Return marks of one wall (along, across, number) that stand apart, one for close ones."""
    merged: list[list[tuple[float, float, int]]] = []
    for mark in sorted(marks):
        last = merged[-1] if merged else []
        if last and last[-1][2] == mark[2] and mark[0] - last[-1][0] < APART:
            last.append(mark)
        else:
            merged.append([mark])
    middles = [sum(mark[0] for mark in group) / len(group) for group in merged]
    more = max(0.0, APART * (len(merged) - 1) + 2 * MARK - (edges[1] - edges[0])) / 2
    places = spread(middles, APART, edges[0] + MARK - more, edges[1] - MARK + more)
    return [(at, *group[0][1:]) for at, group in zip(places, merged, strict=True)]


def _draw_mark(number: int, x: float, y: float) -> list[str]:
    return [
        svg.element("circle", cx=x, cy=y, r=MARK, class_="fine"),
        svg.text(x, y + SMALL * 0.34, str(number), SMALL, class_="middle"),
    ]


def _ring(x: float, y: float) -> Points:
    return rectangle(x - MARK, y - MARK, x + MARK, y + MARK)


def _lit(view: View, shot: Shot | None) -> list[Points]:
    """Return the sun on the floors as convex corners [px]."""
    return [view.drawn(patch.lit.whole) for patch in (shot.patches if shot else ())]


def _north(plan: Plan, word: str, middle: tuple[float, float]) -> list[str]:
    """Return the arrow to true north with its letter at the tip."""
    along = np.array(plan.direction(0.0)) * [1, -1]
    aside = np.array([-along[1], along[0]])
    centre = np.array(middle)
    tip, tail = centre + 0.6 * ARROW * along, centre - 0.8 * ARROW * along
    wing, notch = tail + 0.3 * ARROW * aside, centre - 0.5 * ARROW * along
    letter = centre + 0.85 * ARROW * along
    return [
        svg.polygon(points([tip, wing, notch]), class_="edge", fill=INK),
        svg.polygon(points([tip, 2 * tail - wing, notch]), class_="edge blank"),
        svg.text(
            float(letter[0]), float(letter[1]) + SMALL * 0.34, word, SMALL, class_="name middle"
        ),
    ]


# --- the sun around it ---------------------------------------------------------------------------


def _sun(plan: Plan, labels: PlanLabels, circle: _Circle) -> list[str]:
    """Return the circle, the stretch the sun passes, and its places with their words."""
    x, y = circle.middle
    path = points([circle.at(azimuth) for azimuth in plan.path])
    parts = [svg.element("circle", cx=x, cy=y, r=circle.radius, class_="fine", opacity=".5")]
    if len(path):
        parts.append(svg.polyline(path, class_="day"))
    for ray in plan.rays:
        azimuth = ray.moment.azimuth
        (x0, y0), (x1, y1) = (circle.at(azimuth, -step) for step in (DISC, DISC + TICK))
        at = circle.at(azimuth)
        parts += [
            svg.line(x0, y0, x1, y1, class_="measure", stroke_width=2.6),
            svg.element("circle", cx=at[0], cy=at[1], r=DISC, class_="disc"),
        ]
    return [*parts, *_ray_words(plan, labels.rays, circle)]


def _ray_words(plan: Plan, words: Sequence[str], circle: _Circle) -> list[str]:
    """Return the words of each sun: noon's over or under the circle, the others beside it."""
    sides: dict[int, list[tuple[tuple[float, float], str]]] = {-1: [], 1: []}
    parts = []
    centre, radius = circle.middle, circle.radius
    for ray, said in zip(plan.rays, words, strict=True):
        right, up = plan.direction(ray.moment.azimuth)
        if ray.hour == "noon" and abs(right) < OVERHEAD:
            y = centre[1] - math.copysign(radius + DISC, up) + (-8 if up > 0 else 4 + SMALL)
            parts.append(svg.text(centre[0] + right * radius, y, said, SMALL, class_="middle"))
        else:
            at = circle.at(ray.moment.azimuth, DISC)
            sides[1 if right >= 0 else -1].append((at, said))
    for side, labels in sides.items():
        low, high = centre[1] - radius + SMALL, centre[1] + radius - SMALL
        places = spread([at[1] for at, _ in labels], ROW, low, high)
        for (at, said), y in zip(labels, places, strict=True):
            aside = math.sqrt(max(0.0, (radius + DISC + 10) ** 2 - (y - centre[1]) ** 2))
            x = centre[0] + side * (aside + 6)
            if math.dist(at, (x, y)) > LED:
                parts.append(svg.line(*at, x - 4 * side, y, class_="reach"))
            name = "end" if side < 0 else None
            parts.append(svg.text(x, y + SMALL * 0.34, said, SMALL, class_=name))
    return parts


# --- the small pictures --------------------------------------------------------------------------


def _small(
    plan: Plan, labels: PlanLabels, top: float, edges: tuple[float, float]
) -> tuple[list[str], float]:
    """Return the hours after the first, one below the other, and where they end [px]."""
    x0, x1 = edges
    left, right, low, high = _bounds(plan)
    scale = min((x1 - x0 - 8) / (right - left), SMALL_TALL / (high - low))
    parts: list[str] = []
    for shot, said in zip(plan.shots[1:], labels.shots[1:], strict=True):
        parts += [
            svg.text(x0, top + SMALL, said[0], SMALL, class_="name"),
            svg.text(x0, top + SMALL + ROW, said[1], SMALL),
        ]
        top += 2 * ROW + 12
        indent = (x1 - x0 - scale * (right - left)) / 2
        view = View(left, right, low, high, scale, x0 + indent, top)
        parts += _house(view, plan, shot)
        top = view.bottom + GAP
    for dark in labels.dark:
        rows = svg.wrapped(dark, SMALL, x1 - x0)
        parts += [svg.text(x0, top + SMALL + i * ROW, row, SMALL) for i, row in enumerate(rows)]
        top += ROW * len(rows) + 12
    return parts, top


def _house(view: View, plan: Plan, shot: Shot | None, taken: Sequence[Points] = ()) -> list[str]:
    """Return floors with their sun, what is cut, and the windows; `taken` is kept free [px]."""
    patches = shot.patches if shot else ()
    return [
        *(svg.polygon(view.drawn(room.floor), fill=ROOM) for room in plan.rooms),
        *(part for patch in patches for part in light(view, patch.lit)),
        *(svg.polygon(view.drawn(hole.hole), class_="edge", fill=GLASS) for hole in plan.holes),
        *(svg.polyline(view.drawn(hole.glass), class_="measure") for hole in plan.holes),
        svg.rings(map(view.drawn, plan.walls), class_="wall", fill="url(#nm-slant)"),
        *_room_names(view, plan, _lit(view, shot), taken),
    ]


def _room_names(
    view: View, plan: Plan, lit: Sequence[Points], taken: Sequence[Points]
) -> list[str]:
    """Return the name of each room of several, where nothing else stands and the least sun lies."""
    if len(plan.rooms) < 2:
        return []
    parts = []
    for room in plan.rooms:
        floor = view.drawn(room.floor)
        (left, top), (right, foot) = floor.min(axis=0), floor.max(axis=0)
        rows = [room.name]
        if svg.text_width(room.name, SMALL) + 12 > right - left:
            rows = room.name.split()
        wide, tall = max(svg.text_width(row, SMALL) for row in rows), (len(rows) - 1) * ROW
        if wide + 12 > right - left or tall + 1.5 * SMALL > foot - top:
            continue
        places = [
            (left + 6 + share * (right - left - wide - 12), y)
            for y in (
                top + 1.2 * SMALL,
                (top + foot - tall) / 2 + 0.34 * SMALL,
                foot - 0.5 * SMALL - tall,
            )
            for share in (0.5, 0.0, 1.0)
        ]
        x, y = min(places, key=lambda at: _cost(_type(at, wide, tall), lit, taken))
        parts += [svg.text(x, y + i * ROW, row, SMALL, class_="room") for i, row in enumerate(rows)]
    return parts


def _type(at: tuple[float, float], wide: float, tall: float) -> Points:
    return rectangle(at[0], at[1] - 0.8 * SMALL, at[0] + wide, at[1] + tall + 0.25 * SMALL)


def _cost(words: Points, lit: Sequence[Points], taken: Sequence[Points]) -> float:
    return _covered(words, lit) + 1000.0 * _covered(words, taken)


def _covered(words: Points, lit: Sequence[Points]) -> float:
    return sum(abs(area(clip_convex(words, part))) for part in lit)
