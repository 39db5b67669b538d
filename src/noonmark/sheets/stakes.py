"""Sketches of a stake-out, seen from above with true north up: stakes, needle, shadows."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from noonmark.shape.polygon import Points, points
from noonmark.sheets import paper, svg
from noonmark.sheets.paper import CLAY, GOLD_INK, INK, PAPER, SHADE, SMALL
from noonmark.sheets.sunparts import scale_bar
from noonmark.study.results.stakeout import CircleMarks, Footprint, Needle
from noonmark.units import System
from noonmark.units.writing import taped

WIDTH, TALL = 560.0, 450.0
_MIDDLE = (WIDTH / 2.0, TALL / 2.0)
_ROOM = 105.0  # px beside the plan, for letters and sizes
_CLEAR = 10.0  # px from a corner to the size of a side
_RADIUS = 155.0


@dataclass(frozen=True)
class StakeLabels:
    """Words of the sketches: each one's name and what it shows, the four points, and marks."""

    title: str
    description: str
    cardinal: tuple[str, str, str, str]
    marks: tuple[str, ...] = ()


def draw_plan(part: Footprint, faces: float, labels: StakeLabels, system: System) -> str:
    """Return the stakes of a building as an SVG document; a sun stands before the sunny side."""
    corners = points([(stake.east_m, stake.north_m) for stake in part.stakes])
    low, high = corners.min(axis=0), corners.max(axis=0)
    extent = np.maximum(high - low, 1e-6)
    scale = float(min((WIDTH - 2 * _ROOM) / extent[0], (TALL - 2 * _ROOM) / extent[1]))
    middle = 0.5 * (low + high)
    drawn = (corners - middle) * [scale, -scale] + _MIDDLE
    parts = [
        svg.polygon(drawn, class_="wall", fill="url(#nm-slant)"),
        *(
            [svg.line(*drawn[i], *drawn[i + 2], class_="near") for i in (0, 1)]
            if len(drawn) == 4
            else []
        ),
        *_sides(part, drawn, system),
        *(
            item
            for index, stake in enumerate(part.stakes)
            for item in _stake(stake.name, drawn, index)
        ),
        _sunny(drawn, faces),
        *_north(labels.cardinal[0]),
        *scale_bar(24.0, TALL - 40.0, scale, system),
    ]
    return _document(labels, parts)


def _sides(part: Footprint, drawn: Points, system: System) -> list[str]:
    """Return the length of each side with room for it, outside it and along it."""
    found = []
    for index, stake in enumerate(part.stakes):
        start, end = drawn[index], drawn[(index + 1) % len(drawn)]
        said = taped(stake.next_m, system)
        if svg.text_width(said, SMALL) + 2 * _CLEAR > math.dist(start, end):
            continue  # the table has it
        along = _unit(end - start)
        out = np.array([along[1], -along[0]])  # the ring runs clockwise on the sheet
        turn = math.degrees(math.atan2(along[1], along[0]))
        upright = (turn + 90.0) % 180.0 - 90.0
        flipped = abs((turn - upright) % 360.0) > 1.0
        x, y = (float(v) for v in 0.5 * (start + end) + (14.0 + SMALL * 0.7 * flipped) * out)
        turned = f"rotate({svg.number(upright)} {svg.number(x)} {svg.number(y)})"
        found.append(svg.text(x, y, said, SMALL, class_="middle", transform=turned))
    return found


def _stake(name: str, drawn: Points, index: int) -> list[str]:
    """Return a stake with its letter, outside the building; inside at a corner that cuts in."""
    spot = drawn[index]
    before = _unit(spot - drawn[index - 1])
    after = _unit(drawn[(index + 1) % len(drawn)] - spot)
    cuts_in = before[0] * after[1] - before[1] * after[0] < 0.0
    way = _unit(before - after)  # out of a corner, and into the building where it cuts in
    x, y = spot + (30.0 if cuts_in else 24.0) * way
    return [
        svg.element("circle", cx=spot[0], cy=spot[1], r=7, class_="filled"),
        *([svg.element("circle", cx=x, cy=y, r=16, fill=PAPER)] if cuts_in else []),
        svg.text(float(x), float(y) + SMALL * 0.4, name, SMALL * 1.2, class_="name middle"),
    ]


def _unit(way: Points) -> Points:
    return np.asarray(way / max(float(np.hypot(*way)), 1e-9))


def _sunny(drawn: Points, faces: float) -> str:
    """Return the sun before the sunny side."""
    way = _toward(faces)
    x, y = np.array(_MIDDLE) + (float(((drawn - _MIDDLE) @ way).max()) + 58.0) * way
    return svg.element("circle", cx=x, cy=y, r=11, class_="disc")


def _north(letter: str) -> list[str]:
    x, top = WIDTH - 40.0, 36.0
    return [
        svg.line(x, top + 74.0, x, top + 12.0, class_="measure", stroke_width=2.6),
        svg.polygon(points([(x, top), (x - 8, top + 20), (x + 8, top + 20)]), fill=INK),
        svg.text(x, top - 8.0, letter, SMALL * 1.2, class_="name middle"),
    ]


