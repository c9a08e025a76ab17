"""Templates measured in the ink of a page, drawn at 600 dots to the inch as a printer would."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from seamproof.geometry.points import along, distance, left, sub, unit

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    from seamproof.geometry import Point
    from seamproof.proof.measure_expected import Expected

    Ink: TypeAlias = NDArray[np.uint8]

DOTS: Final = 600
"""[1/in] One dot is 0.042 mm; the middle of a line is found to about half of that."""
_REACH: Final = 0.06
"""[in] How far to either side of its place a line is looked for."""
_STEP: Final = 1 / 32
_CLEAR: Final = 0.05
"""[in] Kept from the ends of a line, where others meet it."""
_DARK: Final = 128
_SHARE: Final = 0.3
"""[1] At least this share of a line's places must show ink (a dashed or crossed line shows less than all)."""


def ink_of(page: Any) -> Ink:
    """A pypdfium2 page as greys, (rows, columns): 0 black, 255 white."""
    grey = page.render(scale=DOTS / 72, grayscale=True).to_numpy()
    flat: Ink = grey.reshape(grey.shape[0], -1)
    return flat


def raster_off(item: Expected, ink: Ink) -> float | None:
    """How far the ink of an item's lines is from where they must be [in]; None where a line shows no ink.

    Each line is cut across every 1/32 in; the middle of the ink nearest to its place is taken there, and the median
    over the first and over the last half of the line, so that lines which cross or touch it do not count.
    """
    worst = 0.0
    for p, q in _lines(item):
        found = _line_off(p, q, ink)
        if found is None:
            return None
        worst = max(worst, found)
    return worst


def _lines(item: Expected) -> Iterator[tuple[Point, Point]]:
    ring = (*item.path, item.path[0]) if item.closed else item.path
    for p, q in (*pairwise(ring), *item.lines):
        seen = (p, q) if item.window is None else _inside(p, q, item.window)
        if seen and distance(*seen) > 3 * _CLEAR:
            yield seen


def _inside(p: Point, q: Point, window: tuple[Point, Point]) -> tuple[Point, Point] | None:
    """The stretch of a line inside a window. Source: the Liang-Barsky clipping of a segment."""
    (x0, y0), (x1, y1) = window
    low, high = 0.0, 1.0
    dx, dy = sub(q, p)
    for run, room in ((-dx, p[0] - x0), (dx, x1 - p[0]), (-dy, p[1] - y0), (dy, y1 - p[1])):
        if run == 0:
            if room < 0:
                return None
        elif run < 0:
            low = max(low, room / run)
        else:
            high = min(high, room / run)
    return (along(p, q, low), along(p, q, high)) if low < high else None


def _line_off(p: Point, q: Point, ink: Ink) -> float | None:
    import numpy as np

    length = distance(p, q)
    count = max(4, math.floor((length - 2 * _CLEAR) / _STEP))
    t = np.linspace(_CLEAR, length - _CLEAR, count) / length
    side = np.arange(-round(_REACH * DOTS), round(_REACH * DOTS) + 1) / DOTS
    nx, ny = left(unit(sub(q, p)))
    x = (p[0] + (q[0] - p[0]) * t)[:, None] + nx * side
    y = (p[1] + (q[1] - p[1]) * t)[:, None] + ny * side
    column = np.clip(np.floor(x * DOTS).astype(int), 0, ink.shape[1] - 1)
    line = np.clip(np.floor(y * DOTS).astype(int), 0, ink.shape[0] - 1)
    middles = [_middle(row, side) for row in ink[line, column] < _DARK]
    halves = (middles[: (count + 1) // 2], middles[count // 2 :])
    found = [[m for m in half if m is not None] for half in halves]
    if any(len(some) < _SHARE * len(half) for some, half in zip(found, halves, strict=True)):
        return None
    return max(abs(float(np.median(half))) for half in found)


def _middle(dark: Any, side: Any) -> float | None:
    """The middle of the run of ink nearest to the line's place [in]; a run that fills all that is seen is no line."""
    import numpy as np

    change = np.diff(np.concatenate(([0], dark.astype(np.int8), [0])))
    starts, ends = np.flatnonzero(change == 1), np.flatnonzero(change == -1) - 1
    if len(starts) == 0:
        return None
    middles = (side[starts] + side[ends]) / 2
    return float(middles[np.argmin(np.abs(middles))])
