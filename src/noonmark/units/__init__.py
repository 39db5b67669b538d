"""The carpenter's and the engineer's notations, read into SI and written back."""

from __future__ import annotations

from noonmark.units.kinds import KINDS, Kind, System
from noonmark.units.reading import read
from noonmark.units.writing import Quantity, blurred, write

__all__ = ["KINDS", "Kind", "Quantity", "System", "blurred", "read", "write"]
