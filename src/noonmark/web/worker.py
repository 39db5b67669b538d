"""A solver process: jobs come in by its standard input, answers go out by its standard output.

`python -m noonmark.web.worker`. It ends when its input does.
"""

from __future__ import annotations

import gc
import os
import pickle
import sys
from contextlib import suppress
from typing import TYPE_CHECKING, BinaryIO

from noonmark.errors import NoonmarkError, Problem
from noonmark.web.jobs import LENGTH, Job, Refusal, Reply

if TYPE_CHECKING:
    from noonmark.web.reckon import Reckoner


def main() -> None:
    """Answer jobs until there are no more; what is printed meanwhile goes to stderr."""
    out = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    from noonmark.web.reckon import Reckoner

    reckoner = Reckoner()
    with suppress(OSError, KeyboardInterrupt):  # the server is gone
        while (data := _read(sys.stdin.buffer)) is not None:
            _write(out, pickle.dumps(_reply(reckoner, pickle.loads(data))))
            if not gc.get_freeze_count():
                gc.freeze()  # what stays is not searched again and again


def _reply(reckoner: Reckoner, job: Job) -> Reply:
    try:
        return reckoner.answer(job)
    except NoonmarkError as error:
        return Refusal(error.problems)
    except Exception as error:
        detail = f"{type(error).__name__}: {error}"
        return Refusal((Problem("cli.broken", values={"detail": detail}),))


def _read(stream: BinaryIO) -> bytes | None:
    head = stream.read(LENGTH.size)
    if len(head) < LENGTH.size:
        return None
    (length,) = LENGTH.unpack(head)
    return stream.read(length)


def _write(stream: BinaryIO, data: bytes) -> None:
    stream.write(LENGTH.pack(len(data)) + data)
    stream.flush()


if __name__ == "__main__":
    main()
