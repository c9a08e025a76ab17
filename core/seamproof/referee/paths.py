"""Stretches chained into a path, and whether a path runs on in line or along another path."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from seamproof.geometry import Edge
from seamproof.geometry.points import distance
from seamproof.referee.touching import NEAR, fraction, off

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from seamproof.referee.touching import Touch


def chained(touches: Collection[Touch]) -> tuple[Touch, ...] | None:
    """The touches in order, each starting at the node where the last one ends; None where they are not one path.

    A ring is not a path, nor is a path that passes a node twice.
    """
    by_start = {touch.start: touch for touch in touches}
    ends = {touch.end for touch in touches}
    heads = [touch for touch in touches if touch.start not in ends]
    if len(heads) != 1 or len(by_start) != len(touches) or len(ends) != len(touches):
        return None
    path = [heads[0]]
    while path[-1].end in by_start:
        path.append(by_start[path[-1].end])
    return tuple(path) if len(path) == len(touches) else None


def merged(path: Sequence[Edge]) -> Edge | None:
    """The one line or arc from the start of a path to its end, or None where the path is not all on it.

    In line means that every end and middle along the path lies within NEAR of the chord (or of the one arc that
    turns as far as all its parts); an angle is never looked at.
    """
    start, end = path[0].start, path[-1].end
    if distance(start, end) <= NEAR:
        return None
    quarter = sum(math.atan(edge.bulge) for edge in path)
    if abs(quarter) >= math.pi / 2 - NEAR:
        return None
    whole = Edge(start, end, math.tan(quarter))
    points = [point for edge in path for point in (edge.middle, edge.end)]
    return whole if all(off(whole, p) <= NEAR for p in points) else None


def is_same_path(path: Sequence[Edge], other: Sequence[Edge]) -> bool:
    """Whether two paths run along the same places, however each is parted into edges.

    Both are walked at once. The nearer of the two next ends must lie on the other path's edge, ahead of where the
    walk stands; so each step proves one stretch common to both, and the walk ends at the end of both.
    """
    if not path or not other or distance(path[0].start, other[0].start) > NEAR:
        return False
    i = j = 0
    at = path[0].start
    while i < len(path) and j < len(other):
        a, b = path[i], other[j]
        is_both = distance(a.end, b.end) <= NEAR
        is_first = is_both or off(b, a.end) <= NEAR
        stop, mate = (a, b) if is_first else (b, a)
        if not is_both and off(mate, stop.end) > NEAR:
            return False
        part = stop.part(min(1.0, max(0.0, fraction(stop, at))), 1.0)
        ahead = fraction(mate, stop.end) - fraction(mate, at)
        if part.chord <= NEAR or ahead <= 0 or off(mate, part.middle) > NEAR:
            return False
        at = stop.end
        i += is_both or is_first
        j += is_both or not is_first
    return i == len(path) and j == len(other)


def reversed_path(path: Sequence[Edge]) -> tuple[Edge, ...]:
    """The path run the other way."""
    return tuple(edge.reversed() for edge in reversed(path))


def is_connected(path: Sequence[Edge]) -> bool:
    """Whether each edge starts where the last one ended."""
    return all(distance(a.end, b.start) <= NEAR for a, b in pairwise(path))
