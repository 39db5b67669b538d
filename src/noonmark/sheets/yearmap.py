"""The year map: one column a day, one row an hour, stepped colours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.errors import PhysicsError, Problem
from noonmark.sheets import paper, svg
from noonmark.sheets.mapgrid import (
    COLOURS,
    DAY,
    DAYS,
    HARD,
    HEATED,
    HOUR,
    HOURS,
    LEFT,
    STEPS,
    WIDTH,
    covering,
    runs,
)
from noonmark.sheets.maplegend import draw_axes, draw_legend
from noonmark.units import System


@dataclass(frozen=True)
class YearMapLabels:
    """All words of a year map.

    `months` are twelve; `hours` name 0, 6, 12, 18 and 24 h; `sun_line`, `heated` and
    `hard_heated` explain the dotted line and both hatchings; `notes` stand below.
    """

    title: str
    subtitle: str
    description: str
    months: tuple[str, ...]
    hours: tuple[str, str, str, str, str]
    sun_line: str
    heated: str
    hard_heated: str
    notes: tuple[str, ...] = ()


def draw_year_map(
    temperature: ArrayLike,
    heating_w: ArrayLike,
    sunrise_h: ArrayLike,
    sunset_h: ArrayLike,
    labels: YearMapLabels,
    *,
    system: System = "metric",
) -> str:
    """Return the year as an SVG document, 1281 units wide.

    `temperature` [degC] and `heating_w` [W], shape (8760,), start at midnight of
    the first day; `sunrise_h` and `sunset_h` [h, same clock], shape (365,), nan on
    days without. Hours of more than half the year's hardest load are hatched
    denser. Raises PhysicsError `sheets.wrong_shape` or `sheets.not_finite`.
    """
    warm = _grid(temperature, "temperature")
    heat = _grid(heating_w, "heating_w")
    suns = [_daily(sunrise_h, "sunrise_h"), _daily(sunset_h, "sunset_h")]
    head, top = paper.heading(labels.title, labels.subtitle, WIDTH)
    top = float(round(top + 16))
    legend, end = draw_legend(
        top + HOURS * HOUR + 62, system, labels.heated, labels.hard_heated, labels.sun_line
    )
    notes, height = paper.captions(labels.notes, end, WIDTH)
    parts = [
        _textures(),
        svg.element("rect", width=WIDTH, height=height, class_="blank"),
        *head,
        svg.element("g", *_colours(warm), *_heater(heat), *_suns(suns), **_moved(top)),
        *draw_axes(top, labels.months, labels.hours),
        *legend,
        *notes,
    ]
    return svg.document(
        WIDTH, height, labels.title, labels.description, parts, paper.style(paper.PAPER)
    )


def _grid(values: ArrayLike, name: str) -> NDArray[np.float64]:
    """Return hours as shape (24, 365), midnight at the foot."""
    array = _checked(values, name, DAYS * HOURS)
    if not np.isfinite(array).all():
        raise PhysicsError(Problem("sheets.not_finite", values={"name": name}))
    return array.reshape(DAYS, HOURS).T[::-1]


def _daily(values: ArrayLike, name: str) -> NDArray[np.float64]:
    return _checked(values, name, DAYS)


def _checked(values: ArrayLike, name: str, count: int) -> NDArray[np.float64]:
    array = np.asarray(values, dtype=np.float64)
    if array.shape != (count,):
        values_ = {"name": name, "shape": str(array.shape), "wanted": str((count,))}
        raise PhysicsError(Problem("sheets.wrong_shape", values=values_))
    return array


def _moved(top: float) -> dict[str, object]:
    return {"transform": f"translate({LEFT} {svg.number(top)})", "shape_rendering": "crispEdges"}


def _colours(warm: NDArray[np.float64]) -> list[str]:
    """Return one path a colour, each laid over all colder ones so that no seam can open."""
    steps = np.searchsorted(STEPS, warm, side="right")
    return [
        svg.element(
            "path", d=covering(steps >= i), fill=COLOURS[i], class_="step", data_step=str(i)
        )
        for i in range(len(COLOURS))
        if (steps >= i).any()
    ]


def _heater(heat: NDArray[np.float64]) -> list[str]:
    """Return hatching over the heated hours, denser over the hard ones."""
    hard = heat > 0.5 * heat.max()
    layers = (((heat > 0) & ~hard, HEATED), (hard & (heat > 0), HARD))
    return [
        svg.element("path", d=covering(where), fill=f"url(#{name})", class_=name)
        for where, name in layers
        if where.any()
    ]


def _suns(suns: list[NDArray[np.float64]]) -> list[str]:
    """Return sunrise and sunset dotted, broken where the sun does neither."""
    middles = (np.arange(DAYS) + 0.5) * DAY
    lines = []
    for hours in suns:
        corners = np.column_stack([middles, (HOURS - hours) * HOUR])
        seen = np.isfinite(hours)
        for a, b in runs(seen):
            lines.append(
                svg.polyline(corners[a:b], class_="sun", shape_rendering="geometricPrecision")
            )
    return lines


def _textures() -> str:
    return svg.element("defs", _slant(HEATED, 12, 1.0), _slant(HARD, 6, 1.3))


def _slant(name: str, step: float, weight: float) -> str:
    """Return a diagonal hatch in clay."""
    line = svg.line(0, 0, 0, step, stroke=paper.CLAY, stroke_width=weight, opacity=".8")
    return svg.element(
        "pattern",
        line,
        id=name,
        width=step,
        height=step,
        patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )
