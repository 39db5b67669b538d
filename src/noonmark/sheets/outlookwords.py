"""The view out of a window with its words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from noonmark.cards.speech import Speech
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.outlook import OutlookLabels, draw_outlook
from noonmark.study.outlook import Outlook, Track

_KINDS = ("own", "solid", "thin", "hills", "frame")


def outlook_sheet(
    outlook: Outlook, *, title: str, speech: Speech, stage: Stage = SCREEN
) -> Drawing:
    """Return the view out of a window as a drawing."""
    values = {"title": title, "window": outlook.window, "side": azimuth_name(outlook.azimuth)}
    labels = OutlookLabels(
        title=speech.say(Sentence("outlook.title", values)),
        name=speech.say(Sentence("outlook.name", values)),
        subtitle=speech.word("outlook.subtitle"),
        description=speech.say(Sentence("outlook.description", values)),
        days=tuple(speech.day(track.day) for track in outlook.tracks),
        kinds={kind: speech.word(f"outlook.{kind}") for kind in _KINDS},
        notes=tuple(_notes(outlook, speech)),
    )
    return draw_outlook(outlook, labels, stage=stage)


def _notes(outlook: Outlook, speech: Speech) -> Iterator[str]:
    yield " ".join(_hours(track, speech) for track in outlook.tracks)
    yield speech.word("outlook.note")
    if any(not all(item.days) for item in outlook.outlines):
        yield speech.word("outlook.seasonal")


def _hours(track: Track, speech: Speech) -> str:
    """Return from when to when the sun is seen on a day."""
    spans: list[tuple[datetime, datetime]] = []
    for run in track.runs:
        if run.state == "hidden":
            continue
        if spans and spans[-1][1] == run.begin:
            spans[-1] = (spans[-1][0], run.end)
        else:
            spans.append((run.begin, run.end))
    said = [
        speech.say(Sentence("outlook.span", {"begin": f"{a:%H:%M}", "end": f"{b:%H:%M}"}))
        for a, b in spans
        if f"{a:%H:%M}" < f"{b:%H:%M}"  # a glimpse of less than a minute is none
    ]
    values = {"day": track.day, "spans": said}
    return speech.say(Sentence("outlook.hours" if said else "outlook.no_hours", values))
