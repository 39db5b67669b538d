"""How the loops that must be fast are compiled, in one place."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import numba

Function = TypeVar("Function", bound=Callable[..., Any])

FAST = ("contract", "reassoc", "arcp")
"""Sums may be reordered and divisions become products; nan and infinity stay what they are."""


def compiled(*, inlined: bool = True) -> Callable[[Function], Function]:
    """Return the decorator: compiled once, kept on disk, free of the interpreter.

    No references to arrays are counted, which would cost five times the work;
    hence nothing is allocated: whoever calls brings the memory. Division by zero
    is not tested for.
    """
    options: dict[str, Any] = {
        "cache": True,
        "nogil": True,
        "error_model": "numpy",
        "fastmath": set(FAST),
        "forceinline": inlined,
        "_nrt": False,
    }
    decorator: Callable[[Function], Function] = numba.njit(**options)
    return decorator
