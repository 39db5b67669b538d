"""The edge over a window that throws its shade: of the eave, or of a hood of its own."""

from __future__ import annotations

import json
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.design.derived import find_window, roof_triangle, wall_of
from noonmark.design.model import Homestead
from noonmark.errors import InputError
from noonmark.shape.eave import eave_outline

FloatArray = NDArray[np.float64]

DEEPEST = 4.0
"""Deepest eave or hood of a design [m]."""


@dataclass(frozen=True)
class Edge:
    """How far it stands out from the wall, and how high over the head of the glass [m]."""

    projection: float
    gap: float


class Shaded:
    """A window of a design, with the eave over its wall if there is one."""

    def __init__(self, homestead: Homestead, window: str) -> None:
        """Find a window; raises `InputError` when there is none of that name."""
        self.homestead = homestead
        self.key, self.number = find_window(homestead, window)
        self.building = homestead.buildings[self.key]
        self.window = self.building.window[self.number - 1]
        self.face = wall_of(self.building, self.window)
        self.under_eave = self.face.side in self.building.eave.sides

    def trim(self, slope: FloatArray | float) -> FloatArray:
        """Return how much deeper fascia and gutter shade than the soffit's edge [m].

        `slope` is the tangent of the profile angle, any shape.
        """
        slopes = np.asarray(slope, float)
        if not self.under_eave:
            return np.zeros_like(slopes)
        roof = roof_triangle(self.homestead, self.building)
        hung = eave_outline(roof)[1:]
        further, below = -hung[:, 0] - roof.projection, roof.soffit - hung[:, 1]
        deeper = np.multiply.outer(slopes, further) + below
        return np.asarray(deeper.max(axis=-1)) if len(hung) else np.zeros_like(slopes)

    @property
    def fixed_gap(self) -> float | None:
        """Return the gap under a cantilevered truss, whose soffit lies at the plate; else None."""
        if not self.under_eave or self.building.roof.truss == "tail":
            return None
        return max(zone.height for zone in self.building.zone.values()) - self.window.head

    @property
    def height(self) -> float:
        """Return the height of the glass [m]."""
        return self.window.head - self.window.sill

    def stands(self, edge: Edge) -> bool:
        """Return whether an edge can be built: the soffit over the head, the roof closed."""
        if not (0.0 <= edge.projection <= DEEPEST and edge.gap >= 0.0):
            return False
        try:
            return not self.under_eave or self._heel(edge) > 0.0
        except InputError:
            return False

    def ways(self, edge: Edge) -> dict[str, tuple[str, ...]]:
        """Return what can be built with an edge, and the `--set` words for it, to the millimetre.

        Over a wall with an eave that is the eave; over others a hood, or an awning
        that falls by a third of its projection.
        """
        if self.under_eave:
            return {"eave": self._eave(edge)}
        out, drop = _mm(edge.projection), edge.projection / 3.0
        sides = {"projection": out, "left": out, "right": out}
        return {
            "hood": (self._at_window("hood", {**sides, "gap": _mm(edge.gap)}),),
            "awning": (
                self._at_window(
                    "awning",
                    {**sides, "gap": _mm(edge.gap + drop), "drop": _mm(drop), "passes": "0"},
                ),
            ),
        }

    def _at_window(self, part: str, keys: dict[str, str]) -> str:
        table = ", ".join(f'{key} = "{text}"' for key, text in keys.items())
        return f"{self.key}.window.{self.number}.{part}={{{table}}}"

    def _eave(self, edge: Edge) -> tuple[str, ...]:
        out = _mm(edge.projection)
        words = [f"{self.key}.eave.projection={out}"]
        roof, eave = self.building.roof, self.building.eave
        if self.fixed_gap is None and (roof.heel is None or eave.soffit_height is not None):
            words.append(f"{self.key}.eave.soffit_height={_mm(self.window.head + edge.gap)}")
        if roof.heel is not None:
            heel = self._heel(edge)
            if self.fixed_gap is not None:  # the truss keeps the heel at its end
                heel = roof.heel + (edge.projection - eave.projection) * roof.pitch
            words.append(f"{self.key}.roof.heel={_mm(heel)}")
        return tuple(words)

    def words_without(self, edge: Edge) -> tuple[str, ...]:
        """Return the `--set` words that leave the roof of an edge but take its shade away."""
        if not self.under_eave:
            return self.ways(Edge(0.001, edge.gap))["hood"] if self.window.hood else ()
        sides = [side for side in self.building.eave.sides if side != self.face.side]
        return (*self._eave(edge), f"{self.key}.eave.sides={json.dumps(sides)}")

    def _heel(self, edge: Edge) -> float:
        """Return the heel that hangs the soffit at an edge [m]; `InputError` when none can."""
        lengths = {"projection": edge.projection, "soffit_height": self.window.head + edge.gap}
        eave = self.building.eave.model_copy(update=lengths)
        roof = self.building.roof.model_copy(update={"heel": None})
        changed = self.building.model_copy(update={"eave": eave, "roof": roof})
        return roof_triangle(self.homestead, changed).heel


def _mm(metres: float) -> str:
    return f"{1000.0 * metres:.0f} mm"
