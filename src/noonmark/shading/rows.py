"""Exact areas by rows of an opening, direction by direction: compiled.

A plate, a surface of the room or a convex thing out in the sun is met by the rays
of a convex patch of the wall's plane. So a row of the opening meets it in one
stretch, whose ends move evenly from one corner height to the next: rows in the
middle between corners carry exact areas.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from noonmark.compiled import compiled

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
Frame = tuple[float, float, float, float]


class Scene(NamedTuple):
    """An opening and all that can meet its light.

    `opening` (5,) holds left, width, bottom, height and depth; `squares` (s, 7)
    axis and extents of plates, then of the openings light passes inside, then of
    what it ends on; `corners` (c, 3) those of the screens one after the other,
    `sizes` (k,) of each; `passes` (k, d) what they let through. Patches are
    counted plates first, then screens up to `blocking`, openings inside up to
    `first_receiver`, receivers; `through` (r,) is the opening before a receiver
    or -1.
    """

    opening: FloatArray
    squares: FloatArray
    corners: FloatArray
    sizes: IntArray
    passes: FloatArray
    plates: int
    blocking: int
    first_receiver: int
    through: IntArray


class Memory(NamedTuple):
    """Room for the patches of one direction and for one row.

    Of each patch: lowest and highest row `band` (p, 2), the ends of its stretches
    at left and right as `lines` (p, 2, n, 2), start and slope by height, and how
    many there are, `ends` (p, 2).
    """

    meets: NDArray[np.bool_]
    band: FloatArray
    lines: FloatArray
    ends: IntArray
    spots: FloatArray
    hull: FloatArray
    rows: FloatArray
    starts: FloatArray
    stops: FloatArray
    cuts: FloatArray


def memory_for(scene: Scene) -> Memory:
    """Return room for a scene."""
    count = scene.squares.shape[0] + scene.sizes.size
    longest = int(max(2, *scene.sizes)) if scene.sizes.size else 2
    lines = 4 * scene.squares.shape[0] + int(scene.sizes.sum())
    most = 2 + 2 * count + 2 * lines + lines * lines
    return Memory(
        meets=np.empty(count, dtype=np.bool_),
        band=np.empty((count, 2)),
        lines=np.empty((count, 2, longest, 2)),
        ends=np.empty((count, 2), dtype=np.int64),
        spots=np.empty((longest, 2)),
        hull=np.empty((2 * longest + 2, 2)),
        rows=np.empty(most),
        starts=np.empty(scene.blocking + 1),
        stops=np.empty(scene.blocking + 1),
        cuts=np.empty(2 * scene.blocking + 2),
    )


@compiled(inlined=False)
def integrate(
    sideways: FloatArray, rise: FloatArray, scene: Scene, memory: Memory, found: FloatArray
) -> None:
    """Add up lit area, the light of each receiver and the highest lit row: `found` (d, 2 + r)."""
    left, width, bottom, height, depth = scene.opening
    for d in range(sideways.size):
        tx, ty = sideways[d], rise[d]
        frame = (
            left + max(0.0, depth * tx),
            left + width + min(0.0, depth * tx),
            bottom + max(0.0, depth * ty),
            bottom + height + min(0.0, depth * ty),
        )
        found[d, -1] = -np.inf
        if not (frame[0] < frame[1] and frame[2] < frame[3]):
            continue
        _find_patches(d, tx, ty, frame, scene, memory)
        n = _find_rows(frame, memory)
        for r in range(n - 1):
            if memory.rows[r + 1] > memory.rows[r]:
                _add_row(d, memory.rows[r], memory.rows[r + 1], frame, scene, memory, found)


@compiled()
def _find_patches(d: int, tx: float, ty: float, frame: Frame, scene: Scene, memory: Memory) -> None:
    """Find the patch of everything for one direction."""
    count = memory.meets.size
    screens = scene.blocking - scene.plates
    first = 0
    for p in range(count):
        if p < scene.plates or p >= scene.blocking:
            square = p if p < scene.plates else p - screens
            memory.meets[p] = _square_patch(p, square, tx, ty, frame, scene, memory)
        else:
            k = p - scene.plates
            last = first + scene.sizes[k]
            memory.meets[p] = scene.passes[k, d] < 1.0 and _screen_patch(
                p, first, last, tx, ty, frame, scene, memory
            )
            first = last


@compiled()
def _square_patch(
    p: int, square: int, tx: float, ty: float, frame: Frame, scene: Scene, memory: Memory
) -> bool:
    """Find the patch of a plate; return whether it can meet the opening."""
    left, right, low, high = frame
    axis, x1, x2, y1, y2, w1, w2 = scene.squares[square]
    lean = tx / ty
    bottom, top = low, high
    upright_left, upright_right = -np.inf, np.inf
    leaning_left, leaning_right = -np.inf, np.inf
    if axis == 0.0:
        upright_left = min(x1 + tx * w1, x1 + tx * w2)
        upright_right = max(x1 + tx * w1, x1 + tx * w2)
        leaning_left = x1 - lean * (y2 if lean > 0.0 else y1)
        leaning_right = x1 - lean * (y1 if lean > 0.0 else y2)
    elif axis == 1.0:
        bottom = min(y1 + ty * w1, y1 + ty * w2)
        top = max(y1 + ty * w1, y1 + ty * w2)
        leaning_left = x1 - lean * y1
        leaning_right = x2 - lean * y1
    else:
        bottom, top = y1 + ty * w1, y2 + ty * w1
        upright_left, upright_right = x1 + tx * w1, x2 + tx * w1
    lowest, highest = min(lean * low, lean * high), max(lean * low, lean * high)
    if not (
        bottom < high
        and top > low
        and upright_left < right
        and upright_right > left
        and leaning_left + lowest < right
        and leaning_right + highest > left
    ):
        return False
    memory.band[p, 0], memory.band[p, 1] = bottom, top
    # ends that never come into the opening are left out
    _keep(p, 0, upright_left, 0.0, upright_left > left, memory, fresh=True)
    _keep(p, 0, leaning_left, lean, leaning_left + highest > left, memory)
    _keep(p, 1, upright_right, 0.0, upright_right < right, memory, fresh=True)
    _keep(p, 1, leaning_right, lean, leaning_right + lowest < right, memory)
    return True


@compiled()
def _keep(
    p: int, side: int, start: float, slope: float, wanted: bool, memory: Memory, fresh: bool = False
) -> None:
    """Note an end of a patch's stretches, the first one if `fresh`, if it is wanted."""
    n = 0 if fresh else memory.ends[p, side]
    memory.lines[p, side, n, 0], memory.lines[p, side, n, 1] = start, slope
    memory.ends[p, side] = n + 1 if wanted else n


