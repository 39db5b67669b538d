"""What a charge of wood gives from lighting to the last ember."""

from __future__ import annotations

import numpy as np

WOOD_HEAT = (18.5 * (1.0 - 0.15) - 2.44 * 0.15) / 3.6
"""Net heat of any wood with 15 % water [kWh/kg].

Dry wood 18.5 MJ/kg less the heat that evaporates its water (EN ISO 17225, from memory).
"""

_TIME = (0.0, 0.15, 0.5, 1.0)
_FIRE = (0.0, 1.0, 1.0, 0.0)


def burn_curve(heat: float, *, hours: int, lowest: float = 0.0) -> tuple[float, ...]:
    """Return the power [W] in each of the `hours` in which a charge gives `heat` [Wh].

    It rises through the first 15 % of the time, burns evenly to half of it and
    glows down evenly to the end (common practice, no source), all above
    `lowest` [W], which may use up the heat but not exceed it.
    """
    edges = np.linspace(0.0, 1.0, hours + 1)
    times = np.unique([*edges, *_TIME])
    fire = np.interp(times, _TIME, _FIRE)
    given = np.concatenate([[0.0], np.cumsum(np.diff(times) * 0.5 * (fire[1:] + fire[:-1]))])
    shares = np.diff(np.interp(edges, times, given)) / given[-1]
    return tuple((lowest + (heat - hours * lowest) * shares).tolist())
