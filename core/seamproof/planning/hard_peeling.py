"""A construction of any unit by taking patches off one at a time, with no claim that none is better."""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from seamproof.errors import NotSewable
from seamproof.planning.hard_order import Option

if TYPE_CHECKING:
    from seamproof.planning.hard_region import Region


@dataclass
class Peeling:
    """What is left of a region while patches are taken off, the last sewn first.

    A patch can be taken off when what it shares with the others is one stretch that touches their outline at its two
    ends only: what is left then hangs together and has no hole. *A unit without holes always has such a patch.* A
    patch with an edge on the outline that cannot be taken off parts the others into pieces that touch one another at
    points at most. Of all such pieces, of all such patches, let D (cut off by P) be one of the fewest patches, and Q a
    patch of D with an edge on the outline. Q can be taken off: otherwise it parts the others into pieces, one of which
    holds P and all beyond it, and another would be a smaller piece than D.
    """

    region: Region
    left: set[int] = field(init=False)
    choice: dict[int, Option] = field(default_factory=dict)
    _sides: dict[int, list[int]] = field(init=False)
    _border: dict[int, int] = field(init=False)

    def __post_init__(self) -> None:
        region = self.region
        self.left = set(region.patches)
        self._sides = {patch: [] for patch in sorted(region.patches)}
        for index in (*region.edges, *region.border):
            edge = region.pm.edges[index]
            for patch in (edge.left, edge.right):
                if region.has(patch):
                    self._sides[patch].append(index)
        self._border = {}
        for index in region.border:
            for node in region.ends(index):
                self._border[node] = self._border.get(node, 0) + 1

    def seam(self, patch: int) -> tuple[list[int], list[int]] | None:
        """The edges and nodes of the stretch along which a patch can be taken off; None where it cannot."""
        pm = self.region.pm
        at: dict[int, list[int]] = {}
        shared = [i for i in self._sides[patch] if pm.edges[i].left in self.left and pm.edges[i].right in self.left]
        for index in shared:
            for node in self.region.ends(index):
                at.setdefault(node, []).append(index)
        ends = [node for node, row in at.items() if len(row) == 1]
        if len(ends) != 2 or any(node in self._border for node, row in at.items() if len(row) > 1):
            return None
        edges, nodes = [at[ends[0]][0]], [ends[0]]
        nodes.append(pm.other_end(edges[0], nodes[0]))
        while len(at[nodes[-1]]) > 1:
            before, after = at[nodes[-1]]
            edges.append(after if before == edges[-1] else before)
            nodes.append(pm.other_end(edges[-1], nodes[-1]))
        return (edges, nodes) if len(edges) == len(shared) else None

    def excess(self, edges: list[int], nodes: list[int]) -> int:
        """How many pivots a seam makes at nodes where another choice makes none."""
        pm = self.region.pm
        return sum(
            not pm.in_line(edges[i], edges[i + 1], node)
            and any(pm.onward(edge, node) is not None for edge in self.region.star(node))
            for i, node in enumerate(nodes[1:-1])
        )

    def take(self, patch: int, edges: list[int], nodes: list[int]) -> None:
        """Take a patch off along its seam, which fixes what is sewn last at the nodes inside it."""
        pm = self.region.pm
        for i, node in enumerate(nodes[1:-1]):
            e, f = edges[i], edges[i + 1]
            self.choice[node] = Option(e, f, is_pivot=not pm.in_line(e, f, node))
        self.left.remove(patch)
        for index in self._sides[patch]:
            step = 1 if index in edges else -1
            for node in self.region.ends(index):
                self._border[node] = self._border.get(node, 0) + step
                if not self._border[node]:
                    del self._border[node]

    def beside(self, patch: int) -> list[int]:
        """The patches left that touch one, if only at a point."""
        pm = self.region.pm
        found: dict[int, None] = {}
        for index in self._sides[patch]:
            for node in self.region.ends(index):
                for other in pm.star(node):
                    found |= dict.fromkeys((pm.edges[other].left, pm.edges[other].right))
        return [other for other in found if other in self.left]

    def run(self) -> dict[int, Option]:
        """Take everything apart, fewest needless pivots first, then the patch nearest the outline.

        Raises:
            NotSewable: the region does not hang together, or has a hole.
        """
        depth = self._depths()
        queue: list[tuple[int, int, int]] = []

        def offer(patch: int) -> None:
            found = self.seam(patch)
            if found:
                heapq.heappush(queue, (self.excess(*found), depth[patch], patch))

        for patch in self._sides:
            offer(patch)
        while queue:
            cost, _, patch = heapq.heappop(queue)
            found = self.seam(patch) if patch in self.left else None
            if found is None or self.excess(*found) != cost:
                continue
            near = self.beside(patch)
            self.take(patch, *found)
            for other in near:
                if other != patch:
                    offer(other)
        if len(self.left) > 1:
            raise NotSewable(
                f"{len(self.left)} patches hang together round a hole or at a point only: they cannot be sewn",
                reason="holes",
            )
        return self.choice

    def _depths(self) -> dict[int, int]:
        """How many patches lie between each patch and the outline."""
        outline = set(self.region.border)
        depth = {patch: 0 for patch, row in self._sides.items() if not outline.isdisjoint(row)}
        row = list(depth)
        for patch in row:
            for index in self._sides[patch]:
                edge = self.region.pm.edges[index]
                other = edge.right if edge.left == patch else edge.left
                if other not in depth and other in self._sides:
                    depth[other] = depth[patch] + 1
                    row.append(other)
        return depth
