"""Sewing from rotary-cut pieces: a tree of seams that a person would choose.

Every patch is cut plain. A unit is parted by a cut square to its outline, where there is one, into two of one shape,
where that can be, else by its longest cut, else into the most even halves: so long seams come last, rows or quadrants
before them, and few edges are on the bias. Units of one shape are all parted alike, to be made together one stage
after the other.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from seamproof.geometry.planar import OUTSIDE
from seamproof.geometry.points import distance, dot
from seamproof.planning.assemble import sewing_order
from seamproof.planning.cuts import cuts_of, seam_between
from seamproof.planning.order import Peel, peel
from seamproof.planning.shapes import Shapes
from seamproof.planning.stuck import part_stuck
from seamproof.planning.trees import Leaf, Pair, Staged

if TYPE_CHECKING:
    from seamproof.planning.cuts import Cut
    from seamproof.planning.frame import Frame
    from seamproof.planning.stages import Stage
    from seamproof.planning.trees import Tree

LARGE: Final = 200
"""From so many patches on lone ones are taken off all at once, which spares looking at every cut for each of them."""

SAME_LENGTH: Final = 0.99
"""[1] A cut at least so long, as a part of the longest, counts as long as the longest."""

SQUARE: Final = 0.02
"""[1] Directions whose cosine is less count as square to one another: within about one degree."""


@dataclass(frozen=True)
class _Split:
    """How a unit is parted: along a run, or by a stage; lone patches (patch, run) before."""

    parts: tuple[int, ...]
    run: int = -1
    stage: Stage | None = None
    peeled: tuple[tuple[int, int], ...] = ()


@dataclass
class Piecing:
    """The tree of a block to be pieced."""

    frame: Frame
    shapes: Shapes = field(init=False)
    _models: dict[int, tuple[int, int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.shapes = Shapes(self.frame)

    def nodes(self) -> list[Tree]:
        """All units of the block, each after what it is made of: by stages, those of one shape one after the other.

        Raises:
            NotSewable: no seam serves.
        """
        order = sewing_order(self._tree(self.frame.all))
        height: dict[int, int] = {}
        for node in order:
            below = (
                (node.left, node.right) if isinstance(node, Pair) else node.parts if isinstance(node, Staged) else ()
            )
            height[node.unit] = 1 + max((height[part.unit] for part in below), default=-1)
        return sorted(order, key=lambda node: (height[node.unit], self.shapes.class_of(node.unit)))

    def _tree(self, unit: int) -> Tree:
        """Part a unit from the top down, then build the tree from its leaves."""
        splits: dict[int, _Split] = {}
        stack = [unit]
        while stack:
            part = stack.pop()
            if part & (part - 1):
                splits[part] = self._split(part)
                stack += splits[part].parts
        trees: dict[int, Tree] = {}
        for part, split in reversed(splits.items()):
            below = tuple(trees.get(small) or Leaf(small) for small in split.parts)
            whole: Tree
            if split.stage is not None:
                whole = Staged(sum(split.parts), split.stage, below)
            elif split.run >= 0:
                left, right = below
                whole = Pair(sum(split.parts), self._seam(split.run, left, right), left, right)
            else:
                (whole,) = below
            for patch, run in reversed(split.peeled):
                lone = Leaf(1 << patch)
                whole = Pair(whole.unit | lone.unit, self._seam(run, whole, lone), whole, lone)
            trees[part] = whole
        return trees.get(unit) or Leaf(unit)

    def _seam(self, run: int, left: Tree, right: Tree) -> tuple[tuple[int, bool], ...]:
        return seam_between(self.frame, run, left.unit, right.unit)

    def _split(self, unit: int) -> _Split:
        if unit.bit_count() > LARGE:
            found = peel(self.frame, unit)
            if found.order:
                return _Split((found.core,), peeled=found.order)
        cuts = list(cuts_of(self.frame, unit))
        if not cuts:
            stage, parts, peeled = next(part_stuck(self.frame, unit, Peel((), unit)))
            return _Split(parts, stage=stage, peeled=peeled)
        kind = self.shapes.class_of(unit)
        if kind in self._models:
            wanted = self._like_model(unit, *self._models[kind])
            cut = next((cut for cut in cuts if cut.left in wanted), None)
            if cut is not None:
                return _Split((cut.left, cut.right), cut.run)
        cut = self._choose(cuts)
        self._models[kind] = (unit, cut.left)
        return _Split((cut.left, cut.right), cut.run)

    def _like_model(self, unit: int, model: int, left: int) -> tuple[int, int]:
        """The two parts of a unit that lie as those of the first unit of its shape do."""
        match = self.shapes.match(model, unit) or {}
        part = sum(1 << other for patch, other in match.items() if left >> patch & 1)
        return (part, unit & ~part)

    def _choose(self, cuts: list[Cut]) -> Cut:
        lengths = {cut: self._length(cut) for cut in cuts}
        longest = max(lengths.values())

        def price(cut: Cut) -> tuple[bool, bool, bool, int, int]:
            left, right = cut.left.bit_count(), cut.right.bit_count()
            is_twofold = left == right > 1 and self.shapes.class_of(cut.left) == self.shapes.class_of(cut.right)
            is_short = lengths[cut] < longest * SAME_LENGTH
            return (not self._is_square(cut), not is_twofold, is_short, abs(left - right), cut.run)

        return min(cuts, key=price)

    def _is_square(self, cut: Cut) -> bool:
        """Whether a cut meets the outline of its unit at right angles, at both ends."""
        pm, run, unit = self.frame.map, self.frame.runs[cut.run], cut.left | cut.right
        for node, edge in ((run.nodes[cut.low], run.edges[cut.low]), (run.nodes[cut.high], run.edges[cut.high - 1])):
            heading = pm.leaving(edge, node).direction(0.0)
            for other in pm.star(node):
                sides = pm.edges[other]
                is_left, is_right = unit >> sides.left & 1, sides.right != OUTSIDE and unit >> sides.right & 1
                if is_left != is_right and abs(dot(heading, pm.leaving(other, node).direction(0.0))) > SQUARE:
                    return False
        return True

    def _length(self, cut: Cut) -> float:
        nodes = self.frame.runs[cut.run].nodes
        return distance(self.frame.map.nodes[nodes[cut.low]], self.frame.map.nodes[nodes[cut.high]])
