"""The sunlit share of a rectangle in a wall under a level eave, exactly.

Left and right are those of somebody inside who looks out: for a wall that
faces south, left is east.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from noonmark.errors import PhysicsError, Problem

Share = NDArray[np.float64]


@dataclass(frozen=True)
class Eave:
    """A level plate that stands out from the wall.

    `projection` [m] from the wall, `left_end` and `right_end` [m] how far it
    runs on past the rectangle's edges (`inf` for without end). Not negative.
    """

    projection: float
    left_end: float = np.inf
    right_end: float = np.inf


def check_geometry(width: float, height: float, gap: float, eave: Eave) -> None:
    """Raise `PhysicsError` shading.geometry unless every length [m] can be built."""
    lengths = {"width": width, "height": height, "gap": gap, **asdict(eave)}
    for name, length in lengths.items():
        allowed_zero = name not in {"width", "height"}
        endless = name in {"left_end", "right_end"} and length == np.inf
        if not (endless or 0.0 < length < np.inf or (allowed_zero and length == 0.0)):
            raise PhysicsError(Problem("shading.geometry", path=name, values={"read": length}))


def sunlit_fraction(
    altitude: ArrayLike,
    azimuth: ArrayLike,
    *,
    wall_azimuth: float,
    width: float,
    height: float,
    gap: float,
    eave_projection: float,
    left_extension: float = np.inf,
    right_extension: float = np.inf,
) -> Share:
    """Return the share 0 to 1 of a rectangle that the sun reaches past an eave.

    `altitude` and `azimuth` [deg] of the sun broadcast to the result's shape;
    `wall_azimuth` [deg] is the wall's outward side; `width` and `height` [m] of
    the rectangle, `gap` [m] from its head up to the plate; the plate stands out
    by `eave_projection` [m] and runs past the rectangle by `left_extension` and
    `right_extension` [m]. 0 with the sun below the horizon or behind the wall.
    Raises `PhysicsError` shading.geometry.

    A point `drop` below the plate is shaded when its ray to the sun meets the
    plate: it has gone out by `drop / tan(profile)` and sideways by
    `drop * sideways`. The shaded width is a broken line over the drop, so the
    trapezoid rule between its corners is exact.
    """
    eave = Eave(eave_projection, left_extension, right_extension)
    check_geometry(width, height, gap, eave)
    alt = np.radians(np.asarray(altitude, float))
    turn = np.radians(np.asarray(azimuth, float) - wall_azimuth)
    alt, turn = np.broadcast_arrays(alt, turn)
    lit = (alt > 0.0) & (np.cos(turn) > 1e-9)
    rise = np.where(lit, np.tan(alt), 1.0)
    out = np.where(lit, np.cos(turn), 1.0)
    sideways = np.where(lit, np.sin(turn), 0.0) / rise
    lowest = np.clip(eave_projection * rise / out, gap, gap + height)
    end = np.where(sideways > 0.0, right_extension, left_extension)
    shaded = _shaded_area(gap, lowest, np.abs(sideways), end, width)
    return np.where(lit, np.clip(1.0 - shaded / (width * height), 0.0, 1.0), 0.0)


def _shaded_area(gap: float, lowest: Share, slope: Share, end: Share, width: float) -> Share:
    """Integrate the shaded width over the drop from `gap` to `lowest`."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        starts_to_shrink = np.where(slope > 0.0, end / slope, np.inf)
        is_gone = np.where(slope > 0.0, (end + width) / slope, np.inf)
    corners = [np.full_like(lowest, gap), starts_to_shrink, is_gone, lowest]
    drops = np.stack([np.clip(corner, gap, lowest) for corner in corners])
    widths = np.clip(end + width - slope * drops, 0.0, width)
    return np.asarray(np.trapezoid(widths, drops, axis=0))
