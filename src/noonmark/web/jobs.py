"""What is asked of a solver process and what it answers: plain data, pickled between the two."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from noonmark.errors import Problem
from noonmark.web.wire import Answer

Task = Literal[
    "year", "twin", "weather", "weather_whole", "whole", "hours", "answers", "sun", "warm"
]

LENGTH = struct.Struct("<I")
"""Goes before each pickle: its length in bytes."""


@dataclass(frozen=True)
class Job:
    """Something to reckon: a design's text with `words` put on it, and a building of it.

    `day` of the year, from 0, and minutes `after_noon` are those of a sun.
    """

    task: Task
    text: str
    name: str
    folder: Path
    words: tuple[str, ...] = ()
    building: str | None = None
    day: int = 0
    after_noon: int = 0


@dataclass(frozen=True)
class Refusal:
    """Why a job has no answer."""

    problems: tuple[Problem, ...]


Reply = Answer | Refusal
