"""Which patches a seam would run into if it were carried on by one allowance beyond its end."""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING

from seamproof.geometry.points import add, bounds, cross, distance, dot, is_inside, left, sides, sub, times, unit
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
        near = sorted({index for cell in self._cells((start, end)) for index in self._near[cell]})
        marks: set[float] = set()
        for index in near:
            marks.update(_crossings(self._rings[index], start, heading, slack))
        marks = {0.0, reach, *(mark for mark in marks if 0 < mark < reach)}
        for low, high in pairwise(sorted(marks)):
            if high - low <= slack:
                continue
            middle, aside = add(start, times(heading, (low + high) / 2)), times(left(heading), 2 * slack)
            beside = [self._patch_at(near, add(middle, aside)), self._patch_at(near, sub(middle, aside))]
            if None not in beside:
                yield sum({1 << index for index in beside if index is not None})

    def _patch_at(self, near: Sequence[int], point: Point) -> int | None:
        return next((index for index in near if is_inside(point, self._rings[index])), None)


def _crossings(ring: Sequence[Point], start: Point, heading: Point, slack: float) -> Iterator[float]:
    """How far along a line [in] it meets the edges of a ring, corners that lie on it counted in.

    An edge that ends on the line meets it at that corner: a slight turn moves the crossing by far more than the corner.
    """
    for p, q in sides(ring):
        a, b = cross(heading, sub(p, start)), cross(heading, sub(q, start))
        if abs(a) <= slack:
            yield dot(heading, sub(p, start))
        elif abs(b) > slack and (a > 0) != (b > 0):
            yield dot(heading, sub(add(p, times(sub(q, p), a / (a - b))), start))
