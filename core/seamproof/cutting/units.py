"""The units of a construction as shapes: their outlines, and which seam lies where."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from seamproof.geometry import Edge, Outline
from seamproof.geometry.nodes import arc_fraction
from seamproof.geometry.planar import OUTSIDE, PlanarMap
from seamproof.geometry.points import cross, distance, distance_to_segment, dot, sub
from seamproof.sequence.construction import laid_name
from seamproof.sequence.owners import owners
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.geometry.planar import MapEdge
    from seamproof.sequence import Construction


@dataclass(frozen=True)
class Units:
    """A block and its construction, with the planar map of its patches.

    A *leaf* is a unit that is not joined of others: a foundation, or a loose patch.
    """

    block: Block
    construction: Construction

    @cached_property
    def map(self) -> PlanarMap:
        """The planar map of the patches; a patch's index is its place in the block."""
        return PlanarMap.of([patch.outline for patch in self.block.patches])

    @cached_property
    def _index(self) -> dict[str, int]:
        return {patch: number for number, patch in enumerate(self.block.ids)}

    @cached_property
    def _patches(self) -> dict[str, frozenset[int]]:
        return {}

    @cached_property
    def leaf_of(self) -> Mapping[int, str]:
        """The label of the leaf that each patch, by index, is sewn on first."""
        leaves = {self._index[patch]: patch for patch in self.construction.loose}
        for foundation in self.construction.foundations:
            leaves |= {self._index[patch]: foundation.label for patch in foundation.order if patch in self._index}
        return leaves

    def leaf(self, patch: int, label: str) -> str:
        """The leaf of a unit that holds one of its patches: where units are laid on foundations, the outermost."""
        if not self.construction.laid:
            return self.leaf_of[patch]
        joins = {join.label: join for join in self.construction.joins}
        while label in joins:
            join = joins[label]
            label = join.first if patch in self.patches(join.first) else join.second
        return label

    def patches(self, label: str) -> frozenset[int]:
        """The patches of a unit, as indices. Raises KeyError where no unit has this label."""
        if label not in self._patches:
            self._patches[label] = frozenset(self._index[patch] for patch in self.construction.patches_of(label))
        return self._patches[label]

    @cached_property
    def matched(self) -> tuple[tuple[str, tuple[Edge, ...], tuple[str, str]], ...]:
        """Every seam at which finished edges are matched: its name, itself, and the labels of what is on its sides.

        Joins come in their order, then the seams by which units are laid on foundations, the unit named first.
        """
        construction = self.construction
        joins = [(join.label, join.seam, (join.first, join.second)) for join in construction.joins]
        laid = [
            (laid_name(step.unit), step.seam, (step.unit, step.foundation))
            for step in construction.steps
            if step.unit and step.foundation
        ]
        return (*joins, *laid)

    @cached_property
    def join_edges(self) -> Mapping[str, tuple[int, ...]]:
        """For each join, and each unit laid on a foundation, the edges of the map that are sewn in it."""
        found: dict[str, list[int]] = {name: [] for name, _, _ in self.matched}
        for edge, owner in sorted(owners(self.map, self.block.ids, self.construction).items()):
            if owner in found:
                found[owner].append(edge)
        return {label: tuple(edges) for label, edges in found.items()}

    @cached_property
    def _outlines(self) -> dict[str, Outline]:
        return {}

    def outline(self, label: str) -> Outline:
        """The finished outline of a unit, edges in line made one; of a unit with a hole its outer ring."""
        if label not in self._outlines:
            rings = [Outline(tuple(merged(ring))) for ring in _rings(self.map, self.patches(label))]
            self._outlines[label] = max(rings, key=lambda ring: ring.area)
        return self._outlines[label]

    def sectors(self, node: int) -> list[tuple[int, float]]:
        """What meets at a node: (patch index or OUTSIDE, its angle there [rad]), anticlockwise."""
        leaving = [(edge, self.map.leaving(edge, node).direction(0)) for edge in self.map.star(node)]
        found = []
        for (index, d), (_, e) in zip(leaving, leaving[1:] + leaving[:1], strict=True):
            edge = self.map.edges[index]
            turn = math.atan2(cross(d, e), dot(d, e)) % math.tau
            found.append((edge.left if edge.start == node else edge.right, turn))
        return found

    def nearest(self, nodes: Iterable[int], place: Point) -> int:
        """Which of these nodes is nearest to a place."""
        return min(nodes, key=lambda node: distance(self.map.nodes[node], place))


