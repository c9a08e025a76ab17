"""A direction for every allowance, with the fewest meetings missed and the fewest seams pressed open.

On a foundation the allowances of a seam lie toward the patch it adds: fixed once the order is. A join's allowances lie
to one side or the other, or open. Where two seams meet from either side of a join, they nest when their allowances
lie opposite ways along it; that is a parity between two directions (or one, where the other is fixed). RC2 minimises,
one after the other: meetings that neither nest nor hold an open seam; seams pressed open; joins that lay a darker
cloth's allowance under a lighter cloth. Its answer is proven least.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import count
from typing import TYPE_CHECKING, Final

from seamproof.block.checking import check_tiling
from seamproof.geometry.points import dot
from seamproof.planning.meetings import crossings
from seamproof.planning.owners import owners
from seamproof.sequence.pressing import Meeting, PressedSeam, PressingPlan

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from seamproof.block import Block
    from seamproof.geometry import Edge
    from seamproof.geometry.planar import PlanarMap
    from seamproof.planning.owners import Owner
    from seamproof.sequence import Construction
    from seamproof.sequence.pressing import Toward

SHOWS: Final = 10.0
"""[L*] A cloth darker than its neighbour by more shows through it. Common practice (darker shows), the figure ours."""


def plan_pressing(
    block: Block, construction: Construction, lightness: Mapping[str, float] | None = None
) -> PressingPlan:
    """Find where every allowance lies.

    Args:
        block: The block.
        construction: How it is sewn.
        lightness: For each patch id the CIE lightness L* of its cloth, 0 to 100; None: all alike.

    Raises:
        BlockError: the patches do not tile.
    """
    pm = check_tiling(block)
    view = _View(pm, block.ids, construction, owners(pm, block.ids, construction), lightness or {})
    pairs = list(view.pairs())
    toward, proven = _solve(view, pairs)
    seams = tuple(view.pressed(toward))
    meetings = tuple(view.meeting(pair, toward) for pair in pairs)
    return PressingPlan(seams, meetings, proven)


@dataclass(frozen=True)
class _Pair:
    """Two edges that leave a node on either side of a join's path, and the patch on the forward side of each."""

    node: int
    join: str
    left: tuple[Owner, int]
    right: tuple[Owner, int]


@dataclass(frozen=True, eq=False)
class _View:
    pm: PlanarMap
    ids: tuple[str, ...]
    construction: Construction
    owner: dict[int, Owner]
    lightness: Mapping[str, float]

    def pairs(self) -> Iterator[_Pair]:
        """Every meeting, with the patch on the same side along the join of each of its two seams."""
        for crossing in crossings(self.pm, self.owner, tuple(join.label for join in self.construction.joins)):
            e, f, node = crossing.left, crossing.right, crossing.node
            # Seen from the node, what is clockwise of e and what is anticlockwise of f lie the same way along the join.
            yield _Pair(node, crossing.join, (self.owner[e], self._side(e, node, left=False)),
                        (self.owner[f], self._side(f, node, left=True)))  # fmt: skip

    def _side(self, index: int, node: int, *, left: bool) -> int:
        edge = self.pm.edges[index]
        return edge.left if (edge.start == node) == left else edge.right

    def is_toward(self, owner: Owner, patch: int, toward: Mapping[str, Toward]) -> bool:
        """Whether a seam's allowances lie under a patch beside it."""
        if owner not in toward:
            return owner == self.ids[patch]
        if toward[owner] == "open":
            return False
        return (toward[owner] == "left") == self.is_first(owner, patch)

    def is_first(self, label: str, patch: int) -> bool:
        """Whether a patch belongs to the first unit of a join, on the left of its seam."""
        return self.ids[patch] in self._firsts[label]

    @cached_property
    def _firsts(self) -> dict[str, frozenset[str]]:
        return {join.label: frozenset(self.construction.patches_of(join.first)) for join in self.construction.joins}

    def meeting(self, pair: _Pair, toward: Mapping[str, Toward]) -> Meeting:
        """What comes of a meeting under a plan."""
        (a, p), (b, q) = pair.left, pair.right
        is_open = "open" in {toward.get(a), toward.get(b)}
        nests = is_open or self.is_toward(a, p, toward) != self.is_toward(b, q, toward)
        spins = nests and not is_open and len(self.pm.star(pair.node)) == 4 and toward[pair.join] != "open"
        return Meeting(self.pm.nodes[pair.node], pair.join, nests, spins)

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
        return owner == self.ids[patch]

    def pressed(self, toward: Mapping[str, Toward]) -> Iterator[PressedSeam]:
        """Every seam in sewing order, the new patch of a foundation on the left of its seam or wherever it lies."""
        contrast = self.contrast()
        for step in self.construction.steps:
            if step.kind == "add" and step.patch is not None:
                is_dark = contrast.get(step.patch, 0.0) > 0
                yield PressedSeam(step.seam, self._new_side(step.patch, step.seam), patch=step.patch, dark=is_dark)
        for join in self.construction.joins:
            way, gap = toward[join.label], contrast.get(join.label, 0.0)
            is_dark = (way == "left" and gap > 0) or (way == "right" and gap < 0)
            yield PressedSeam(join.seam, way, join=join.label, dark=is_dark)

    @cached_property
    def _one_edge(self) -> dict[Owner, int]:
        return {owner: index for index, owner in self.owner.items()}

    def _new_side(self, patch: str, seam: tuple[Edge, ...]) -> Toward:
        """On which side of its seam a foundation's new patch lies."""
        edge = self.pm.edges[self._one_edge[patch]]
        way = edge.edge.direction(0.5) if self.ids[edge.left] == patch else edge.edge.reversed().direction(0.5)
        return "left" if dot(way, seam[0].direction(0.5)) > 0 else "right"


def _solve(view: _View, pairs: list[_Pair]) -> tuple[dict[str, Toward], bool]:
    from pysat.examples.rc2 import RC2
    from pysat.formula import WCNF

    fresh = count(1)
    joins = [join.label for join in view.construction.joins]
    left = {label: next(fresh) for label in joins}
    is_open = {label: next(fresh) for label in joins}
    contrast = view.contrast()
    light = len(joins) + 1
    formula = WCNF()
    for label in joins:
        formula.append([-is_open[label]], weight=light)
        if gap := contrast.get(label, 0.0):
            formula.append([-left[label] if gap > 0 else left[label]], weight=1)
    constants = next(fresh)
    formula.append([constants])

    def under(owner: Owner, patch: int) -> int:
        if owner not in left:
            return constants if owner == view.ids[patch] else -constants
        return left[owner] if view.is_first(owner, patch) else -left[owner]

    for pair in pairs:
        missed = next(fresh)
        formula.append([-missed], weight=light * (len(joins) + 1))
        (a, p), (b, q) = pair.left, pair.right
        excuse = [missed, *(is_open[owner] for owner in (a, b) if owner in is_open)]
        x, y = under(a, p), under(b, q)
        formula.append([x, y, *excuse])
        formula.append([-x, -y, *excuse])
    with RC2(formula) as solver:
        model = set(solver.compute() or ())
    ways: dict[str, Toward] = {}
    for label in joins:
        side: Toward = "left" if left[label] in model else "right"
        ways[label] = "open" if is_open[label] in model else side
    return ways, bool(model)
