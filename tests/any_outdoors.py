"""Trees, neighbours, canopies, awnings, slats and a skyline round the sample, by chance or turned.

What is built stands: only kinds, places and sizes differ. `mirrored_outdoors` turns
all of it about the line through the sunny azimuth.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from designs import Edit
from mutants import Data
from noonmark.design.model import Building, Place, Side
from noonmark.design.outdoors import Awning, Canopy, Slats

OTHER: dict[Side, Side] = {"left": "right", "right": "left"}


def any_outdoors(seed: int) -> Edit:
    """Return an edit that puts up what `seed` picks, some of it for a season."""
    rng = np.random.default_rng(seed)
    u = rng.uniform

    months, days = rng.integers(1, 13, 2), rng.integers(1, 29, 2)
    put_up, take_down = (f"{month}-{day}" for month, day in zip(months, days, strict=True))
    season = {"put_up": put_up, "take_down": take_down}

    def up() -> Data:
        return season if rng.random() < 0.7 else {}

    def tree() -> Data:
        bottom = u(0.5, 4.0)
        months = rng.choice(np.arange(1, 13), int(rng.integers(0, 7)), replace=False)
        return {
            "azimuth": u(0.0, 360.0), "distance": u(0.0, 30.0), "crown_bottom": bottom,
            "top": bottom + u(0.5, 15.0), "crown_width": u(1.0, 12.0), "bare": u(), "leafed": u(),
            **({"leaf_months": [int(m) for m in months]} if rng.random() < 0.5 else {}),
        }  # fmt: skip

    def block() -> Data:
        top = u(0.5, 15.0)
        return {
            "azimuth": u(0.0, 360.0), "distance": u(9.0, 60.0), "width": u(1.0, 40.0),
            "depth": u(0.5, 20.0), "top": top, "passes": rng.choice([0.0, 0.4]).item(),
            **({"ridge": top + u(0.0, 5.0)} if rng.random() < 0.5 else {}),
            **({"faces": u(0.0, 360.0)} if rng.random() < 0.5 else {}),
        }  # fmt: skip

    def canopy() -> Data:
        return {
            "side": str(rng.choice(["sunny", "left", "right", "back"])), "left": u(-1.0, 4.0),
            "width": u(0.5, 6.0), "height": u(1.8, 2.2), "projection": u(0.2, 3.0),
            "rise": u(-0.2, 0.4), "passes": u(), "railing": rng.choice([0.0, 0.3]).item(),
            "railing_passes": u(), **({"leafed": u()} if rng.random() < 0.5 else {}),
        }  # fmt: skip

    def awning() -> Data:
        return {
            "projection": u(0.2, 1.5), "drop": u(0.0, 1.5), "gap": u(0.0, 0.3), "left": u(0.0, 0.5),
            "right": u(0.0, 0.5), "passes": u(0.0, 0.5), **up(),
        }  # fmt: skip

    def slats() -> Data:
        return {
            "depth": u(0.05, 0.2), "spacing": u(0.03, 0.3), "tilt": u(-60.0, 60.0),
            "upright": bool(rng.random() < 0.5), "stand_off": u(0.0, 0.2), "left": u(0.0, 0.3),
            "right": u(0.0, 0.3), "top": u(0.0, 0.3), **up(),
        }  # fmt: skip

    def edit(data: Data) -> None:
        house = data["house"]
        house["tree"] = [tree() for _ in range(rng.integers(0, 3))]
        house["neighbour"] = [block() for _ in range(rng.integers(0, 3))]
        house["canopy"] = [canopy() for _ in range(rng.integers(0, 3))]
        for window in house["window"]:
            if rng.random() < 0.3:
                window["awning"] = awning()
            if rng.random() < 0.3:
                window["slats"] = slats()
        around = np.sort(rng.choice(np.arange(0, 360, 10), int(rng.integers(1, 8)), replace=False))
        data["place"]["skyline"] = [[float(a), float(u(0.0, 20.0))] for a in around]

    return edit


def mirrored_outdoors(building: Building, lengths: dict[Side, float]) -> Building:
    """Return a building with all that stands in its sun turned about its sunny azimuth.

    `lengths` are those of its walls inside [m]. The sides of windows stay.
    """

    def turned(azimuth: float) -> float:
        return (2.0 * building.faces - azimuth) % 360.0

    trees = [t.model_copy(update={"azimuth": turned(t.azimuth)}) for t in building.tree]
    blocks = [
        block.model_copy(
            update={
                "azimuth": turned(block.azimuth),
                "faces": None if block.faces is None else turned(block.faces),
            }
        )
        for block in building.neighbour
    ]
    windows = [
        window.model_copy(update={"awning": _swapped(window.awning), "slats": _slats(window.slats)})
        for window in building.window
    ]
    return building.model_copy(
        update={
            "tree": trees,
            "neighbour": blocks,
            "canopy": [_canopy(part, lengths) for part in building.canopy],
            "window": windows,
        }
    )


def mirrored_place(place: Place, faces: float) -> Place:
    """Return a place with its skyline turned about an azimuth."""
    points = [[(2.0 * faces - azimuth) % 360.0, height] for azimuth, height in place.skyline]
    return place.model_copy(update={"skyline": points[::-1]})


def _canopy(part: Canopy, lengths: dict[Side, float]) -> Canopy:
    assert part.side is not None
    left = lengths[part.side] - part.left - part.width
    return part.model_copy(update={"side": OTHER.get(part.side, part.side), "left": left})


def _swapped(part: Awning | None) -> Awning | None:
    return part and part.model_copy(update={"left": part.right, "right": part.left})


def _slats(part: Slats | None) -> Slats | None:
    if part is None:
        return None
    turned: dict[str, Any] = {"left": part.right, "right": part.left}
    return part.model_copy(update=turned | ({"tilt": -part.tilt} if part.upright else {}))
