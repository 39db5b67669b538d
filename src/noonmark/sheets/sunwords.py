"""Sheets with the sun on the walls and floors of a design, with their words."""

from __future__ import annotations

from datetime import date

from noonmark.cards.speech import Speech
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.sheets.elevation import ElevationLabels, draw_elevation
from noonmark.study.elevation import Elevation, Hour
from noonmark.units import Quantity

_LEVELS = ("ridge", "soffit", "plate", "head", "sill", "floor")


def elevation_sheet(
    elevation: Elevation, *, title: str, day: date, alone: bool, speech: Speech
) -> str:
    """Return a wall seen from outdoors on a day as an SVG document.

    `alone` tells that the building has one zone, which then goes without saying.
    """
    face, hour = elevation.face, elevation.fullest
    values: dict[str, object] = {
        "title": title,
        "side": azimuth_name(face.azimuth),
        "zone": face.zone,
        "date": day,
    }
    of = "" if alone else "_of"
    if hour is not None:
        values |= _hour_values(hour)
    labels = ElevationLabels(
        title=speech.say(Sentence(f"sheet.elevation_title{of}", values)),
        subtitle=speech.say(
            Sentence(f"sheet.elevation_subtitle{'' if hour else '_sunless'}", values)
        ),
        description=speech.say(Sentence("sheet.elevation_description", values)),
        levels={word: speech.word(f"sheet.{word}") for word in _LEVELS},
        names=tuple(pane.name for pane in elevation.panes),
        hours=tuple(
            speech.say(Sentence("sheet.elevation_hour", _hour_values(item)))
            for item in elevation.hours
        ),
        shares=tuple(tuple(_percent(share) for share in item.shares) for item in elevation.hours),
        notes=_notes(elevation, speech),
    )
    return draw_elevation(elevation, labels, system=speech.system)


def _hour_values(hour: Hour) -> dict[str, object]:
    return {
        "hour": hour.hour,
        "clock": f"{hour.moment.instant:%H:%M}",
        "altitude": Quantity(hour.moment.altitude, "angle"),
    }


def _percent(share: float) -> str:
    """Return a share in whole percent; what is not all or nothing never reads so."""
    whole = round(100.0 * share)
    if 0.0005 < share < 0.9995:
        whole = min(max(whole, 1), 99)
    return f"{whole} %"


def _notes(elevation: Elevation, speech: Speech) -> tuple[str, ...]:
    notes = [speech.word("sheet.elevation_note")] if elevation.hours else []
    if any(lit.dimmed for hour in elevation.hours for lit in hour.wall):
        notes.append(speech.word("sheet.elevation_dimmed"))
    if elevation.before:
        notes.append(speech.word("sheet.elevation_near"))
    return tuple(notes)