@compiled()
def _screen_patch(
    p: int, first: int, last: int, tx: float, ty: float, frame: Frame, scene: Scene, memory: Memory
) -> bool:
    """Throw a convex thing on the wall's plane; return whether its patch can meet the opening."""
    left, right, low, high = frame
    spots = memory.spots
    n = last - first
    least_x, most_x, least_y, most_y = np.inf, -np.inf, np.inf, -np.inf
    for i in range(n):
        w = scene.corners[first + i, 2]
        x, y = scene.corners[first + i, 0] + tx * w, scene.corners[first + i, 1] + ty * w
        spots[i, 0], spots[i, 1] = x, y
        least_x, most_x = min(least_x, x), max(most_x, x)
        least_y, most_y = min(least_y, y), max(most_y, y)
    if not (least_x < right and most_x > left and least_y < high and most_y > low):
        return False
    for i in range(1, n):
        x, y = spots[i, 0], spots[i, 1]
        j = i
        while j > 0 and (spots[j - 1, 0] > x or (spots[j - 1, 0] == x and spots[j - 1, 1] > y)):
            spots[j, 0], spots[j, 1] = spots[j - 1, 0], spots[j - 1, 1]
            j -= 1
        spots[j, 0], spots[j, 1] = x, y
    memory.band[p, 0], memory.band[p, 1] = least_y, most_y
    return _outline(p, n, most_x - least_x + most_y - least_y, memory)


