"""The detail of a shade of boards: two or three boards cut across, and the lowest sun they stop.

Along a side the boards count from the end away from the sun: up from the sill, or,
upright, towards the sun. Level boards are drawn in section, outdoors to the left;
upright ones from above, outdoors below, as seen from outdoors.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from noonmark.shape.polygon import Points, clip_convex, points, rectangle
from noonmark.sheets import svg
from noonmark.sheets.chain import callouts
from noonmark.sheets.hatch import cut
from noonmark.sheets.paper import GOLD, GOLD_INK, ROOM, SMALL
from noonmark.study.results.shade import SlatPlan, SlatsResult

Spot = tuple[float, float]

AIR = 200.0  # px of open air before level boards
LOW_AIR = 170.0  # px of open air before upright boards, below them
COLUMN = 60.0  # px between the picture and its labels
WALL = 26.0  # px of the wall shown
ARC = 110.0  # px, radius of the angle
FAR_APART = 2.5  # boards further apart than this many depths are drawn by twos


@dataclass(frozen=True)
class DetailWords:
    """What is written beside the boards, measures and all."""

    board: str
    spacing: str
    tilt: str
    stand_off: str
    face: str
    sun: str


@dataclass(frozen=True)
class Boards:
    """Boards cut across: corners by (out from the inner edges, along a side) [m]."""

    depth: float
    thickness: float
    tilt: float
    spacing: float
    slope: float

    @property
    def count(self) -> int:
        """Return how many are drawn."""
        return 2 if self.spacing > FAR_APART * self.depth else 3

    @property
    def reach(self) -> float:
        """Return how far the outermost corner stands out [m]."""
        return max(out for out, _ in self.corners(0))

    def corners(self, number: int) -> list[Spot]:
        """Return inner lower, outer lower, outer upper and inner upper corner of a board [m]."""
        turn, half = math.radians(self.tilt), self.thickness / 2.0
        up = (half * math.sin(turn), half * math.cos(turn))
        inner = (0.0, number * self.spacing)
        outer = (self.depth * math.cos(turn), inner[1] - self.depth * math.sin(turn))
        return [
            (inner[0] - up[0], inner[1] - up[1]),
            (outer[0] - up[0], outer[1] - up[1]),
            (outer[0] + up[0], outer[1] + up[1]),
            (inner[0] + up[0], inner[1] + up[1]),
        ]

    def brushed(self, number: int) -> Spot:
        """Return the corner of a board that the lowest ray under it brushes [m]."""
        return min(self.corners(number), key=lambda spot: spot[1] - self.slope * spot[0])

    def stopped(self, number: int) -> Spot:
        """Return where the ray that brushes a board ends on the next one below [m].

        Source: intersection of a line with the edges of a convex polygon. Thick boards
        may stop it before it reaches the one it would brush; a ray that nothing stops
        ends at the plane of the inner edges.
        """
        out, along = self.brushed(number)
        lower = self.corners(number - 1)
        met = [(0.0, along - self.slope * out)]
        for (x0, y0), (x1, y1) in pairwise([*lower, lower[0]]):
            over0, over1 = (y - along - self.slope * (x - out) for x, y in ((x0, y0), (x1, y1)))
            if over0 * over1 <= 0.0 and over0 != over1:
                part = over0 / (over0 - over1)
                x = x0 + part * (x1 - x0)
                met.append((x, along + self.slope * (x - out)))
        return max(met)


def boards_of(result: SlatsResult, plan: SlatPlan) -> Boards:
    """Return the boards of a plan, and the sun they go by."""
    slope = math.tan(math.radians(result.stopped_deg))
    return Boards(result.depth_m, result.thickness_m, plan.tilt_deg, plan.spacing_m, slope)


class _Sheet:
    """Places the detail at the upper left of a room (left, top, right, bottom) [px]."""

    def __init__(
        self, boards: Boards, result: SlatsResult, room: tuple[float, float, float, float]
    ) -> None:
        self.upright, self.to_left = result.upright, result.sun_side != "left"
        left, top, right, bottom = room
        spots = [spot for k in range(boards.count) for spot in boards.corners(k)]
        self.first, self.last = min(a for _, a in spots), max(a for _, a in spots)
        deep, long = max(boards.reach, boards.depth) + result.stand_off_m, self.last - self.first
        under = 0.0 if self.upright else 2.2 * SMALL
        across, down = right - left, bottom - top - under
        if self.upright:
            self.scale = min((down - LOW_AIR - WALL) / deep, across / long)
            self.right = left + long * self.scale
            self.base = (left + self.right) / 2.0
            self.edge = top + WALL + result.stand_off_m * self.scale
            self.foot = self.edge + (deep - result.stand_off_m) * self.scale + LOW_AIR
        else:
            self.scale = min((across - AIR - WALL) / deep, down / long)
            self.right = left + AIR + deep * self.scale + WALL
            self.foot = top + long * self.scale
            self.base = self.foot
            self.edge = self.right - WALL - result.stand_off_m * self.scale
        self.frame = rectangle(left, top, self.right, self.foot)
        self.bottom = self.foot + under

    def at(self, out: float, along: float) -> Spot:
        """Return the point of the sheet of a place [m]."""
        if not self.upright:
            return (self.edge - out * self.scale, self.base - (along - self.first) * self.scale)
        middle = (self.first + self.last) / 2.0
        turn = -1.0 if self.to_left else 1.0
        return (self.base + turn * (along - middle) * self.scale, self.edge + out * self.scale)

    def drawn(self, spots: list[Spot]) -> Points:
        """Return corners [m] as points of the sheet."""
        return points([self.at(*spot) for spot in spots])

    def inside(self, spots: list[Spot]) -> Points:
        """Return the part of a convex polygon [m] that lies in the frame, on the sheet."""
        return clip_convex(self.drawn(spots), self.frame)


def draw_detail(
    result: SlatsResult,
    plan: SlatPlan,
    words: DetailWords,
    room: tuple[float, float, float, float],
) -> tuple[list[str], float]:
    """Return the detail in a room of the sheet (left, top, right, bottom), and its foot [px].

    Its labels stand in a column to the right of the picture.
    """
    boards = boards_of(result, plan)
    texts = (words.board, words.spacing, words.tilt, words.stand_off, words.face)
    left, top, right, bottom = room
    wide = max(svg.text_width(text, SMALL) for text in texts) + COLUMN
    # the angle of upright boards is written on the side away from the sun
    shift = svg.text_width(words.sun, SMALL) if result.sun_side == "left" else 0.0
    sheet = _Sheet(boards, result, (left + shift, top, right - wide, bottom))
    low = max(sheet.foot - (LOW_AIR if result.upright else 0.0), top + 9.0 * SMALL)
    wall = [(-result.stand_off_m, a) for a in (sheet.first, sheet.last)]
    back = -result.stand_off_m - WALL / sheet.scale
    side = [(0.0, sheet.first), (boards.depth, sheet.first)]
    side += [(boards.depth, sheet.last), (0.0, sheet.last)]
    parts = [
        svg.polygon(sheet.drawn([*wall, (back, sheet.last), (back, sheet.first)]), fill=ROOM),
        svg.polyline(sheet.drawn(wall), class_="measure face", stroke_width=3),
        svg.polygon(sheet.drawn(side), class_="seen side", opacity=".45"),
        *_sun(sheet, boards, words.sun),
        *(part for k in range(boards.count) for part in _board(sheet, boards, k)),
        *_spacing(sheet, boards),
        *callouts(_things(sheet, boards, result, words), sheet.right + COLUMN, top + SMALL, low),
    ]
    return parts, max(sheet.bottom, low + SMALL)


def _board(sheet: _Sheet, boards: Boards, number: int) -> list[str]:
    """Return a board cut across the grain, with its diagonals."""
    corners = sheet.drawn(boards.corners(number))
    (a, b), (c, d) = (corners[0], corners[2]), (corners[1], corners[3])
    cross = "".join(
        f"M{svg.number(p[0])} {svg.number(p[1])}L{svg.number(q[0])} {svg.number(q[1])}"
        for p, q in ((a, b), (c, d))
    )
    return [cut(corners), svg.element("path", d=cross, class_="hatch")]


def _sun(sheet: _Sheet, boards: Boards, words: str) -> list[str]:
    """Return the sun between two boards, its ray past the upper one, and its angle."""
    brushed, under = boards.brushed(1), boards.brushed(0)
    end = boards.stopped(1)
    away = 10.0 * AIR / sheet.scale

    def far(spot: Spot) -> Spot:
        return (spot[0] + away, spot[1] + boards.slope * away)

    beam = sheet.inside([far(brushed), end, under, far(under)])
    ray = clip_line(sheet.drawn([far(brushed), end]), sheet.frame)
    return [
        svg.polygon(beam, fill=GOLD, fill_opacity=".5", class_="beam"),
        svg.polyline(ray, stroke=GOLD_INK, stroke_width=3, class_="stopped"),
        *_angle(sheet, boards, under, words),
    ]


def _angle(sheet: _Sheet, boards: Boards, spot: Spot, words: str) -> list[str]:
    """Return the square line off the wall, the arc up to the sun, and the angle in words."""
    x, y = sheet.at(*spot)
    step = ARC / sheet.scale
    angle = math.atan(boards.slope)
    turned = (spot[0] + step * math.cos(angle), spot[1] + step * math.sin(angle))
    (x0, y0), (x1, y1) = sheet.at(spot[0] + step, spot[1]), sheet.at(*turned)
    sweep = 0 if sheet.upright and not sheet.to_left else 1
    arc = f"M{svg.number(x0)} {svg.number(y0)}A{ARC} {ARC} 0 0 {sweep} "
    arc += f"{svg.number(x1)} {svg.number(y1)}"
    line = sheet.at(spot[0] + 1.3 * step, spot[1])
    if sheet.upright:
        anchor = "angle" if sheet.to_left else "end angle"
        shift = 14.0 if sheet.to_left else -14.0
        text = svg.text(x + shift, line[1], words, SMALL, class_=anchor)
    else:
        text = svg.text(sheet.frame[:, 0].min(), y + 1.2 * SMALL, words, SMALL, class_="angle")
    return [
        svg.line(x, y, *line, class_="reach"),
        svg.element("path", d=arc, class_="measure"),
        text,
    ]


def clip_line(ends: Points, frame: Points) -> Points:
    """Return the part of a line between two points (2, 2) that lies in an upright frame [px].

    Source: Liang & Barsky 1984, ACM Transactions on Graphics 3(1), in its simplest form.
    """
    low, high = frame.min(axis=0), frame.max(axis=0)
    begin, way = ends[0], ends[1] - ends[0]
    first, last = 0.0, 1.0
    for axis in (0, 1):
        if abs(way[axis]) > 1e-9:
            cuts = sorted((bound - begin[axis]) / way[axis] for bound in (low[axis], high[axis]))
            first, last = max(first, cuts[0]), min(last, cuts[1])
    return points([begin + part * way for part in (first, max(first, last))])


def _spacing(sheet: _Sheet, boards: Boards) -> list[str]:
    """Return the marks of the boards along the side, and the line between the first two."""
    line = [sheet.at(0.0, k * boards.spacing) for k in range(boards.count)]
    return [
        svg.polyline(points(line), class_="measure"),
        *(svg.element("circle", cx=x, cy=y, r=5, class_="dot mark") for x, y in line),
    ]


def _things(
    sheet: _Sheet, boards: Boards, result: SlatsResult, words: DetailWords
) -> list[tuple[str, float, float]]:
    """Return the labels of the detail and the points they lead to."""
    top = boards.count - 1
    turn = math.radians(boards.tilt)
    inner = (0.25 * boards.depth * math.cos(turn), -0.25 * boards.depth * math.sin(turn))
    spots = [
        (words.face, (-result.stand_off_m, sheet.last - 0.04 * (sheet.last - sheet.first))),
        (words.board, (inner[0], inner[1] + top * boards.spacing)),
        (words.stand_off, (-result.stand_off_m / 2.0, (top - 0.35) * boards.spacing)),
        (words.spacing, (0.0, 0.5 * boards.spacing)),
        (words.tilt, inner),
    ]
    return [(text, *sheet.at(*spot)) for text, spot in spots]
