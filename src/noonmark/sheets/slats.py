"""The workshop sheet of a home-made shade of boards: front, detail, marks, cut list."""

from __future__ import annotations

import math
from dataclasses import dataclass

from noonmark.shape.polygon import points, rectangle
from noonmark.sheets import paper, svg
from noonmark.sheets.chain import ELBOW, chain_across, chain_up
from noonmark.sheets.dimensions import tick
from noonmark.sheets.drawing import SCREEN, Drawing
from noonmark.sheets.paper import SMALL
from noonmark.sheets.slatdetail import DetailWords, draw_detail
from noonmark.sheets.view import View
from noonmark.study.results.shade import SlatPlan, SlatsResult
from noonmark.units import System
from noonmark.units.writing import dimension

SPLIT = 790.0  # px, where cut list and notes begin, beside the front
NAMED = 3.0 * SMALL  # px from the top of a picture's name to the picture
FRONT_TALL = 470.0  # px, of the frame at most
DETAIL = 470.0  # px, of the detail at most
STRIP = 26.0  # px, half the width of the side as drawn with its marks
PITCH = 68.0  # px from mark to mark
ENDS = (130.0, 190.0)  # px of a side before its first mark, at least and at most


@dataclass(frozen=True)
class SlatsLabels:
    """All words of the sheet of a shade of boards.

    `detail_words` carry their measures; `cuts` is the cut list, a paragraph for each
    kind of piece; `notes` follow it; `description` is for screen readers.
    """

    title: str
    subtitle: str
    description: str
    front: str
    detail: str
    strip: str
    window: str
    overall: str
    detail_words: DetailWords
    cut_list: str
    cuts: tuple[str, ...]
    notes: tuple[str, ...]


def draw_slats(result: SlatsResult, labels: SlatsLabels, system: System = "metric") -> Drawing:
    """Return the recommended shade as a drawing, 1400 px wide."""
    plan = result.plans[result.recommended]
    left, right = paper.MARGIN, SCREEN.width - paper.MARGIN
    top = SCREEN.top(labels.title, labels.subtitle)
    front, foot = _front(result, plan, labels, top + NAMED, system)
    beside, end = _beside(labels, top + 1.2 * SMALL)
    second = max(foot, end) + 2.0 * SMALL
    room = (left, second + NAMED, right, second + NAMED + DETAIL)
    detail, foot = draw_detail(result, plan, labels.detail_words, room)
    strip, end = _strip(plan, labels, foot + 2.6 * SMALL, system)
    parts = [
        svg.text(left, top + 1.2 * SMALL, labels.front, SMALL, class_="name"),
        *front,
        *beside,
        svg.text(left, second + 1.2 * SMALL, labels.detail, SMALL, class_="name"),
        *detail,
        *strip,
    ]
    return Drawing(
        labels.title,
        labels.subtitle,
        labels.description,
        (),
        tuple(parts),
        right=SCREEN.width,
        top=top,
        foot=end,
    )


def _beside(labels: SlatsLabels, top: float) -> tuple[list[str], float]:
    """Return the cut list and the notes beside the front, and where they end [px]."""
    parts = [svg.text(SPLIT, top, labels.cut_list, SMALL, class_="name")]
    y = top + 0.4 * SMALL
    for paragraph in (*labels.cuts, *labels.notes):
        for row in svg.wrapped(paragraph, paper.TYPE, SCREEN.width - paper.MARGIN - SPLIT):
            y += paper.TYPE * paper.LEADING
            parts.append(svg.text(SPLIT, y, row, paper.TYPE))
        y += 0.5 * paper.TYPE
    return parts, y


def _front(
    result: SlatsResult, plan: SlatPlan, labels: SlatsLabels, top: float, system: System
) -> tuple[list[str], float]:
    """Return the frame as seen from outdoors, and its foot [px].

    The left of somebody inside lies right.
    """
    wide = plan.left_m + result.window_width_m + plan.right_m
    tall = plan.bottom_m + result.window_height_m + plan.top_m
    texts = [dimension(m, system) for m in (plan.bottom_m, result.window_height_m, plan.top_m)]
    texts[1] = f"{labels.window} {texts[1]}"
    overall = dimension(tall, system)
    x0 = paper.MARGIN + svg.text_width(overall, SMALL) + 48.0
    end = SPLIT - 30.0 - max(svg.text_width(text, SMALL) for text in texts) - ELBOW - 24.0
    scale = min((end - x0) / wide, FRONT_TALL / tall)
    view = View(
        -plan.right_m - result.window_width_m, plan.left_m, -plan.bottom_m,
        result.window_height_m + plan.top_m, scale, x0, top,
    )  # fmt: skip
    right, low = view.x(view.right), view.bottom
    heights = [view.y(y) for y in (view.low, 0.0, result.window_height_m, view.high)]
    edges = [view.x(x) for x in (view.left, -result.window_width_m, 0.0, view.right)]
    across = [dimension(m, system) for m in (plan.right_m, result.window_width_m, plan.left_m)]
    across[1] = f"{labels.window} {across[1]}"
    line, under = x0 - 24.0, low + 104.0
    parts = [
        *_frame(view, result, plan),
        svg.line(line, top, line, low, class_="measure"),
        tick(line, top),
        tick(line, low),
        svg.text(line - 12.0, (top + low) / 2 + SMALL * 0.34, overall, SMALL, class_="end overall"),
        *chain_up(heights, texts, right + 24.0, top, low),
        *chain_across(edges, across, low + 30.0, paper.MARGIN, SPLIT - 20.0),
        svg.line(x0, under, right, under, class_="measure"),
        tick(x0, under),
        tick(right, under),
        svg.text(
            (x0 + right) / 2, under + 1.2 * SMALL, f"{labels.overall} {dimension(wide, system)}",
            SMALL, class_="middle overall",
        ),
    ]  # fmt: skip
    return parts, under + 1.4 * SMALL


