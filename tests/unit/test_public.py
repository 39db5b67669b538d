"""The public names, and what importing them costs."""

from __future__ import annotations

import subprocess
import sys

import pytest

import noonmark


@pytest.mark.parametrize("name", noonmark.__all__)
def test_every_public_name_is_there(name: str) -> None:
    found = getattr(noonmark, name)
    assert found.__name__ == name
    assert found.__doc__


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'sunrise_over_everything'"):
        _ = noonmark.sunrise_over_everything


@pytest.mark.parametrize("heavy", ["numba", "pvlib", "pandas", "scipy", "pydantic"])
def test_help_imports_nothing_heavy(heavy: str) -> None:
    code = (
        "import sys; from noonmark.cli.app import run_words; run_words(['--help']); "
        f"sys.exit({heavy!r} in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert done.returncode == 0, done.stderr
