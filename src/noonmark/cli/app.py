"""The command line. Data on stdout, all else on stderr; 0 fine, 1 goals missed, 2 input error."""

from __future__ import annotations

import io
import os
import sys
from itertools import pairwise
from pathlib import Path
from typing import cast, get_args

from cyclopts import App, CycloptsError

from noonmark.cards.speech import Speech
from noonmark.cli import housecommands, suncommands
from noonmark.errors import InputError, NoonmarkError, Problem
from noonmark.units import System

DEBUG_VARIABLE = "NOONMARK_DEBUG"

_ALGEBRA_THREADS = ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
"""Our matrices are small: threads of the algebra library take longer to wake than to help, and
take the cores from each other. They must be told before it is loaded; solvers inherit it."""

app = App(
    name="noonmark",
    help="Shape a small building to its sun, and prove it hour by hour.",
    help_on_error=False,
)

for command in (
    housecommands.demo,
    housecommands.new,
    housecommands.check,
    housecommands.run,
    housecommands.show,
    housecommands.draw,
    housecommands.glass,
    housecommands.damp,
    housecommands.web,
    suncommands.season,
    suncommands.eave,
    suncommands.awning,
    suncommands.slats,
    suncommands.marks,
    suncommands.stakeout,
):
    app.command(command)


def main() -> None:
    """Run the command line and leave with its exit code.

    Signs that the terminal can not show (primes, degrees) become question marks.
    """
    spare_threads()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    sys.exit(run_words(sys.argv[1:]))


def spare_threads() -> None:
    """Let the algebra library start no threads, unless the user wants them."""
    for variable in _ALGEBRA_THREADS:
        os.environ.setdefault(variable, "1")


def run_words(words: list[str]) -> int:
    """Run one command line and return its exit code; no traceback gets out."""
    try:
        code = app(words, exit_on_error=False, print_error=False, result_action="return_value")
        sys.stdout.flush()
    except CycloptsError as error:
        return _complain(InputError(Problem("cli.usage", values={"detail": str(error)})), words)
    except NoonmarkError as error:
        return _complain(error, words)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130
    except Exception as error:
        if os.environ.get(DEBUG_VARIABLE):
            raise
        detail = f"{type(error).__name__}: {error}"
        return _complain(InputError(Problem("cli.broken", values={"detail": detail})), words)
    return code if isinstance(code, int) else 0


def _complain(error: NoonmarkError, words: list[str]) -> int:
    sys.stderr.write(Speech(_complaint_system(words)).explain_all(error) + "\n")
    return 2


def _complaint_system(words: list[str]) -> System:
    """Return the units of `--units`, else those of the design, for the words of an error."""
    for system in get_args(System):
        if f"--units={system}" in words or ("--units", system) in pairwise(words):
            return cast("System", system)
    from noonmark.design.file import written_units

    return written_units(Path(words[1])) if len(words) > 1 else "metric"
