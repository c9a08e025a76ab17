"""A construction seen for pressing: which seam lies where, and where seams meet across joins."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import dot
from seamproof.planning.meetings import crossings
from seamproof.sequence.construction import laid_name
from seamproof.sequence.owners import added_patches
from seamproof.sequence.pressing import Meeting, PressedSeam

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from seamproof.geometry import Edge
    from seamproof.geometry.planar import PlanarMap
    from seamproof.sequence import Construction
    from seamproof.sequence.owners import Owner
    from seamproof.sequence.pressing import Toward

SHOWS: Final = 10.0
"""[L*] A cloth darker than its neighbour by more shows through it. Common practice (darker shows), the figure ours."""


@dataclass(frozen=True)
class Pair:
    """Two edges that leave a node on either side of a join's path, each with the patch on its forward side."""

    node: int
    join: str
    left: tuple[int, int]
    right: tuple[int, int]


@dataclass(frozen=True, eq=False)
class View:
    """The planar map of a block, the seam each stretch belongs to, and the lightness of each patch's cloth."""

    pm: PlanarMap
    ids: tuple[str, ...]
    construction: Construction
    owner: dict[int, Owner]
    lightness: Mapping[str, float]

    def pairs(self) -> Iterator[Pair]:
        """Every meeting, with the patch on the same side along the join of each of its two seams.

        A unit that is laid on a foundation meets what lies there as two units meet in a join.
        """
        construction = self.construction
        names = (*(join.label for join in construction.joins), *map(laid_name, construction.laid))
        for crossing in crossings(self.pm, self.owner, names):
            e, f, node = crossing.left, crossing.right, crossing.node
            # Seen from the node, what is clockwise of e and what is anticlockwise of f lie the same way along the join.
            yield Pair(node, crossing.join, (e, self._side(e, node, left=False)), (f, self._side(f, node, left=True)))

    def _side(self, index: int, node: int, *, left: bool) -> int:
        edge = self.pm.edges[index]
        return edge.left if (edge.start == node) == left else edge.right

    def is_toward(self, edge: int, patch: int, toward: Mapping[str, Toward]) -> bool:
        """Whether the allowances of a stretch of seam lie under a patch beside it."""
        owner = self.owner[edge]
        if owner not in toward:
            return self.is_added(owner, patch)
        if toward[owner] == "open":
            return False
        return (toward[owner] == "left") == self.is_first(owner, patch)

    def is_added(self, owner: Owner, patch: int) -> bool:
        """Whether a patch is what a foundation's seam adds, or belongs to the unit that it adds."""
        return self.ids[patch] in added_patches(self.construction, owner)

    def is_first(self, label: str, patch: int) -> bool:
        """Whether a patch belongs to the first unit of a join, on the left of its seam."""
        return self.ids[patch] in self._firsts[label]

    @cached_property
    def _firsts(self) -> dict[str, frozenset[str]]:
        return {join.label: frozenset(self.construction.patches_of(join.first)) for join in self.construction.joins}

    def meeting(self, pair: Pair, toward: Mapping[str, Toward]) -> Meeting:
        """What comes of a meeting under a plan."""
        (e, p), (f, q) = pair.left, pair.right
        is_open = "open" in {toward.get(self.owner[e]), toward.get(self.owner[f])}
        nests = is_open or self.is_toward(e, p, toward) != self.is_toward(f, q, toward)
        spins = nests and not is_open and len(self.pm.star(pair.node)) == 4 and toward.get(pair.join, "open") != "open"
        return Meeting(self.pm.nodes[pair.node], pair.join, nests, spins)

    @cached_property
    def contrast(self) -> dict[Owner, float]:
        """For each join how much lighter its left side is than its right, by length [L*·in]; 0 where nothing shows."""
        tally: dict[Owner, float] = {}
        lengths: dict[Owner, float] = {}
        for index, owner in self.owner.items():
            edge = self.pm.edges[index]
            light, dark = (self.lightness.get(self.ids[patch], 0.0) for patch in (edge.left, edge.right))
            gap = light - dark if self._left_is_first(owner, edge.left) else dark - light
            tally[owner] = tally.get(owner, 0.0) + gap * edge.edge.length
            lengths[owner] = lengths.get(owner, 0.0) + edge.edge.length
        return {owner: gap if abs(gap) > SHOWS * lengths[owner] else 0.0 for owner, gap in tally.items()}

    def _left_is_first(self, owner: Owner, patch: int) -> bool:
        if owner.startswith("J"):
            return self.is_first(owner, patch)
        return self.is_added(owner, patch)

    def pressed(self, toward: Mapping[str, Toward]) -> Iterator[PressedSeam]:
        """Every seam in sewing order, the new patch of a foundation on the left of its seam or wherever it lies."""
        for step in self.construction.steps:
            if step.kind == "add" and step.name is not None:
                is_dark = self.contrast.get(step.name, 0.0) > 0
                side = self._new_side(step.name, step.seam)
                yield PressedSeam(step.seam, side, patch=step.patch, dark=is_dark, unit=step.unit)
        for join in self.construction.joins:
            way, gap = toward[join.label], self.contrast.get(join.label, 0.0)
            is_dark = (way == "left" and gap > 0) or (way == "right" and gap < 0)
            yield PressedSeam(join.seam, way, join=join.label, dark=is_dark)

    @cached_property
    def _one_edge(self) -> dict[Owner, int]:
        return {owner: index for index, owner in self.owner.items()}

    def _new_side(self, owner: Owner, seam: tuple[Edge, ...]) -> Toward:
        """On which side of its seam a foundation's new patch or unit lies."""
        edge = self.pm.edges[self._one_edge[owner]]
        is_left = self.is_added(owner, edge.left)
        way = edge.edge.direction(0.5) if is_left else edge.edge.reversed().direction(0.5)
        return "left" if dot(way, seam[0].direction(0.5)) > 0 else "right"
