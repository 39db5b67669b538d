"""The wall section: a dimensioned drawing with one sun falling through the glass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonmark.shape import WallSection
from noonmark.shape.polygon import points
from noonmark.sheets import house, svg, truss
from noonmark.sheets.dimensions import EaveWords, Level, draw_eave, draw_levels, levels_width
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.paper import SMALL
from noonmark.sheets.storypole import Mark, draw_pole, pole_width
from noonmark.sheets.sunlight import OPEN_AIR, draw_leader, draw_light, lit_glass
from noonmark.sheets.view import View
from noonmark.units import System
from noonmark.units.writing import dimension

SHOWN_DEPTH = 5.5  # m of the room shown unless asked otherwise
LESS_DEPTH = 4.2  # m of it where a scale leaves no more
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
    stage: Stage = SCREEN,
) -> Drawing:
    """Return the section on a stage.

    `profile_angle` [degrees] is the one sun shown, None for none; `marks` are the
    notches of the story pole, `own` the shown day's when it is none of them;
    dimensions are written in `system`. A room deeper than `shown_depth` [m] ends in a
    break line, whatever the sun, so that the sheets of one house at several dates lie
    over each other; at a given scale it breaks where the stage holds it.
    """
    levels = _levels(section, labels, system)
    words = _eave_words(section, labels, system)
    pole_x = stage.margin + (pole_width(marks) if marks else 0.0)
    level_x = pole_x + GAP + levels_width(levels)
    top = stage.top(labels.title, labels.subtitle)
    view = _view(section, words, (level_x + GAP, top), shown_depth, stage)
    parts = [
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
    ]
    return Drawing(
        labels.title,
        labels.subtitle,
        labels.description,
        labels.notes,
        tuple(parts),
        right=view.x(view.right) + stage.margin,
        top=top,
        foot=view.bottom + 12,
        scale=view.scale,
    )


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


def _view(
    section: WallSection,
    words: EaveWords,
    at: tuple[float, float],
    depth: float,
    stage: Stage,
) -> View:
    """Return the picture with its upper left corner at a point [px].

    It is as large as the stage holds it, at the last of its scales even if it does not.
    """
    depths = (section.room_depth, depth, LESS_DEPTH) if stage.scales else (depth,)
    views = [
        _framed(section, words, at, shown, scale or _filling(section, at[0], shown, stage))
        for scale in stage.scales or (0.0,)
        for shown in depths
    ]
    return next((v for v in views if stage.holds(v.x(v.right), v.bottom + 12)), views[-1])


def _ends(section: WallSection, depth: float) -> tuple[float, float]:
    """Return from where to where the section is shown [m]."""
    outer = section.back_x + section.wall_thickness
    whole = abs(section.roof.span - outer) < 0.05
    right = outer + BESIDE + (section.projection if whole else 0.0)
    right = min(right, section.wall_thickness + depth) if depth < section.room_depth else right
    return -section.roof.reach - OPEN_AIR, right


def _filling(section: WallSection, x0: float, depth: float, stage: Stage) -> float:
    """Return the scale at which the section fills the stage from `x0` [px] on."""
    left, right = _ends(section, depth)
    return (stage.right - x0) / (right - left)


def _framed(
    section: WallSection, words: EaveWords, at: tuple[float, float], depth: float, scale: float
) -> View:
    """Return the picture at a scale [px/m], as high as roof and words need."""
    left, right = _ends(section, depth)
    low = min(section.ground, section.underside) - DUG
    ridge = section.roof.ridge if section.roof.run < right else section.roof.top_edge(right)
    highest = max(words.shelves(section.roof.pitch, between=fits)[-1] for fits in (True, False))
    sky = section.roof.top_edge(0) + (highest + 2 * SMALL) / scale
    return View(left, right, low, max(ridge + 0.15, sky), scale, *at)


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
    end = view.x(view.right) + 2 * step
    beyond = [(end, view.bottom), (end, view.y0)]
    return [
        svg.polygon(points([*line, *beyond]), class_="blank"),
        svg.polyline(points(line), class_="measure"),
    ]
