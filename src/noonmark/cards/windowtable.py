"""The windows of a building in a table of words, and what is to be said and asked about them."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.design.cautions import LOW_GLASS, window_cautions
from noonmark.design.model import Homestead, Window
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.study.windowlist import SHIM, WindowRow, window_list
from noonmark.units import Quantity
from noonmark.units.writing import dimension, write

_COLUMNS = (
    "number", "name", "side", "count", "size", "rough", "sill", "head", "glazing", "u_value",
    "shgc", "area", "notes",
)  # fmt: skip


def window_table(homestead: Homestead, name: str, speech: Speech) -> Table:
    """Return the window schedule of a building."""
    return Table(
        title=speech.word("paper.windows"),
        heading=tuple(speech.word(f"paper.column.{column}") for column in _COLUMNS),
        rows=tuple(_row(row, speech) for row in window_list(homestead, name, speech.system)),
    )


def window_notes(homestead: Homestead, name: str, speech: Speech) -> tuple[str, ...]:
    """Return what the schedule rests on, then what is to be asked about the windows."""
    if not homestead.buildings[name].window:
        return (speech.word("paper.no_windows"),)
    shim = SHIM[speech.system]
    inches = write(shim, "length", "us") if speech.system == "us" else f"{1e3 * shim:.0f} mm"
    rough = speech.say(Sentence("paper.rough", {"shim": inches}))
    asked = [speech.say(sentence) for sentence in window_cautions(homestead, name)]
    return rough, speech.word("paper.whole"), *asked


def _row(row: WindowRow, speech: Speech) -> tuple[str, ...]:
    window, system = row.window, speech.system
    return (
        str(row.number),
        window.name or "",
        speech.word("paper.inner")
        if row.azimuth is None
        else speech.word(f"side.{azimuth_name(row.azimuth)}"),
        f"{window.count:g}",
        _by(window.width, row.height, speech),
        _by(*row.rough, speech),
        dimension(window.sill, system),
        dimension(window.head, system),
        f"{window.glazing}, {window.frame}",
        Quantity(row.u_value, "u_value").write(system),
        speech.number(row.shgc, 2),
        Quantity(row.area, "area").write(system),
        ", ".join(_flags(window, speech)),
    )


def _by(width: float, height: float, speech: Speech) -> str:
    return f"{dimension(width, speech.system)} × {dimension(height, speech.system)}"


def _flags(window: Window, speech: Speech) -> Iterator[str]:
    if window.escape:
        yield speech.word("paper.escape")
    if window.safety_glass:
        yield speech.word("paper.safety")
    elif window.sill < LOW_GLASS:
        yield speech.word("paper.ask_safety")
