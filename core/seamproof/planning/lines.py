"""On which side of the whole line of a run patches lie, worked out when asked for."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

from seamproof.geometry.points import distance, sub
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame, Run


class LeftOf:
    """For each straight run, the patches whose centre lies on its left; each found when asked for."""

    def __init__(self, frame: Frame) -> None:
        self._frame = frame
        self._known: dict[int, int] = {}

    def __getitem__(self, run: int) -> int:
        if run not in self._known:
            nodes = self._frame.runs[run].nodes
            a, b = self._frame.map.nodes[nodes[0]], self._frame.map.nodes[nodes[-1]]
            self._known[run] = _as_bits(_heights(self._centres, a, sub(b, a)) > 0)
        return self._known[run]

    @cached_property
    def _centres(self) -> Any:
        import numpy as np

        return np.array(self._frame.centres)


class OverLine:
    """For each straight run, the sets of patches that reach strictly to its left and to its right."""

    def __init__(self, frame: Frame) -> None:
        self._frame = frame
        self._known: dict[int, tuple[int, int]] = {}

    def __getitem__(self, run: int) -> tuple[int, int]:
        if run not in self._known:
            self._known[run] = self._find(self._frame.runs[run])
        return self._known[run]

    def _find(self, run: Run) -> tuple[int, int]:
        """A point is over the line when farther from it than two corners off by SAME_POINT could make it."""
        nodes = self._frame.map.nodes
        import numpy as np

        corners, begins = self._corners
        a, b = nodes[run.nodes[0]], nodes[run.nodes[-1]]
        along, size = sub(b, a), distance(a, b)
        height = _heights(corners, a, along) / size
        t = ((corners - a) @ np.array(along)) / size / size
        slack = 2 * SAME_POINT * (1 + 2 * np.maximum(0.0, np.maximum(-t, t - 1)))
        left, right = (np.logical_or.reduceat(over, begins) for over in (height > slack, -height > slack))
        return (_as_bits(left), _as_bits(right))

    @cached_property
    def _corners(self) -> tuple[Any, Any]:
        """The corners of all patches (m, 2), and where those of each patch begin (n,)."""
        import numpy as np

        rings = [patch.outline.polygon for patch in self._frame.patches]
        begins = np.cumsum([0, *(len(ring) for ring in rings[:-1])])
        return np.array([point for ring in rings for point in ring]), begins


def _heights(points: Any, start: Point, along: Point) -> Any:
    """The cross products of a direction with the ways from a point of its line to others (n, 2)."""
    return along[0] * (points[:, 1] - start[1]) - along[1] * (points[:, 0] - start[0])


def _as_bits(row: Any) -> int:
    """A row of truths as a set of their places."""
    import numpy as np

    return int.from_bytes(np.packbits(row, bitorder="little").tobytes(), "little")