def _rings(pm: PlanarMap, patches: frozenset[int]) -> Iterator[list[Edge]]:
    """The rings round a set of patches, run with the patches on the left."""
    after: dict[int, list[tuple[int, Edge, int]]] = {}
    for index, edge in enumerate(pm.edges):
        step = _bounding(edge, patches)
        if step:
            start, shape, end = step
            after.setdefault(start, []).append((index, shape, end))
    while after:
        node, ring, came = min(after), [], None
        while node in after:
            rows = after[node]
            at = 0 if len(rows) == 1 or came is None else _sharpest(pm, node, came, [row[0] for row in rows])
            came, shape, end = rows.pop(at)
            if not rows:
                del after[node]
            ring.append(shape)
            node = end
        yield ring


def _bounding(edge: MapEdge, patches: frozenset[int]) -> tuple[int, Edge, int] | None:
    if edge.left in patches and edge.right not in patches:
        return edge.start, edge.edge, edge.end
    if edge.right != OUTSIDE and edge.right in patches and edge.left not in patches:
        return edge.end, edge.edge.reversed(), edge.start
    return None


def _sharpest(pm: PlanarMap, node: int, came: int, choices: list[int]) -> int:
    """Where a ring touches itself: the way on that stays with the same patches, next round the node clockwise."""
    star = pm.star(node)
    at = star.index(came)
    turned = [star[at - 1 - step] for step in range(len(star))]
    return choices.index(next(edge for edge in turned if edge in choices))


def merged(ring: list[Edge]) -> list[Edge]:
    """A ring of edges, or a path of them, with those in one line, or on one circle, made one."""
    first = next((i for i in range(len(ring)) if _one(ring[i - 1 : i] or ring[-1:], ring[i]) is None), 0)
    runs: list[list[Edge]] = []
    for edge in ring[first:] + ring[:first]:
        if runs and _one(runs[-1], edge) is not None:
            runs[-1].append(edge)
        else:
            runs.append([edge])
    return [_one(run[:-1], run[-1]) or run[0] for run in runs]


def _one(run: list[Edge], edge: Edge) -> Edge | None:
    """The one edge that a run and the edge after it make, if they are in line within SAME_POINT at every point."""
    if not run:
        return edge
    is_parted = distance(run[-1].end, edge.start) > 2 * SAME_POINT  # where a path does not close
    if is_parted or any(a.is_arc != edge.is_arc or a.bulge * edge.bulge < 0 for a in run):
        return None
    if any(dot(a.direction(1), b.direction(0)) <= 0 for a, b in pairwise([*run, edge])):
        return None
    start, end = run[0].start, edge.end
    inner = [a.end for a in run]
    if not edge.is_arc:
        strays = any(distance_to_segment(p, start, end) > SAME_POINT for p in inner)
        return None if strays or dot(sub(end, start), edge.direction(0)) <= 0 else Edge(start, end)
    sweep = sum(a.sweep for a in run) + edge.sweep
    if abs(sweep) >= math.tau * 0.75:
        return None
    arc = Edge(start, end, math.tan(sweep / 4))
    points = [*inner, *(a.middle for a in run), edge.middle]
    return arc if all(distance(arc.at(arc_fraction(arc, p)), p) <= SAME_POINT for p in points) else None