@compiled()
def _outline(p: int, n: int, size: float, memory: Memory) -> bool:
    """Find the sides of the hull of `n` spots; return whether it has an area.

    Source: A. M. Andrew, Another efficient algorithm for convex hulls in two
    dimensions, Information Processing Letters 9 (1979) 216-219.
    """
    spots, hull, lines = memory.spots, memory.hull, memory.lines
    k = 0
    for turn in range(2):
        least = k + 1
        for i in range(n):
            s = i if turn == 0 else n - 1 - i
            x, y = spots[s, 0], spots[s, 1]
            while k > least and (hull[k - 1, 0] - hull[k - 2, 0]) * (y - hull[k - 2, 1]) <= (
                hull[k - 1, 1] - hull[k - 2, 1]
            ) * (x - hull[k - 2, 0]):
                k -= 1
            hull[k, 0], hull[k, 1] = x, y
            k += 1
        k -= 1
    left_ends, right_ends = 0, 0
    for i in range(k):
        j = i + 1 if i + 1 < k else 0
        dy = hull[j, 1] - hull[i, 1]
        if abs(dy) <= 1e-12 * size:
            continue
        slope = (hull[j, 0] - hull[i, 0]) / dy
        start = hull[i, 0] - slope * hull[i, 1]
        if dy > 0.0:  # counter-clockwise: what climbs lies at the right
            lines[p, 1, right_ends, 0], lines[p, 1, right_ends, 1] = start, slope
            right_ends += 1
        else:
            lines[p, 0, left_ends, 0], lines[p, 0, left_ends, 1] = start, slope
            left_ends += 1
    memory.ends[p, 0], memory.ends[p, 1] = left_ends, right_ends
    return left_ends > 0 and right_ends > 0


@compiled()
def _find_rows(frame: Frame, memory: Memory) -> int:
    """Find the heights at which a stretch may begin, end or bend, sorted; return how many."""
    _, _, low, high = frame
    rows, band = memory.rows, memory.band
    n = 2
    rows[0], rows[1] = low, high
    for p in range(memory.meets.size):
        if not memory.meets[p]:
            continue
        for i in range(2):
            if low < band[p, i] < high:
                rows[n] = band[p, i]
                n += 1
        for side in range(2):
            for i in range(memory.ends[p, side]):
                n = _add_crossings(p, side, i, n, frame, memory)
    for i in range(1, n):
        y = rows[i]
        j = i
        while j > 0 and rows[j - 1] > y:
            rows[j] = rows[j - 1]
            j -= 1
        rows[j] = y
    return n


@compiled()
def _add_crossings(p: int, side: int, i: int, n: int, frame: Frame, memory: Memory) -> int:
    """Add the heights at which an end crosses the opening's sides and the other ends."""
    left, right, low, high = frame
    rows, band, lines = memory.rows, memory.band, memory.lines
    start, slope = lines[p, side, i, 0], lines[p, side, i, 1]
    bottom, top = max(low, band[p, 0]), min(high, band[p, 1])
    if slope != 0.0:
        y = (left - start) / slope
        if bottom < y < top:
            rows[n] = y
            n += 1
        y = (right - start) / slope
        if bottom < y < top:
            rows[n] = y
            n += 1
    for q in range(p, memory.meets.size):
        if not memory.meets[q]:
            continue
        lowest, highest = max(bottom, band[q, 0]), min(top, band[q, 1])
        for other in range(2):
            for j in range(memory.ends[q, other]):
                apart = slope - lines[q, other, j, 1]
                if apart == 0.0:
                    continue
                y = (lines[q, other, j, 0] - start) / apart
                if lowest < y < highest and left < start + slope * y < right:
                    rows[n] = y
                    n += 1
    return n


