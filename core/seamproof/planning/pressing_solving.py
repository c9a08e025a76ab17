"""Directions for the joins, and orders of the papers, that RC2 proves least."""

from __future__ import annotations

from itertools import combinations, count
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.planning.pressing_view import Pair, View
    from seamproof.sequence.pressing import Toward


class Question:
    """What is asked of the solver.

    Weights, each above all of the next together: a meeting missed; a join pressed open; a join that lays a darker
    cloth under a lighter one; an order of papers other than the first of its choice, or a wish not met.

    Attributes:
        view: The block and its construction.
        papers: Choices between orders of one foundation and its twins, the present order first: for every edge met,
            the patch that is sewn later.
        wishes: How many wishes there may be about the way a join is pressed.
    """

    def __init__(self, view: View, papers: Sequence[Sequence[Mapping[int, int]]] = (), wishes: int = 0) -> None:
        from pysat.formula import WCNF

        self.view, self.papers = view, papers
        self.formula: Any = WCNF()
        self.fresh = count(1)
        self.joins = [join.label for join in view.construction.joins]
        self.left = {label: next(self.fresh) for label in self.joins}
        self.is_open = {label: next(self.fresh) for label in self.joins}
        self.taken = [[next(self.fresh) for _ in orders] for orders in papers]
        self.later: dict[int, int] = {}
        self.sure = next(self.fresh)
        self.formula.append([self.sure])
        self.dark = len(papers) + wishes + 1
        self.open = self.dark * (len(self.joins) + 1)
        self.missed = self.open * (len(self.joins) + 1)
        self._ask_joins()
        self._ask_papers()

    def _ask_joins(self) -> None:
        for label in self.joins:
            self.formula.append([-self.is_open[label]], weight=self.open)
            if gap := self.view.contrast.get(label, 0.0):
                way = self.left[label]
                self.formula.append([-way if gap > 0 else way], weight=self.dark)

    def _ask_papers(self) -> None:
        for choice, orders in zip(self.taken, self.papers, strict=True):
            self.formula.append(choice)
            self.formula.extend([[-a, -b] for a, b in combinations(choice, 2)])
            self.formula.append([choice[0]], weight=1)
            for edge in orders[0]:
                self.later[edge] = next(self.fresh)
                for order, var in zip(orders, choice, strict=True):
                    is_left = order[edge] == self.view.pm.edges[edge].left
                    self.formula.append([-var, self.later[edge] if is_left else -self.later[edge]])

    def _under(self, edge: int, patch: int) -> int:
        """The literal that says: the allowances of this stretch lie under this patch."""
        owner = self.view.owner[edge]
        if owner in self.left:
            return self.left[owner] if self.view.is_first(owner, patch) else -self.left[owner]
        if edge in self.later:
            return self.later[edge] if self.view.pm.edges[edge].left == patch else -self.later[edge]
        return self.sure if self.view.is_added(owner, patch) else -self.sure

    def meet(self, pair: Pair, weight: int = 1) -> None:
        """Ask that the two seams of a meeting lie opposite ways, or one of them open; it counts as so many."""
        missed = next(self.fresh)
        self.formula.append([-missed], weight=self.missed * weight)
        met = [self.view.owner[edge] for edge, _ in (pair.left, pair.right)]
        excuse = [missed, *(self.is_open[owner] for owner in met if owner in self.is_open)]
        x, y = self._under(*pair.left), self._under(*pair.right)
        self.formula.append([x, y, *excuse])
        self.formula.append([-x, -y, *excuse])

    def fix(self, label: str, way: Toward) -> None:
        """Have a join pressed this way."""
        self.formula.append([self.is_open[label] if way == "open" else -self.is_open[label]])
        if way != "open":
            self.formula.append([self.left[label] if way == "left" else -self.left[label]])

    def wish(self, label: str, way: Toward) -> None:
        """Have a join pressed this way where nothing else suffers."""
        self.formula.append([self.is_open[label] if way == "open" else self.left[label] * (1 if way == "left" else -1)],
                            weight=1)  # fmt: skip

    def tie(self, one: str, other: str, *, is_turned: bool = False) -> None:
        """Have two joins pressed alike; where one is turned, the left of one corresponds to the right of the other."""
        sign = -1 if is_turned else 1
        for a, b in ((self.left[one], sign * self.left[other]), (self.is_open[one], self.is_open[other])):
            self.formula.extend([[-a, b], [a, -b]])

    def answer(self) -> tuple[dict[str, Toward], tuple[int, ...]]:
        """The ways of the joins, and which order of each choice is taken; proven least."""
        from pysat.examples.rc2 import RC2

        with RC2(self.formula) as solver:
            model = set(solver.compute())
        ways: dict[str, Toward] = {}
        for label in self.joins:
            side: Toward = "left" if self.left[label] in model else "right"
            ways[label] = "open" if self.is_open[label] in model else side
        return ways, tuple(next(at for at, var in enumerate(choice) if var in model) for choice in self.taken)
