"""Shape a small building to its sun, and prove it hour by hour.

>>> from noonmark import load_design, run_year                   # doctest: +SKIP
>>> design = load_design(Path("house.toml"))                     # doctest: +SKIP
>>> run_year(design.homestead, design.folder).result.saving      # doctest: +SKIP
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from noonmark.cache import use_keyed_compiler_cache

if TYPE_CHECKING:
    from noonmark.cards.speech import Speech
    from noonmark.choose.eave import Wish, size_eave
    from noonmark.design.file import DesignFile, load_design, parse_design
    from noonmark.design.model import Homestead
    from noonmark.errors import InputError, NoonmarkError
    from noonmark.study.results.year import YearResult
    from noonmark.study.season import seasons
    from noonmark.study.stakeout import stakeout
    from noonmark.study.year import YearRun, run_year

use_keyed_compiler_cache()

__all__ = [
    "DesignFile",
    "Homestead",
    "InputError",
    "NoonmarkError",
    "Speech",
    "Wish",
    "YearResult",
    "YearRun",
    "load_design",
    "parse_design",
    "run_year",
    "seasons",
    "size_eave",
    "stakeout",
]

_HOMES = {
    "DesignFile": "noonmark.design.file",
    "Homestead": "noonmark.design.model",
    "InputError": "noonmark.errors",
    "NoonmarkError": "noonmark.errors",
    "Speech": "noonmark.cards.speech",
    "Wish": "noonmark.choose.eave",
    "YearResult": "noonmark.study.results.year",
    "YearRun": "noonmark.study.year",
    "load_design": "noonmark.design.file",
    "parse_design": "noonmark.design.file",
    "run_year": "noonmark.study.year",
    "seasons": "noonmark.study.season",
    "size_eave": "noonmark.choose.eave",
    "stakeout": "noonmark.study.stakeout",
}


def __getattr__(name: str) -> Any:
    """Import the public name on first use (PEP 562), so that help stays quick."""
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'noonmark' has no attribute {name!r}")
