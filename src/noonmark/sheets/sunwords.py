"""Sheets with the sun on the walls and floors of a design, with their words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from noonmark.cards.speech import Speech
from noonmark.design.model import Building
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.elevation import ElevationLabels, draw_elevation
from noonmark.sheets.plan import PlanLabels, draw_plan
from noonmark.study.elevation import Elevation, Hour
from noonmark.study.plan import Plan, Ray, Shot
from noonmark.units import Quantity
from noonmark.units.writing import dimension

_SHOTS = ("noon", "clock_9", "clock_15")
_LEVELS = ("ridge", "soffit", "plate", "head", "sill", "floor")


def elevation_sheet(
    elevation: Elevation,
    *,
    title: str,
    day: date,
    alone: bool,
    speech: Speech,
    stage: Stage = SCREEN,
) -> Drawing:
    """Return a wall seen from outdoors on a day on a stage.

    `alone` tells that the building has one zone, which then goes without saying.
    """
    face = elevation.face
    values = {
        "title": title,
        "side": azimuth_name(face.azimuth),
        "zone": face.zone,
        "date": day,
    }
    of = "" if alone else "_of"
    fullest = fullest_words(elevation, speech)
    labels = ElevationLabels(
        title=speech.say(Sentence(f"sheet.elevation_title{of}", values)),
        subtitle=speech.say(Sentence("sheet.elevation_large", {"words": fullest}))
        if elevation.hours
        else fullest,
        description=speech.say(Sentence("sheet.elevation_description", values)),
        levels={word: speech.word(f"sheet.{word}") for word in _LEVELS},
        names=tuple(pane.name for pane in elevation.panes),
        hours=tuple(_hour_words("sheet.elevation_hour", item, speech) for item in elevation.hours),
        shares=tuple(tuple(_percent(share) for share in item.shares) for item in elevation.hours),
        notes=_notes(elevation, speech),
    )
    drawing = draw_elevation(elevation, labels, system=speech.system, stage=stage)
    return replace(drawing, name=speech.say(Sentence(f"sheet.elevation_name{of}", values)))


def fullest_words(elevation: Elevation, speech: Speech) -> str:
    """Return the hour at which the sun meets a wall most squarely, and where it stands."""
    hour = elevation.fullest
    if hour is None:
        return speech.word("sheet.elevation_subtitle_sunless")
    return _hour_words("sheet.elevation_subtitle", hour, speech)


def plan_sheet(
    plan: Plan,
    building: Building,
    *,
    title: str,
    name: str,
    day: date,
    speech: Speech,
    stage: Stage = SCREEN,
) -> Drawing:
    """Return the plan of a building with the sun of a day on a stage."""
    values: dict[str, object] = {"title": title, "building": name, "date": day}
    shown = {shot.ray.hour for shot in plan.shots}
    labels = PlanLabels(
        title=speech.say(Sentence("sheet.plan_title", values)),
        subtitle=speech.word(f"sheet.plan_subtitle{'' if plan.rays else '_sunless'}"),
        description=speech.say(Sentence("sheet.plan_description", values)),
        north=speech.word("sheet.plan_north"),
        rays=tuple(_ray_words(ray, speech) for ray in plan.rays),
        shots=tuple(_shot_words(shot, speech) for shot in plan.shots),
        dark=tuple(
            speech.word(f"sheet.plan_dark.{hour}")
            for hour in _SHOTS
            if plan.rays and hour not in shown
        ),
        windows=tuple(_window_words(plan, building, speech)),
        notes=tuple(_plan_notes(plan, building, speech)),
    )
    drawing = draw_plan(plan, labels, system=speech.system, stage=stage)
    return replace(drawing, name=speech.say(Sentence("sheet.plan_name", values)))


def _ray_words(ray: Ray, speech: Speech) -> str:
    clock = {"clock": f"{ray.moment.instant:%H:%M}"}
    return speech.say(Sentence(f"sheet.plan_ray.{ray.hour}", clock))


def _shot_words(shot: Shot, speech: Speech) -> tuple[str, str]:
    """Return an hour, and how much floor lies in the sun at it."""
    clock = {"clock": f"{shot.ray.moment.instant:%H:%M}"}
    noon = "_noon" if shot.ray.hour == "noon" else ""
    lit = Sentence("sheet.plan_lit", {"area": Quantity(shot.area, "area")})
    return (
        speech.say(Sentence(f"sheet.plan_hour{noon}", clock)),
        speech.say(lit if shot.patches else Sentence("sheet.plan_unlit")),
    )


def _window_words(plan: Plan, building: Building, speech: Speech) -> Iterator[str]:
    """Yield what the numbers at the windows mean, in one note."""
    numbers = sorted({hole.number for hole in plan.holes})
    said = []
    for number in numbers:
        window = building.window[number - 1]
        sizes = (window.width, window.head - window.sill)
        wide, tall = (dimension(size, speech.system) for size in sizes)
        values = {"number": number, "name": window.name, "wide": wide, "tall": tall}
        named = "" if window.name else "_nameless"
        words = speech.say(Sentence(f"sheet.plan_window{named}", values))
        said.append(words.replace(": ", ":\u00a0", 1))  # stays on one line with what follows
    if said:
        yield speech.say(Sentence("sheet.plan_windows", {"windows": "; ".join(said)}))


def _plan_notes(plan: Plan, building: Building, speech: Speech) -> Iterator[str]:
    fine = replace(speech, fine=True)
    for name, zone in building.zone.items():
        sizes = {"length": zone.length, "width": zone.width, "height": zone.height}
        values: dict[str, object] = {key: Quantity(size, "length") for key, size in sizes.items()}
        values |= {"zone": name, "area": Quantity(zone.floor_area, "area")}
        yield fine.say(Sentence("sheet.plan_room", values))
    if any(patch.lit.dimmed for shot in plan.shots for patch in shot.patches):
        yield speech.word("sheet.plan_dimmed")
    if plan.loose:
        yield speech.say(Sentence("sheet.plan_loose", {"windows": list(plan.loose)}))
    yield speech.word("sheet.plan_note")


def _hour_words(key: str, hour: Hour, speech: Speech) -> str:
    values = {
        "hour": hour.hour,
        "clock": f"{hour.moment.instant:%H:%M}",
        "altitude": Quantity(hour.moment.altitude, "angle"),
    }
    return speech.say(Sentence(key, values))


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
