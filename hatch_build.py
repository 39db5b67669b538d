"""Builds the page before a wheel, an editable install or an sdist is made."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class PageHook(BuildHookInterface):  # type: ignore[type-arg]
    """Calls `build` of `page/build.py`."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002
        """Build the page where it is missing or stale."""
        try:
            runpy.run_path(str(Path(self.root) / "page" / "build.py"))["build"]()
        except RuntimeError as error:
            raise SystemExit(f"noonmark: {error}") from None
