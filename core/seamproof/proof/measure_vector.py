"""Templates measured in the coordinates of a page's lines."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.geometry.points import bounds, distance

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from seamproof.geometry import Point
    from seamproof.proof.measure_expected import Expected

    Numbers: TypeAlias = NDArray[np.float64]
    Box: TypeAlias = tuple[float, float, float, float]

_FAR: Final = 9.0
"""[in] Stands for a line that is nowhere on the page."""
_AT_ONCE: Final = 256
"""So many points are held against a line at once."""


@dataclass(frozen=True)
class Found:
    """What was found in a page's coordinates: width, height and the farthest any point is off [in]."""

    width: float
    height: float
    off: float


class Lines:
    """The lines of a page, each a run of points [in, from its upper left corner]."""

    def __init__(self, paths: Sequence[tuple[Point, ...]]) -> None:
        self._paths = [(path, bounds(path)) for path in paths]

    def find(self, item: Expected) -> Found | None:
        """The path that comes nearest to what is expected; None where the page has none of about its size and place."""
        wanted = (*item.path, item.path[0]) if item.closed else item.path
        box = bounds(wanted)
        rough = math.hypot(box[2] - box[0], box[3] - box[1])
        near = [
            (_box_off(here, box), n)
            for n, (path, here) in enumerate(self._paths)
            if _box_off(here, box) <= rough / 8 and _is_ring(path, rough) is item.closed
        ]
        if not near:
            return None
        box_off, n = min(near)
        path, (x0, y0, x1, y1) = self._paths[n]
        off = max(_away(wanted, path), _away(path, wanted), box_off)
        lines = [line for line in item.lines if _is_seen(line, item)]
        if lines:
            off = max(off, self._lines_off(lines))
        return Found(x1 - x0, y1 - y0, off)

    def _lines_off(self, lines: Sequence[tuple[Point, Point]]) -> float:
        """How far the ends of any of these lines are from those of the segment nearest to it [in]."""
        import numpy as np

        paths = [np.array(path) for path, _ in self._paths]
        p, q = (np.concatenate(ends) for ends in ([path[:-1] for path in paths], [path[1:] for path in paths]))
        worst = 0.0
        for ends in lines:
            a, b = np.array(ends)
            off = np.minimum(np.maximum(_far(p, a), _far(q, b)), np.maximum(_far(p, b), _far(q, a)))
            worst = max(worst, min(_FAR, float(off.min())))
        return worst


def _far(points: Numbers, point: Numbers) -> Numbers:
    import numpy as np

    far: Numbers = np.hypot(points[:, 0] - point[0], points[:, 1] - point[1])
    return far


def _is_ring(path: Sequence[Point], rough: float) -> bool:
    return distance(path[0], path[-1]) < rough / 100 and len(path) > 3


def _box_off(box: Box, wanted: Box) -> float:
    return max(abs(box[0] - wanted[0]), abs(box[1] - wanted[1]), abs(box[2] - wanted[2]), abs(box[3] - wanted[3]))


def _away(points: Sequence[Point], line: Sequence[Point]) -> float:
    """The farthest any of the points is from a run of segments [in]."""
    import numpy as np

    p, ends = np.array(points), np.array(line)
    a, along = ends[:-1], np.diff(ends, axis=0)
    squared = np.maximum((along**2).sum(axis=1), np.finfo(float).tiny)
    worst = 0.0
    for some in np.array_split(p[:, None, :], len(points) // _AT_ONCE + 1):
        share = np.clip(((some - a) * along).sum(axis=2) / squared, 0, 1)
        gap = some - a - share[..., None] * along
        worst = max(worst, float(np.hypot(gap[..., 0], gap[..., 1]).min(axis=1).max()))
    return worst


def _is_seen(line: tuple[Point, Point], item: Expected) -> bool:
    """Whether a line meets the window through which its template is seen."""
    if item.window is None:
        return True
    (x0, y0), (x1, y1) = item.window
    left, top, right, bottom = bounds(line)
    return right >= x0 and bottom >= y0 and left <= x1 and top <= y1
