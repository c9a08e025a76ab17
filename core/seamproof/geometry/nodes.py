"""Uniting points that are one point, and finding points that lie on edges."""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

from seamproof.geometry.points import cross, distance, dot, sub
from seamproof.tolerance import CHORD, ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry.edges import Edge
    from seamproof.geometry.points import Point

_NEAR = SAME_POINT + ROUND_OFF


def unite(points: Sequence[Point]) -> tuple[list[int], list[Point]]:
    """Unite points nearer than SAME_POINT, chains of them too, and give each its node.

    Union-find over the 3 × 3 cells round each point, so that no two near points are parted by a cell's edge, as
    rounding to a grid would part them. Runs in O(n) for points that do not crowd.

    Returns:
        For each point the number of its node, and for each node its place: the mean of its points.
    """
    parent = list(range(len(points)))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    firsts: dict[Point, int] = {}
    cells: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    for i, point in enumerate(points):
        first = firsts.setdefault(point, i)
        if first != i:
            parent[i] = first
            continue
        x, y = int(point[0] // _NEAR), int(point[1] // _NEAR)
        for cell in [(x + i, y + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]:
            for j in cells.get(cell, ()):
                if distance(points[j], point) <= _NEAR:
                    parent[root(j)] = root(i)
        cells[x, y].append(i)

    numbers: dict[int, int] = {}
    members: list[list[Point]] = []
    node_of = []
    for i, point in enumerate(points):
        number = numbers.setdefault(root(i), len(members))
        if number == len(members):
            members.append([])
        members[number].append(point)
        node_of.append(number)
    return node_of, [_mean(group) for group in members]


def _mean(group: list[Point]) -> Point:
    x0, y0 = group[0]
    count = len(group)
    return (x0 + sum(x - x0 for x, _ in group) / count, y0 + sum(y - y0 for _, y in group) / count)


def nodes_on(edges: Sequence[Edge], places: Sequence[Point]) -> list[list[tuple[float, int]]]:
    """For each edge the places that lie inside it, as (fraction of its length, index), in order along it.

    A place lies on an edge when it is within SAME_POINT of it, and on its inside when it is farther than that from
    both ends.
    """
    import shapely

    found: list[list[tuple[float, int]]] = [[] for _ in edges]
    if not edges or not places:
        return found
    lines = [shapely.LineString(edge.flattened()) for edge in edges]
    tree = shapely.STRtree(shapely.points(places))
    for line, place in tree.query(lines, predicate="dwithin", distance=SAME_POINT + CHORD).T.tolist():
        fraction = _fraction(edges[line], places[place])
        if fraction is not None:
            found[line].append((fraction, place))
    for row in found:
        row.sort()
    return found


def _fraction(edge: Edge, p: Point) -> float | None:
    if distance(p, edge.start) <= _NEAR or distance(p, edge.end) <= _NEAR:
        return None
    if not edge.is_arc:
        direction = sub(edge.end, edge.start)
        t = dot(sub(p, edge.start), direction) / dot(direction, direction)
    else:
        t = arc_fraction(edge, p)
    if not 0 < t < 1 or distance(edge.at(t), p) > _NEAR:
        return None
    return t


def arc_fraction(arc: Edge, p: Point) -> float:
    """How far along an arc's turn the point p lies, seen from the centre; outside 0 … 1 when beyond its ends."""
    centre = arc.centre
    a, b = sub(arc.start, centre), sub(p, centre)
    angle = math.atan2(cross(a, b), dot(a, b))
    sweep = arc.sweep
    rest = math.tau - abs(sweep)
    if sweep > 0:
        angle = angle if angle >= -rest / 2 else angle + math.tau
    else:
        angle = angle if angle <= rest / 2 else angle - math.tau
    return angle / sweep
