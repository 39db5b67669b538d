"""The command that draws a design, imported only when it runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from noonmark.cards.speech import Speech
from noonmark.cli.output import print_json
from noonmark.cli.sheetfiles import file_name, write_sheets
from noonmark.cli.words import building_names, read_day
from noonmark.design.file import load_design
from noonmark.design.model import Homestead
from noonmark.place.site import azimuth_name
from noonmark.sheets.compose import section_sheet
from noonmark.sheets.outlookwords import outlook_sheet
from noonmark.sheets.sunwords import elevation_sheet, plan_sheet
from noonmark.study.elevation import Elevation, elevations
from noonmark.study.outlook import outlooks
from noonmark.study.plan import plan_of
from noonmark.study.section import section_view
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import System

_DATES = ((12, 21), (3, 20), (6, 21))
"""Midwinter, equinox and midsummer of the north; the south has them the other way round."""


def draw(
    file: Path,
    changes: Sequence[str],
    *,
    dates: Sequence[str],
    building: str | None,
    out: Path,
    units: System | None,
    as_json: bool,
) -> int:
    """Write the sheets of every building, or of one, on each date."""
    asked = [read_day(text) for text in dates]
    design = load_design(file, changes)
    homestead = design.homestead
    names = building_names(homestead, building)
    speech = Speech(units or homestead.units)
    sheets = {
        sheet: drawing
        for name in names
        for day in asked or usual_days(homestead)
        for sheet, drawing in _sheets(homestead, name, day, speech)
    }
    for name in names:
        sheets |= _outlooks(homestead, name, asked or usual_days(homestead), speech)
    paths = write_sheets(sheets, out, speech, quiet=as_json)
    if as_json:
        found = {"format": "noonmark.draw/1", "files": [str(path) for path in paths]}
        print_json(found)
    return 0


def usual_days(homestead: Homestead) -> list[date]:
    """Return midwinter, equinox and midsummer of a place."""
    days = [date(NOMINAL_YEAR, month, day) for month, day in _DATES]
    return days if homestead.place.latitude >= 0.0 else days[::-1]


def _sheets(
    homestead: Homestead, name: str, day: date, speech: Speech
) -> Iterator[tuple[str, str]]:
    """Yield each sheet of a building on a day, and its file name."""
    title = homestead.title or name
    stem, end = file_name(name), f"{day:%m-%d}.svg"
    faces = homestead.buildings[name].faces
    view = section_view(homestead, name, day=day)
    yield f"{stem}-section-{end}", section_sheet(view, title=title, faces=faces, speech=speech)
    zones = homestead.buildings[name].zone
    plan, building = plan_of(homestead, name, day), homestead.buildings[name]
    yield (
        f"{stem}-plan-{end}",
        plan_sheet(plan, building, title=title, name=name, day=day, speech=speech),
    )
    for elevation in elevations(homestead, name, day):
        drawing = elevation_sheet(
            elevation, title=title, day=day, alone=len(zones) == 1, speech=speech
        )
        yield f"{stem}-elevation-{_wall_name(elevation, len(zones) == 1, speech)}-{end}", drawing


def _outlooks(
    homestead: Homestead, name: str, days: Sequence[date], speech: Speech
) -> dict[str, str]:
    """Return the view out of each window that gets sun, by the name of its file."""
    title = homestead.title or name
    return {
        f"{file_name(name)}-outlook-{item.number}-{file_name(item.window)}.svg": outlook_sheet(
            item, title=title, speech=speech
        )
        for item in outlooks(homestead, name, days)
    }


def _wall_name(elevation: Elevation, alone: bool, speech: Speech) -> str:
    """Return a wall by the side it looks to, and its zone where there are several."""
    face = elevation.face
    side = speech.word(f"side.{azimuth_name(face.azimuth)}")
    return side if alone else file_name(f"{side}-{face.zone}")
