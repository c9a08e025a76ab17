"""Pre-pieced units: a finished unit laid on a paper as if it were one patch.

*The count of papers stays, loose pieces and joins become fewer.* Take a tree of joins and a paper in it, and go up
from the paper toward the whole for as long as every join on the way is one straight seam whose whole line has one of
its two units on either side. What is sewn on the paper so far is the unit on one side of that seam, all of it; the
other unit, sewn together beforehand in whichever way the tree says, touches it along that seam alone. That is what one
more patch on a paper must satisfy: its contact with what lies there is one straight stretch, it lies on one side of
the whole line, and everything sewn before on the other. So each such join can be sewn as one more step on the paper:
the other unit is laid face down over what is there, sewn on the line and flipped. No paper is added, since the paper
was in the tree; none is saved, since the units laid on it are sewn as before: the count is the same, and for each unit
laid one join fewer is left, for each lone patch one loose piece and one join. On a convex outline where straight seams
serve, every join is of this kind (see `cuts`), so that with one paper or more no loose piece need be left.

A paper grows only where that puts lone patches on it: joins above the last of them stay joins, so that papers which are
printed once for several stay alike.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from seamproof.planning.cuts import seam_between
from seamproof.planning.frame import bits
from seamproof.planning.freedom import going_round, precedes, reduced, rounds
from seamproof.planning.papers import Paper, papers
from seamproof.planning.shapes import Shapes
from seamproof.planning.trees import Leaf, Pair, Papered, Staged
from seamproof.sequence import Foundation

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.planning.frame import Frame
    from seamproof.planning.stages import SeamEdge
    from seamproof.planning.trees import Tree


@dataclass(frozen=True, slots=True)
class _Hosted:
    """A unit sewn on one paper: the paper it began as, or a smaller such unit and what is laid on it.

    Attributes:
        rest: How many loose pieces are left in it.
        base: The paper's own patches.
        under: What it was before the last thing was laid on it; None: nothing was.
        laid: What was laid on it last, and the run of its seam.
    """

    rest: int
    base: int
    under: _Hosted | None = None
    laid: tuple[Tree, int] | None = None


_Alone: TypeAlias = tuple[int, "Tree"]
"""A unit as it is sewn when it is not to grow further, after how many loose pieces are left in it."""


def prepiece(frame: Frame, nodes: Sequence[Tree]) -> Tree:
    """The same tree with lone patches, and the units they must wait for, laid on papers wherever they can be.

    Args:
        frame: The block.
        nodes: All nodes of the tree, each after what it is made of.
    """
    alone: dict[int, _Alone] = {}
    hosted: dict[int, _Hosted] = {}
    shapes = Shapes(frame)
    on_paper = [node.unit for node in nodes if isinstance(node, Leaf) and node.unit & (node.unit - 1)]
    kinds = Counter(map(shapes.class_of, on_paper))
    shared = {unit for unit in on_paper if kinds[shapes.class_of(unit)] > 1}
    for node in nodes:
        if isinstance(node, Leaf):
            is_lone = not node.unit & (node.unit - 1)
            alone[node.unit] = (int(is_lone), node)
            if not is_lone:
                hosted[node.unit] = _Hosted(0, node.unit)
        elif isinstance(node, Staged):
            parts = [alone[part.unit] for part in node.parts]
            alone[node.unit] = (
                sum(rest for rest, _ in parts),
                Staged(node.unit, node.stage, tuple(part for _, part in parts)),
            )
        elif isinstance(node, Pair):
            best = _grown(frame, node, alone, hosted, shared)
            if best is not None:
                hosted[node.unit] = best
            (a, left), (b, right) = alone[node.left.unit], alone[node.right.unit]
            joined: _Alone = (a + b, Pair(node.unit, node.seam, left, right))
            alone[node.unit] = joined if best is None or best.rest >= a + b else (best.rest, _papered(node.unit, best))
    return alone[nodes[-1].unit][1]


def _grown(
    frame: Frame, node: Pair, alone: Mapping[int, _Alone], hosted: Mapping[int, _Hosted], shared: set[int]
) -> _Hosted | None:
    """A pair with one unit laid on the paper of the other: the fewest loose pieces, a paper like no other, larger."""
    run = _fold(frame, node)
    if run is None:
        return None
    found = []
    for host, other in ((node.right.unit, node.left.unit), (node.left.unit, node.right.unit)):
        if host in hosted:
            rest, tree = alone[other]
            rest = 0 if isinstance(tree, Leaf) else rest
            found.append(_Hosted(hosted[host].rest + rest, hosted[host].base, hosted[host], (tree, run)))
    return min(found, key=lambda way: (way.rest, way.base in shared, _laid(way)), default=None)


def _laid(way: _Hosted) -> int:
    return way.laid[0].unit.bit_count() if way.laid else 0


def _fold(frame: Frame, node: Pair) -> int | None:
    """The run of a pair's seam, if a paper can be folded back on it with one unit on either side of its whole line."""
    (run, at), forward = frame.place[node.seam[0][0]], node.seam[0][1]
    if not frame.runs[run].is_straight or any(frame.place[edge][0] != run for edge, _ in node.seam):
        return None
    if frame.is_plain:
        return run
    to_left, to_right = frame.over_line[run]
    left, right = (node.left.unit, node.right.unit)
    if forward != frame.runs[run].forward[at]:
        left, right = right, left
    return None if to_right & left or to_left & right else run


