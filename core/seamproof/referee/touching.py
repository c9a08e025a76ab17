"""Which patches touch, found by looking at pairs of polygons: no planar map."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from seamproof.geometry import Edge
from seamproof.geometry.nodes import arc_fraction, unite
from seamproof.geometry.points import bounds, distance, dot, height_over, sub
from seamproof.tolerance import ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.geometry import Outline, Point

NEAR: Final = 2 * SAME_POINT + ROUND_OFF
"""[in] Two nodes that stand for one point may each be one SAME_POINT off it."""
_ON: Final = SAME_POINT + ROUND_OFF


@dataclass(frozen=True, slots=True)
class Touch:
    """A stretch along which two patches touch, straight or one arc.

    Attributes:
        left: The index of the patch on its left.
        right: The index of the patch on its right.
        edge: The stretch [in].
        start: The node it starts at.
        end: The node it ends at.
    """

    left: int
    right: int
    edge: Edge
    start: int
    end: int

    def other(self, patch: int) -> int:
        """The index of the patch on the other side."""
        return self.right if patch == self.left else self.left

    def reversed(self) -> Touch:
        """The same stretch run the other way."""
        return Touch(self.right, self.left, self.edge.reversed(), self.end, self.start)


@dataclass(frozen=True)
class Touching:
    """Every stretch along which two patches touch.

    Attributes:
        touches: The stretches.
        nodes: The places where they end [in].
        count: How many patches there are.
    """

    touches: tuple[Touch, ...]
    nodes: tuple[Point, ...]
    count: int

    @classmethod
    def of(cls, outlines: Sequence[Outline], parted_at: Sequence[Point] = ()) -> Touching:
        """Look at every pair of edges whose boxes meet; O(n log n) for patches that do not crowd.

        Two edges of two patches touch where they run in opposite directions (each patch lies on its own left) on one
        line or one circle, within SAME_POINT at both ends and in the middle of the stretch that they share.

        Args:
            outlines: The patches' outlines.
            parted_at: Points inside stretches at which these are parted in two: where a partial seam is left open.
        """
        found: list[tuple[int, int, Edge]] = []
        edges = [edge for outline in outlines for edge in outline.edges if edge.chord > SAME_POINT]
        owner = [i for i, outline in enumerate(outlines) for edge in outline.edges if edge.chord > SAME_POINT]
        for a, b in _near_pairs(edges, owner):
            shared = shared_stretch(edges[a], edges[b].reversed())
            if shared is not None:
                found += [(owner[a], owner[b], part) for part in _parted(shared, parted_at)]
        ends = [point for _, _, edge in found for point in (edge.start, edge.end)]
        node_of, places = unite(ends)
        touches = tuple(
            Touch(left, right, edge, node_of[2 * k], node_of[2 * k + 1]) for k, (left, right, edge) in enumerate(found)
        )
        return cls(touches, tuple(places), len(outlines))

    @cached_property
    def of_patch(self) -> tuple[tuple[int, ...], ...]:
        """For each patch the indices of its touches."""
        rows: list[list[int]] = [[] for _ in range(self.count)]
        for index, touch in enumerate(self.touches):
            rows[touch.left].append(index)
            rows[touch.right].append(index)
        return tuple(map(tuple, rows))

    @cached_property
    def _middles(self) -> Any:
        import shapely

        return shapely.STRtree(shapely.points([touch.edge.middle for touch in self.touches]))

    def along(self, path: Iterable[Edge]) -> list[tuple[int, Touch]]:
        """The touches that lie on a path, with their indices, each turned to run as the path does."""
        import shapely

        found: dict[int, Touch] = {}
        for edge in path:
            if edge.chord <= SAME_POINT:
                continue
            line = shapely.LineString(edge.flattened())
            for index in sorted(self._middles.query(line, predicate="dwithin", distance=10 * SAME_POINT).tolist()):
                touch = self.touches[index]
                if max(off(edge, p) for p in (touch.edge.start, touch.edge.middle, touch.edge.end)) <= NEAR:
                    forward = fraction(edge, touch.edge.end) > fraction(edge, touch.edge.start)
                    found[index] = touch if forward else touch.reversed()
        return list(found.items())


def fraction(edge: Edge, p: Point) -> float:
    """How far along an edge the foot of p lies: 0 at its start, 1 at its end, beyond these outside.

    On an edge without length it is 0.
    """
    direction = sub(edge.end, edge.start)
    if not any(direction):
        return 0.0
    if edge.is_arc:
        return arc_fraction(edge, p)
    return dot(sub(p, edge.start), direction) / dot(direction, direction)


def off(edge: Edge, p: Point) -> float:
    """How far p is from an edge [in]."""
    return distance(edge.at(min(1.0, max(0.0, fraction(edge, p)))), p)


def shared_stretch(a: Edge, b: Edge) -> Edge | None:
    """The stretch that two edges running the same way share, or None."""
    low, high = max(0.0, fraction(a, b.start)), min(1.0, fraction(a, b.end))
    if (high - low) * a.length <= 2 * SAME_POINT:
        return None
    start = b.start if low > 0 else a.start
    end = b.end if high < 1 else a.end
    if max(_astray(a, start), _astray(b, start), _astray(a, end), _astray(b, end)) > _ON:
        return None
    if a.is_arc or b.is_arc:
        middle = a.at((low + high) / 2)
        if _astray(b, middle) > _ON or not 0 < fraction(b, middle) < 1:  # the second: across the circle from b
            return None
    return Edge(start, end, a.part(low, high).bulge)


def _astray(edge: Edge, p: Point) -> float:
    """How far p is from the whole line or circle of an edge."""
    if edge.is_arc:
        return abs(distance(p, edge.centre) - edge.radius)
    return abs(height_over(p, edge.start, edge.end))


def _near_pairs(edges: Sequence[Edge], owner: Sequence[int]) -> list[tuple[int, int]]:
    import numpy as np
    import shapely

    boxes = np.array([bounds(edge.flattened()) for edge in edges]) + SAME_POINT * np.array([-1, -1, 1, 1])
    shapes = shapely.box(*boxes.T)
    pairs = shapely.STRtree(shapes).query(shapes)
    owners = np.asarray(owner)
    keep = (pairs[0] < pairs[1]) & (owners[pairs[0]] != owners[pairs[1]])
    return sorted(map(tuple, pairs[:, keep].T.tolist()))


def _parted(edge: Edge, places: Sequence[Point]) -> list[Edge]:
    """An edge parted at the places that lie well inside it, places near one another counting once."""
    inside = sorted(fraction(edge, p) for p in places if off(edge, p) <= NEAR)
    stops = [0.0]
    for t in inside:
        if (t - stops[-1]) * edge.length > NEAR and (1 - t) * edge.length > NEAR:
            stops.append(t)
    return [edge.part(s, t) for s, t in pairwise([*stops, 1.0])] if len(stops) > 1 else [edge]
