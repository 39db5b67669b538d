"""The sample with a glazed room before one of its sides, and a window between them."""

from __future__ import annotations

from functools import cache
from typing import Any

from designs import design, put
from noonmark.design import Homestead
from noonmark.design.model import Side
from noonmark.inside.box import OPPOSITE

WINDOW: dict[str, Any] = {
    "width": "2.4 m", "sill": "0.3 m", "head": "2.1 m", "left": "6 m",
    "glazing": "panes", "frame": "wood", "wall": "inner",
}  # fmt: skip


@cache
def sunspace(side: Side = "sunny", owner: str = "rooms") -> Homestead:
    """Return the sample with a glazed room before one of its sides, and a window between them.

    Seen from `rooms`; whoever owns the wall, the window stands in the same place.
    """
    before = side in ("sunny", "back")
    size = {"length": "12.5 m", "width": "2.5 m"} if before else {"length": "2.5 m", "width": "8 m"}
    other = "rooms" if owner == "sun room" else "sun room"
    named = {"side": side if owner == "rooms" else OPPOSITE[side], "zone": owner, "next_to": other}
    length = 12.5 if before else 8.0
    left = 4.0 if owner == "rooms" else length - 4.0 - 2.4
    inner = WINDOW | {"zone": owner, "left": left}
    outer = {
        "zone": "sun room", "side": side, "width": "3 m", "sill": "0.2 m", "head": "2.2 m",
        "glazing": "double clear", "count": 2,
    }  # fmt: skip
    return design(
        put("glazing", {"panes": {"panes": 2, "gaps": ["12 mm"]}}),
        put("house.zone.sun room", {**size, "height": "9 ft"}),
        put("house.wall", [{**named, "name": "inner"}]),
        put("house.window", [outer, inner]),
    ).homestead
