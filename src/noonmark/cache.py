"""Folders for what can be made again: compiled loops and prepared suns.

A compiler cache keyed by file alone returns OLD numbers after a called
function in another file was edited. So each folder carries the version and a
hash of all sources and of the versions of those who compute what is kept; an
edit anywhere, or another release of one of them, starts a fresh folder.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import re
import shutil
import sys
import tempfile
import time
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

FOLDER_VARIABLE = "NOONMARK_CACHE"
FORGOTTEN_AFTER_DAYS = 30

COMPUTED_BY = ("numpy", "pandas", "pvlib")
"""Packages whose numbers lie in the prepared suns and planes."""

_KEY = re.compile(r".+-[0-9a-f]{16}")


@cache
def source_key() -> str:
    """Return `version-hash` of the package's own Python sources and of `COMPUTED_BY`."""
    package = Path(__file__).parent
    digest = hashlib.blake2b(digest_size=8)
    for source in sorted(package.rglob("*.py")):
        digest.update(source.relative_to(package).as_posix().encode())
        digest.update(source.read_bytes())
    for package_name in COMPUTED_BY:
        digest.update(_release(package_name).encode())
    return f"{_release('noonmark')}-{digest.hexdigest()}"


def _release(package_name: str) -> str:
    try:
        return version(package_name)
    except PackageNotFoundError:
        return "source"


@cache
def cache_folder(purpose: str) -> Path:
    """Return a writable folder for `purpose`, made if needed.

    Lies under the user's cache folder, or under `NOONMARK_CACHE` when set; when
    neither can be written, a temporary folder that goes with the process.
    """
    from platformdirs import user_cache_path

    base = os.environ.get(FOLDER_VARIABLE)
    keyed = (Path(base) if base else user_cache_path("noonmark")) / source_key()
    wanted = keyed / purpose
    try:
        if not keyed.exists():
            _forget_old(keyed.parent)
        wanted.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=wanted):
            os.utime(keyed)
            return wanted
    except OSError:
        makeshift = tempfile.mkdtemp(prefix=f"noonmark-{purpose}-")
        atexit.register(shutil.rmtree, makeshift, ignore_errors=True)
        return Path(makeshift)


def _forget_old(base: Path) -> None:
    """Delete folders of other sources that nobody used for `FORGOTTEN_AFTER_DAYS`."""
    if not base.is_dir():
        return
    oldest = time.time() - FORGOTTEN_AFTER_DAYS * 86400.0
    for folder in base.iterdir():
        if _KEY.fullmatch(folder.name) and folder.stat().st_mtime < oldest:
            shutil.rmtree(folder, ignore_errors=True)


def use_keyed_compiler_cache() -> None:
    """Point the loop compiler at a folder keyed by the sources, imported already or not."""
    folder = str(cache_folder("compiled"))
    os.environ["NUMBA_CACHE_DIR"] = folder
    if "numba" in sys.modules:
        sys.modules["numba"].config.CACHE_DIR = folder
