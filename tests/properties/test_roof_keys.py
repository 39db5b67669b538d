"""Whatever roof a design asks for: it closes and is drawn, or is refused by name."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from designs import design, sample_text
from drawing import collisions, outside, parsed
from noonmark.cards.speech import Speech
from noonmark.design import parse_design
from noonmark.design.derived import roof_triangle
from noonmark.design.truss import truss_line
from noonmark.errors import InputError, Problem
from noonmark.sheets.compose import section_sheet
from noonmark.study.section import section_view
from noonmark.units import System

KEYS = st.fixed_dictionaries(
    {
        "house.roof.truss": st.sampled_from(["tail", "cantilever"]),
        "house.roof.pitch": st.floats(0.0, 1.5),
        "house.eave.projection": st.floats(0.0, 2.0),
    },
    optional={
        "house.roof.heel": st.floats(0.1, 1.5),
        "house.roof.end_heel": st.floats(0.1, 0.6),
        "house.roof.bearing": st.floats(0.0, 0.5),
        "house.roof.measured_from": st.sampled_from(["sheathing", "finish"]),
        "house.eave.soffit": st.sampled_from(["level", "sloped"]),
        "house.eave.fascia_drop": st.floats(0.0, 0.3),
        "house.eave.gutter.width": st.floats(0.08, 0.2),
    },
)


def no_soffit(data: dict[str, dict[str, dict[str, object]]]) -> None:
    data["house"]["eave"].pop("soffit_height")


@settings(deadline=None, max_examples=60)
@given(KEYS, st.sampled_from(["metric", "us"]), st.integers(0, 364))
def test_roof_is_drawn_or_refused(keys: dict[str, object], system: System, day: int) -> None:
    changes = [f"{key}={value}" for key, value in keys.items()]
    date = datetime.date(2022, 1, 1) + datetime.timedelta(days=day)
    heels = {"house.roof.heel", "house.roof.end_heel"} & set(keys)
    text = sample_text(no_soffit) if heels else sample_text()
    problems: tuple[Problem, ...] = ()
    try:
        home = parse_design(text, changes=changes)
    except InputError as error:
        problems = error.problems
    assert all(problem.path.startswith("house.") for problem in problems)
    assert not any("?" in Speech(system).explain(problem) for problem in problems)
    if problems:
        return
    view = section_view(home.homestead, "house", day=date)
    drawn = section_sheet(view, title="Larkspur", faces=180.0, speech=Speech(system)).sheet()
    assert "nan" not in drawn
    root = parsed(drawn)
    assert collisions(root) == []
    assert outside(root) == []
    assert not any("?" in Speech(system).say(s) for s in truss_line(home.homestead, "house"))


@settings(deadline=None, max_examples=40)
@given(st.floats(0.0, 1.2), st.floats(0.0, 1.5), st.floats(2.3, 3.2))
def test_soffit_and_heel_lead_to_each_other(pitch: float, projection: float, soffit: float) -> None:
    """A soffit asks for a heel; the heel alone, through `--set`, hangs that soffit."""
    changes = [f"house.roof.pitch={pitch!r}", f"house.eave.projection={projection!r}"]
    try:
        first = design(changes=[*changes, f"house.eave.soffit_height={soffit!r}"]).homestead
    except InputError:
        return
    roof = roof_triangle(first, first.buildings["house"])
    changes.append(f"house.roof.heel={roof.heel!r}")
    second = parse_design(sample_text(no_soffit), changes=changes).homestead
    again = roof_triangle(second, second.buildings["house"])
    assert again.soffit == pytest.approx(soffit)
    assert again.ridge == pytest.approx(roof.ridge)
