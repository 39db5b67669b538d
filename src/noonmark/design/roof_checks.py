"""Checks of the roof: what keeps its section from closing."""

from __future__ import annotations

from collections.abc import Iterator

from noonmark.design.model import Building, Homestead
from noonmark.design.truss import finish_thickness
from noonmark.errors import InputError, Problem


def face_known(homestead: Homestead, name: str, building: Building) -> Iterator[Problem]:
    """The face of the wall that the truss line counts from can be told."""
    try:
        finish_thickness(homestead, building)
    except InputError as error:
        yield from (p.at(path=f"{name}.{p.path}") for p in error.problems)
