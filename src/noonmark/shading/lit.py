"""The lit area of an opening, and where its light ends: exact.

The frame is that of `plates`; `rows` does the work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple

import numpy as np
from numpy.typing import NDArray

from noonmark.shading.plates import Opening, Plate
from noonmark.shading.rows import Scene, integrate, memory_for
from noonmark.shading.screens import Screen

FloatArray = NDArray[np.float64]
Receiver = tuple[Plate, Plate | None]


def lit_areas(
    sideways: FloatArray,
    rise: FloatArray,
    opening: Opening,
    plates: Sequence[Plate],
    receivers: Sequence[Receiver] = (),
    screens: Sequence[Screen] = (),
) -> FloatArray:
    """Return the lit area of an opening and how much of its light ends on each receiver [m2].

    `sideways` and `rise` (d,) are the sun's way to the right and up for each
    metre out of the wall, `rise` not 0. A receiver is a surface, and the opening
    the light must pass on its way, if any. Area behind `screens` counts by the
    share they let pass. Shape (d, 1 + receivers), by column.
    """
    return _integrated(sideways, rise, opening, plates, receivers, screens)[:, :-1]


def highest_lit(
    sideways: FloatArray,
    rise: FloatArray,
    opening: Opening,
    plates: Sequence[Plate],
    screens: Sequence[Screen] = (),
) -> FloatArray:
    """Return the greatest height [m] of the wall's plane at which light passes, (d,).

    -inf where none does; the arguments are those of `lit_areas`.
    """
    return _integrated(sideways, rise, opening, plates, (), screens)[:, -1]


def _integrated(
    sideways: FloatArray,
    rise: FloatArray,
    opening: Opening,
    plates: Sequence[Plate],
    receivers: Sequence[Receiver],
    screens: Sequence[Screen],
) -> FloatArray:
    gates = list(dict.fromkeys(gate for _, gate in receivers if gate is not None))
    squares = [*plates, *gates, *(surface for surface, _ in receivers)]
    blocking = len(plates) + len(screens)
    x, y = (np.ascontiguousarray(way, dtype=float) for way in (sideways, rise))
    scene = Scene(
        opening=np.array(astuple(opening)),
        squares=np.array([(float(p.axis), *p.x, *p.y, *p.w) for p in squares]).reshape(-1, 7),
        corners=np.array([p for screen in screens for p in screen.points]).reshape(-1, 3),
        sizes=np.array([len(screen.points) for screen in screens], dtype=np.int64),
        passes=np.array([screen.share_passed(x, y) for screen in screens]).reshape(-1, x.size),
        plates=len(plates),
        blocking=blocking,
        first_receiver=blocking + len(gates),
        through=np.array(
            [-1 if gate is None else blocking + gates.index(gate) for _, gate in receivers],
            dtype=np.int64,
        ),
    )
    found = np.zeros((x.size, 2 + len(receivers)))
    integrate(x, y, scene, memory_for(scene), found)
    return found
