"""Drawings as SVG text: plain numbers and the reader's words in, a string out."""

from __future__ import annotations

from noonmark.sheets.section import SectionLabels, draw_section
from noonmark.sheets.storypole import Mark
from noonmark.sheets.yearmap import YearMapLabels, draw_year_map

__all__ = ["Mark", "SectionLabels", "YearMapLabels", "draw_section", "draw_year_map"]
