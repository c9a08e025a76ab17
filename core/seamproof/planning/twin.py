"""Planning a block in the numbering that comes from its drawing alone, and what was planned put back."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.geometry import Transform
from seamproof.planning.canonical import Renumbered
from seamproof.planning.frame import Frame, bits
from seamproof.planning.stages import HardSeam, Stage
from seamproof.planning.trees import Leaf, Pair, Papered, Staged

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.planning.stages import SeamEdge
    from seamproof.planning.trees import Tree


@dataclass(frozen=True)
class Twin:
    """A frame, and the same block renumbered.

    Attributes:
        renumbered: The map of the one in the numbers of the other.
        frame: The renumbered block, mirrored where its map is.
    """

    renumbered: Renumbered
    frame: Frame

    @classmethod
    def of(cls, frame: Frame) -> Twin:
        """The twin of a frame whose patches hang together."""
        found = Renumbered.of(frame.map)
        move = Transform.mirror() if found.mirrored else Transform()
        patches = [frame.patches[index] for index in found.patches]
        moved = tuple(replace(patch, outline=patch.outline.transformed(move)) for patch in patches)
        return cls(found, replace(frame, patches=moved, map=found.map, hard_plans={}, is_renumbered=True))

    @cached_property
    def _number(self) -> dict[int, int]:
        return {old: new for new, old in enumerate(self.renumbered.patches)}

    def to(self, unit: int) -> int:
        """A set of patches in the numbers of the twin."""
        return sum(1 << self._number[patch] for patch in bits(unit))

    def back(self, unit: int) -> int:
        """A set of the twin's patches in the numbers of the frame."""
        return sum(1 << self.renumbered.patches[patch] for patch in bits(unit))

    def _run(self, seam: Iterable[SeamEdge]) -> tuple[SeamEdge, ...]:
        numbers = self.renumbered
        return tuple((numbers.edges[edge], forward != numbers.flipped[edge]) for edge, forward in seam)

    def stage(self, stage: Stage) -> Stage:
        """A stage put back; of two units joined the one with the lowest patch lies on the left."""
        return Stage(tuple(map(self.back, stage.parts)), tuple(map(self._seam, stage.seams)), stage.order)

    def _seam(self, seam: HardSeam) -> HardSeam:
        left, right = self.back(seam.left), self.back(seam.right)
        if self.renumbered.mirrored:
            left, right = right, left
        edges, passes = self._run(seam.edges), tuple(map(self._run, seam.passes))
        pivots = tuple(self.renumbered.nodes[node] for node in seam.pivots)
        if _lowest(left) < _lowest(right):
            return HardSeam(left, right, edges, passes, pivots)
        return HardSeam(right, left, _reversed(edges), tuple(map(_reversed, passes)), pivots[::-1])

    def tree(self, tree: Tree) -> Tree:
        """A tree put back, built from its leaves up."""
        order: list[Tree] = [tree]
        for node in order:
            order += _parts(node)
        done: dict[int, Tree] = {}
        for node in reversed(order):
            done[node.unit] = self._node(node, done)
        return done[tree.unit]

    def _node(self, node: Tree, done: dict[int, Tree]) -> Tree:
        unit = self.back(node.unit)
        if isinstance(node, Pair):
            left, right = done[node.left.unit], done[node.right.unit]
            if self.renumbered.mirrored:
                left, right = right, left
            return Pair(unit, self._run(node.seam), left, right)
        if isinstance(node, Staged):
            return Staged(unit, self.stage(node.stage), tuple(done[part.unit] for part in node.parts))
        assert not isinstance(node, Papered)
        return Leaf(unit)


def _parts(node: Tree) -> tuple[Tree, ...]:
    if isinstance(node, Pair):
        return (node.left, node.right)
    return node.parts if isinstance(node, Staged) else ()


def _lowest(unit: int) -> int:
    return unit & -unit


def _reversed(seam: tuple[SeamEdge, ...]) -> tuple[SeamEdge, ...]:
    return tuple((edge, not forward) for edge, forward in reversed(seam))
