"""The design on the desk: its file, what is wrong with it, and the way back. Knows no network."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import tomlkit

from noonmark.design.file import (
    LARGEST_FILE,
    DesignFile,
    parse_design,
    write_atomically,
)
from noonmark.errors import InputError, Problem
from noonmark.web.journal import Entry, Journal

Cause = Literal["start", "edit", "undo", "redo", "outside"]
_Seen = tuple[int, ...] | None


@dataclass(frozen=True)
class Standing:
    """How the file stands: the last sound `design`, and the `problems` of `text` if it is broken.

    `cause` is what made it so, `revision` counts; `unwritten` is why the file could
    not be written. `undo` and `redo` are how many changes lie either way.
    """

    revision: int
    cause: Cause
    text: str
    design: DesignFile | None
    problems: tuple[Problem, ...]
    unwritten: Problem | None
    undo: int
    redo: int


class Desk:
    """One design file, opened for changes; `now` is how it stands."""

    def __init__(self, path: Path, journal: Journal) -> None:
        """Open a file; a link is followed, so that what it names is written."""
        self.path = path.resolve()
        self.journal = journal
        self._seen: _Seen = None
        self._doubtful: str | None = None
        self._unwritten: Problem | None = None
        self.now = self._open()

    # --- what the page says ---------------------------------------------------------------------

    def edit(self, words: Sequence[str]) -> Standing:
        """Put words on the file, comments kept.

        Raises `InputError` when the words can not be, or the file is broken; nothing
        is changed then.
        """
        self._look()
        if self.now.problems or self.now.design is None:
            raise InputError(Problem("web.file_broken", file=self.path.name))
        text = tomlkit.dumps(self._parsed(self.now.text, words).document)
        if len(text.encode()) > LARGEST_FILE:
            raise InputError(Problem("design.too_large", file=self.path.name))
        if text == self.now.text:
            return self.now
        self.journal.note(Entry(tuple(words), self.now.text, text), owed=True)
        return self._put(text, "edit")

    def undo(self) -> Standing:
        """Take the last change back."""
        return self._step(-1, "undo")

    def redo(self) -> Standing:
        """Make the change again that was taken back last."""
        return self._step(1, "redo")

    # --- what others do -------------------------------------------------------------------------

    def poll(self) -> Standing | None:
        """Return how the file stands when that has changed, by another program or a disk mended."""
        if self._unwritten is not None:
            return self._try_again()
        seen = self._signature()
        if seen == self._seen and self._doubtful is None:
            return None
        try:
            text = self._read()
        except InputError as error:
            return self._lost(error)
        if text == self.now.text:
            self._seen, self._doubtful = seen, None
            return self._found_again()
        if not self._settled(text):
            return None
        self._seen, self._doubtful = seen, None
        self.journal.note(Entry((), self.now.text, text), owed=False)
        return self._take(text, "outside")

    # --- within ---------------------------------------------------------------------------------

    def _look(self) -> None:
        """Take what another program may have written, were it broken."""
        self.poll()
        if self._doubtful is not None:
            self.poll()

    def _open(self) -> Standing:
        known = self.journal.text
        self.now = Standing(0, "start", known or "", None, (), None, 0, 0)
        try:
            self._seen = self._signature()
            text = self._read()
        except InputError as error:
            return self._take(known or "", "start", lost=error)
        if known is None or text == known:
            return self._take(text, "start")
        if text == self.journal.over:  # the server ended before it could write
            return self._put(known, "start")
        self.journal.note(Entry((), known, text), owed=False)
        return self._take(text, "start")

    def _step(self, by: int, cause: Cause) -> Standing:
        self._look()
        text = self.journal.step(by)
        return self.now if text is None else self._put(text, cause)

    def _put(self, text: str, cause: Cause) -> Standing:
        """Write a text that the journal holds already, and take it."""
        try:
            write_atomically(self.path, text)
            self.journal.written()
            self._unwritten = None
        except InputError as error:
            self._unwritten = error.problems[0]
        self._seen, self._doubtful = self._signature(), None
        return self._take(text, cause)

    def _try_again(self) -> Standing | None:
        before, standing = self._unwritten, self.now
        if self._signature() != self._seen and self._holds_another():
            self._unwritten = None  # another program wrote it; its text comes after ours
            return self.poll()
        self._put(self.now.text, self.now.cause)
        if self._unwritten == before:
            self.now = standing
            return None
        return self.now

    def _holds_another(self) -> bool:
        """Return whether the file holds neither our text nor the one it had before."""
        try:
            return self._read() not in (self.now.text, self.journal.over)
        except InputError:
            return False

    def _take(self, text: str, cause: Cause, *, lost: InputError | None = None) -> Standing:
        """Take a text as that of the file, sound or broken."""
        self.now = self._with(text, cause, lost=lost)
        return self.now

    def _with(self, text: str, cause: Cause, *, lost: InputError | None = None) -> Standing:
        """Return how the file would stand with a text; others read `now` meanwhile."""
        problems: tuple[Problem, ...] = () if lost is None else lost.problems
        design = self.now.design
        try:
            design = self._parsed(text)
        except InputError as error:
            problems = problems or error.problems
            design = design or self._last_sound()
        return self._next(cause=cause, text=text, design=design, problems=problems)

    def _next(self, **changes: object) -> Standing:
        return replace(
            self.now,
            **changes,  # type: ignore[arg-type]
            revision=self.now.revision + 1,
            unwritten=self._unwritten,
            undo=self.journal.undoable,
            redo=self.journal.redoable,
        )

    def _lost(self, error: InputError) -> Standing | None:
        """Return that the file can not be read any more; what was read last is kept."""
        self._seen = self._doubtful = None
        if self.now.problems == error.problems:
            return None
        self.now = self._next(cause="outside", problems=error.problems)
        return self.now

    def _found_again(self) -> Standing | None:
        """Return that a file which was lost is there again as it was."""
        again = self._with(self.now.text, "outside")
        if (again.problems, again.unwritten) == (self.now.problems, self.now.unwritten):
            return None
        self.now = again
        return again

    def _settled(self, text: str) -> bool:
        """Return whether a text can be taken: it is sound, or nobody is still writing it."""
        if text == self._doubtful:
            return True
        try:
            self._parsed(text)
        except InputError:
            self._doubtful = text
            return False
        return True

    def _last_sound(self) -> DesignFile | None:
        for text in self.journal.texts():
            try:
                return self._parsed(text)
            except InputError:
                continue
        return None

    def _parsed(self, text: str, words: Sequence[str] = ()) -> DesignFile:
        return parse_design(text, name=self.path.name, folder=self.path.parent, changes=words)

    def _signature(self) -> _Seen:
        try:
            found = self.path.stat()
        except OSError:
            return None
        return found.st_ino, found.st_mtime_ns, found.st_ctime_ns, found.st_size

    def _read(self) -> str:
        """Return the text of the file, line ends as they are."""
        try:
            if self.path.stat().st_size > LARGEST_FILE:
                raise InputError(Problem("design.too_large", file=self.path.name))
            return self.path.read_bytes().decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise InputError(Problem("design.not_text", file=self.path.name)) from error
        except OSError as error:
            values = {"reason": error.strerror or type(error).__name__}
            raise InputError(
                Problem("design.no_file", file=str(self.path), values=values)
            ) from error
