"""A block drawn anew so that neither its place, nor its mirror image, nor the list of its patches can be told.

Where a search ends before it has tried everything, what it finds depends on what it tries first. So that the same block
gives the same counts, it is tried in an order that comes from the drawing alone. The map is walked from an edge at a
node: the node's edges are taken in turn round it, then those of the next node reached, and everything met is
written down as numbers: which node an edge leads to, which edge carries it on in line, whether it is an arc, what
lies beside it, whether the corner beside it is sharp, flat or hollow. Of all such walks, from every node of the rarest
kind, either way round, the least writing is taken. *Two blocks with the same least writing are one and the same drawing
to everything that asks no lengths, and the walks carry one onto the other*, so numbering nodes, edges and patches
as they are met gives both the same numbers. Blocks turned, mirrored, scaled, listed otherwise or moved by a hair have
the same walks.

Source: H. Weinberg, A simple and efficient algorithm for determining isomorphism of planar triply connected graphs,
IEEE Transactions on Circuit Theory 13(2), 1966 (codes of walks); the rarest kind of node by colour refinement.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Transform
from seamproof.geometry.planar import OUTSIDE, MapEdge, PlanarMap
from seamproof.geometry.points import cross, distance_to_segment, dot
from seamproof.tolerance import ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

REFINED: Final = 3
"""How many times nodes are told apart by their neighbours before the rarest kind is taken."""

FLAT: Final = 0.02
"""[rad] A corner with an arc is flat when it is so near to half a turn: a hair at the end of a short arc turns it."""


@dataclass(frozen=True)
class Renumbered:
    """A map with its parts numbered by the drawing alone.

    Attributes:
        map: The map, mirrored where that gives the lesser writing.
        nodes: For each of its nodes the one of the map as it was.
        edges: For each of its edges the one of the map as it was.
        patches: For each patch the one as it was.
        flipped: For each edge whether it runs the other way than the edge as it was.
        mirrored: Whether left and right are exchanged.
    """

    map: PlanarMap
    nodes: tuple[int, ...]
    edges: tuple[int, ...]
    patches: tuple[int, ...]
    flipped: tuple[bool, ...]
    mirrored: bool

    @classmethod
    def of(cls, pm: PlanarMap) -> Renumbered:
        """Number a map whose edges hang together."""
        corners = _corners(pm)
        walks = (
            _Walk(pm, corners, node, edge, mirrored=mirrored)
            for node in _rarest(pm, corners)
            for edge in pm.star(node)
            for mirrored in (False, True)
        )
        best = min(walks, key=lambda walk: walk.written)
        nodes, edges, patches = tuple(best.node_number), tuple(best.edge_number), tuple(best.patch_number)
        move = Transform.mirror() if best.mirrored else Transform()
        rows, flipped = [], []
        for index in edges:
            old = pm.edges[index]
            left, right = best.patch_number.get(old.left, OUTSIDE), best.patch_number.get(old.right, OUTSIDE)
            start, end = best.node_number[old.start], best.node_number[old.end]
            edge = move.edge(old.edge)
            if best.mirrored:
                left, right = right, left
            flip = left == OUTSIDE or OUTSIDE != right < left
            if flip:
                left, right, start, end, edge = right, left, end, start, edge.reversed()
            rows.append(MapEdge(start, end, edge, left, right))
            flipped.append(flip)
        places = tuple(move.point(pm.nodes[node]) for node in nodes)
        drawn = PlanarMap(places, tuple(rows), pm.count)
        return cls(drawn, nodes, edges, patches, tuple(flipped), best.mirrored)


class _Walk:
    """A walk over a map from one edge at a node, and what is written down on it."""

    def __init__(
        self, pm: PlanarMap, corners: Sequence[Mapping[int, int]], node: int, edge: int, *, mirrored: bool
    ) -> None:
        self.mirrored = mirrored
        self.node_number = {node: 0}
        self.edge_number: dict[int, int] = {}
        self.patch_number: dict[int, int] = {}
        self.written: list[int] = []
        queue = [(node, edge)]
        for at, entry in queue:
            star = pm.star(at)[::-1] if mirrored else pm.star(at)
            first = star.index(entry)
            star = star[first:] + star[:first]
            self.written.append(len(star))
            for index, after in zip(star, star[1:] + star[:1], strict=True):
                other = pm.other_end(index, at)
                if other not in self.node_number:
                    self.node_number[other] = len(self.node_number)
                    queue.append((other, index))
                self.edge_number.setdefault(index, len(self.edge_number))
                beside = _beside(pm, index, at, on_left=not mirrored)
                if beside != OUTSIDE:
                    self.patch_number.setdefault(beside, len(self.patch_number))
                onward = pm.onward(index, at)
                bulge = pm.leaving(index, at).bulge * (-1 if mirrored else 1)
                self.written += (
                    self.node_number[other],
                    self.edge_number[index],
                    self.patch_number.get(beside, OUTSIDE),
                    -1 if onward is None else star.index(onward),
                    (bulge > 0) - (bulge < 0),
                    corners[at][after if mirrored else index],
                )


def _beside(pm: PlanarMap, index: int, node: int, *, on_left: bool) -> int:
    """The patch on one side of an edge run away from a node."""
    edge = pm.edges[index]
    return edge.left if (edge.start == node) == on_left else edge.right


def _corners(pm: PlanarMap) -> list[dict[int, int]]:
    """For each node and edge the corner from it to the next edge anticlockwise: 0 sharp, 1 flat, 2 hollow."""
    return [
        {index: _corner(pm, node, index, after) for index, after in zip(star, star[1:] + star[:1], strict=True)}
        for node in range(len(pm.nodes))
        for star in [pm.star(node)]
    ]


def _corner(pm: PlanarMap, node: int, e: int, f: int) -> int:
    out, back = pm.leaving(e, node), pm.leaving(f, node)
    a, b = out.direction(0), back.direction(0)
    angle = math.atan2(cross(a, b), dot(a, b)) % math.tau
    straight = not out.is_arc and not back.is_arc and dot(a, b) < 0
    if straight and distance_to_segment(pm.nodes[node], out.end, back.end) <= SAME_POINT + ROUND_OFF:
        return 1
    if (out.is_arc or back.is_arc) and abs(angle - math.pi) <= FLAT:
        return 1
    return 2 if angle > math.pi else 0


def _rarest(pm: PlanarMap, corners: Sequence[Mapping[int, int]]) -> list[int]:
    """The nodes of the rarest kind, kinds told apart by their corners and those of their neighbours."""
    nodes = range(len(pm.nodes))
    kinds: list[int] = _ranked([(pm.is_boundary(node), sorted(corners[node].values())) for node in nodes])
    for _ in range(REFINED):
        around = [sorted(kinds[pm.other_end(index, node)] for index in pm.star(node)) for node in nodes]
        kinds = _ranked([(kinds[node], around[node]) for node in nodes])
    rows: defaultdict[int, list[int]] = defaultdict(list)
    for node in nodes:
        rows[kinds[node]].append(node)
    return min(rows.items(), key=lambda row: (len(row[1]), row[0]))[1]


def _ranked(keys: Sequence[tuple[int, list[int]]]) -> list[int]:
    """Each key's place among the different keys."""
    rows = [(first, tuple(rest)) for first, rest in keys]
    place = {key: number for number, key in enumerate(sorted(set(rows)))}
    return [place[key] for key in rows]
