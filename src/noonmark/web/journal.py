"""The journal of a design file: every change, before it is written; undo steps through it."""

from __future__ import annotations

import hashlib
import json
import os
import secrets
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from noonmark.design.file import write_atomically
from noonmark.errors import InputError

FOLDER_VARIABLE = "NOONMARK_STATE"

MOST_KEPT = 300
"""Changes kept; the oldest go first."""

LARGEST = 40_000_000
"""Bytes of a journal from which on it is written anew."""


@dataclass(frozen=True)
class Entry:
    """A change: what was said (empty for another program), the text before and after."""

    words: tuple[str, ...]
    before: str
    after: str


class Journal:
    """The changes of one file: `entries`, of which the first `position` are in force.

    `over` is the text that the file may still hold in place of the one in force,
    because that could not be written yet; None when it was. A folder that can not
    be written leaves the journal in memory alone.
    """

    def __init__(self, folder: Path) -> None:
        """Read what the folder holds; a torn last line counts for nothing."""
        self.entries: list[Entry] = []
        self.position = 0
        self.over: str | None = None
        self._path = folder / "journal.jsonl"
        self._torn = False
        for line in _lines(self._path):
            self._replay(line)
        if self._path.exists():
            self._rewrite()

    def _replay(self, line: dict[str, Any]) -> None:
        if "after" in line:
            entry = Entry(tuple(line["words"]), line["before"], line["after"])
            self._put(entry, over=entry.before if line["owed"] else None)
        elif "step" in line:
            self._go(line["step"])
        elif "written" in line:
            self.over = None
        elif "position" in line:
            self.position, self.over = min(line["position"], len(self.entries)), line["over"]

    @property
    def text(self) -> str | None:
        """Return the text in force, None when nothing was ever changed."""
        if self.position:
            return self.entries[self.position - 1].after
        return self.entries[0].before if self.entries else None

    @property
    def undoable(self) -> int:
        """Return how many changes can be taken back."""
        return self.position

    @property
    def redoable(self) -> int:
        """Return how many can be made again."""
        return len(self.entries) - self.position

    def texts(self) -> Iterator[str]:
        """Yield the texts in force until now, the newest first."""
        for entry in reversed(self.entries[: self.position]):
            yield entry.after
            yield entry.before

    def note(self, entry: Entry, *, owed: bool) -> None:
        """Keep a change; those taken back before it are gone. `owed`: it is not written yet."""
        self._put(entry, over=entry.before if owed else None)
        self._append({**asdict(entry), "owed": owed})
        if len(self.entries) > MOST_KEPT or self._size() > LARGEST:
            self._rewrite()

    def step(self, by: int) -> str | None:
        """Go back (-1) or on (+1) by a change; return the text then in force, None at an end."""
        if not 0 <= self.position + by <= len(self.entries):
            return None
        self._go(by)
        self._append({"step": by})
        return self.text

    def written(self) -> None:
        """Keep that the file holds the text in force."""
        self.over = None
        self._append({"written": True})

    def _put(self, entry: Entry, *, over: str | None) -> None:
        self.over = None if over is None else over if self.over is None else self.over
        self.entries[self.position :] = [entry]
        self.position = len(self.entries)

    def _go(self, by: int) -> None:
        if self.over is None:
            self.over = self.text
        self.position = max(0, min(self.position + by, len(self.entries)))

    def _size(self) -> int:
        try:
            return self._path.stat().st_size
        except OSError:
            return 0

    def _append(self, line: dict[str, Any]) -> None:
        if self._torn:  # the line before this one may have no end
            self._rewrite()
            return
        try:
            with self._path.open("a", encoding="utf-8") as stream:
                stream.write(json.dumps(line) + "\n")
                stream.flush()
                os.fsync(stream.fileno())
        except OSError:
            self._torn = True

    def _rewrite(self) -> None:
        """Write the newest changes anew, in one step."""
        self._forget()
        lines: list[dict[str, Any]] = [{**asdict(entry), "owed": False} for entry in self.entries]
        lines.append({"position": self.position, "over": self.over})
        try:
            write_atomically(self._path, "".join(json.dumps(line) + "\n" for line in lines))
            self._torn = False
        except InputError:
            self._torn = True

    def _forget(self) -> None:
        """Drop the oldest changes beyond what is kept, but none from the one in force on."""
        kept, size = 0, 0
        for entry in reversed(self.entries[-MOST_KEPT:]):
            size += len(entry.before) + len(entry.after)
            if kept and size > LARGEST // 4:
                break
            kept += 1
        dropped = min(len(self.entries) - kept, self.position)
        self.entries = self.entries[dropped:]
        self.position -= dropped


def _lines(path: Path) -> Iterator[dict[str, Any]]:
    """Yield the lines of a journal as data, up to one that can not be read."""
    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return
    for line in text.splitlines():
        try:
            found = json.loads(line)
        except ValueError:
            return
        if isinstance(found, dict):
            yield found


def state_folder() -> Path:
    """Return the folder of all journals: the user's state folder, or `NOONMARK_STATE`."""
    from platformdirs import user_state_path

    base = os.environ.get(FOLDER_VARIABLE)
    return (Path(base) if base else user_state_path("noonmark")) / "web"


def folder_of(file: Path) -> Path:
    """Return the folder of a file's journal and token, made for its owner alone."""
    name = hashlib.blake2b(str(file).encode(), digest_size=12).hexdigest()
    folder = state_folder() / name
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    return folder


def token_of(folder: Path) -> str:
    """Return the token of a file: made once, readable by its owner alone."""
    path = folder / "token"
    try:
        found = path.read_text("ascii").strip()
    except (OSError, UnicodeDecodeError):
        found = ""
    if len(found) >= 32:
        return found
    token = secrets.token_urlsafe(32)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w") as stream:
        stream.write(token)
    return token
