"""What every room may raise or call: problems as data, and progress.

A problem carries a code and values, never a sentence. The faces speak it
(`noonmark.cards.speech`) in the reader's language and units.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace


@dataclass(frozen=True)
class Sentence:
    """A sentence as a key with its values; the faces render it.

    `values` hold plain text, numbers or `noonmark.units.Quantity`.
    """

    key: str
    values: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True)
class Problem:
    """One thing wrong with what was handed in.

    `code` names the sentence ("design.unknown_key"), `path` the part in the
    file's own words ("house.window.2.width"), `file` and `line` where it was
    read, `values` what the sentence needs (what was read, what would be right).
    """

    code: str
    path: str = ""
    file: str = ""
    line: int | None = None
    values: Mapping[str, object] = field(default_factory=dict)

    def at(
        self, *, path: str | None = None, file: str | None = None, line: int | None = None
    ) -> Problem:
        """Return the same problem with a better known place."""
        return replace(
            self,
            path=self.path if path is None else path,
            file=self.file if file is None else file,
            line=self.line if line is None else line,
        )


class NoonmarkError(Exception):
    """Base of every error raised on purpose; holds one or more problems."""

    def __init__(self, problems: Problem | Sequence[Problem]) -> None:
        """Take one problem or several found together."""
        self.problems: tuple[Problem, ...] = (
            (problems,) if isinstance(problems, Problem) else tuple(problems)
        )
        super().__init__("; ".join(_plain(problem) for problem in self.problems))


class InputError(NoonmarkError):
    """The design, weather or command handed in can not be used (exit code 2)."""


class PhysicsError(NoonmarkError):
    """The numbers handed to a physics room describe nothing that can exist."""


def _plain(problem: Problem) -> str:
    where = ":".join(str(part) for part in (problem.file, problem.line, problem.path) if part)
    values = ", ".join(f"{name}={value!r}" for name, value in problem.values.items())
    return f"{where} {problem.code} ({values})".strip()


@dataclass(frozen=True)
class Progress:
    """How far a long job is: `done` of `total` steps of the work named by `key`."""

    key: str
    done: int
    total: int


ProgressListener = Callable[[Progress], None]


def no_progress(progress: Progress) -> None:
    """Listen to progress and do nothing."""
