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

    `owed` tells that the text in force may not have been written to the file yet.
    A folder that can not be written leaves the journal in memory alone.
    """

    def __init__(self, folder: Path) -> None:
        """Read what the folder holds; a torn last line counts for nothing."""
        self.folder = folder
        self.entries: list[Entry] = []
        self.position = 0
        self.owed = False
        self._path = folder / "journal.jsonl"
        for line in _lines(self._path):
            self._replay(line)
        if self._path.exists():
            self._rewrite()

    def _replay(self, line: dict[str, Any]) -> None:
        if "after" in line:
            entry = Entry(tuple(line["words"]), line["before"], line["after"])
            self._put(entry)
            self.owed = bool(line.get("owed", True))
        elif "position" in line:
            self.position = max(0, min(int(line["position"]), len(self.entries)))
            self.owed = bool(line.get("owed", True))
        elif line.get("written"):
            self.owed = False

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
        """Yield the texts in force before now, the newest first."""
        for entry in reversed(self.entries[: self.position]):
            yield entry.after
            yield entry.before

    def note(self, entry: Entry, *, owed: bool) -> None:
        """Keep a change; those taken back before it are gone."""
        self._put(entry)
        self.owed = owed
        self._append({**asdict(entry), "owed": owed})
        if len(self.entries) > MOST_KEPT or self._size() > LARGEST:
            self._rewrite()

    def step(self, by: int) -> str | None:
        """Go back (-1) or on (+1) by a change; return the text then in force, None at an end."""
        if not 0 <= self.position + by <= len(self.entries):
            return None
        self.position += by
        self.owed = True
        self._append({"position": self.position, "owed": True})
        return self.text

    def written(self) -> None:
        """Keep that the file holds the text in force."""
        if self.owed:
            self.owed = False
            self._append({"written": True})

    def _put(self, entry: Entry) -> None:
        self.entries[self.position :] = [entry]
        self.position = len(self.entries)

    def _size(self) -> int:
        try:
            return self._path.stat().st_size
        except OSError:
            return 0

    def _append(self, line: dict[str, Any]) -> None:
        try:
            with self._path.open("a", encoding="utf-8") as stream:
                stream.write(json.dumps(line) + "\n")
                stream.flush()
                os.fsync(stream.fileno())
        except OSError:
            return

    def _rewrite(self) -> None:
        """Write the newest changes anew, in one step."""
        kept, size = 0, 0
        for entry in reversed(self.entries[-MOST_KEPT:]):
            size += len(entry.before) + len(entry.after)
            if kept and size > LARGEST // 4:
                break
            kept += 1
        dropped = len(self.entries) - kept
        self.entries = self.entries[dropped:]
        self.position = max(0, self.position - dropped)
        lines: list[dict[str, Any]] = [asdict(entry) for entry in self.entries]
        lines.append({"position": self.position, "owed": self.owed})
        part = self._path.with_suffix(".part")
        try:
            with part.open("w", encoding="utf-8") as stream:
                stream.writelines(json.dumps(line) + "\n" for line in lines)
                stream.flush()
                os.fsync(stream.fileno())
            part.replace(self._path)
        except OSError:
            part.unlink(missing_ok=True)


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
