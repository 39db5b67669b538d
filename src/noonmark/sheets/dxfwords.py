"""Section and elevations as DXF, with their words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from noonmark.cards.speech import Speech
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.sheets.compose import instant_words
from noonmark.sheets.dxfhouse import SunOfDay, Words, elevation_dxf, section_dxf
from noonmark.sheets.sunwords import fullest_words
from noonmark.study.elevation import Elevation
from noonmark.study.section import SectionView

_HEIGHTS = ("ridge", "soffit", "plate", "head", "sill", "floor", "ground")


def section_file(
    views: Sequence[SectionView], *, title: str, faces: float, speech: Speech
) -> bytes:
    """Return the section of a building with the sun of some days as DXF."""
    values = {"title": title, "side": azimuth_name(faces)}
    days = [view.instant.date() for view in views]
    suns = [instant_words(view, speech) for view in views]
    head = speech.say(Sentence("paper.dxf_section", values))
    words = Words(_heights(speech), (head, *_lines(days, suns, speech)))
    angles = [
        SunOfDay(_layer(day), view.profile_angle) for day, view in zip(days, views, strict=True)
    ]
    return section_dxf(views[0].section, angles, words, speech.system)


def elevation_file(walls: Sequence[tuple[date, Elevation]], *, title: str, speech: Speech) -> bytes:
    """Return one wall of a building with its shade on some days as DXF."""
    first = walls[0][1]
    face = first.face
    values = {"title": title, "side": azimuth_name(face.azimuth), "zone": face.zone}
    suns = [fullest_words(wall, speech) for _, wall in walls]
    head = speech.say(Sentence("paper.dxf_elevation", values))
    words = Words(
        _heights(speech),
        (head, *_lines([day for day, _ in walls], suns, speech)),
        tuple(pane.name for pane in first.panes),
    )
    return elevation_dxf([(_layer(day), wall) for day, wall in walls], words, speech.system)


def _heights(speech: Speech) -> dict[str, str]:
    return {word: speech.word(f"sheet.{word}") for word in _HEIGHTS}


def _lines(days: Sequence[date], suns: Sequence[str], speech: Speech) -> Iterator[str]:
    """Yield what a unit is, what the layers of the days hold, and who must look at it."""
    yield speech.word("paper.dxf_us" if speech.system == "us" else "paper.dxf_metric")
    for day, words in zip(days, suns, strict=True):
        values = {"layer": _layer(day), "words": words}
        yield speech.say(Sentence("paper.dxf_sun", values))
    yield speech.word("paper.licence")


def _layer(day: date) -> str:
    """Return a day as the names of layers bear it."""
    return f"{day:%m-%d}"