def _frame(view: View, result: SlatsResult, plan: SlatPlan) -> list[str]:
    """Return sides, boards from the back one to the front one, and the window dashed."""
    thick, ends = result.thickness_m, (view.left, view.right, view.low, view.high)
    left, right, low, high = ends
    if result.upright:
        sides = [(left, low, right, low + thick), (left, high - thick, right, high)]
    else:
        sides = [(left, low, left + thick, high), (right - thick, low, right, high)]
    window = rectangle(-result.window_width_m, 0.0, 0.0, result.window_height_m)
    drawn = [
        svg.polygon(view.box(*_board(view, result, plan, mark)), class_="seen board")
        for mark in plan.marks_m
    ]
    return [
        *drawn,
        *(svg.polygon(view.box(*side), class_="seen side") for side in sides),
        svg.polygon(
            view.inside(window), class_="measure window", stroke_dasharray="10 6", stroke_width=2.4
        ),
    ]


def _board(
    view: View, result: SlatsResult, plan: SlatPlan, mark: float
) -> tuple[float, float, float, float]:
    """Return what a board covers of the front view: outer edges lie towards the marks' start."""
    turn, thick = math.radians(plan.tilt_deg), result.thickness_m
    half = 0.5 * thick * math.cos(turn)
    begin, end = mark - result.depth_m * math.sin(turn) - half, mark + half
    if not result.upright:
        foot = view.low + plan.first_m
        return (view.left + thick, foot + begin, view.right - thick, foot + end)
    low, high = view.low + thick, view.high - thick
    if result.sun_side == "right":  # marks begin at the left of somebody inside: here on the right
        start = view.right - plan.first_m
        return (start - end, low, start - begin, high)
    start = view.left + plan.first_m
    return (start + begin, low, start + end, high)


def _strip(
    plan: SlatPlan, labels: SlatsLabels, top: float, system: System
) -> tuple[list[str], float]:
    """Return a side laid down with the marks of its first boards and of the last, and its foot."""
    scale = PITCH / plan.spacing_m
    x0 = paper.MARGIN
    start = x0 + min(max(plan.first_m * scale, ENDS[0]), ENDS[1])
    room = int((SCREEN.width - paper.MARGIN - 1.6 * PITCH - start) / PITCH)
    marks = list(enumerate(plan.marks_m))
    whole = len(marks) <= room + 1
    shown = marks if whole else [*marks[: room - 1], marks[-1]]
    places = [start + i * PITCH for i in range(len(shown))]
    if not whole:
        places[-1] += PITCH
    end = places[-1] + 0.6 * PITCH
    y = top + 4.2 * SMALL
    ends = (places[-2] + 0.6 * PITCH, places[-1] - 0.6 * PITCH) if not whole else (end, end)
    pieces = [(x0, ends[0]), *([] if whole else [(ends[1], end)])]
    parts = [svg.text(x0, top + SMALL * 0.4, labels.strip, SMALL, class_="name")]
    parts += [
        svg.polygon(rectangle(a, y - STRIP, b, y + STRIP), class_="seen strip") for a, b in pieces
    ]
    for (number, mark), x in zip(shown, places, strict=True):
        words = dimension(mark, system) if number else "0"
        parts += _mark(x, y, words, over=number % 2 == 1)
    parts.append(_end(x0, start, y, dimension(plan.first_m, system)))
    return parts, y + STRIP + 1.6 * SMALL


def _mark(x: float, y: float, words: str, *, over: bool) -> list[str]:
    """Return a mark across the side, its words over it or under it."""
    at = y - STRIP - 14.0 if over else y + STRIP + 14.0 + 0.72 * SMALL
    tip = 8.0 if over else -8.0
    high, low = y - STRIP - max(tip, 0.0), y + STRIP - min(tip, 0.0)
    return [
        svg.line(x, high, x, low, class_="measure notch", stroke_width=2.6),
        svg.text(x, at, words, SMALL, class_="middle mark"),
    ]


def _end(x0: float, start: float, y: float, words: str) -> str:
    """Return the measure from the end of the side to its first mark, over it."""
    at = y - STRIP - 14.0
    return "".join(
        [
            svg.polyline(points([(x0, at + 6), (start, at + 6)]), class_="measure"),
            tick(x0, at + 6),
            tick(start, at + 6),
            svg.text(x0, at - 4, words, SMALL, class_="first"),
        ]
    )
