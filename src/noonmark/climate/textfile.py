"""Reads a text file that somebody hands in, plain or packed with gzip."""

from __future__ import annotations

import gzip
import io
import zlib
from pathlib import Path
from typing import Literal

from noonmark.errors import InputError, Problem

LARGEST_BYTES = 64 * 2**20
_GZIP_MAGIC = b"\x1f\x8b"


Kind = Literal["climate", "markfile"]
"""What the file is one of: the table of the sentences that say what is wrong with it."""


def read_text(path: Path, kind: Kind = "climate") -> str:
    """Return the text of a file in UTF-8, line ends as `\\n`, unpacked if it is gzip.

    Raises `InputError` of its `kind`: no_file, folder, unreadable, bad_gzip, too_large,
    encoding, empty_file.
    """
    packed = _read_bytes(path, kind)
    content = _unpacked(packed, path, kind) if packed.startswith(_GZIP_MAGIC) else packed
    if len(content) > LARGEST_BYTES:
        raise _refused(f"{kind}.too_large", path, right=LARGEST_BYTES)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _refused(f"{kind}.encoding", path, byte=error.start, right="UTF-8") from None
    if not text.strip():
        raise _refused(f"{kind}.empty_file", path)
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _read_bytes(path: Path, kind: Kind) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise _refused(f"{kind}.no_file", path) from None
    except IsADirectoryError:
        raise _refused(f"{kind}.folder", path) from None
    except (OSError, ValueError):
        raise _refused(f"{kind}.unreadable", path) from None


def _unpacked(packed: bytes, path: Path, kind: Kind) -> bytes:
    try:
        return gzip.GzipFile(fileobj=io.BytesIO(packed)).read(LARGEST_BYTES + 1)
    except (OSError, EOFError, zlib.error):
        raise _refused(f"{kind}.bad_gzip", path) from None


def _refused(code: str, path: Path, **values: object) -> InputError:
    return InputError(Problem(code, file=path.name, values=values))