@compiled()
def _add_row(
    d: int,
    low: float,
    high: float,
    frame: Frame,
    scene: Scene,
    memory: Memory,
    found: FloatArray,
) -> None:
    """Add the light of the rows between two heights."""
    y = 0.5 * (low + high)
    starts, stops = memory.starts, memory.stops
    shades, thin = 0, 0
    for p in range(scene.blocking):
        if not _holds(p, y, memory):
            continue
        if p >= scene.plates and scene.passes[p - scene.plates, d] > 0.0:
            thin += 1
            continue
        a, b = _stretch(p, y, frame[0], frame[1], memory)
        if a < b:
            i = shades
            while i > 0 and starts[i - 1] > a:
                starts[i], stops[i] = starts[i - 1], stops[i - 1]
                i -= 1
            starts[i], stops[i] = a, b
            shades += 1
    begin = frame[0]
    for i in range(shades + 1):
        end = starts[i] if i < shades else frame[1]
        if end > begin:
            if thin == 0:
                _add_stretch(d, y, high - low, begin, end, scene, memory, found)
            else:
                _add_pieces(d, y, high - low, begin, end, scene, memory, found)
            found[d, -1] = max(found[d, -1], high)
        if i < shades:
            begin = max(begin, stops[i])


@compiled()
def _holds(p: int, y: float, memory: Memory) -> bool:
    """Return whether a patch has rows at `y`."""
    return bool(memory.meets[p] and memory.band[p, 0] < y < memory.band[p, 1])


@compiled()
def _stretch(p: int, y: float, left: float, right: float, memory: Memory) -> tuple[float, float]:
    """Return the stretch of a row at `y` within a patch and two limits."""
    lines = memory.lines
    for i in range(memory.ends[p, 0]):
        left = max(left, lines[p, 0, i, 0] + lines[p, 0, i, 1] * y)
    for i in range(memory.ends[p, 1]):
        right = min(right, lines[p, 1, i, 0] + lines[p, 1, i, 1] * y)
    return left, right


@compiled()
def _add_pieces(
    d: int,
    y: float,
    tall: float,
    begin: float,
    end: float,
    scene: Scene,
    memory: Memory,
    found: FloatArray,
) -> None:
    """Add a lit stretch in pieces that the same screens stand before."""
    cuts = memory.cuts
    n = 2
    cuts[0], cuts[1] = begin, end
    for p in range(scene.plates, scene.blocking):
        if not _holds(p, y, memory):
            continue
        a, b = _stretch(p, y, begin, end, memory)
        if a < b:
            for x in (a, b):
                i = n
                while cuts[i - 1] > x:
                    cuts[i] = cuts[i - 1]
                    i -= 1
                cuts[i] = x
                n += 1
    for c in range(n - 1):
        if cuts[c + 1] <= cuts[c]:
            continue
        middle = 0.5 * (cuts[c] + cuts[c + 1])
        share = 1.0
        for p in range(scene.plates, scene.blocking):
            if _holds(p, y, memory):
                a, b = _stretch(p, y, begin, end, memory)
                if a < middle < b:
                    share *= scene.passes[p - scene.plates, d]
        _add_stretch(d, y, share * tall, cuts[c], cuts[c + 1], scene, memory, found)


@compiled()
def _add_stretch(
    d: int,
    y: float,
    weight: float,
    begin: float,
    end: float,
    scene: Scene,
    memory: Memory,
    found: FloatArray,
) -> None:
    """Add a lit stretch, and the parts of it that end on each receiver."""
    found[d, 0] += weight * (end - begin)
    for r in range(scene.through.size):
        p = scene.first_receiver + r
        if not _holds(p, y, memory):
            continue
        a, b = _stretch(p, y, begin, end, memory)
        gate = scene.through[r]
        if gate >= 0:
            if not _holds(gate, y, memory):
                continue
            a, b = _stretch(gate, y, a, b, memory)
        if b > a:
            found[d, 1 + r] += weight * (b - a)
