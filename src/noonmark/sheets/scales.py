"""The round scales a drawing is printed at, and bars to check a print by."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.sheets.paper import SMALL
from noonmark.sheets.press import POINT
from noonmark.units import System
from noonmark.units.table import FOOT
from noonmark.units.writing import write

PIXEL = 8.0 * POINT / SMALL
"""What a px of a drawing measures on paper [mm]: small type is printed in eight points."""


@dataclass(frozen=True)
class Scale:
    """One of the scales of a rule: what is `ratio` long is drawn 1 long; `words` name it."""

    ratio: float
    words: str

    @property
    def pixels(self) -> float:
        """What a metre measures in a drawing [px]."""
        return 1e3 / self.ratio / PIXEL


_INCHES = {
    "3": 4, "1 1/2": 8, "1": 12, "3/4": 16, "1/2": 24, "3/8": 32, "1/4": 48, "3/16": 64,
    "1/8": 96, "3/32": 128, "1/16": 192, "1/32": 384, "1/64": 768,
}  # fmt: skip
"""Of an architect's rule: inches on paper that stand for a foot (common practice, no source)."""

_RATIOS = (5, 10, 20, 25, 50, 75, 100, 125, 200, 250, 500, 1000)
"""Of the metric three-sided rules (common practice, no source)."""

SCALES: dict[System, tuple[Scale, ...]] = {
    "metric": tuple(Scale(ratio, f"1:{ratio}") for ratio in _RATIOS),
    "us": tuple(Scale(ratio, f'{inches}" = 1\'-0"') for inches, ratio in _INCHES.items()),
}
"""The scales of each system, the largest drawings first."""

_BARS = {
    "metric": (0.1, 0.2, 0.5, 1, 2, 3, 4, 5, 10, 20, 50, 100),
    "us": (0.5, 1, 2, 3, 4, 6, 8, 10, 12, 20, 30, 40, 60, 100, 300),
}


@dataclass(frozen=True)
class Bar:
    """A bar of a round length: in nature [m], in words, and on paper [mm]."""

    metres: float
    words: str
    printed: float


def scale_of(pixels: float, system: System) -> Scale:
    """Return the scale at which a metre measures so many px in a drawing."""
    return min(SCALES[system], key=lambda scale: abs(scale.pixels - pixels))


def bar(scale: Scale, longest: float, system: System) -> Bar:
    """Return the longest bar of a round length that is no longer than `longest` [mm] on paper."""
    unit = 1.0 if system == "metric" else FOOT
    fits = [n for n in _BARS[system] if n * unit * 1e3 / scale.ratio <= longest]
    metres = (fits or _BARS[system])[-1 if fits else 0] * unit
    digits = None if system == "us" else int(metres < 1.0)
    return Bar(metres, write(metres, "length", system, digits=digits), metres * 1e3 / scale.ratio)
