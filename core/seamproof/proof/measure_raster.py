"""Templates measured in the ink of a page, drawn at 600 dots to the inch as a printer would."""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from seamproof.geometry.points import along, distance, dot, left, sub, unit
from seamproof.units import POINTS_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

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
_CHORD: Final = 0.5
"""[in] A shorter line may be a chord of an arc."""
_DARK: Final = 128
_SHARE: Final = 0.3
"""[1] At least this share of a line's places must show ink (a dashed or crossed line shows less than all)."""


class Canvas:
    """What pages are drawn on, one after the other: fresh memory for each would cost more than the drawing."""

    def __init__(self) -> None:
        self._dots: Any = ()

    def ink(self, page: Any) -> Ink:
        """A pypdfium2 page as greys, (rows, columns): 0 black, 255 white; until the next page is drawn."""
        grey = page.render(scale=DOTS / POINTS_PER_INCH, grayscale=True, bitmap_maker=self._bitmap).to_numpy()
        flat: Ink = grey.reshape(grey.shape[0], -1)
        return flat

    def _bitmap(self, width: int, height: int, **grey: Any) -> Any:
        from ctypes import c_ubyte

        from pypdfium2 import PdfBitmap

        if len(self._dots) < width * height:
            self._dots = (c_ubyte * (width * height))()
        return PdfBitmap.new_native(width, height, **grey, buffer=self._dots)


def raster_off(item: Expected, ink: Ink) -> float | None:
    """How far the ink of an item's lines is from where they must be [in]; None where a line shows no ink.

    Each line is cut across every 1/32 in; the middle of the ink nearest to its place is taken there, and the median
    over the first and over the last half of the line, so that lines which cross or touch it do not count. The chords of
    an arc are taken together, an inch at a time.
    """
    worst = 0.0
    for stretch in _stretches(item):
        found = _stretch_off(stretch, ink)
        if found is None:
            return None
        worst = max(worst, found)
    return worst


def _stretches(item: Expected) -> Iterator[list[tuple[Point, Point]]]:
    """The lines of an item as far as they are seen, chords of an arc joined until they are an inch long."""
    ring = (*item.path, item.path[0]) if item.closed else item.path
    chords: list[tuple[Point, Point]] = []
    for p, q in (*pairwise(ring), *item.lines):
        seen = (p, q) if item.window is None else _inside(p, q, item.window)
        if not seen or distance(*seen) == 0:
            continue
        if chords and not (distance(*seen) < _CHORD and _runs_on(chords[-1], seen)):
            yield from _long_enough(chords)
            chords = []
        if distance(*seen) >= _CHORD:
            yield [seen]
            continue
        chords.append(seen)
        if sum(distance(*chord) for chord in chords) >= 1:
            yield chords
            chords = []
    yield from _long_enough(chords)


def _long_enough(chords: list[tuple[Point, Point]]) -> Iterator[list[tuple[Point, Point]]]:
    if sum(distance(*chord) for chord in chords) > 3 * _CLEAR:
        yield chords


def _runs_on(chord: tuple[Point, Point], following: tuple[Point, Point]) -> bool:
    """Whether a chord runs on into another, turning by less than a fifth."""
    return chord[1] == following[0] and dot(unit(sub(chord[1], chord[0])), unit(sub(following[1], following[0]))) > 0.98


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


def _stretch_off(stretch: Sequence[tuple[Point, Point]], ink: Ink) -> float | None:
    ends = (stretch[0][0], stretch[-1][1])
    middles = [middle for p, q in stretch for middle in _middles(p, q, ends, ink)]
    halves = (middles[: (len(middles) + 1) // 2], middles[len(middles) // 2 :])
    found = [[m for m in half if m is not None] for half in halves]
    if any(len(some) < max(1, _SHARE * len(half)) for some, half in zip(found, halves, strict=True)):
        return None
    return max(abs(median(half)) for half in found)


def _middles(p: Point, q: Point, ends: tuple[Point, Point], ink: Ink) -> list[float | None]:
    """Where the ink lies beside a line, at places every 1/32 in along it, those next to the ends left out."""
    import numpy as np

    length = distance(p, q)
    start, end = (_CLEAR if p == ends[0] else 0.0), length - (_CLEAR if q == ends[1] else 0.0)
    if end <= start:
        return []
    t = np.linspace(start, end, max(4, math.floor((end - start) / _STEP))) / length
    side = np.arange(-round(_REACH * DOTS), round(_REACH * DOTS) + 1) / DOTS
    nx, ny = left(unit(sub(q, p)))
    x = (p[0] + (q[0] - p[0]) * t)[:, None] + nx * side
    y = (p[1] + (q[1] - p[1]) * t)[:, None] + ny * side
    column = np.clip(np.floor(x * DOTS).astype(int), 0, ink.shape[1] - 1)
    line = np.clip(np.floor(y * DOTS).astype(int), 0, ink.shape[0] - 1)
    return _nearest_ink(ink[line, column] < _DARK, side)


def _nearest_ink(dark: Any, side: Any) -> list[float | None]:
    """For each row the middle of the run of ink nearest to the line's place [in].

    A run that goes on out of sight is no line; a row without any gives None.
    """
    import numpy as np

    change = np.diff(dark.astype(np.int8), axis=1, prepend=0, append=0)
    row, starts = np.nonzero(change == 1)
    ends = np.nonzero(change == -1)[1] - 1
    whole = (starts > 0) & (ends < dark.shape[1] - 1)
    row, middles = row[whole], (side[starts[whole]] + side[ends[whole]]) / 2
    nearest_first = np.lexsort((np.abs(middles), row))
    rows, first = np.unique(row[nearest_first], return_index=True)
    found: list[float | None] = [None] * len(dark)
    for n, middle in zip(rows.tolist(), middles[nearest_first][first].tolist(), strict=True):
        found[n] = middle
    return found
