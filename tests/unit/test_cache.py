"""Cache folders: keyed by the sources, pruned, and never in the way."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

import noonmark
from noonmark import cache

PACKAGE = Path(noonmark.__file__).parent


def key_of(folder: Path) -> str:
    code = "from noonmark.cache import source_key; print(source_key())"
    env = {**os.environ, "PYTHONPATH": str(folder), "NOONMARK_CACHE": str(folder / "cache")}
    done = subprocess.run(
        [sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def test_an_edit_in_any_file_starts_a_fresh_folder(tmp_path: Path) -> None:
    shutil.copytree(PACKAGE, tmp_path / "noonmark", ignore=shutil.ignore_patterns("__pycache__"))
    before = key_of(tmp_path)
    assert key_of(tmp_path) == before
    edited = tmp_path / "noonmark" / "air" / "films.py"
    edited.write_text(edited.read_text("utf-8") + "\n# edited\n", "utf-8")
    assert key_of(tmp_path) != before


def test_another_release_of_the_sky_model_starts_a_fresh_folder(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before = cache.source_key()
    real = cache._release
    monkeypatch.setattr(cache, "_release", lambda name: "99" if name == "pvlib" else real(name))
    cache.source_key.cache_clear()
    after = cache.source_key()
    cache.source_key.cache_clear()
    assert after != before
    assert after.split("-")[0] == before.split("-")[0]


def test_compiled_code_goes_to_the_keyed_folder() -> None:
    assert cache.source_key() in os.environ["NUMBA_CACHE_DIR"]


def test_a_compiler_imported_earlier_is_pointed_there_too() -> None:
    code = "import numba, noonmark; print(numba.config.CACHE_DIR)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert cache.source_key() in done.stdout


def test_old_folders_are_forgotten_and_others_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old, fresh, foreign = (
        tmp_path / name for name in ("0.0.1-0123456789abcdef", "0.0.2-0123456789abcdef", "pictures")
    )
    long_ago = time.time() - (cache.FORGOTTEN_AFTER_DAYS + 1) * 86400.0
    for folder in (old, fresh, foreign):
        folder.mkdir()
    for folder in (old, foreign):
        os.utime(folder, (long_ago, long_ago))
    monkeypatch.setenv(cache.FOLDER_VARIABLE, str(tmp_path))
    cache.cache_folder.cache_clear()
    made = cache.cache_folder("prepared")
    cache.cache_folder.cache_clear()
    assert made.is_dir()
    assert made.parent.parent == tmp_path
    assert not old.exists()
    assert fresh.is_dir()
    assert foreign.is_dir()


def test_a_folder_that_can_not_be_made_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = tmp_path / "a file"
    blocked.write_text("in the way", "utf-8")
    monkeypatch.setenv(cache.FOLDER_VARIABLE, str(blocked))
    cache.cache_folder.cache_clear()
    made = cache.cache_folder("prepared")
    cache.cache_folder.cache_clear()
    assert made.is_dir()
    assert blocked.read_text("utf-8") == "in the way"


def test_a_folder_in_use_stays_young(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    used = tmp_path / cache.source_key()
    (used / "prepared").mkdir(parents=True)
    long_ago = time.time() - (cache.FORGOTTEN_AFTER_DAYS + 1) * 86400.0
    os.utime(used, (long_ago, long_ago))
    monkeypatch.setenv(cache.FOLDER_VARIABLE, str(tmp_path))
    cache.cache_folder.cache_clear()
    cache.cache_folder("prepared")
    cache.cache_folder.cache_clear()
    assert used.stat().st_mtime > long_ago + 86400.0


def test_a_makeshift_folder_goes_with_its_process(tmp_path: Path) -> None:
    (tmp_path / "blocked").write_text("in the way", "utf-8")
    code = "from noonmark.cache import cache_folder; print(cache_folder('prepared'))"
    env = {**os.environ, "NOONMARK_CACHE": str(tmp_path / "blocked"), "TMPDIR": str(tmp_path)}
    done = subprocess.run(
        [sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True
    )
    assert Path(done.stdout.strip()).parent == tmp_path
    assert [file.name for file in tmp_path.iterdir()] == ["blocked"]
