"""The design file: read, changed, checked, written back with its comments."""

from __future__ import annotations

import errno
import os
import pickle
import re
import stat
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import TOMLKitError
from tomlkit.toml_document import TOMLDocument

from noonmark.design.change import apply_change, is_entry
from noonmark.design.checks import require_sound
from noonmark.design.lines import Place, line_of, line_table
from noonmark.design.model import SCHEMA, TOP_LEVEL, Homestead
from noonmark.design.problems import problems_of, window_words
from noonmark.errors import InputError, Problem
from noonmark.units import System

LARGEST_FILE = 1_000_000
_US = re.compile(r"""^\s*units\s*=\s*["']us["']""", re.MULTILINE)


@dataclass(frozen=True)
class DesignFile:
    """A design as read: its model, its document with comments, where it came from.

    `text` is the file as it stands, `changes` the `PATH=VALUE` words put on it.
    """

    homestead: Homestead
    document: TOMLDocument
    name: str
    folder: Path
    text: str
    changes: tuple[str, ...]

    def located(self, error: InputError) -> InputError:
        """Return an error that a year raised, each problem with file and line of its part."""
        lines, data = line_table(self.text), self.document.unwrap()

        def placed(problem: Problem) -> Problem:
            if problem.file:
                return problem
            return _located(problem, self.name, lines, data, self.changes)

        return InputError([placed(problem) for problem in error.problems])

    def write(self, path: Path) -> None:
        """Write the document, comments kept, in one step: whole or not at all."""
        write_atomically(path, tomlkit.dumps(self.document))


def load_design(path: Path, changes: Sequence[str] = ()) -> DesignFile:
    """Read a design file and apply `PATH=VALUE` changes without touching it.

    Raises `InputError` with every problem found: file, line, part, what was
    read and what would be right.
    """
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise InputError(Problem("design.too_large", file=path.name))
        text = path.read_text("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(Problem("design.not_text", file=path.name)) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or type(error).__name__
        raise InputError(
            Problem("design.no_file", file=str(path), values={"reason": reason})
        ) from error
    return parse_design(text, name=path.name, folder=path.parent, changes=changes)


def written_units(path: Path) -> System:
    """Return the units that a design asks for, even a broken one; metric when none can be read."""
    try:
        with path.open(encoding="utf-8") as stream:
            return "us" if _US.search(stream.read(LARGEST_FILE)) else "metric"
    except (OSError, ValueError):
        return "metric"


def parse_design(
    text: str, *, name: str = "design.toml", folder: Path = Path(), changes: Sequence[str] = ()
) -> DesignFile:
    """Read a design from TOML text (see `load_design`); `folder` is where its weather lies."""
    document = _parse(text, name)
    for change in changes:
        apply_change(document, change)
    data = document.unwrap()
    try:
        homestead = Homestead.model_validate(_sorted_out(data))
        require_sound(homestead)
    except ValidationError as error:
        found: Sequence[Problem] = list(problems_of(error))
    except InputError as error:
        found = error.problems
    else:
        return DesignFile(homestead, document, name, folder, text, tuple(changes))
    lines = line_table(text)
    raise InputError([_located(problem, name, lines, data, changes) for problem in found])


def changed(design: DesignFile, changes: Sequence[str]) -> DesignFile:
    """Return a design with more `PATH=VALUE` changes; raises `InputError` as `load_design` does."""
    return parse_design(
        design.text,
        name=design.name,
        folder=design.folder,
        changes=[*design.changes, *changes],
    )


def _located(
    problem: Problem,
    name: str,
    lines: dict[Place, int],
    data: Mapping[str, Any],
    changes: Sequence[str],
) -> Problem:
    """Return the problem with file and line, or with the `--set` word it came from."""
    place = _place(problem.path, data)
    values = {**problem.values, **window_words(place, data)}
    spoken = replace(problem, values=values)
    for change in changes:
        changed = change.partition("=")[0].strip()
        if problem.path == changed or problem.path.startswith(f"{changed}."):
            return spoken.at(file=f"--set {change}")
    return spoken.at(file=name, line=line_of(lines, place))


def _place(path: str, data: Mapping[str, Any]) -> Place:
    """Return a path as keys and, where the data has a list, entries from 0."""
    node: Any = data
    place: list[str | int] = []
    for word in path.split("."):
        if isinstance(node, list) and is_entry(word):
            key: str | int = int(word) - 1
            node = node[int(key)] if int(word) <= len(node) else None
        else:
            key, node = word, node.get(word) if isinstance(node, Mapping) else None
        place.append(key)
    return tuple(place)


def write_atomically(path: Path, content: str | bytes) -> None:
    """Write `text` to `path` so that a reader sees the old file or the whole new one.

    A file that is there keeps its permissions; one that may not be written is not.
    """
    if path.exists() and not os.access(path, os.W_OK):
        raise _unwritable(path, PermissionError(errno.EACCES, os.strerror(errno.EACCES)))
    try:
        handle, name = tempfile.mkstemp(dir=path.parent or Path(), prefix=f".{path.name}.")
    except OSError as error:
        raise _unwritable(path, error) from error
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content.encode() if isinstance(content, str) else content)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(stat.S_IMODE(path.stat().st_mode) if path.exists() else 0o644)
        Path(name).replace(path)
    except (OSError, UnicodeError) as error:
        Path(name).unlink(missing_ok=True)
        raise _unwritable(path, error) from error


def _unwritable(path: Path, error: OSError | UnicodeError) -> InputError:
    reason = getattr(error, "strerror", None) or type(error).__name__
    return InputError(Problem("file.unwritable", file=str(path), values={"reason": reason}))


@lru_cache(maxsize=4)
def _pickled(text: str) -> bytes:
    """Return a parsed text; one that is read again and again while somebody drags comes quicker."""
    return pickle.dumps(tomlkit.parse(text), pickle.HIGHEST_PROTOCOL)


def _parse(text: str, name: str) -> TOMLDocument:
    try:
        document: TOMLDocument = pickle.loads(_pickled(text))
        return document
    except TOMLKitError as error:
        line = getattr(error, "line", None)
        detail = str(error).split(" at line")[0]
        raise InputError(
            Problem("design.not_toml", file=name, line=line, values={"detail": detail})
        ) from error
    except RecursionError as error:
        raise InputError(
            Problem("design.not_toml", file=name, values={"detail": "nested"})
        ) from error


def _sorted_out(data: dict[str, Any]) -> dict[str, Any]:
    """Return the data with its building tables gathered under `buildings`.

    Every top-level table with a `kind` is a building; anything else unknown is refused.
    """
    if data.get("schema") != SCHEMA:
        code = "design.schema_missing" if "schema" not in data else "design.schema"
        raise InputError(Problem(code, path="schema", values={"read": data.get("schema", "")}))
    known = {key: value for key, value in data.items() if key in TOP_LEVEL}
    others = {key: value for key, value in data.items() if key not in TOP_LEVEL}
    problems = [
        Problem(
            "design.unknown_key",
            path=key,
            values={"read": key, "near": get_close_matches(key, TOP_LEVEL, n=2, cutoff=0.5)},
        )
        for key, value in others.items()
        if not (isinstance(value, dict) and (_looks_like_building(value)))
    ]
    if problems:
        raise InputError(problems)
    return {**known, "buildings": others}


def _looks_like_building(table: Mapping[str, Any]) -> bool:
    return bool({"kind", "faces", "zone", "window"} & table.keys())
