"""From a tree of units to a construction: labels, joins and steps in sewing order."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.planning.frame import bits
from seamproof.planning.papers import letters, papers
from seamproof.planning.prepieced import Onward
from seamproof.planning.trees import Leaf, Pair, Papered, Staged
from seamproof.sequence import Bounds, Construction, Join, Step

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.geometry import Edge
    from seamproof.planning.frame import Frame
    from seamproof.planning.papers import Paper
    from seamproof.planning.stages import SeamEdge
    from seamproof.planning.trees import Tree
    from seamproof.sequence import Technique
    from seamproof.sequence.construction import Method


def sewing_order(tree: Tree) -> list[Tree]:
    """All nodes of a tree, each after what it is made of, the part with the lowest patch first."""
    order: list[Tree] = []
    stack: list[Tree] = [tree]
    while stack:
        node = stack.pop()
        order.append(node)
        stack += sorted(_parts(node), key=lambda part: part.unit & -part.unit)
    return order[::-1]


def _parts(node: Tree) -> tuple[Tree, ...]:
    if isinstance(node, Pair):
        return (node.left, node.right)
    if isinstance(node, Papered):
        return tuple(part for part, _ in node.laid if part.unit & (part.unit - 1))
    return node.parts if isinstance(node, Staged) else ()


def assemble(
    frame: Frame, nodes: Sequence[Tree], method: Method, *, first: int | None = None, bounds: Bounds, optimal: bool
) -> Construction:
    """The construction that sews the nodes of a tree in the order given: the papers first, then the joins.

    Where finished units are laid on papers, everything is sewn in the order of the nodes instead.

    Raises:
        NotSewable: the patch asked for cannot be first on its foundation.
    """
    if any(isinstance(node, Papered) for node in nodes):
        return _assemble_prepieced(frame, nodes, first, bounds, optimal=optimal)
    leaves = [node.unit for node in nodes if isinstance(node, Leaf)]
    made = papers(frame, [unit for unit in leaves if unit & (unit - 1)], first)
    loose = tuple(frame.patches[patch].id for unit in leaves if not unit & (unit - 1) for patch in bits(unit))
    labels = {unit: frame.ids(unit)[0] for unit in leaves if not unit & (unit - 1)}
    labels |= {
        unit: paper.foundation.label for unit, paper in zip((u for u in leaves if u & (u - 1)), made, strict=True)
    }
    sewer = _Sewer(frame, labels)
    for paper in made:
        sewer.sew_paper(paper)
    for node in nodes:
        sewer.join_node(node)
    foundations = tuple(paper.foundation for paper in made)
    return Construction(method, foundations, loose, tuple(sewer.joins), tuple(sewer.steps), bounds, optimal)


def _assemble_prepieced(
    frame: Frame, nodes: Sequence[Tree], first: int | None, bounds: Bounds, *, optimal: bool
) -> Construction:
    loose = [node.unit for node in nodes if isinstance(node, Leaf) and not node.unit & (node.unit - 1)]
    on_paper = [node.unit for node in nodes if not isinstance(node, (Pair, Staged)) and node.unit & (node.unit - 1)]
    named = dict(zip(on_paper, map(letters, range(len(on_paper))), strict=True))
    plain = [node.unit for node in nodes if isinstance(node, Leaf) and node.unit in named]
    made = papers(frame, plain, first, labels=[named[unit] for unit in plain])
    by_unit = dict(zip(plain, made, strict=True))
    sewer = _Sewer(frame, named | {unit: frame.ids(unit)[0] for unit in loose})
    onward = Onward(frame, first)
    foundations = []
    for node in nodes:
        if isinstance(node, (Leaf, Papered)) and node.unit in named:
            paper = by_unit[node.unit] if isinstance(node, Leaf) else onward.paper(node, sewer.labels)
            foundations.append(paper.foundation)
            sewer.sew_paper(paper)
        sewer.join_node(node)
    ids = tuple(frame.ids(unit)[0] for unit in loose)
    return Construction(
        "foundation", tuple(foundations), ids, tuple(sewer.joins), tuple(sewer.steps), bounds, optimal=optimal
    )


@dataclass
class _Sewer:
    """Writes down joins and steps as they come."""

    frame: Frame
    labels: dict[int, str]
    joins: list[Join] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)

    def edges(self, seam: Iterable[SeamEdge]) -> tuple[Edge, ...]:
        return tuple(self.frame.edge(index, forward=forward) for index, forward in seam)

    def sew_paper(self, paper: Paper) -> None:
        label, order = paper.foundation.label, paper.foundation.order
        self.steps.append(Step("first", foundation=label, patch=order[0]))
        for part, seam in zip(order[1:], paper.seams, strict=True):
            is_patch = part in self.ids
            self.steps.append(
                Step("add", self.edges(seam), label, part if is_patch else None, unit=None if is_patch else part)
            )

    @cached_property
    def ids(self) -> frozenset[str]:
        return frozenset(patch.id for patch in self.frame.patches)

    def join_node(self, node: Tree) -> None:
        """Sew the joins of a node of the tree, if it has any."""
        if isinstance(node, Pair):
            self.join(node.left.unit, node.right.unit, node.seam, ())
        elif isinstance(node, Staged):
            self.join_stage(node)

    def join(
        self,
        left: int,
        right: int,
        seam: tuple[SeamEdge, ...],
        pivots: tuple[int, ...],
        passes: tuple[tuple[SeamEdge, ...], ...] = (),
    ) -> Join:
        """Join two units; of a seam in several passes, the first is sewn."""
        edges = self.edges(seam)
        places = tuple(self.frame.map.nodes[node] for node in pivots)
        stretches = tuple(self.edges(stretch) for stretch in passes) or (edges,)
        kind: Technique = "curved" if any(edge.is_arc for edge in edges) else "straight"
        if len(stretches) > 1:
            kind = "partial"
        if pivots:
            kind = "set-in"
        label = f"J{len(self.joins) + 1}"
        join = Join(label, self.labels[left], self.labels[right], edges, kind, places, stretches)
        self.joins.append(join)
        self.labels[left | right] = label
        self.steps.append(Step("start" if len(stretches) > 1 else "join", stretches[0], join=label))
        return join

    def join_stage(self, node: Staged) -> None:
        """Join the parts of a stage, each with what hangs on it, and close its partial seams when their turn comes."""
        grown = dict(zip(node.stage.parts, (part.unit for part in node.parts), strict=True))

        def whole(unit: int) -> int:
            return sum(grown[part] for part in grown if part & unit)

        made: dict[int, Join] = {}
        for number, stretch in node.stage.order:
            seam = node.stage.seams[number]
            if stretch == 0:
                made[number] = self.join(whole(seam.left), whole(seam.right), seam.edges, seam.pivots, seam.passes)
            else:
                self.steps.append(Step("finish", made[number].passes[stretch], join=made[number].label))
