"""Drawings on their way into files."""

from __future__ import annotations

import re
import sys
from collections.abc import Mapping
from pathlib import Path

from noonmark.cards.speech import Speech
from noonmark.design.file import write_atomically
from noonmark.errors import InputError, Problem, Sentence


def write_sheets(
    sheets: Mapping[str, str | bytes], out: Path, speech: Speech, *, quiet: bool = False
) -> list[Path]:
    """Write drawings into a folder by their file names and say where; returns their paths."""
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        values = {"reason": error.strerror or type(error).__name__}
        raise InputError(Problem("file.unwritable", file=str(out), values=values)) from error
    paths = []
    for file, drawing in sheets.items():
        write_atomically(out / file, drawing)
        paths.append(out / file)
        if not quiet:
            sys.stderr.write(speech.say(Sentence("check.wrote", {"file": str(out / file)})) + "\n")
    return paths


def file_name(name: str) -> str:
    """Return a name of the design as part of a file name: in its folder, and without blanks."""
    return re.sub(r"[^\w-]+", "-", name).strip("-")[:60] or "-"
