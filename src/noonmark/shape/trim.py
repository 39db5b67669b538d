"""How an eave is closed: soffit, fascia, gutter. Metres."""

from __future__ import annotations

from dataclasses import dataclass

from noonmark.errors import PhysicsError, Problem
from noonmark.units import Quantity


@dataclass(frozen=True)
class Gutter:
    """A gutter on the face of the fascia, reckoned as the box around it.

    `width` goes outwards, `depth` from its lip down to its foot; the lip hangs
    `drop` below the roof's edge. Raises PhysicsError `shape.not_positive`,
    `shape.negative`.
    """

    width: float
    depth: float
    drop: float = 0.0

    def __post_init__(self) -> None:
        """Refuse sizes that can not be."""
        for name in ("width", "depth"):
            if not getattr(self, name) > 0:
                raise _problem("shape.not_positive", name, getattr(self, name))
        if not self.drop >= 0:
            raise _problem("shape.negative", "drop", self.drop)


@dataclass(frozen=True)
class Trim:
    """What closes the eave.

    The soffit is level, or `sloped` along the underside of the tails; the fascia
    hangs `fascia_drop` below the soffit's outer edge. Raises PhysicsError
    `shape.negative`.
    """

    sloped: bool = False
    fascia_drop: float = 0.0
    gutter: Gutter | None = None

    def __post_init__(self) -> None:
        """Refuse a drop below nothing."""
        if not self.fascia_drop >= 0:
            raise _problem("shape.negative", "fascia_drop", self.fascia_drop)


PLAIN = Trim()
"""A level soffit, the fascia down to it, no gutter."""


def _problem(code: str, part: str, value: float) -> PhysicsError:
    values = {"part": part, "value": Quantity(value, "length")}
    return PhysicsError(Problem(code, path=part, values=values))