def draw_rose(needle: Needle, equator: float, labels: StakeLabels) -> str:
    """Return the compass with its needle as an SVG document.

    `equator` is the azimuth [deg] to look for; `marks` are what the compass reads
    there, and the needle's word.
    """
    centre = np.array(_MIDDLE)
    parts = [
        svg.element("circle", cx=centre[0], cy=centre[1], r=_RADIUS, class_="edge", fill=PAPER)
    ]
    for tick in range(0, 360, 10):
        inner = _RADIUS - (16.0 if tick % 90 == 0 else 8.0)
        ends = (*(centre + inner * _toward(tick)), *(centre + _RADIUS * _toward(tick)))
        parts.append(svg.line(*ends, class_="measure"))
    for letter, azimuth in zip(labels.cardinal, (0.0, 90.0, 180.0, 270.0), strict=True):
        x, y = centre + (_RADIUS - 34.0) * _toward(azimuth)
        parts.append(svg.text(x, y + SMALL * 0.4, letter, SMALL * 1.2, class_="name middle"))
    way = _toward(equator)
    parts += [
        svg.line(*(centre + _RADIUS * way), *(centre + (_RADIUS + 22.0) * way), class_="day"),
        *_needle(centre, needle.declination_deg),
    ]
    x, y = centre + (_RADIUS + 34.0) * way
    y += SMALL * (0.8 if way[1] > 0 else -0.2)
    parts.append(svg.text(x, y, labels.marks[0], SMALL, class_="name middle"))
    tip = centre + (_RADIUS + 12.0) * _toward(needle.declination_deg)
    east = _toward(needle.declination_deg)[0] >= 0.0
    parts.append(
        svg.text(
            float(tip[0]) + (10.0 if east else -10.0), float(tip[1]), labels.marks[1], SMALL,
            class_=None if east else "end",
        )
    )  # fmt: skip
    return _document(labels, parts)


def _needle(centre: Points, declination: float) -> list[str]:
    along = _toward(declination)
    aside = np.array([-along[1], along[0]])
    halves = ((_RADIUS - 20.0, CLAY), (-(_RADIUS - 60.0), PAPER))
    return [
        svg.polygon(
            points([centre + reach * along, centre + 9.0 * aside, centre - 9.0 * aside]),
            class_="edge",
            fill=fill,
        )
        for reach, fill in halves
    ]


def draw_circle(circle: CircleMarks, labels: StakeLabels) -> str:
    """Return the shadows of equal length as an SVG document.

    `marks` are the words of morning, afternoon and rod.
    """
    foot = np.array(_MIDDLE)
    azimuths = (circle.morning_to_deg, circle.afternoon_to_deg)
    tips = [foot + _RADIUS * _toward(azimuth) for azimuth in azimuths]
    halved = tips[0] + tips[1] - 2.0 * foot
    long = float(np.hypot(*halved))
    up = halved / long if long > 1.0 else _toward(0.0)
    ends = [foot + side * (_RADIUS + 34.0) * up for side in (-1.0, 1.0)]
    parts = [
        svg.element("circle", cx=foot[0], cy=foot[1], r=_RADIUS, class_="fine"),
        *(svg.line(*foot, *tip, stroke=SHADE, stroke_width=9, opacity=".45") for tip in tips),
        svg.line(*tips[0], *tips[1], class_="near"),
        svg.line(*ends[0], *ends[1], class_="measure", stroke_width=2.6, stroke=GOLD_INK),
        svg.element("circle", cx=foot[0], cy=foot[1], r=7, fill=INK),
    ]
    for tip, word in zip(tips, labels.marks, strict=False):
        east = bool(tip[0] > foot[0])
        x = float(tip[0]) + (14.0 if east else -14.0)
        parts += [
            svg.element("circle", cx=tip[0], cy=tip[1], r=7, class_="filled"),
            svg.text(x, float(tip[1]) - 8.0, word, SMALL, class_=None if east else "end"),
        ]
    clear = -12.0 if up[1] > 0 else 8.0 + SMALL * 0.7  # on the side the shadows do not fall
    parts += [
        svg.text(foot[0] + 14.0, foot[1] + clear, labels.marks[2], SMALL),
        *_end_letters(ends, labels),
    ]
    return _document(labels, parts)


def _end_letters(ends: list[Points], labels: StakeLabels) -> list[str]:
    size = SMALL * 1.2
    steps, letters = (-8.0, size), (labels.cardinal[0], labels.cardinal[2])
    return [
        svg.text(float(end[0]), float(end[1]) + step, letter, size, class_="name middle")
        for end, step, letter in zip(sorted(ends, key=lambda e: e[1]), steps, letters, strict=True)
    ]


def _toward(azimuth: float) -> Points:
    """Return the step of length 1 on the sheet towards an azimuth [deg], north up."""
    turn = math.radians(azimuth)
    return np.array([math.sin(turn), -math.cos(turn)])


def _document(labels: StakeLabels, parts: list[str]) -> str:
    whole = [paper.hatching(), *parts]
    return svg.document(WIDTH, TALL, labels.title, labels.description, whole, paper.style(PAPER))
