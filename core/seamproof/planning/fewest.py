"""The fewest foundations for a unit, proven, and among such ways the one a maker would choose.

f(patch) = 0: a patch joined by itself is a cut piece, not a paper. f(S) = 1 where one foundation serves S. Otherwise
f(S) is the least f(A) + f(B) over the cuts of S, memoised on the set of patches; `cuts` and `forced` show which
suffice. Then, in this order: fewest lone patches, fewest different foundations, balanced sizes, fewest points to
match in joins.

*What is least.* A core that a straight cut or a smooth arc parts is parted by one; a core without any is *stuck*, and
is parted by a stage of hard seams: by the last seam of one of its constructions, or by the least of its last seams
among which a partial seam is begun and closed. Lone patches on it are taken off before only where a cut or stage must
wait for them; paper is used wherever it serves a unit that is met. Of all ways to part a block so, first the pivots are
fewest, then the partial seams, then the foundations, then the lone patches: f counts them in this order. A stuck core
is tried along every stage with which a construction of the fewest pivots and partial seams begins (`hard_every`).

Where these are too many, or the search would cost more than its limit, stages are tried along one construction only,
and the foundations are not proven least. If that costs more than the limit, too, the rest is parted one cut at a time.
A cut along which every construction has a join is taken wherever there is one (see `forced`): nothing is lost by it.
Only where there is none a cut is taken on trust: that which passes the most *bad* nodes, takes the fewest lone patches
off, leaves the most even halves.

What is found then is compared with a bound that holds anyhow. It adds up over the two sides of a cut of the first
kind. Of a unit cut on trust it is the best of three: what its bad nodes ask for (see `bound`); two, as one foundation
does not serve it; and what the bound says of either side. For let T be the patches of S on one side of a line, and
leave out of the foundations and joins of S what is not in T: all units met stay convex, every foundation stays one, or
a lone patch, or nothing, so f(T) is no more than f(S).
"""

from __future__ import annotations

from contextlib import suppress
from itertools import product
from typing import TYPE_CHECKING, Final

from seamproof.planning.bound import least_foundations
from seamproof.planning.cuts import Cut, cuts_of, seam_between
from seamproof.planning.forced import always_joined, worth_trying
from seamproof.planning.order import peel
from seamproof.planning.shapes import Shapes
from seamproof.planning.stuck import hard_plan, part_stuck
from seamproof.planning.trees import Leaf, Pair, Staged
from seamproof.planning.ways import Staging, joined, keep, leaf, least_joined, staged

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from seamproof.planning.frame import Frame
    from seamproof.planning.stages import Stage
    from seamproof.planning.trees import Tree
    from seamproof.planning.ways import Removal, Way

LIMIT: Final = 120_000
"""How many patches may be looked at in all the units of one exact search: about a second's work."""

SMALL: Final = 40
"""Units of so few patches are searched even where the whole is not."""

SMALL_LIMIT: Final = 20_000
"""The limit for the search of one of them."""

HARD: Final = 40
"""How many such looks one patch of a stuck unit costs, when its hard seams are worked out."""


class _OverLimitError(Exception):
    """The search has cost more than its limit."""


