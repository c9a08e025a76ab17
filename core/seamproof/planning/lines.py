"""On which side of the whole line of a run patches lie, worked out when asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.geometry.points import cross, distance, dot, sub
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
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
            along = sub(b, a)
            centres = enumerate(self._frame.centres)
            self._known[run] = sum(1 << index for index, centre in centres if cross(along, sub(centre, a)) > 0)
        return self._known[run]


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
        a, b = nodes[run.nodes[0]], nodes[run.nodes[-1]]
        along, size = sub(b, a), distance(a, b)
        sets = [0, 0]
        for index, patch in enumerate(self._frame.patches):
            for point in patch.outline.polygon:
                height = cross(along, sub(point, a)) / size
                t = dot(along, sub(point, a)) / size / size
                slack = 2 * SAME_POINT * (1 + 2 * max(0.0, -t, t - 1))
                if abs(height) > slack:
                    sets[height < 0] |= 1 << index
        return (sets[0], sets[1])
