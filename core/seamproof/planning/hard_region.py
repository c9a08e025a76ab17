"""A connected set of patches seen as a block of its own, for the search of hard seams."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.geometry.parts import connected
from seamproof.geometry.planar import OUTSIDE
from seamproof.geometry.points import cross, distance_to_segment, dot
from seamproof.tolerance import ROUND_OFF, SAME_POINT, UNIT_VECTOR

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.geometry import Point
    from seamproof.geometry.planar import PlanarMap


@dataclass(frozen=True)
class Region:
    """Patches of a planar map; everything else is outside.

    Attributes:
        pm: The map of the whole block.
        patches: The indices of the patches in it.
        pool: Edges among which all of its own are found.
    """

    pm: PlanarMap
    patches: frozenset[int]
    pool: Sequence[int] = field(repr=False, compare=False)

    @classmethod
    def of(cls, pm: PlanarMap, patches: Iterable[int] | None = None) -> Region:
        """The region of these patches; None: all of them."""
        return cls(pm, frozenset(range(pm.count) if patches is None else patches), range(len(pm.edges)))

    def part(self, patches: Iterable[int]) -> Region:
        """The region of some of its patches."""
        return Region(self.pm, frozenset(patches), (*self.edges, *self.border))

    def has(self, patch: int) -> bool:
        """Whether a patch belongs to it."""
        return patch != OUTSIDE and patch in self.patches

    @cached_property
    def _rows(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        inner, border = [], []
        for index in self.pool:
            edge = self.pm.edges[index]
            left, right = edge.left in self.patches, edge.right in self.patches
            if left and right:
                inner.append(index)
            elif left or right:
                border.append(index)
        return tuple(inner), tuple(border)

    @property
    def edges(self) -> tuple[int, ...]:
        """Its inner edges: a patch of it on either side."""
        return self._rows[0]

    @property
    def border(self) -> tuple[int, ...]:
        """The edges of its outline."""
        return self._rows[1]

    @cached_property
    def border_nodes(self) -> frozenset[int]:
        """The nodes on its outline."""
        return frozenset(node for index in self.border for node in self.ends(index))

    @cached_property
    def nodes(self) -> tuple[int, ...]:
        """Its inner nodes: those with cloth of its own all round."""
        found = {node for index in self.edges for node in self.ends(index)}
        return tuple(sorted(found - self.border_nodes))

    @cached_property
    def _stars(self) -> dict[int, tuple[int, ...]]:
        inner = set(self.edges)
        at = dict.fromkeys(node for index in self.edges for node in self.ends(index))
        stars = {node: [e for e in self.pm.star(node) if e in inner] for node in at}
        return {
            node: (*star[first:], *star[:first]) for node, star in stars.items() for first in [star.index(min(star))]
        }

    def star(self, node: int) -> tuple[int, ...]:
        """Its inner edges at a node, anticlockwise from the lowest."""
        return self._stars.get(node, ())

    def ends(self, index: int) -> tuple[int, int]:
        """The nodes an edge runs between."""
        edge = self.pm.edges[index]
        return edge.start, edge.end

    @cached_property
    def is_disc(self) -> bool:
        """Whether it hangs together by shared edges and has no hole, nor touches itself at a point.

        With the nodes it touches twice counted once, nodes − edges + patches is 1 for a disc and less with each hole.
        """
        nodes = {node for index in (*self.edges, *self.border) for node in self.ends(index)}
        euler = len(nodes) - len(self.edges) - len(self.border) + len(self.patches)
        return euler == 1 and len(self.parted(())) == 1

    def parted(self, cut: Iterable[int]) -> list[frozenset[int]]:
        """The sets of patches that hang together when these edges are not sewn, by their lowest patch."""
        return self.joined(set(self.edges) - set(cut))

    def joined(self, sewn: Iterable[int]) -> list[frozenset[int]]:
        """The sets of patches that hang together by these edges alone, by their lowest patch."""
        beside: dict[int, list[int]] = {patch: [] for patch in self.patches}
        for index in sewn:
            edge = self.pm.edges[index]
            beside[edge.left].append(edge.right)
            beside[edge.right].append(edge.left)
        return list(map(frozenset, connected(beside)))

    def stop(self, index: int, node: int) -> tuple[int, ...] | None:
        """What makes a seam that ends with this edge at a node of the block's outline stop dead there.

        Prolonged in a straight line past the node, the seam enters the cloth between two other edges there if every
        edge up to that place is sewn already. Those edges are returned (none of them: it always stops dead); None
        where the prolongation leaves the cloth, so that the seam may always run on to the cut line.
        """
        return self.crossed(index, node) if self.pm.is_boundary(node) else None

    def crossed(self, index: int, node: int) -> tuple[int, ...] | None:
        """The edges at a node between one of them and its prolongation into the region's cloth; None: not into it."""
        star = self.pm.star(node)
        at = star.index(index)
        onward = [star[(at + step) % len(star)] for step in range(1, len(star))]
        left = self._crossed(index, node, onward, turn=1)
        return left if left is not None else self._crossed(index, node, onward[::-1], turn=-1)

    def _crossed(self, index: int, node: int, others: Sequence[int], turn: int) -> tuple[int, ...] | None:
        """Edges met on the way round a node to the prolongation of one; None where the cloth ends before it."""
        crossed: list[int] = []
        before = index
        for other in others:
            start_is_here = self.pm.edges[before].start == node
            left, right = self.pm.edges[before].left, self.pm.edges[before].right
            sector = left if start_is_here == (turn > 0) else right
            if not self.has(sector):
                return None
            if self._is_past(index, other, node, turn):
                return tuple(crossed)
            crossed.append(other)
            before = other
        return None

    def _is_past(self, index: int, other: int, node: int, turn: int) -> bool:
        """Whether the way round from one edge to another at a node turns through more than half a circle."""
        pm = self.pm
        out, back = pm.leaving(index, node), pm.leaving(other, node)
        if not out.is_arc and not back.is_arc:
            stray = distance_to_segment(pm.nodes[node], out.end, back.end)
            if stray <= SAME_POINT + ROUND_OFF:
                return False
        angle = _turn(out.direction(0), back.direction(0), turn)
        return angle > math.pi + UNIT_VECTOR


def _turn(a: Point, b: Point, turn: int) -> float:
    """The angle [rad] from one direction round to another, anticlockwise for turn 1, clockwise for −1."""
    return math.atan2(turn * cross(a, b), dot(a, b)) % math.tau
