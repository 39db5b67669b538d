"""Where the zones of a building stand beside each other."""

from __future__ import annotations

from noonmark.design.derived import zone_corners
from noonmark.design.model import Building
from noonmark.inside.box import Box


def boxes_of(building: Building) -> list[Box]:
    """Return the zones as boxes in the building's frame, in their order."""
    corners = zone_corners(building)
    return [
        Box(zone.length, zone.width, zone.height, *corners[name])
        for name, zone in building.zone.items()
    ]
