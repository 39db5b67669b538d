"""No fragment of the changelog gets lost: towncrier passes over kinds it was not told of."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent


def test_every_fragment_is_of_a_known_kind() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["towncrier"]
    kinds = {kind["directory"] for kind in settings["type"]}
    names = [file.name for file in (ROOT / settings["directory"]).iterdir()]
    assert names
    for name in names:
        found = re.fullmatch(r"[0-9]+\.([a-z]+)(\.[0-9]+)?\.md", name)
        assert found, name
        assert found[1] in kinds, name
