"""Which patches a seam would run into if it were carried on by one allowance beyond its end."""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING

from seamproof.geometry.points import add, bounds, distance, left, sub, times, unit
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame


class Prolonged:
    """For each end of a stretch of a run, the sets of patches between or through which its prolongation runs.

    A prolongation enters a unit where the cloth on both sides of it is the unit's; where it runs along the unit's
    outline, it does not. Each set is one patch (run through) or two (run between); it enters a unit that holds it
    whole. A seam so short that its direction is unsure is given as much room as two corners off by SAME_POINT need.
    """

    def __init__(self, frame: Frame) -> None:
        self._frame = frame
        self._known: dict[tuple[int, bool], tuple[int, ...]] = {}
        self._rings = [patch.outline.polygon for patch in frame.patches]
        x0, y0, x1, y1 = bounds(point for ring in self._rings for point in ring)
        self._cell = max(frame.allowance, math.sqrt((x1 - x0) * (y1 - y0) / len(self._rings)), SAME_POINT)
        self._sides: dict[frozenset[tuple[int, int]], _Sides] = {}
        self._near: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        for index, ring in enumerate(self._rings):
            for cell in self._cells(ring):
                self._near[cell].append(index)

    def _cells(self, points: Sequence[Point]) -> Iterator[tuple[int, int]]:
        x0, y0, x1, y1 = (math.floor(value / self._cell) for value in bounds(points))
        for x in range(x0, x1 + 1):
            for y in range(y0, y1 + 1):
                yield (x, y)

    def beyond(self, edge_index: int, *, at_end: bool) -> tuple[int, ...]:
        """The sets beyond the end (or the start) of a map edge."""
        key = (edge_index, at_end)
        if key not in self._known:
            self._known[key] = tuple(sorted(set(self._find(edge_index, at_end=at_end))))
        return self._known[key]

    def _heading(self, edge_index: int, *, at_end: bool) -> tuple[Point, Point, float]:
        """Where the edge ends, the unit vector in which its run goes on there, and how long a line that is known by."""
        edge = self._frame.edge(edge_index, forward=at_end)
        if edge.is_arc:
            return edge.end, edge.direction(1.0), edge.chord
        number, position = self._frame.place[edge_index]
        run = self._frame.runs[number]
        ends = run.nodes if at_end == run.forward[position] else run.nodes[::-1]
        a, b = self._frame.map.nodes[ends[0]], self._frame.map.nodes[ends[-1]]
        return edge.end, unit(sub(b, a)), distance(a, b)

    def _find(self, edge_index: int, *, at_end: bool) -> Iterator[int]:
        """Look at the middles of the stretches between one outline crossed and the next, to the left and right."""
        reach = self._frame.allowance
        start, heading, length = self._heading(edge_index, at_end=at_end)
        slack = 2 * SAME_POINT * (1 + 2 * reach / length)
        end = add(start, times(heading, reach))
        near = self._sides_in(frozenset(self._cells((start, end))))
        marks = near.crossings(start, heading, slack)
        marks = {0.0, reach, *(mark for mark in marks if 0 < mark < reach)}
        for low, high in pairwise(sorted(marks)):
            if high - low <= slack:
                continue
            middle, aside = add(start, times(heading, (low + high) / 2)), times(left(heading), 2 * slack)
            beside = [near.ring_at(add(middle, aside)), near.ring_at(sub(middle, aside))]
            if None not in beside:
                yield sum({1 << index for index in beside if index is not None})

    def _sides_in(self, cells: frozenset[tuple[int, int]]) -> _Sides:
        if cells not in self._sides:
            near = sorted({index for cell in cells for index in self._near[cell]})
            self._sides[cells] = _Sides(near, [self._rings[index] for index in near])
        return self._sides[cells]


class _Sides:
    """The sides of some rings, looked at all at once."""

    def __init__(self, indices: Sequence[int], rings: Sequence[Sequence[Point]]) -> None:
        import numpy as np

        self._indices = indices
        self._starts = np.array([point for ring in rings for point in ring]).reshape(-1, 2)
        self._ends = np.array([point for ring in rings for point in (*ring[1:], ring[0])]).reshape(-1, 2)
        self._begins = np.cumsum([0, *map(len, rings[:-1])])

    def crossings(self, start: Point, heading: Point, slack: float) -> set[float]:
        """How far along a line [in] it meets the sides, corners that lie on it counted in.

        A side that ends on the line meets it at that corner: a slight turn moves the crossing by far more than the
        corner.
        """
        import numpy as np

        (x, y), p, q = heading, self._starts - start, self._ends - start
        a, b = x * p[:, 1] - y * p[:, 0], x * q[:, 1] - y * q[:, 0]
        on = np.abs(a) <= slack
        over = ~on & (np.abs(b) > slack) & ((a > 0) != (b > 0))
        share = (a[over] / (a[over] - b[over]))[:, None]
        met = np.concatenate([p[on], p[over] + (q[over] - p[over]) * share])
        return set((x * met[:, 0] + y * met[:, 1]).tolist())

    def ring_at(self, point: Point) -> int | None:
        """The first ring that holds a point; None where none does. Source: the even-odd rule."""
        import numpy as np

        p, q, (x, y) = self._starts, self._ends, point
        over = np.flatnonzero((p[:, 1] > y) != (q[:, 1] > y))
        p, q = p[over], q[over]
        right = x < p[:, 0] + (y - p[:, 1]) * (q[:, 0] - p[:, 0]) / (q[:, 1] - p[:, 1])
        rings = np.searchsorted(self._begins, over[right], side="right") - 1
        inside = np.flatnonzero(np.bincount(rings, minlength=1) % 2)
        return self._indices[inside[0]] if len(inside) else None
