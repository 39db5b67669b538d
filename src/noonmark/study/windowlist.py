"""The windows of a building as they are ordered: sizes, rough openings, values of the whole."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark import catalog
from noonmark.design.derived import wall_of, window_area
from noonmark.design.model import Homestead, Window
from noonmark.glazing.window import window_parts, window_shgc, window_u_value
from noonmark.study.constructions import glazing_of
from noonmark.units import System
from noonmark.units.table import INCH

SHIM: dict[System, float] = {"metric": 0.012, "us": 0.5 * INCH}
"""Room left at each side and at the top of a window for setting it [m] (common practice)."""


@dataclass(frozen=True)
class WindowRow:
    """An entry of windows, all alike: `number` from 1 in the file, lengths in m, area in m2.

    `azimuth` is that of its wall [deg], None between two zones. `rough` are width and
    height of the opening to frame. `u_value` [W/m2K] and `shgc` are those of glass and
    frame together; `area` is that of all its windows.
    """

    number: int
    window: Window
    azimuth: float | None
    rough: tuple[float, float]
    u_value: float
    shgc: float
    area: float

    @property
    def height(self) -> float:
        """Return the height of the window [m]."""
        return self.window.head - self.window.sill


def window_list(homestead: Homestead, name: str, system: System) -> list[WindowRow]:
    """Return the windows of a building in the order of the file."""
    building = homestead.buildings[name]
    rows = []
    for number, window in enumerate(building.window, start=1):
        wall = wall_of(building, window)
        u_value, shgc = whole_window(homestead, window)
        shim = SHIM[system]
        rows.append(
            WindowRow(
                number=number,
                window=window,
                azimuth=None if wall.next_to else wall.azimuth,
                rough=(window.width + 2.0 * shim, window.head - window.sill + shim),
                u_value=u_value,
                shgc=shgc,
                area=window_area(window),
            )
        )
    return rows


def whole_window(homestead: Homestead, window: Window) -> tuple[float, float]:
    """Return U-value [W/m2K] and solar heat gain coefficient of glass and frame together."""
    frame = catalog.find(catalog.Frame, window.frame)
    glazing = glazing_of(homestead, window.glazing)
    parts = window_parts(
        width=window.width,
        height=window.head - window.sill,
        frame_width=frame.width,
        casements=window.casements,
    )
    u_value = window_u_value(
        parts, glass_u=glazing.u_value(), frame_u=frame.u_value, edge_transmittance=frame.edge
    )
    shgc = window_shgc(
        parts,
        glass_shgc=float(glazing.shgc()[0]),
        frame_u=frame.u_value,
        frame_absorptance=frame.absorptance,
    )
    return u_value, shgc
