"""Sheets of a design with their words: section and year map."""

from __future__ import annotations

from dataclasses import replace

from noonmark.cards.speech import Speech
from noonmark.errors import Sentence
from noonmark.place.site import azimuth_name
from noonmark.shape import shade_line
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.section import SectionLabels, draw_section
from noonmark.sheets.storypole import Mark
from noonmark.sheets.yearmap import YearMapLabels, draw_year_map
from noonmark.study.section import NoonMark, SectionView
from noonmark.study.tree import heat_given
from noonmark.study.year import YearRun
from noonmark.units import Quantity


def section_sheet(
    view: SectionView, *, title: str, faces: float, speech: Speech, stage: Stage = SCREEN
) -> Drawing:
    """Return the section of a building's sunny wall on a stage."""
    values = {
        "title": title,
        "side": azimuth_name(faces),
        "date": speech.day(view.instant.date()),
        "clock": f"{view.instant:%H:%M}",
    }
    labels = SectionLabels(
        title=speech.say(Sentence("sheet.section_title", values)),
        subtitle=instant_words(view, speech),
        description=speech.say(Sentence("sheet.section_description", values)),
        **{word: speech.word(f"sheet.{word}") for word in _SECTION_WORDS},
        notes=(speech.word("sheet.pole_note"), *_truss_note(view, speech)),
    )
    drawing = draw_section(
        view.section,
        labels,
        profile_angle=view.profile_angle,
        marks=[_mark(mark, view, speech) for mark in view.marks],
        own=_own_mark(view, speech),
        system=speech.system,
        stage=stage,
    )
    return replace(drawing, name=speech.say(Sentence("sheet.section_name", values)))


def instant_words(view: SectionView, speech: Speech) -> str:
    """Return the instant of a section, and where its sun stands."""
    lit = "_noon" if view.noon else ""
    instant = lit if view.profile_angle is not None else "_sunless"
    values = {
        "clock": f"{view.instant:%H:%M}",
        "altitude": Quantity(view.sun_altitude, "angle"),
    }
    return speech.say(Sentence(f"sheet.section_subtitle{instant}", values))


def year_map_sheet(run: YearRun, name: str, zone: int, speech: Speech) -> str:
    """Return the year map of one zone of a building as an SVG document."""
    year = run.hourly[name]
    zones = next(item for item in run.result.buildings if item.name == name).zones
    values = {
        "title": run.result.title,
        "building": f"{name}, {zones[zone].name}" if len(zones) > 1 else name,
        "place": run.result.climate.source,
    }
    labels = YearMapLabels(
        title=speech.say(Sentence("sheet.map_title", values)),
        subtitle=speech.say(Sentence("sheet.map_subtitle", values)),
        description=speech.say(Sentence("sheet.map_description", values)),
        months=tuple(speech.word(f"month_short.{number}") for number in range(1, 13)),
        hours=(
            speech.word("sheet.midnight"),
            "6",
            speech.word("sheet.noon"),
            "18",
            speech.word("sheet.midnight"),
        ),
        sun_line=speech.word("sheet.sun_line"),
        heated=speech.word("sheet.heated"),
        hard_heated=speech.word("sheet.hard_heated"),
        notes=(speech.word("sheet.map_note"),),
    )
    return draw_year_map(
        year.operative[:, zone],
        heat_given(year)[:, zone],
        run.site.sun.sunrise_h,
        run.site.sun.sunset_h,
        labels,
        system=speech.system,
    )


_SECTION_WORDS = (
    "floor", "sill", "head", "soffit", "plate", "fascia", "gutter", "heel", "end_heel",
    "insulation", "pole",
)  # fmt: skip


def _truss_note(view: SectionView, speech: Speech) -> list[str]:
    """Return what the truss maker is told as one note; nothing for a roof without trusses."""
    fine = replace(speech, fine=True)
    return [" ".join(fine.say(sentence) for sentence in view.truss)] if view.truss else []


def _mark(mark: NoonMark, view: SectionView, speech: Speech) -> Mark:
    """Return a notch of the pole; that of the shown day alone carries its height."""
    label, shown = _mark_label(mark, speech), _shows(mark, view)
    alone = shown and label == speech.day(mark.first)
    return Mark(
        _with_height(label, mark.height, view, speech) if alone else label, mark.height, shown
    )


def _own_mark(view: SectionView, speech: Speech) -> Mark | None:
    """Return the shade line of a day or hour that none of the fortnights shows."""
    if view.profile_angle is None or any(_shows(mark, view) for mark in view.marks):
        return None
    height = shade_line(view.section, view.profile_angle)
    label = speech.day(view.instant.date()) if view.noon else f"{view.instant:%H:%M}"
    return Mark(_with_height(label, height, view, speech), height, current=True)


def _with_height(label: str, height: float, view: SectionView, speech: Speech) -> str:
    """Return a label with its height on the wall; below the ground there is none."""
    if height < view.section.ground:
        return label
    written = Quantity(height, "length").write(speech.system)
    return speech.say(Sentence("sheet.mark", {"date": label, "height": written}))


def _mark_label(mark: NoonMark, speech: Speech) -> str:
    first, second = speech.day(mark.first), speech.day(mark.second)
    return first if abs((mark.second - mark.first).days % 365) < 14 else f"{first} · {second}"


def _shows(mark: NoonMark, view: SectionView) -> bool:
    """Return whether the drawing shows solar noon on one of the mark's days."""
    shown = (view.instant.month, view.instant.day)
    return view.noon and shown in {(day.month, day.day) for day in (mark.first, mark.second)}
