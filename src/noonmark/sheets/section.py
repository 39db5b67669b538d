"""The wall section: a dimensioned drawing with one sun falling through the glass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonmark.shape import WallSection
from noonmark.shape.polygon import points
from noonmark.sheets import house, paper, svg, truss
from noonmark.sheets.dimensions import EaveWords, Level, draw_eave, draw_levels, levels_width
from noonmark.sheets.paper import SMALL
from noonmark.sheets.storypole import Mark, draw_pole, pole_width
from noonmark.sheets.sunlight import OPEN_AIR, draw_leader, draw_light, lit_glass
from noonmark.sheets.view import View
from noonmark.units import System
from noonmark.units.writing import dimension

WIDTH = 1400.0
SHOWN_DEPTH = 5.5  # m of the room shown unless asked otherwise
BESIDE = 0.35  # m shown behind the house
DUG = 0.35  # m of earth shown
GAP = 24.0  # px between pole, levels and picture


@dataclass(frozen=True)
class SectionLabels:
    """All words of a section sheet; `title` and `subtitle` name house, date and hour.

    `description` is for screen readers; `notes` stand below the picture.
    """

    title: str
    subtitle: str
    description: str
    floor: str
    sill: str
    head: str
    soffit: str
    plate: str
    fascia: str
    gutter: str
    heel: str
    end_heel: str
    insulation: str
    pole: str
    notes: tuple[str, ...] = ()


def draw_section(
    section: WallSection,
    labels: SectionLabels,
    *,
    profile_angle: float | None = None,
    marks: Sequence[Mark] = (),
    own: Mark | None = None,
    system: System = "metric",
    shown_depth: float = SHOWN_DEPTH,
) -> str:
    """Return the section as an SVG document, 1400 units wide.

    `profile_angle` [degrees] is the one sun shown, None for none; `marks` are the
    notches of the story pole, `own` the shown day's when it is none of them;
    dimensions are written in `system`. A room deeper than `shown_depth` [m] ends in a
    break line, whatever the sun, so that the sheets of one house at several dates lie
    over each other.
    """
    levels = _levels(section, labels, system)
    words = _eave_words(section, labels, system)
    head, top = paper.heading(labels.title, labels.subtitle, WIDTH)
    view, pole_x, level_x = _layout(section, levels, words, marks, shown_depth, top)
    notes, height = paper.captions(labels.notes, view.bottom + 12, WIDTH)
    parts = [
        paper.hatching(),
        svg.element("rect", width=WIDTH, height=height, fill=paper.PAPER),
        *head,
        house.room(view, section),
        *draw_light(view, section, profile_angle),
        *house.ground(view, section),
        *truss.roof(view, section),
        *house.walls(view, section),
        *truss.bearings(view, section),
        *house.window(view, section, lit_glass(section, profile_angle)),
        *_break(view, section),
        *draw_leader(view, section, profile_angle, level_x),
        *draw_levels(view, level_x, levels),
        *draw_eave(view, section, words),
        *draw_pole(view, pole_x, section, marks, labels.pole, own),
        *notes,
    ]
    return svg.document(WIDTH, height, labels.title, labels.description, parts, paper.STYLE)


def _levels(section: WallSection, labels: SectionLabels, system: System) -> list[Level]:
    roof, window = section.roof, section.window
    named = [(labels.soffit, roof.soffit, -roof.projection), (labels.plate, roof.plate, 0.0)]
    if roof.trim.fascia_drop > 0:
        named.append((labels.fascia, roof.fascia_foot, -roof.projection))
    if gutter := roof.trim.gutter:
        foot = roof.fascia_top - gutter.drop - gutter.depth
        named.append((labels.gutter, foot, -roof.reach))
    if window:
        named += [(labels.head, window.head, 0.0), (labels.sill, window.sill, 0.0)]
    named.append((labels.floor, 0.0, 0.0))
    return [Level(f"{word} {dimension(height, system)}", height, x) for word, height, x in named]


def _eave_words(section: WallSection, labels: SectionLabels, system: System) -> EaveWords:
    roof = section.roof
    end_heel = f"{labels.end_heel} {dimension(roof.end_heel, system)}"
    return EaveWords(
        projection=dimension(roof.projection, system),
        overhang=dimension(roof.overhang, system) if roof.bearing > 0 else "",
        heel=f"{labels.heel} {dimension(roof.heel, system)}",
        end_heel=end_heel if roof.truss == "cantilever" else "",
        insulation=f"{labels.insulation} {dimension(section.insulation_over_plate, system)}",
    )


def _layout(
    section: WallSection,
    levels: Sequence[Level],
    words: EaveWords,
    marks: Sequence[Mark],
    depth: float,
    top: float,
) -> tuple[View, float, float]:
    """Return the picture and where pole and levels stand [px]."""
    outer = section.back_x + section.wall_thickness
    whole = abs(section.roof.span - outer) < 0.05
    left = -section.roof.reach - OPEN_AIR
    right = outer + BESIDE + (section.projection if whole else 0.0)
    right = min(right, section.wall_thickness + depth) if depth < section.room_depth else right
    pole_x = paper.MARGIN + (pole_width(marks) if marks else 0.0)
    level_x = pole_x + GAP + levels_width(levels)
    x0 = level_x + GAP
    scale = (WIDTH - paper.MARGIN - x0) / (right - left)
    low = min(section.ground, section.underside) - DUG
    ridge = section.roof.ridge if section.roof.run < right else section.roof.top_edge(right)
    highest = max(words.shelves(section.roof.pitch, between=fits)[-1] for fits in (True, False))
    sky = section.roof.top_edge(0) + (highest + 2 * SMALL) / scale
    view = View(left, right, low, max(ridge + 0.15, sky), scale, x0, top)
    return view, pole_x, level_x


def _break(view: View, section: WallSection) -> list[str]:
    """Return the break line where the house goes on beyond the picture."""
    if view.right > section.back_x:
        return []
    edge, step = view.x(view.right) - 4, 14.0
    middle = (view.y0 + view.bottom) / 2
    zigzag = [
        (0, middle - step),
        (step, middle - step / 2),
        (-step, middle + step / 2),
        (0, middle + step),
    ]
    line = [(edge, view.y0), *((edge + x, y) for x, y in zigzag), (edge, view.bottom)]
    beyond = [(WIDTH, view.bottom), (WIDTH, view.y0)]
    return [
        svg.polygon(points([*line, *beyond]), fill=paper.PAPER),
        svg.polyline(points(line), class_="measure"),
    ]
