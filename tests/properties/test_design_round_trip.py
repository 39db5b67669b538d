"""A design written back reads as the same design, with every comment in its place."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from mutants import SAMPLE
from noonmark.design import load_design, parse_design
from noonmark.units import Kind, System, write

COMMENTS = [line.partition("#")[2] for line in SAMPLE.splitlines() if "#" in line]

MEASURES: dict[str, tuple[Kind, float, float]] = {
    "house.window.2.width": ("length", 0.7, 1.4),
    "house.window.3.sill": ("length", 0.3, 1.2),
    "house.zone.rooms.length": ("length", 10.0, 14.0),
    "house.faces": ("angle", 0.0, 359.0),
    "house.roof.pitch": ("pitch", 0.4, 1.0),
    "house.heating.setpoint": ("temperature", -10.0, 23.0),
    "house.heating.capacity": ("power", 100.0, 20_000.0),
    "house.air.ventilation": ("airflow", 0.0, 0.2),
    "house.air.leakage": ("air_change_rate", 0.1, 10.0),
    "construction.wall.layers.2.thickness": ("length", 0.05, 0.4),
    "place.altitude": ("length", 0.0, 3000.0),
}


@st.composite
def changes(draw: st.DrawFn) -> list[str]:
    """Draw some values, written as a builder writes them in either system."""
    found = []
    for path in draw(st.lists(st.sampled_from(sorted(MEASURES)), unique=True, min_size=1)):
        kind, low, high = MEASURES[path]
        system: System = draw(st.sampled_from(["metric", "us"]))
        text = write(draw(st.floats(low, high)), kind, system)
        found.append(f"{path}={text}")
    return found


TITLES = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=120)


@settings(max_examples=60, deadline=None)
@given(changes())
def test_changed_values_survive_writing_and_reading(changed: list[str]) -> None:
    first = parse_design(SAMPLE, changes=changed)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "house.toml"
        first.write(path)
        second = load_design(path)
        text = path.read_text("utf-8")
    assert second.homestead == first.homestead
    assert [line.partition("#")[2] for line in text.splitlines() if "#" in line] == COMMENTS


@settings(max_examples=60, deadline=None)
@given(TITLES)
def test_any_title_survives(title: str) -> None:
    document = parse_design(SAMPLE).document
    document["title"] = title
    assert parse_design(document.as_string()).homestead.title == title
