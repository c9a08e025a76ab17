"""Which units are the same shape in the same roles, so that one paper printed twice serves both."""

from __future__ import annotations

import math
from bisect import bisect_left, insort
from collections import Counter, defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import distance, distance_to_segment, sub
from seamproof.planning.frame import bits
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame

LARGE: Final = 200
"""[patches] More than a paper for printing holds."""


class Shapes:
    """Sorts units into classes: congruent by a turn and a shift, each patch on one of the same role.

    Mirror images are told apart: a paper and its mirror image are two papers. A unit of more than LARGE patches is
    compared with no other.
    """

    def __init__(self, frame: Frame) -> None:
        self._frame = frame
        self._class_of: dict[int, int] = {}
        self._models: list[int] = []
        self._alike: defaultdict[tuple[str, ...], list[tuple[float, int]]] = defaultdict(list)
        self._perimeters: dict[int, float] = {}
        self._corners: dict[int, tuple[Point, ...]] = {}

    def class_of(self, unit: int) -> int:
        """The number of a unit's class."""
        if unit not in self._class_of:
            self._class_of[unit] = self._new_class(unit) if unit.bit_count() > LARGE else self._find_class(unit)
        return self._class_of[unit]

    def _new_class(self, unit: int) -> int:
        self._models.append(unit)
        return len(self._models) - 1

    def _find_class(self, unit: int) -> int:
        """The first class whose model matches; only models are asked whose largest patch is about as large."""
        patches = [*bits(unit)]
        rows = self._alike[tuple(sorted(self._frame.patches[patch].role for patch in patches))]
        largest = max(self._frame.areas[patch] for patch in patches)
        slack = 2 * SAME_POINT * max(map(self._perimeter, patches))
        near = rows[bisect_left(rows, (largest - 2 * slack, -1)) : bisect_left(rows, (largest + 2 * slack, -1))]
        for number in sorted(number for _, number in near):
            if self.match(self._models[number], unit) is not None:
                return number
        insort(rows, (largest, self._new_class(unit)))
        return len(self._models) - 1

    def _perimeter(self, patch: int) -> float:
        if patch not in self._perimeters:
            self._perimeters[patch] = self._frame.patches[patch].outline.perimeter
        return self._perimeters[patch]

    def match(self, model: int, unit: int) -> dict[int, int] | None:
        """Which patch of the unit lies where each of the model does, after a turn and a shift; None: not congruent."""
        if model == unit:
            return {patch: patch for patch in bits(unit)}
        ours, theirs = [*bits(model)], [*bits(unit)]
        if not self._are_alike(ours, theirs):
            return None
        roles = Counter(self._frame.patches[patch].role for patch in ours)
        anchor = min(ours, key=lambda patch: (roles[self._frame.patches[patch].role], -self._frame.areas[patch], patch))
        for turn in self._turns(anchor, theirs):
            found = self._laid(ours, theirs, self._frame.centre(model), self._frame.centre(unit), turn)
            if found is not None:
                return found
        return None

    def _are_alike(self, ours: list[int], theirs: list[int]) -> bool:
        """Whether as many patches of each role and size lie in both."""
        if len(ours) != len(theirs):
            return False
        patches, areas = self._frame.patches, self._frame.areas
        a, b = (sorted((patches[patch].role, areas[patch]) for patch in part) for part in (ours, theirs))
        slack = max(SAME_POINT * self._perimeter(patch) for patch in ours)
        return all(p[0] == q[0] and abs(p[1] - q[1]) <= 2 * slack for p, q in zip(a, b, strict=True))

    def _turns(self, anchor: int, theirs: list[int]) -> Iterator[float]:
        """The turns [rad] that may lay the anchor on a patch of the same role: longest side on a side as long."""
        role = self._frame.patches[anchor].role
        ring = self.corners(anchor)
        at = max(range(len(ring)), key=lambda i: distance(ring[i - 1], ring[i]))
        length, heading = distance(ring[at - 1], ring[at]), _angle(ring[at - 1], ring[at])
        for patch in theirs:
            other = self.corners(patch)
            if self._frame.patches[patch].role == role and len(other) == len(ring):
                for i in range(len(other)):
                    if abs(distance(other[i - 1], other[i]) - length) <= 4 * SAME_POINT:
                        yield _angle(other[i - 1], other[i]) - heading

    def _laid(
        self, ours: list[int], theirs: list[int], origin: Point, goal: Point, turn: float
    ) -> dict[int, int] | None:
        """Each of ours on one of theirs when turned about the origin and shifted to the goal, or None."""
        cos, sin = math.cos(turn), math.sin(turn)

        def moved(point: Point) -> Point:
            x, y = sub(point, origin)
            return (goal[0] + x * cos - y * sin, goal[1] + x * sin + y * cos)

        centres, patches = self._frame.centres, self._frame.patches
        found: dict[int, int] = {}
        for patch in ours:
            place = moved(centres[patch])
            other = min(theirs, key=lambda other: distance(centres[other], place))
            ring, goal_ring = [moved(point) for point in self.corners(patch)], self.corners(other)
            reach = max(distance(point, goal) for point in ring)
            slack = 4 * SAME_POINT * (1 + reach / max(distance(p, q) for p, q in pairwise(ring)))
            is_same = patches[patch].role == patches[other].role and len(ring) == len(goal_ring)
            if not is_same or any(min(distance(p, q) for q in goal_ring) > slack for p in ring):
                return None
            found[patch] = other
        return found if len(set(found.values())) == len(ours) else None

    def corners(self, patch: int) -> tuple[Point, ...]:
        """A patch's corners, points on a straight side left out, the middles of arcs put in."""
        if patch not in self._corners:
            edges = self._frame.patches[patch].outline.edges
            points: list[Point] = []
            for edge in edges:
                points += [edge.start, edge.middle] if edge.is_arc else [edge.start]
            kept = [
                q
                for p, q, r in zip(points[-1:] + points[:-1], points, points[1:] + points[:1], strict=True)
                if distance_to_segment(q, p, r) > SAME_POINT
            ]
            self._corners[patch] = tuple(kept if len(kept) > 2 else points)
        return self._corners[patch]


def _angle(p: Point, q: Point) -> float:
    return math.atan2(q[1] - p[1], q[0] - p[0])
