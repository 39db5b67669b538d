"""Where a design meets the physics: one module a question."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from noonmark.study.year import YearRun, run_year

__all__ = ["YearRun", "run_year"]


def __getattr__(name: str) -> Any:
    """Import the year on first use (PEP 562): geometry alone needs no compiled loops."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from noonmark.study import year

    return getattr(year, name)
