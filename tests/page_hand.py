"""Designs for the hand of the page, and what Python makes of the words that it says."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from mutants import SAMPLE
from noonmark.design.file import DesignFile, changed, parse_design
from noonmark.study.cut import wall_section
from noonmark.study.handles import building_shape
from noonmark.web.wire import plain

HOUSE = "house"
NO_SOFFIT = ('soffit_height = "9 ft"\n', "")
VARIANTS: dict[str, list[tuple[str, str]]] = {
    "soffit": [],
    "heel": [NO_SOFFIT, ('pitch = "6/12"', 'pitch = "6/12"\nheel = "18 in"')],
    "cantilever": [NO_SOFFIT, ('pitch = "6/12"', 'pitch = "6/12"\ntruss = "cantilever"')],
    "end heel": [
        NO_SOFFIT,
        ('pitch = "6/12"', 'pitch = "6/12"\ntruss = "cantilever"\nend_heel = "9 in"'),
    ],
    "cantilever with heel": [
        NO_SOFFIT,
        ('pitch = "6/12"', 'pitch = "6/12"\ntruss = "cantilever"\nheel = "2 ft"'),
    ],
    "trimmed": [
        ('ends = "1 ft 6 in"', 'ends = 0\nsoffit = "sloped"\nfascia_drop = "2 in"\ngutter = {}'),
        ('pitch = "6/12"', 'pitch = "4/12"'),
    ],
}
"""Ways a file can hold its roof: what is replaced in the sample by what."""


def design_of(variant: str) -> DesignFile:
    text = SAMPLE
    for old, new in VARIANTS[variant]:
        assert old in text
        text = text.replace(old, new)
    return parse_design(text, name=f"{variant}.toml")


def write_shapes(folder: Path) -> None:
    """Write what the server tells the page of each variant's house."""
    shapes = {name: plain(building_shape(design_of(name).homestead, HOUSE)) for name in VARIANTS}
    (folder / "shapes.json").write_text(json.dumps(shapes), "utf-8")


def hand_rows(folder: Path) -> list[dict[str, Any]]:
    """Return what the page's hand did: variant, name, words, and the wall it drew."""
    rows: list[dict[str, Any]] = json.loads((folder / "hand.json").read_text("utf-8"))
    return rows


def wall_after(variant: str, words: list[str]) -> dict[str, float]:
    """Return the wall that Python finds once the words are in the file, as the page draws it."""
    design = changed(design_of(variant), words)
    homestead = design.homestead
    section = wall_section(homestead, homestead.buildings[HOUSE])
    roof, window = section.roof, section.window
    assert window is not None
    return {
        "projection": roof.projection,
        "pitch": roof.pitch,
        "heel": roof.heel,
        "soffit": roof.soffit,
        "plate": roof.plate,
        "span": roof.span,
        "ceiling": section.ceiling,
        "head": window.head,
        "sill": window.sill,
        "wall_thickness": section.wall_thickness,
        "floor_thickness": section.floor_thickness,
        "ceiling_insulation": section.ceiling_insulation,
        "width": homestead.buildings[HOUSE].window[0].width,
    }


def unit_of(words: str) -> str:
    """Return how a value was written: in feet and inches, metres, rise in twelve or degrees."""
    value = words.partition("=")[2]
    for name, form in {
        "us": r"(\d+ ft )?\d+( \d/\d)? in",
        "metric": r"\d+(\.\d+)? m",
        "twelve": r"\d+(\.\d+)?/12",
        "degrees": r"\d+(\.\d+)? deg",
    }.items():
        if re.fullmatch(form, value):
            return name
    return value