def _papered(unit: int, way: _Hosted) -> Papered:
    laid = []
    step: _Hosted | None = way
    while step is not None and step.laid is not None:
        laid.append(step.laid)
        step = step.under
    return Papered(unit, way.base, tuple(reversed(laid)))


@dataclass(frozen=True, slots=True)
class _Model:
    node: Papered
    label: str
    groups: tuple[tuple[int, ...], ...]


class Onward:
    """Makes the papers that go on beyond their own patches; those alike are sewn alike."""

    def __init__(self, frame: Frame, first: int | None) -> None:
        self._frame, self._first = frame, first
        self._shapes = Shapes(frame)
        self._models: dict[int, _Model] = {}

    def paper(self, node: Papered, labels: Mapping[int, str]) -> Paper:
        """The foundation of a node.

        Args:
            node: The node.
            labels: What it, and every unit laid on it, is called.

        Raises:
            NotSewable: the patch asked for cannot be first.
        """
        kind = self._shapes.class_of(node.unit)
        model = self._models.get(kind) if self._first is None else None
        groups = self._as_model(model, node) if model else None
        twin = model.label if model and groups else None
        first = self._first if self._first is not None and node.base >> self._first & 1 else None
        order, runs = self._parts(node, groups[0][0].bit_length() - 1 if groups else first)
        seams = self._seams(order, runs)
        before = self._before(order, seams)
        if groups is None:
            centres = [self._frame.centre(part) for part in order]
            levels = [going_round(centres, level, 0) for level in rounds(before, 0)]
            groups = tuple(tuple(order[part] for part in level) for level in levels)
        self._models.setdefault(kind, _Model(node, labels[node.unit], groups))
        names = {part: labels[part] if part & (part - 1) else self._frame.ids(part)[0] for part in order}
        sewn = [part for group in groups for part in group]
        foundation = Foundation(
            labels[node.unit],
            tuple(names[part] for part in sewn),
            tuple(tuple(names[part] for part in group) for group in groups),
            precedes([names[part] for part in order], before),
            twin,
        )
        return Paper(foundation, tuple(self._seams(sewn, runs)[1:]))

    def _parts(self, node: Papered, first: int | None) -> tuple[list[int], dict[int, int]]:
        """What is laid on a paper, in an order that serves, and the run of the seam of each part but the first."""
        (base,) = papers(self._frame, [node.base], first)
        place = {patch.id: index for index, patch in enumerate(self._frame.patches)}
        order = [1 << place[patch] for patch in base.foundation.order]
        runs = {part: self._frame.place[seam[0][0]][0] for part, seam in zip(order[1:], base.seams, strict=True)}
        return [*order, *(part.unit for part, _ in node.laid)], runs | {part.unit: run for part, run in node.laid}

    def _seams(self, order: Sequence[int], runs: Mapping[int, int]) -> list[tuple[SeamEdge, ...]]:
        """The seam of each part with what comes before it, the part on its left; none for the first."""
        seams: list[tuple[SeamEdge, ...]] = [()]
        sewn = order[0]
        for part in order[1:]:
            seams.append(seam_between(self._frame, runs[part], part, sewn))
            sewn |= part
        return seams

    def _before(self, order: Sequence[int], seams: Sequence[tuple[SeamEdge, ...]]) -> dict[int, tuple[int, ...]]:
        """For each part, by its place, the places directly before it: as `freedom.before_of` has it for patches."""
        frame = self._frame
        at = {patch: number for number, part in enumerate(order) for patch in bits(part)}
        direct: list[set[int]] = []
        for number, part in enumerate(order):
            near = {at[other] for patch in bits(part) for _, other, _ in frame.sides[patch] if other in at}
            direct.append({other for other in near if other < number})
        for number in () if frame.is_plain else range(1, len(order)):
            edge, forward = seams[number][0]
            run, spot = frame.place[edge]
            own = frame.over_line[run][0 if forward == frame.runs[run].forward[spot] else 1]
            for later in {at[patch] for patch in bits(own) if patch in at} - {number}:
                direct[later].add(number)
        return dict(enumerate(reduced(direct)))

    def _as_model(self, model: _Model, node: Papered) -> tuple[tuple[int, ...], ...] | None:
        """The parts in the order of a paper alike, each on the one it lies on there; None where its parts differ."""
        match = self._shapes.match(model.node.unit, node.unit)
        if match is None:
            return None
        groups = tuple(
            tuple(sum(1 << match[patch] for patch in bits(part)) for part in group) for group in model.groups
        )
        parts = {1 << patch for patch in bits(node.base)} | {part.unit for part, _ in node.laid}
        is_same = {part for group in groups for part in group} == parts and groups[0][0] & node.base
        return groups if is_same else None
