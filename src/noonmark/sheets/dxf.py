"""A drawing in true size for other programs: layers, outlines, hatches, dimensions as DXF.

Places go in in metres; a unit of the file is a metre, or an inch for US readers.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from ezdxf._options import options
from ezdxf.enums import TextEntityAlignment as Align
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from noonmark.shape.polygon import Points
from noonmark.units import System
from noonmark.units.table import INCH
from noonmark.units.writing import dimension

TEXT = 0.1
"""Height of the type [m]: 2 mm on paper at 1:50."""

PLOTTED = 50.0
"""The scale that hatches are made for [-]."""

Place = tuple[float, float]
Pattern = Literal["ANSI31", "AR-CONC", "EARTH", "INSULATION", "ANSI37"]


@dataclass(frozen=True)
class Layer:
    """How a layer looks: colour by its number in the index of DXF, line in 1/100 mm."""

    colour: int
    line: int = 25
    dashed: bool = False


LAYERS: dict[str, Layer] = {
    "WALL": Layer(7, 50),
    "FRAMING": Layer(34, 25),
    "INSULATION": Layer(30, 13),
    "ROOF": Layer(7, 35),
    "TRIM": Layer(7, 25),
    "FLOOR": Layer(7, 50),
    "GROUND": Layer(36, 35),
    "WINDOW": Layer(5, 35),
    "GLASS": Layer(4, 18),
    "BEFORE": Layer(3, 18, dashed=True),
    "HATCH": Layer(8, 9),
    "DIMENSIONS": Layer(1, 13),
    "TEXT": Layer(7, 18),
}
"""The layers of the house; those of the sun bear its date, `SUN 12-21` and `SHADE 12-21`."""

SUN, SHADE = Layer(40, 18), Layer(150, 18)

_UNITS: dict[System, tuple[float, int, int]] = {"metric": (1.0, 6, 1), "us": (INCH, 1, 0)}
"""Metres of a unit, its number in the file ($INSUNITS), and what it measures in ($MEASUREMENT)."""

_BY_LAYER = 256

_HATCH: dict[System, float] = {"metric": PLOTTED / 1e3, "us": PLOTTED}
"""From the patterns, in mm and in inches, to units of the file."""


class Model:
    """A DXF document in the making."""

    def __init__(self, system: System) -> None:
        """Begin one with its layers and the styles of its words."""
        self.system: System = system
        self.unit, number, measurement = _UNITS[system]
        with _clockless():
            self.document = new("R2010", units=number)
        self.document.header["$MEASUREMENT"] = measurement
        self.document.header["$LUNITS"] = 2 if system == "metric" else 4
        self.document.header["$DIMLFAC"] = 1.0
        self.document.linetypes.add("DASHED", [0.3, 0.2, -0.1])
        self.document.header["$LTSCALE"] = 1.0 / self.unit
        self.document.styles.add("WORDS", font="arial.ttf")
        self._dimension_style()
        self.space: Modelspace = self.document.modelspace()
        for name, layer in LAYERS.items():
            self.layer(name, layer)

    def _dimension_style(self) -> None:
        high = TEXT / self.unit
        self.document.dimstyles.add(
            "BUILDER",
            dxfattribs={
                "dimtxsty": "WORDS",
                "dimtxt": high,
                "dimtsz": 0.6 * high,  # the slanting tick of carpenters
                "dimasz": 0.6 * high,
                "dimexo": 0.6 * high,
                "dimexe": 0.6 * high,
                "dimgap": 0.4 * high,
                "dimtad": 1,
                "dimtih": 0,
                "dimtoh": 0,
                "dimlfac": 1.0,
                "dimclrd": _BY_LAYER,
                "dimclre": _BY_LAYER,
                "dimclrt": _BY_LAYER,
                "dimlwd": LAYERS["DIMENSIONS"].line,
                "dimlwe": LAYERS["DIMENSIONS"].line,
                "dimlunit": 2 if self.system == "metric" else 4,
                "dimdec": 3 if self.system == "metric" else 2,
            },
        )

    def layer(self, name: str, layer: Layer) -> None:
        """Add a layer, if it is not there yet."""
        if name not in self.document.layers:
            self.document.layers.add(
                name,
                color=layer.colour,
                lineweight=layer.line,
                linetype="DASHED" if layer.dashed else "CONTINUOUS",
            )

    def at(self, place: Sequence[float]) -> Place:
        """Return a place [m] in units of the file."""
        return float(place[0]) / self.unit, float(place[1]) / self.unit

    def outline(self, layer: str, corners: Points, *, closed: bool = True) -> None:
        """Draw a polygon, or an open line, through corners (n, 2) [m]."""
        if len(corners) > 1:
            self.space.add_lwpolyline(
                [self.at(corner) for corner in corners],
                close=closed,
                dxfattribs={"layer": layer},
            )

    def hatch(self, corners: Points, pattern: Pattern, size: float = 1.0) -> None:
        """Fill a polygon (n, 2) [m] with a pattern."""
        hatch = self.space.add_hatch(dxfattribs={"layer": "HATCH"})
        hatch.set_pattern_fill(pattern, scale=size * _HATCH[self.system])
        hatch.paths.add_polyline_path([self.at(corner) for corner in corners], is_closed=True)

    def words(
        self, text: str, place: Place, align: Align = Align.LEFT, *, size: float = 1.0
    ) -> None:
        """Write one line of type at a place [m]."""
        self.space.add_text(
            _plain(text),
            height=size * TEXT / self.unit,
            dxfattribs={"layer": "TEXT", "style": "WORDS"},
        ).set_placement(self.at(place), align=align)

    def across(self, places: Sequence[float], feet: Sequence[float], y: float) -> None:
        """Draw a level chain of dimensions at a height through places, from the `feet` on [m]."""
        for (x0, y0), (x1, y1) in pairwise(sorted(zip(places, feet, strict=True))):
            self._dimension((x0, y0), (x1, y1), (x0, y), 0.0, x1 - x0)

    def up(self, heights: Sequence[float], feet: Sequence[float], x: float) -> None:
        """Draw an upright chain of dimensions at a place through heights, from `feet` on [m]."""
        for (y0, x0), (y1, x1) in pairwise(sorted(zip(heights, feet, strict=True))):
            self._dimension((x0, y0), (x1, y1), (x, y0), 90.0, y1 - y0)

    def _dimension(
        self, start: Place, end: Place, base: Place, angle: float, metres: float
    ) -> None:
        if metres < 1e-6:
            return
        self.space.add_linear_dim(
            base=self.at(base),
            p1=self.at(start),
            p2=self.at(end),
            angle=angle,
            text=dimension(metres, self.system),
            dimstyle="BUILDER",
            dxfattribs={"layer": "DIMENSIONS"},
        ).render()

    def content(self) -> bytes:
        """Return the file; the same drawing gives the same bytes."""
        stream = io.StringIO()
        with _clockless():
            self.document.write(stream)
        return stream.getvalue().encode(self.document.output_encoding, errors="dxfreplace")


@contextmanager
def _clockless() -> Iterator[None]:
    """Leave time stamps and random names out of a file."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _plain(text: str) -> str:
    """Return text in which nothing steers: no control signs, no codes of the format."""
    seen = "".join(sign if sign.isprintable() else " " for sign in text)
    return seen.replace("%%", "% %").replace("^", "^ ")
