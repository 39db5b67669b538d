"""Plates in the sun's way, and surfaces it ends on, as areas of an opening: exact.

Frame of a wall: x [m] along it to the right of somebody inside who looks out,
y [m] up, w [m] into the room, 0 in the wall's outer plane and negative outdoors.
The sun's ray through (x, y) of that plane passes (x - w tx, y - w ty) at depth w.

Whatever is bounded by the three axes, a plate outdoors or a surface in the room,
is met by the rays of a patch of the plane whose edges are level, upright, or
leaning with the sun. So a row of the opening meets it in one stretch, whose ends
move evenly from one corner height to the next: rows in the middle between corners
carry exact areas.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numba import njit
from numpy.typing import NDArray

from noonmark.errors import PhysicsError, Problem

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True)
class Opening:
    """A rectangle of glass in a wall [m]; `depth` is how far it lies behind the outer face.

    Raises `PhysicsError` shading.geometry unless it can be built.
    """

    left: float
    width: float
    bottom: float
    height: float
    depth: float = 0.0

    @property
    def area(self) -> float:
        """Return its area [m2]."""
        return self.width * self.height

    def __post_init__(self) -> None:
        """Refuse what has no size."""
        for item in fields(self):
            length = getattr(self, item.name)
            sized = item.name in ("width", "height")
            if not np.isfinite(length) or (sized and length <= 0.0) or self.depth < 0.0:
                values = {"read": length}
                raise PhysicsError(Problem("shading.geometry", path=item.name, values=values))


@dataclass(frozen=True)
class Plate:
    """A rectangle square to one axis: its extent along x, y and w [m], one of them a point.

    Level plates may be endless along x. Raises `PhysicsError` shading.geometry.
    """

    x: tuple[float, float]
    y: tuple[float, float]
    w: tuple[float, float]

    def __post_init__(self) -> None:
        """Refuse what ends before it starts."""
        for name in ("x", "y", "w"):
            low, high = getattr(self, name)
            if not low <= high or (name != "x" and not np.isfinite(high - low)):
                values = {"read": high - low}
                raise PhysicsError(Problem("shading.geometry", path=name, values=values))

    @property
    def axis(self) -> int:
        """Return the axis it stands square to: 0 for x, 1 for y, 2 for w."""
        if self.w[0] == self.w[1]:
            return 2
        return 0 if self.x[0] == self.x[1] else 1


def level_plate(*, height: float, projection: float, left: float, right: float) -> Plate:
    """Return an eave or a hood: at `height`, standing out by `projection`, from `left` to `right`.

    All [m] in the frame of the wall; the ends may be infinite.
    """
    return Plate((left, right), (height, height), (-projection, 0.0))


def upright_plate(*, place: float, projection: float, bottom: float, top: float) -> Plate:
    """Return a fin: at `place` along the wall, standing out by `projection` [m]."""
    return Plate((place, place), (bottom, top), (-projection, 0.0))


def lit_areas(
    sideways: FloatArray,
    rise: FloatArray,
    opening: Opening,
    plates: Sequence[Plate],
    receivers: Sequence[tuple[Plate, Plate | None]] = (),
) -> FloatArray:
    """Return the lit area of an opening and how much of its light ends on each receiver [m2].

    `sideways` and `rise` (d,) are the sun's way to the right and up for each
    metre out of the wall, `rise` not 0. A receiver is a surface, and the opening
    the light must pass on its way, if any. Shape (d, 1 + receivers), by column.
    """
    passed = [gate for _, gate in receivers if gate is not None]
    gates = list(dict.fromkeys(passed))
    through = [-1 if gate is None else len(plates) + gates.index(gate) for _, gate in receivers]
    everything = [*plates, *gates, *(surface for surface, _ in receivers)]
    rows = [(float(p.axis), *p.x, *p.y, *p.w) for p in everything]
    table = np.array(rows).reshape(len(rows), 7)
    edges = (opening.left, opening.width, opening.bottom, opening.height, opening.depth)
    return np.asarray(
        _lit_areas(
            np.ascontiguousarray(sideways, dtype=float),
            np.ascontiguousarray(rise, dtype=float),
            np.array(edges),
            table,
            len(plates),
            len(plates) + len(gates),
            np.array(through, dtype=np.int64),
        )
    )


@njit(cache=True, error_model="numpy")
def _lit_areas(
    sideways: FloatArray,
    rise: FloatArray,
    opening: FloatArray,
    table: FloatArray,
    first_gate: int,
    first_receiver: int,
    through: IntArray,
) -> FloatArray:
    """Integrate over the rows of the opening, for each direction."""
    count = table.shape[0]
    areas = np.zeros((sideways.size, 1 + count - first_receiver))
    # of each plate: lowest and highest row, upright ends, leaning ends where they cross y = 0
    bands = np.empty((count, 6))
    meets = np.empty(count, dtype=np.bool_)
    rows = np.empty(2 + 2 * count + (2 * count + 2) * 2 * count)
    starts = np.empty(first_gate + 1)
    ends = np.empty(first_gate + 1)
    for d in range(sideways.size):
        tx, ty = sideways[d], rise[d]
        lean = tx / ty
        left = opening[0] + max(0.0, opening[4] * tx)
        right = opening[0] + opening[1] + min(0.0, opening[4] * tx)
        low = opening[2] + max(0.0, opening[4] * ty)
        high = opening[2] + opening[3] + min(0.0, opening[4] * ty)
        if not (left < right and low < high):
            continue
        # what each plate takes of the plane
        for p in range(count):
            x1, x2, y1, y2, w1, w2 = table[p, 1:]
            band = bands[p]
            band[0], band[1] = low, high
            band[2], band[3] = left, right
            band[4], band[5] = -np.inf, np.inf
            if table[p, 0] == 0.0:
                band[2] = min(x1 + tx * w1, x1 + tx * w2)
                band[3] = max(x1 + tx * w1, x1 + tx * w2)
                band[4] = x1 - lean * (y2 if lean > 0.0 else y1)
                band[5] = x1 - lean * (y1 if lean > 0.0 else y2)
            elif table[p, 0] == 1.0:
                band[0] = min(y1 + ty * w1, y1 + ty * w2)
                band[1] = max(y1 + ty * w1, y1 + ty * w2)
                band[4] = x1 - lean * y1
                band[5] = x2 - lean * y1
            else:
                band[0], band[1] = y1 + ty * w1, y2 + ty * w1
                band[2], band[3] = x1 + tx * w1, x2 + tx * w1
            slack = lean * low, lean * high
            meets[p] = (
                band[0] < high
                and band[1] > low
                and band[2] < right
                and band[3] > left
                and band[4] + min(slack) < right
                and band[5] + max(slack) > left
            )
        # heights at which a stretch may begin, end or bend
        n = 2
        rows[0], rows[1] = low, high
        for p in range(count):
            if not meets[p]:
                continue
            for i in range(2):
                if low < bands[p, i] < high:
                    rows[n] = bands[p, i]
                    n += 1
            if lean == 0.0:
                continue
            for i in range(4, 6):
                for q in range(-1, count):
                    if q >= 0 and not meets[q]:
                        continue
                    for j in range(2, 4):
                        upright = bands[q, j] if q >= 0 else (left if j == 2 else right)
                        y = (upright - bands[p, i]) / lean
                        if low < y < high:
                            rows[n] = y
                            n += 1
        for i in range(1, n):
            y = rows[i]
            j = i
            while j > 0 and rows[j - 1] > y:
                rows[j] = rows[j - 1]
                j -= 1
            rows[j] = y
        for r in range(n - 1):
            y = 0.5 * (rows[r] + rows[r + 1])
            tall = rows[r + 1] - rows[r]
            if tall <= 0.0:
                continue
            # stretches in shade, from left to right
            shades = 0
            for p in range(first_gate):
                if meets[p] and bands[p, 0] < y < bands[p, 1]:
                    a = max(left, bands[p, 2], bands[p, 4] + lean * y)
                    b = min(right, bands[p, 3], bands[p, 5] + lean * y)
                    if a < b:
                        i = shades
                        while i > 0 and starts[i - 1] > a:
                            starts[i], ends[i] = starts[i - 1], ends[i - 1]
                            i -= 1
                        starts[i], ends[i] = a, b
                        shades += 1
            # stretches of light between them
            begin = left
            for i in range(shades + 1):
                stop = starts[i] if i < shades else right
                if stop > begin:
                    areas[d, 0] += tall * (stop - begin)
                    for p in range(first_receiver, count):
                        if not (meets[p] and bands[p, 0] < y < bands[p, 1]):
                            continue
                        a = max(begin, bands[p, 2], bands[p, 4] + lean * y)
                        b = min(stop, bands[p, 3], bands[p, 5] + lean * y)
                        gate = through[p - first_receiver]
                        if gate >= 0:
                            if not (meets[gate] and bands[gate, 0] < y < bands[gate, 1]):
                                continue
                            a = max(a, bands[gate, 2], bands[gate, 4] + lean * y)
                            b = min(b, bands[gate, 3], bands[gate, 5] + lean * y)
                        if b > a:
                            areas[d, 1 + p - first_receiver] += tall * (b - a)
                if i < shades:
                    begin = max(begin, ends[i])
    return areas
