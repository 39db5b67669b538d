"""Shape a small building to its sun, and prove it hour by hour."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from noonmark.cache import use_keyed_compiler_cache

use_keyed_compiler_cache()

_EXPORTS = {
    "InputError": "noonmark.errors",
    "NoonmarkError": "noonmark.errors",
}

__all__ = sorted(_EXPORTS)


def __getattr__(name: str) -> Any:
    """Import the public name on first use (PEP 562), so that help stays quick."""
    if name in _EXPORTS:
        return getattr(import_module(_EXPORTS[name]), name)
    raise AttributeError(f"module 'noonmark' has no attribute {name!r}")
