"""The press: the one place where typst markup becomes a PDF.

Same markup, same bytes: the font is the shipped one alone, no clock gets in, nothing is
fetched. A PDF has a title and a language, and every picture its words (PDF/UA-1), or it
is not made.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache
from importlib.resources import as_file
from importlib.resources import files as resources
from typing import TYPE_CHECKING, Literal

from noonmark.units import System

if TYPE_CHECKING:
    from typst import Fonts

Paper = Literal["a4", "letter"]

PAPERS: dict[Paper, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of a sheet held upright [mm]: ISO 216 and ANSI/ASME Y14.1."""

FAMILY = "Noonmark Sans"
"""The shipped font, regular and bold; see `fonts/NOTICE.txt`."""

POINT = 25.4 / 72.0
"""A printer's point [mm]."""


def usual_paper(system: System) -> Paper:
    """Return the paper that lies in the printers of those who measure so."""
    return "letter" if system == "us" else "a4"


def quoted(text: str) -> str:
    """Return any text as a string of typst's code mode: `#` before it, nothing in it is markup."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(_CONTROLS.get(sign, sign) for sign in escaped) + '"'


def breakable(text: str) -> str:
    """Return a text whose long words may be broken, unseen, wherever a line ends."""
    return _LONG.sub("\\g<0>\u200b", text)


def pdf(
    source: str, files: Mapping[str, bytes] | None = None, *, title: str, language: str = "en"
) -> bytes:
    """Return typst markup as a PDF.

    `files` are pictures and markup by the names that `source` calls them by, SVG and typst
    in UTF-8; `title` names the document. Signs that the font lacks become question marks,
    in pictures too.
    Raises typst's own error for markup that is wrong or for a picture without `alt`.
    """
    import typst

    head = (
        f"#set document(title: {quoted(title)}, date: none)\n"
        f"#set text(font: {quoted(FAMILY)}, lang: {quoted(language)}, fallback: false)\n"
    )
    sheets = {"main.typ": _shown(head + source).encode()}
    for name, text in (files or {}).items():
        sheets[name] = _shown(text.decode()).encode()
    made: bytes = typst.compile(  # type: ignore[call-overload] # takes files by their names too
        sheets,
        format="pdf",
        font_paths=_fonts(),
        ignore_system_fonts=True,
        pdf_standards="ua-1",
        timestamp=0,
    )
    return made


_LONG = re.compile(r"\S{14}(?=\S{4})")
_CONTROLS = {"\n": "\\n", "\r": " ", "\t": " "}
_FOLDER = resources("noonmark.sheets").joinpath("fonts")


@cache
def _fonts() -> Fonts:
    from typst import Fonts

    with as_file(_FOLDER) as folder:
        return Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])


@cache
def _drawable() -> frozenset[str]:
    """Return every sign that the font has, and the ends of lines."""
    from fontTools.ttLib import TTFont

    with as_file(_FOLDER / "NoonmarkSans-Regular.ttf") as path, TTFont(path, lazy=True) as font:
        return frozenset(map(chr, font["cmap"].getBestCmap())) | set("\n\r\t")


def _shown(text: str) -> str:
    """Return a text of signs that the font has; unseen ones are left out."""
    if text.isascii() and text.isprintable():
        return text
    drawable = _drawable()
    return "".join(
        sign if sign in drawable else "" if _unseen(sign) else "?"
        for sign in unicodedata.normalize("NFC", text)
    )


def _unseen(sign: str) -> bool:
    """Return whether a sign only joins, marks or steers others."""
    return unicodedata.category(sign) in ("Cc", "Cf", "Mn")
