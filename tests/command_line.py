"""The command line as tests call it, and the answers of two places to `noonmark new`."""

from __future__ import annotations

from collections.abc import Callable

Run = Callable[..., tuple[int, str, str]]
"""Words in; exit code, stdout and stderr out."""

NORTH = (
    "--latitude",
    "45.2",
    "--longitude",
    "9.1",
    "--altitude",
    "80 m",
    "--time-zone",
    "Europe/Rome",
)
SOUTH = (
    "--latitude", "-33.9", "--longitude", "151.2", "--altitude", "10 ft", "--time-zone",
    "Australia/Sydney",
)  # fmt: skip
