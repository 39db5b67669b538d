"""Somebody who makes sun marks on a wall that did not come out quite as drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np

from noonmark.choose.markfile import MarkFile, PencilMark, read_marks
from noonmark.choose.readback import read_back
from noonmark.design.model import Homestead
from noonmark.study.marks import fortnights, marked_wall, sun_marks
from noonmark.study.results.marks import MarksResult, ReadBack, SunMark
from sample_house import with_house

FIRST = date(2026, 12, 21)


@dataclass(frozen=True)
class Truth:
    """What was built, off the drawing: deg, m, m; and by how many minutes the clock is fast."""

    faces: float = 0.0
    projection: float = 0.0
    soffit: float = 0.0
    clock: int = 0


def drawn(*, latitude: float = 39.73, projection: float = 0.762, faces: float = 180.0) -> Homestead:
    """Return a homestead as it is drawn."""
    home = with_house()
    house = home.buildings["house"]
    home = with_house(faces=faces, eave=house.eave.model_copy(update={"projection": projection}))
    place = home.place.model_copy(update={"latitude": latitude})
    return home.model_copy(update={"place": place})


def built(home: Homestead, truth: Truth) -> Homestead:
    """Return the homestead as it came out."""
    house = home.buildings["house"]
    eave = house.eave.model_copy(
        update={
            "projection": house.eave.projection + truth.projection,
            "soffit_height": (house.eave.soffit_height or 0.0) + truth.soffit,
        }
    )
    return with_house(home, faces=(house.faces + truth.faces) % 360.0, eave=eave)


def made(home: Homestead, days: Sequence[date] | None = None) -> MarksResult:
    """Return the marks that a wall really throws."""
    return sun_marks(home, marked_wall(home), days or fortnights(FIRST))


def written(
    home: Homestead,
    truth: Truth,
    noise: np.random.Generator | None = None,
    *,
    when: Sequence[str] = ("noon", "morning", "afternoon"),
    datum: str = "above_floor",
    days: Sequence[date] | None = None,
) -> list[tuple[datetime, float]]:
    """Return what is written down: date and time by the clock that is read, and height [m].

    Marks lie within 3 mm of the middle of the blur, evenly.
    """
    marks: list[SunMark] = [m for m in made(built(home, truth), days).marks if m.when in when]
    found = []
    for mark in marks:
        instant = datetime.fromisoformat(f"{mark.date}T{mark.clock_time}")
        height = getattr(mark, f"{datum}_m") + (noise.uniform(-0.003, 0.003) if noise else 0.0)
        found.append((instant + timedelta(minutes=truth.clock), height))
    return found


def csv_of(
    folder: Path, rows: Sequence[tuple[datetime, float]], column: str, factor: float = 1.0
) -> Path:
    """Write marks into a csv; heights are divided by `factor`."""
    lines = [f"date,time,{column}"]
    lines += [f"{at:%Y-%m-%d},{at:%H:%M},{height / factor:.5g}" for at, height in rows]
    path = folder / "marks.csv"
    path.write_text("\n".join(lines) + "\n", "utf-8")
    return path


def read(home: Homestead, rows: Sequence[tuple[datetime, float]]) -> ReadBack:
    """Read heights above the floor back, without a file."""
    marks = tuple(
        PencilMark(row, at.date(), at.time(), height) for row, (at, height) in enumerate(rows, 2)
    )
    file = MarkFile("marks.csv", "above_floor", "above_floor_m", "m", marks)
    return read_back(home, marked_wall(home), file)


def read_csv(home: Homestead, path: Path) -> ReadBack:
    """Read a csv back."""
    return read_back(home, marked_wall(home), read_marks(path))