class Search:
    """The best ways found for the units of one block."""

    def __init__(self, frame: Frame, limit: int = LIMIT, small: int = SMALL) -> None:
        self._frame = frame
        self._limit = limit
        self._small = small
        self._spent = 0
        self._known: dict[int, list[Way]] = {}
        self._least: dict[int, int] = {}
        self._shapes = Shapes(frame)
        self._every = True
        self.is_exact = True

    def best(self, unit: int) -> Way:
        """The best way to sew a unit; `is_exact` tells whether its count of foundations is proven least.

        Raises:
            NotSewable: no seam serves.
        """
        try:
            return self._ways(unit)[0]
        except _OverLimitError:
            self.is_exact = False
        if self._frame.hard_plans:
            self._every, self._spent, self._known = False, 0, {}
            with suppress(_OverLimitError):
                return self._ways(unit)[0]
        way = self._greedy(unit)
        self.is_exact = not self._frame.hard_plans and self.least(unit) == way.foundations
        return way

    def _ways(self, unit: int) -> list[Way]:
        if unit in self._known:
            return self._known[unit]
        self._spend(unit.bit_count() + 1)
        found = peel(self._frame, unit)
        if found.is_one_foundation:
            ways = [self._leaf(unit)]
        else:
            ways = []
            for cut in worth_trying(self._frame, found.core, [*cuts_of(self._frame, unit, found)]):
                halves = (self._ways(cut.left), self._ways(cut.right))
                if not ways or least_joined(halves, cut) <= ways[0].count:
                    keep(ways, self._joined(unit, cut, halves))
            if not ways:
                self._spend(HARD * found.core.bit_count())
                if self._every and not hard_plan(self._frame, found.core, every=True).is_complete:
                    raise _OverLimitError
                for stage, parts, peeled in part_stuck(self._frame, unit, found, every=self._every):
                    rest = [self._ways(part) for part in parts]
                    keep(ways, self._staged(unit, stage, rest, peeled))
        self._known[unit] = ways
        return ways

    def _spend(self, looks: int) -> None:
        self._spent += looks
        if self._spent > self._limit:
            raise _OverLimitError

    def _leaf(self, unit: int) -> Way:
        return leaf(unit, self._shapes.class_of(unit) if unit & (unit - 1) else -1)

    def _joined(self, unit: int, cut: Cut, halves: tuple[Sequence[Way], Sequence[Way]]) -> Iterable[Way]:
        return joined(unit, halves, cut, self._matches(cut))

    def _staged(
        self, unit: int, stage: Stage, parts: Sequence[Sequence[Way]], peeled: Sequence[Removal]
    ) -> Iterator[Way]:
        """Ways of a stage; of more than two parts only the best way each is taken, so that they stay few."""
        choices = parts if len(parts) == 2 else [ways[:1] for ways in parts]
        for chosen in product(*choices):
            yield staged(unit, chosen, Staging(stage, tuple(peeled)))

    def _greedy(self, unit: int) -> Way:
        """A good way for a unit too large to be searched: one cut at a time, small parts searched."""
        order: list[tuple[int, Cut | Staging, tuple[int, ...]]] = []
        stack = [unit]
        while stack:
            part = stack.pop()
            if part in self._known or self._searched(part):
                continue
            found = peel(self._frame, part)
            if found.is_one_foundation:
                self._known[part] = [self._leaf(part)]
                continue
            cuts = [*cuts_of(self._frame, part, found)]
            if sure := always_joined(self._frame, found.core, cuts):
                cut = min(sure, key=self._evenness)
            elif cuts:
                cut = min(cuts, key=self._promise)
                self._least[part] = self._bound(found.core)
            else:
                stage, parts, peeled = next(part_stuck(self._frame, part, found))
                order.append((part, Staging(stage, peeled), parts))
                stack += parts
                continue
            order.append((part, cut, (cut.left, cut.right)))
            stack += (cut.left, cut.right)
        for part, how, parts in reversed(order):
            ways = [self._known[small][:1] for small in parts]
            bounds = [self.least(small) for small in parts]
            if isinstance(how, Cut):
                self._known[part] = list(self._joined(part, how, (ways[0], ways[1])))
            else:
                self._known[part] = list(self._staged(part, how.stage, ways, how.peeled))
            if part not in self._least:
                self._least[part] = sum(bounds)
            elif self._frame.is_plain:
                self._least[part] = max(self._least[part], *bounds)
        return self._known[unit][0]

    def least(self, unit: int) -> int:
        """A lower bound on the foundations of a unit that was parted: what was found, where that is proven least.

        Of units that hard seams part it says nothing.
        """
        return self._least[unit] if unit in self._least else self._known[unit][0].foundations

    def _bound(self, core: int) -> int:
        """A bound for a core that one foundation does not serve.

        Where the outline is not convex it may be that the core is one foundation but for patches that no paper could be
        folded back on.
        """
        return max(least_foundations(self._frame, core), 2 if self._frame.is_plain else 1)

    def _searched(self, unit: int) -> bool:
        """Whether a unit is small enough to be searched after all, and was."""
        if unit.bit_count() > self._small:
            return False
        self._spent = self._limit - SMALL_LIMIT
        try:
            self._ways(unit)
        except _OverLimitError:
            self._small = unit.bit_count() * 3 // 4
            return False
        return True

    def _evenness(self, cut: Cut) -> tuple[int, int]:
        return (abs(cut.left.bit_count() - cut.right.bit_count()), cut.run)

    def _promise(self, cut: Cut) -> tuple[int, int, int, int]:
        """The less, the better a cut looks: it passes many bad nodes, takes few patches off, parts evenly."""
        passed = self._matches(cut)
        return (-passed, len(cut.peeled), abs(cut.left.bit_count() - cut.right.bit_count()), cut.run)

    def _matches(self, cut: Cut) -> int:
        nodes = self._frame.runs[cut.run].nodes[cut.low + 1 : cut.high]
        return sum(not self._frame.flat_at[node] for node in nodes)

    def leaves(self, way: Way) -> Iterator[int]:
        """The units of a way that are not parted: foundations and lone patches."""
        stack = [way]
        while stack:
            node = stack.pop()
            stack += node.parts
            if node.cut is None:
                yield node.unit
            else:
                yield from (1 << patch for patch, _ in node.cut.peeled)

    def tree(self, way: Way) -> Tree:
        """The way as a tree to be sewn, built from its leaves up."""
        order = [way]
        for node in order:
            order += node.parts
        trees: dict[int, Tree] = {}
        for node in reversed(order):
            if node.unit not in trees:
                trees[node.unit] = self._node(node, tuple(trees[part.unit] for part in node.parts))
        return trees[way.unit]

    def _node(self, way: Way, parts: tuple[Tree, ...]) -> Tree:
        if way.cut is None:
            return Leaf(way.unit)
        whole: Tree
        if isinstance(way.cut, Cut):
            left, right = parts
            seam = seam_between(self._frame, way.cut.run, left.unit, right.unit)
            whole = Pair(left.unit | right.unit, seam, left, right)
        else:
            whole = Staged(sum(part.unit for part in parts), way.cut.stage, parts)
        for patch, run in reversed(way.cut.peeled):
            seam = seam_between(self._frame, run, whole.unit, 1 << patch)
            whole = Pair(whole.unit | 1 << patch, seam, whole, Leaf(1 << patch))
        return whole
