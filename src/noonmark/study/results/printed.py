"""What result trees are made of: fields with unit and meaning, under the name of a format.

`docs/result-tree.md` is written from them.
"""

from __future__ import annotations

from dataclasses import asdict, field
from typing import Any, ClassVar, cast


def described(unit: str, meaning: str) -> Any:
    """Return a dataclass field with its unit and its meaning."""
    return field(metadata={"unit": unit, "meaning": meaning})


def derived(unit: str, meaning: str) -> Any:
    """Return a described field that the class fills in itself."""
    return field(init=False, metadata={"unit": unit, "meaning": meaning})


class Printed:
    """A tree that `--json` prints, under the name and version of its `FORMAT`."""

    FORMAT: ClassVar[str]

    def as_data(self) -> dict[str, Any]:
        """Return plain dictionaries and lists, ready for JSON."""
        return {"format": self.FORMAT, **asdict(cast("Any", self))}
