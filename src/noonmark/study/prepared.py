"""Arrays that depend on a place and its weather only, kept on disk between runs."""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark.cache import cache_folder

FloatArray = NDArray[np.float64]

MOST_KEPT = 400
"""Files kept; the longest unused are deleted beyond that (a plane is 0.35 MB)."""


def digest(*arrays: FloatArray) -> str:
    """Return a short name for the content of arrays."""
    content = hashlib.blake2b(digest_size=10)
    for array in arrays:
        content.update(np.ascontiguousarray(array).tobytes())
    return content.hexdigest()


def kept(name: str, make: Callable[[], FloatArray]) -> FloatArray:
    """Return the array called `name`, made once and read from disk from then on.

    A file that can not be read is made anew; a disk that can not be written is
    done without.
    """
    path = cache_folder("prepared") / f"{name}.npy"
    try:
        array: FloatArray = np.load(path, allow_pickle=False)
        os.utime(path)
    except (OSError, ValueError, EOFError):
        array = make()
        _store(path, array)
    return array


def _store(path: Path, array: FloatArray) -> None:
    try:
        _write(path, array)
        files = sorted(path.parent.glob("*.npy"), key=lambda file: file.stat().st_mtime)
        for old in files[:-MOST_KEPT]:
            old.unlink(missing_ok=True)
    except OSError:
        return


def _write(path: Path, array: FloatArray) -> None:
    """Write a whole file or none: to a part beside it, which then takes its name."""
    handle, name = tempfile.mkstemp(dir=path.parent, suffix=".part")
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            np.save(stream, array)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
