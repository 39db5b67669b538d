"""Folders for what can be made again: compiled loops and prepared suns.

A compiler cache keyed by file alone returns OLD numbers after a called
function in another file was edited. So each folder carries the version and a
hash of all sources; an edit anywhere starts a fresh folder.
"""

from __future__ import annotations

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

_KEY = re.compile(r".+-[0-9a-f]{16}")


@cache
def source_key() -> str:
    """Return `version-hash` of the package's own Python sources."""
    package = Path(__file__).parent
    digest = hashlib.blake2b(digest_size=8)
    for source in sorted(package.rglob("*.py")):
        digest.update(source.relative_to(package).as_posix().encode())
        digest.update(source.read_bytes())
    try:
        release = version("noonmark")
    except PackageNotFoundError:
        release = "source"
    return f"{release}-{digest.hexdigest()}"


@cache
def cache_folder(purpose: str) -> Path:
    """Return a writable folder for `purpose`, made if needed.

    Lies under the user's cache folder, or under `NOONMARK_CACHE` when set; a
    temporary folder when neither can be written.
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
            return wanted
    except OSError:
        return Path(tempfile.mkdtemp(prefix=f"noonmark-{purpose}-"))


def _forget_old(base: Path) -> None:
    """Delete folders of other sources that nothing was added to for `FORGOTTEN_AFTER_DAYS`."""
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
