"""Section and elevations in true size, with the sun and shade of each day on its own layer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from ezdxf.enums import TextEntityAlignment as Align

from noonmark.shape import WallSection, beam_polygon
from noonmark.shape.polygon import Points, clip_convex, points, rectangle
from noonmark.sheets import parts
from noonmark.sheets.dxf import SHADE, SUN, TEXT, Model
from noonmark.sheets.elevation import inner_edge
from noonmark.sheets.spread import spread
from noonmark.sheets.sunlight import OPEN_AIR, shades
from noonmark.study.elevation import Elevation
from noonmark.units import System
from noonmark.units.writing import dimension

DUG = 0.5  # m of earth shown
BESIDE = 0.8  # m of earth shown beside the house
CHAIN = 0.5  # m from one chain of dimensions to the next
LINE = 1.6 * TEXT  # m from line to line of the words


@dataclass(frozen=True)
class Words:
    """What is written: heights by their keys, names of windows, lines under the drawing."""

    heights: dict[str, str]
    lines: tuple[str, ...]
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class SunOfDay:
    """A sun in the section: its day as layers bear it, and its profile angle [deg], if any."""

    day: str
    profile_angle: float | None


def section_dxf(
    section: WallSection, suns: Sequence[SunOfDay], words: Words, system: System
) -> bytes:
    """Return the section through the whole house."""
    model = Model(system)
    roof, far = section.roof, parts.outer(section)
    left, right = -roof.reach - BESIDE, far + roof.projection + BESIDE
    low = min(section.ground, section.underside) - DUG
    _ground(model, section, (left, right, low))
    for piece in parts.wall_pieces(section):
        model.outline("WALL", piece.outline)
        for wood in piece.timbers:
            model.outline("FRAMING", wood)
            model.hatch(wood, "ANSI37", 0.3)
        if piece.filling is not None:
            model.hatch(piece.filling, "INSULATION")
    _roof(model, section)
    if section.window is not None:
        model.outline("GLASS", parts.pane(section, section.window.sill, section.window.head))
        for frame in parts.frames(section):
            model.outline("WINDOW", frame)
    for sun in suns:
        _sun(model, section, sun, rectangle(left, low, right, roof.ridge + 1.0))
    _section_dimensions(model, section, low)
    heights = {
        "ground": section.ground,
        "floor": 0.0,
        "plate": roof.plate,
        "soffit": roof.soffit,
        "ridge": roof.ridge,
    }
    if section.window is not None:
        heights |= {"sill": section.window.sill, "head": section.window.head}
    _heights(model, heights, words, left - 2 * CHAIN)
    _lines(model, words, left, low - 3 * CHAIN)
    return model.content()


def _ground(model: Model, section: WallSection, bounds: tuple[float, float, float]) -> None:
    left, right, low = bounds
    earth = parts.earth(section, left, right, low)
    model.outline("GROUND", earth)
    model.hatch(earth, "EARTH", 0.4)
    for part in (*parts.stems(section, low), parts.slab(section)):
        model.outline("FLOOR", part)
        model.hatch(part, "AR-CONC", 0.02)
    underlay = parts.underlay(section)
    if underlay is not None:
        model.outline("INSULATION", underlay)
        model.hatch(underlay, "ANSI37", 0.3)


def _roof(model: Model, section: WallSection) -> None:
    roof = section.roof
    for wood in parts.truss_wood(roof):
        model.outline("ROOF", wood)
    model.outline("ROOF", parts.deck(roof, roof.span + roof.projection), closed=False)
    model.outline("ROOF", parts.ceiling(section))
    for part in (parts.closing(roof), parts.soffit(roof), parts.fascia(roof)):
        if part is not None:
            model.outline("TRIM", part)
    sheet = parts.gutter(roof)
    if sheet is not None:
        model.outline("TRIM", sheet, closed=False)
    depth = section.insulation_over_plate
    if depth > 0.0:
        top = roof.plate + depth
        line = points([(0.0, top), (roof.span, top)])
        model.outline("INSULATION", line, closed=False)


def _sun(model: Model, section: WallSection, sun: SunOfDay, bounds: Points) -> None:
    """Draw the beam and the shade of a day, each on its layer."""
    lit, dark = f"SUN {sun.day}", f"SHADE {sun.day}"
    model.layer(lit, SUN)
    model.layer(dark, SHADE)
    angle = sun.profile_angle
    if angle is None or not 0.0 < angle < 90.0:
        return
    beam = beam_polygon(section, angle, outdoors=section.roof.reach + OPEN_AIR)
    model.outline(lit, clip_convex(beam, bounds))
    for shade in shades(section, angle):
        model.outline(dark, shade)


def _section_dimensions(model: Model, section: WallSection, low: float) -> None:
    roof, window, far = section.roof, section.window, parts.outer(section)
    tip = -roof.projection
    first = -roof.reach - CHAIN
    heights = {0.0: 0.0}
    if window is not None:
        heights |= {window.sill: 0.0, window.head: 0.0}
    heights[roof.soffit] = tip
    model.up(list(heights), list(heights.values()), first)
    tops = {0.0: 0.0, roof.plate: 0.0, roof.ridge: roof.run}
    model.up(list(tops), list(tops.values()), first - CHAIN)
    model.up([roof.plate, roof.top_edge(0.0)], [0.0, 0.0], 1.8 * CHAIN)
    if roof.truss == "cantilever" and roof.projection > 0.0:
        model.up([roof.plate, roof.fascia_top], [tip, tip], tip - CHAIN / 2)
    over = roof.top_edge(0.0) + CHAIN
    model.across([tip, 0.0], [roof.fascia_top, roof.top_edge(0.0)], over)
    if roof.bearing > 0.0:
        model.across([tip, roof.bearing], [roof.fascia_top, roof.plate], over + CHAIN)
    model.up([0.0, section.ceiling], [section.back_x] * 2, section.back_x - CHAIN)
    edges = [0.0, section.wall_thickness, section.back_x, far]
    model.across(edges, [low] * 4, low - CHAIN)
    model.across([0.0, roof.span], [low] * 2, low - 2 * CHAIN)


def elevation_dxf(
    elevations: Sequence[tuple[str, Elevation]], words: Words, system: System
) -> bytes:
    """Return one wall as seen from outdoors; each day with its shade at the fullest hour.

    `elevations` are the same wall on some days, with the days as layers bear them.
    """
    model = Model(system)
    wall = elevations[0][1]
    _wall(model, wall)
    for pane, name in zip(wall.panes, words.names, strict=True):
        model.outline("WINDOW", pane.hole)
        model.outline("GLASS", inner_edge(pane.hole))
        model.words(name, tuple(pane.hole.mean(axis=0)), Align.MIDDLE_CENTER)
    for day, elevation in elevations:
        _shade(model, day, elevation)
    corners = np.concatenate([*wall.walls, *wall.slopes, *wall.boards])
    left, right = float(corners[:, 0].min()), float(corners[:, 0].max())
    low = wall.ground - DUG
    ground = points([(left - BESIDE, wall.ground), (right + BESIDE, wall.ground)])
    model.outline("GROUND", ground, closed=False)
    _elevation_dimensions(model, wall, (left, right, low))
    _heights(model, {"ground": wall.ground, **wall.levels}, words, left - 2 * CHAIN)
    _lines(model, words, left, low - 3 * CHAIN)
    return model.content()


def _wall(model: Model, wall: Elevation) -> None:
    for layer, outlines in (
        ("WALL", wall.walls),
        ("ROOF", wall.slopes),
        ("TRIM", (*wall.boards, *wall.gutter)),
        ("BEFORE", wall.before),
    ):
        for outline in outlines:
            model.outline(layer, outline)
    for outline in wall.meets:
        model.outline("WALL", outline)
        model.hatch(outline, "ANSI31")
    for plate in wall.plates:
        model.outline("TRIM", plate, closed=False)


def _shade(model: Model, day: str, elevation: Elevation) -> None:
    """Draw the shade on wall and glass, and the light on glass, at the fullest hour of a day."""
    lit, dark = f"SUN {day}", f"SHADE {day}"
    model.layer(lit, SUN)
    model.layer(dark, SHADE)
    hour = elevation.fullest
    if hour is None:
        return
    for ring in (ring for part in hour.wall for ring in part.shade):
        model.outline(dark, ring)
    for part in hour.panes:
        if part.area > 1e-6:
            for ring in part.rings:
                model.outline(lit, ring)


def _elevation_dimensions(
    model: Model, wall: Elevation, bounds: tuple[float, float, float]
) -> None:
    left, right, low = bounds
    walls = np.concatenate(wall.walls)
    ends = [float(walls[:, 0].min()), float(walls[:, 0].max())]
    holes = [pane.hole for pane in wall.panes]
    edges = {float(x): float(hole[:, 1].min()) for hole in holes for x in hole[:, 0]}
    places = {ends[0]: low, **edges, ends[1]: low}
    model.across(list(places), list(places.values()), low - CHAIN)
    model.across(ends, [low, low], low - 2 * CHAIN)
    levels = list(wall.levels.values())
    model.up(levels, [left] * len(levels), left - CHAIN)
    told = {wall.levels["sill"], wall.levels["head"], 0.0}
    sizes = {(float(hole[:, 1].min()), float(hole[:, 1].max())) for hole in holes}
    others = sorted(size for size in sizes if not set(size) <= told)
    for index, size in enumerate(others):
        x = max(float(hole[:, 0].max()) for hole in holes if float(hole[:, 1].min()) == size[0])
        model.up([0.0, *size], [ends[1], x, x], right + (index + 1) * CHAIN)


def _heights(model: Model, heights: dict[str, float], words: Words, x: float) -> None:
    """Write the heights in a column that ends at a place [m]."""
    keys = sorted(heights, key=lambda key: heights[key])
    levels = [heights[key] for key in keys]
    stands = spread(levels, LINE, levels[0] - 1.0, levels[-1] + 1.0)
    for key, level, stand in zip(keys, levels, stands, strict=True):
        text = f"{words.heights[key]} {dimension(level, model.system)}"
        model.words(text, (x, stand), Align.MIDDLE_RIGHT)


def _lines(model: Model, words: Words, x: float, y: float) -> None:
    head, *others = words.lines
    model.words(head, (x, y), Align.TOP_LEFT, size=1.5)
    for index, line in enumerate(others):
        model.words(line, (x, y - (index + 1.6) * LINE), Align.TOP_LEFT)
