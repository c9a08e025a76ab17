"""The planar map of outlines: nodes, atomic edges with the patch on either side, and runs of edges in line."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, Final

from seamproof.errors import GeometryError
from seamproof.geometry.edges import Edge
from seamproof.geometry.nodes import arc_fraction, nodes_on, unite
from seamproof.geometry.parts import connected
from seamproof.geometry.points import distance, distance_to_segment, dot, sub
from seamproof.tolerance import ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry.outlines import Outline
    from seamproof.geometry.points import Point

OUTSIDE: Final = -1
"""The patch index of whatever is not a patch."""

MANY: Final = 16
"""[edges] Where more meet, they are sorted by direction before they are paired."""


@dataclass(frozen=True, slots=True)
class MapEdge:
    """A stretch of edge with no node inside.

    Attributes:
        start: The node it starts at.
        end: The node it ends at.
        edge: Its geometry from start to end [in].
        left: The index of the patch on its left, or OUTSIDE.
        right: The index of the patch on its right, or OUTSIDE.
    """

    start: int
    end: int
    edge: Edge
    left: int
    right: int

    @property
    def is_inner(self) -> bool:
        """Whether a patch lies on either side: a stretch of seam."""
        return OUTSIDE not in (self.left, self.right)


@dataclass(frozen=True)
class PlanarMap:
    """Nodes and atomic edges of outlines that may share their edges but do not overlap.

    Attributes:
        nodes: The place of each node [in].
        edges: The atomic edges; every inner one stands once, its left patch being the one met first.
        count: How many outlines went in.
    """

    nodes: tuple[Point, ...]
    edges: tuple[MapEdge, ...]
    count: int

    @classmethod
    def of(cls, outlines: Sequence[Outline]) -> PlanarMap:
        """The map of outlines in O(n log n); the index of an outline is its patch index.

        Corners are united within SAME_POINT, and a corner of one outline that lies on an edge of another (a tee)
        parts that edge. Two sides of an edge are recognised by its nodes, and for arcs by their middles too.

        Raises:
            GeometryError: an outline narrower than SAME_POINT, or two outlines on the same side of one edge.
        """
        nodes, rings = _snapped(outlines)
        return cls(tuple(nodes), tuple(_paired(_parted(rings, nodes))), len(outlines))

    @cached_property
    def _stars(self) -> tuple[tuple[int, ...], ...]:
        at: list[list[int]] = [[] for _ in self.nodes]
        for index, edge in enumerate(self.edges):
            at[edge.start].append(index)
            at[edge.end].append(index)
        return tuple(tuple(self._turned(node, row)) for node, row in enumerate(at))

    def _turned(self, node: int, row: list[int]) -> list[int]:
        """Edges at a node by the angle of the point where each leaves one small circle round it."""
        place = self.nodes[node]
        reach = min((self.edges[index].edge.chord for index in row), default=0.0) / 2

        def angle(index: int) -> float:
            edge = self.leaving(index, node)
            if edge.is_arc:
                turn = 2 * math.asin(min(1.0, reach / (2 * edge.radius)))
                x, y = sub(edge.at(turn / abs(edge.sweep)), place)
            else:
                x, y = sub(edge.end, place)
            return math.atan2(y, x)

        return sorted(row, key=angle)

    def star(self, node: int) -> tuple[int, ...]:
        """The edges at a node, as indices, anticlockwise."""
        return self._stars[node]

    def other_end(self, index: int, node: int) -> int:
        """The node at the other end of an edge."""
        edge = self.edges[index]
        return edge.end if edge.start == node else edge.start

    def leaving(self, index: int, node: int) -> Edge:
        """The geometry of an edge, run away from the node."""
        edge = self.edges[index]
        return edge.edge if edge.start == node else edge.edge.reversed()

    @cached_property
    def _boundary(self) -> frozenset[int]:
        return frozenset(node for edge in self.edges if not edge.is_inner for node in (edge.start, edge.end))

    def is_boundary(self, node: int) -> bool:
        """Whether a node lies on the outline of the whole."""
        return node in self._boundary

    @cached_property
    def _in_line(self) -> dict[tuple[int, int], int]:
        """(edge, node) → the edge that carries it on in line beyond the node; only at inner nodes."""
        onward: dict[tuple[int, int], int] = {}
        for node in range(len(self.nodes)):
            if self.is_boundary(node):
                continue
            pairs = []
            leaving = [(index, self.leaving(index, node)) for index in self.star(node)]
            for (e, a), (f, b) in _facing(leaving):
                stray = _stray(a, b)
                if stray <= SAME_POINT + ROUND_OFF:
                    pairs.append((stray, e, f))
            for _, e, f in sorted(pairs):
                if (e, node) not in onward and (f, node) not in onward:
                    onward[e, node], onward[f, node] = f, e
        for run in _chained(self, onward):
            for e, f in _breaks(self, run):
                node = _shared(self.edges[e], self.edges[f])
                del onward[e, node], onward[f, node]
        return onward

    def in_line(self, e: int, f: int, node: int) -> bool:
        """Whether two edges run on through an inner node in one straight line, or smoothly on one circle."""
        return self._in_line.get((e, node)) == f

    def onward(self, e: int, node: int) -> int | None:
        """The edge that carries edge e on in line beyond a node; None where none does, or at the outline."""
        return self._in_line.get((e, node))

    @cached_property
    def runs(self) -> tuple[tuple[int, ...], ...]:
        """Maximal runs of inner edges in line, each as edge indices in order along it."""
        return tuple(tuple(run) for run in _chained(self, self._in_line))

    @cached_property
    def boundary_rings(self) -> tuple[tuple[int, ...], ...]:
        """The rings of nodes round the whole, patches on the left: outer rings anticlockwise, holes clockwise."""
        return tuple(tuple(ring) for ring in _boundary_rings(self))

    @cached_property
    def parts(self) -> tuple[tuple[int, ...], ...]:
        """Patch indices in connected parts; patches that touch at a point only are not connected."""
        beside: dict[int, list[int]] = {patch: [] for patch in range(self.count)}
        for edge in self.edges:
            if edge.is_inner:
                beside[edge.left].append(edge.right)
                beside[edge.right].append(edge.left)
        return tuple(map(tuple, connected(beside)))

    @property
    def holes(self) -> int:
        """How many holes the whole has; a ring that touches itself at a point closes a hole too."""
        pinches = sum(len(ring) - len(set(ring)) for ring in self.boundary_rings)
        return len(self.boundary_rings) - len(self.parts) + pinches


def _snapped(outlines: Sequence[Outline]) -> tuple[list[Point], list[list[tuple[int, int, float]]]]:
    """Every outline as a ring of (node, next node, bulge), edges without length left out."""
    corners = [edge.start for outline in outlines for edge in outline.edges]
    node_of, nodes = unite(corners)
    rings = []
    at = 0
    for number, outline in enumerate(outlines):
        size = len(outline.edges)
        ids = node_of[at : at + size]
        at += size
        ring = [(u, v, edge.bulge) for u, v, edge in zip(ids, ids[1:] + ids[:1], outline.edges, strict=True) if u != v]
        if len(ring) < 2 or (len(ring) == 2 and not any(bulge for _, _, bulge in ring)):
            raise GeometryError(f"outline {number + 1} is narrower than {SAME_POINT} in: it has no area")
        rings.append(ring)
    return nodes, rings


def _parted(rings: list[list[tuple[int, int, float]]], nodes: list[Point]) -> list[tuple[int, int, Edge, int]]:
    """Atomic directed edges (start, end, geometry, patch on the left), tees put in.

    Only an edge that no other outline has the other way round can hold a tee: where both sides have the same edge, a
    corner on it would lie inside a patch or at a flap.
    """
    straight = {(u, v) for ring in rings for u, v, bulge in ring if not bulge}
    whole: list[tuple[int, int, Edge, int]] = []
    open_: list[tuple[int, int, Edge, int]] = []
    for patch, ring in enumerate(rings):
        for u, v, bulge in ring:
            matched = not bulge and (v, u) in straight
            (whole if matched else open_).append((u, v, Edge(nodes[u], nodes[v], bulge), patch))
    ends = sorted({node for u, v, _, _ in open_ for node in (u, v)})
    tees = nodes_on([edge for _, _, edge, _ in open_], [nodes[node] for node in ends])
    for (u, v, edge, patch), found in zip(open_, tees, strict=True):
        stops = [(0.0, u), *((t, ends[i]) for t, i in found), (1.0, v)]
        for (t0, a), (t1, b) in pairwise(stops):
            bulge = math.tan(edge.sweep * (t1 - t0) / 4) if edge.is_arc else 0.0
            whole.append((a, b, Edge(nodes[a], nodes[b], bulge), patch))
    return whole


def _paired(directed: list[tuple[int, int, Edge, int]]) -> Iterator[MapEdge]:
    """Unite the two sides of every edge."""
    table: defaultdict[tuple[int, int], list[tuple[Edge, int]]] = defaultdict(list)
    for start, end, edge, patch in directed:
        table[start, end].append((edge, patch))
    for start, end, edge, patch in sorted(directed, key=lambda row: (row[3], row[0], row[1])):
        same = [other for shape, other in table[start, end] if _is_same(shape, edge)]
        if len(same) > 1:
            raise GeometryError(f"outlines {same[0] + 1} and {same[1] + 1} overlap along {edge.start} → {edge.end}")
        back = [other for shape, other in table.get((end, start), ()) if _is_same(shape, edge)]
        right = back[0] if back else OUTSIDE
        if right == OUTSIDE or patch < right or (patch == right and start < end):
            yield MapEdge(start, end, edge, patch, right)


def _is_same(a: Edge, b: Edge) -> bool:
    """Whether two edges between the same nodes are one, however they run: their middles tell arcs apart."""
    if not a.is_arc and not b.is_arc:
        return True
    return distance(a.middle, b.middle) <= 2 * SAME_POINT


def _facing(leaving: list[tuple[int, Edge]]) -> Iterator[tuple[tuple[int, Edge], tuple[int, Edge]]]:
    """Pairs of the edges that leave one node, among which are all that may be in line; where they are few, all.

    Let two straight edges of lengths p and q make an angle of 180° − d, d under 90°. Their node is p·q·sin d over the
    distance of their far ends off the line of these, and that distance is p + q at the most: at least half the shorter
    times sin d. So what strays by no more than s has sin d at 2·s over the shorter at the most.
    """
    if len(leaving) <= MANY or any(edge.is_arc for _, edge in leaving):
        yield from combinations(leaving, 2)
        return
    least = min(edge.chord for _, edge in leaving)
    reach = math.asin(min(1.0, 2 * (SAME_POINT + ROUND_OFF) / least)) + ROUND_OFF
    ways = [sub(edge.end, edge.start) for _, edge in leaving]
    turned = sorted((math.atan2(y, x), at) for at, (x, y) in enumerate(ways))
    angles = [angle for angle, _ in turned] + [angle + math.tau for angle, _ in turned]
    for angle, at in turned:
        low, high = bisect_left(angles, angle + math.pi - reach), bisect_right(angles, angle + math.pi + reach)
        for place in range(low, high):
            other = turned[place % len(turned)][1]
            if at < other:
                yield leaving[at], leaving[other]


def _stray(back: Edge, out: Edge) -> float:
    """How far [in] two edges that leave one node stray from one line or circle; infinite where on neither."""
    node, a, b = out.start, back.end, out.end
    if back.is_arc != out.is_arc:
        return math.inf
    if not out.is_arc:
        if dot(sub(a, node), sub(b, node)) >= 0:
            return math.inf
        return distance_to_segment(node, a, b)
    if back.bulge * out.bulge >= 0 or dot(back.direction(0), out.direction(0)) >= 0:
        return math.inf
    sweep = out.sweep - back.sweep
    if abs(sweep) >= math.tau:
        return math.inf
    arc = Edge(a, b, math.tan(sweep / 4))
    return max(distance(arc.at(arc_fraction(arc, p)), p) for p in (back.middle, node, out.middle))


def _chained(pm: PlanarMap, onward: dict[tuple[int, int], int]) -> list[list[int]]:
    """Inner edges chained by `onward` into runs, each from one end to the other."""
    runs = []
    done: set[int] = set()
    for index, edge in enumerate(pm.edges):
        if index in done or not edge.is_inner:
            continue
        first, node = index, edge.start
        while (before := onward.get((first, node))) is not None and before != index:
            first, node = before, pm.other_end(before, node)
        run, node = [first], pm.other_end(first, node)
        while (after := onward.get((run[-1], node))) is not None and after != first:
            run.append(after)
            node = pm.other_end(after, node)
        done.update(run)
        runs.append(run)
    return runs


def _breaks(pm: PlanarMap, run: list[int]) -> list[tuple[int, int]]:
    """Where a straight run bends after all: pairs of edges at nodes that stray from its chord, farthest first."""
    if len(run) < 3 or pm.edges[run[0]].edge.is_arc:
        return []
    inner = [_shared(pm.edges[e], pm.edges[f]) for e, f in pairwise(run)]
    a = pm.nodes[pm.other_end(run[0], inner[0])]
    b = pm.nodes[pm.other_end(run[-1], inner[-1])]
    stray, at = max((distance_to_segment(pm.nodes[node], a, b), i) for i, node in enumerate(inner))
    if stray <= SAME_POINT + ROUND_OFF:
        return []
    return [*_breaks(pm, run[: at + 1]), (run[at], run[at + 1]), *_breaks(pm, run[at + 1 :])]


def _shared(e: MapEdge, f: MapEdge) -> int:
    return e.start if e.start in {f.start, f.end} else e.end


def _boundary_rings(pm: PlanarMap) -> Iterator[list[int]]:
    """Walk the outline with the patches on the left, turning at a pinch so as to stay with the same patches."""
    rest = {index for index, edge in enumerate(pm.edges) if not edge.is_inner}
    while rest:
        first = min(rest)
        index, ring = first, []
        while index in rest:
            rest.remove(index)
            edge = pm.edges[index]
            ring.append(edge.start)
            star = pm.star(edge.end)
            at = star.index(index)
            turned = (star[at - 1 - step] for step in range(len(star)))
            index = next(e for e in turned if not pm.edges[e].is_inner and pm.edges[e].start == edge.end)
        yield ring
