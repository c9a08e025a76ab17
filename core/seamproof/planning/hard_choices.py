"""The choice at every inner node with the fewest pivots, and among those the fewest partial seams, proven."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING, Final

from seamproof.planning.hard_order import Fact, Option, Sewing

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from pysat.examples.rc2 import RC2

    from seamproof.planning.hard_region import Region
    from seamproof.planning.stages import Prefer

ROUNDS: Final = 400
"""How many times rings are looked for and forbidden before the search ends with the best found and its bound."""

SEARCHED: Final = 10_000
"""The most inner nodes for which the search is begun: beyond, nothing was tried. In tilings of 750 rectangles it takes
under a second, of 5 500 some forty, and is quicker than what is done without it."""


@dataclass(frozen=True)
class Solution:
    """Options for the inner nodes of a region, and what was proven of them.

    Attributes:
        choice: An option for every inner node.
        early: Orders kept at nodes of the outline, so that no seam need stop dead there.
        pivots: Proven: no construction has fewer pivots.
        partial_seams: Proven: no construction with so few pivots has fewer partial seams.
        is_least: Whether the choice has just so many of either.
    """

    choice: Mapping[int, Option]
    early: tuple[Fact, ...] = ()
    pivots: int = 0
    partial_seams: int = 0
    is_least: bool = True


def options(region: Region, node: int, prefer: Prefer) -> list[Option]:
    """Everything that can be sewn last at an inner node, the easiest first.

    Where nothing ends at the node there is nothing to wait for, so that it is never parted.
    """
    star = region.star(node)
    through, parted, pivots = [], [], []
    for e, f in combinations(sorted(star), 2):
        if not region.pm.in_line(e, f, node):
            pivots.append(Option(e, f, is_pivot=True))
            continue
        through.append(Option(e, f))
        if prefer == "partial" and len(star) > 2:
            parted += [Option(e, f, is_parted=True), Option(f, e, is_parted=True)]
    return [*through, *parted, *pivots]


def has_line(region: Region, node: int) -> bool:
    """Whether two edges at an inner node are in line, so that it need not cost a pivot."""
    return any(region.pm.onward(edge, node) is not None for edge in region.star(node))


def dead_stops(region: Region) -> Iterator[tuple[int, int, tuple[int, ...]]]:
    """Where a seam may have to stop dead: (node of the outline, edge, what must be sewn before for that)."""
    for index in region.edges:
        for node in region.ends(index):
            crossed = region.stop(index, node)
            if crossed is not None:
                yield node, index, crossed


@dataclass
class Search:
    """The search over one region.

    RC2 minimises W·pivots + partial seams over one option for each inner node; what is found is looked through for
    conflicts (closed seams, rings of orders), which are forbidden, and it is asked again. Every answer is least among
    choices of which fewer conflicts are forbidden than there are, so its cost is a lower bound; the first answer
    without conflict is therefore least. More than one option of a node may be true in a model: any of them is
    taken, since all that follows from it is paid for and forbidden with it.

    Source: A. Ignatiev, A. Morgado, J. Marques-Silva, RC2: an efficient MaxSAT solver, Journal on Satisfiability,
    Boolean Modeling and Computation 11(1), 2019.
    """

    region: Region
    prefer: Prefer = "partial"
    _count: int = 0
    _option: dict[int, list[tuple[int, Option]]] = field(default_factory=dict)
    _fact: dict[Fact, int] = field(default_factory=dict)
    _hard: list[list[int]] = field(default_factory=list)
    _soft: list[tuple[int, int]] = field(default_factory=list)

    def _new(self) -> int:
        self._count += 1
        return self._count

    @property
    def _weight(self) -> int:
        """What one pivot weighs: more than all partial seams."""
        return 1 + len(self.region.nodes)

    def __post_init__(self) -> None:
        """Write down the clauses that must hold, and (variable to be kept false, weight)."""
        for node in self.region.nodes:
            rows = [(self._new(), option) for option in options(self.region, node, self.prefer)]
            self._option[node] = rows
            self._hard.append([variable for variable, _ in rows])
            if not has_line(self.region, node):
                continue
            pivots, parted = self._new(), self._new()
            self._soft += [(pivots, self._weight), (parted, 1)]
            self._hard += [[-variable, pivots] for variable, option in rows if option.is_pivot]
            self._hard += [[-variable, parted] for variable, option in rows if option.is_parted]
        for node, edge, crossed in dead_stops(self.region):
            if not crossed:
                continue
            stop = self._new()
            wanted = [Fact("early", node, edge, other) for other in crossed]
            self._fact |= {fact: self._new() for fact in wanted}
            self._hard.append([stop, *(self._fact[fact] for fact in wanted)])
            self._soft.append((stop, self._weight))

    def _variable(self, fact: Fact, clauses: list[list[int]]) -> int:
        """The variable that is true where a fact follows from an option taken; what says so is added."""
        if fact not in self._fact:
            self._fact[fact] = self._new()
            rows = self._option[fact.node]
            fresh = [[-variable, self._fact[fact]] for variable, option in rows if fact.holds(option)]
            self._hard += fresh
            clauses += fresh
        return self._fact[fact]

    def read(self, model: Sequence[int]) -> Sewing:
        """The choice that an answer of the solver stands for."""
        true = {literal for literal in model if literal > 0}
        choice = {
            node: next(option for variable, option in rows if variable in true) for node, rows in self._option.items()
        }
        early = tuple(fact for fact, variable in self._fact.items() if fact.kind == "early" and variable in true)
        return Sewing(self.region, choice, early)

    def run(self, rounds: int) -> tuple[Sewing | None, int, int]:
        """The least choice, or None where the rounds do not suffice, and the least excess pivots and partial seams.

        The excess is over what every choice pays: a pivot at each inner node without two edges in line.
        """
        weight = self._weight
        with self.solver() as solver:
            for _ in range(rounds):
                sewing = self.read(solver.compute())
                clauses = self.forbidden(sewing)
                if not clauses:
                    return sewing, *divmod(solver.cost, weight)
                for clause in clauses:
                    solver.add_clause(clause)
        return None, *divmod(solver.cost, weight)

    def solver(self, extra: Iterable[list[int]] = ()) -> RC2:
        """What gives choices by their cost, the least first, with further clauses; to be closed after use."""
        from pysat.examples.rc2 import RC2
        from pysat.formula import WCNF

        formula = WCNF()
        formula.extend([*self._hard, *extra])
        for variable, cost in self._soft:
            formula.append([-variable], weight=cost)
        return RC2(formula, solver="g4")

    def without(self, edges: Iterable[int], sewing: Sewing) -> list[int]:
        """What forbids the options at all nodes that some edges of a choice touch, with the orders kept there."""
        touched = dict.fromkeys(node for edge in edges for node in self.region.ends(edge))
        clause = [
            -variable
            for node in touched
            if node in sewing.choice
            for variable, option in self._option[node]
            if option == sewing.choice[node]
        ]
        kept = set(edges)
        return clause + [-self._fact[fact] for fact in sewing.early if fact.e in kept]

    def forbidden(self, sewing: Sewing) -> list[list[int]]:
        """What forbids the conflicts of a choice, now and whenever a solver is made."""
        clauses: list[list[int]] = []
        for conflict in sewing.conflicts():
            clause = [-self._variable(fact, clauses) for fact in conflict]
            self._hard.append(clause)
            clauses.append(clause)
        return clauses

    def followed(self, sewing: Sewing, edge: int) -> list[list[int]]:
        """What forbids that something must be sewn after the pass of an edge; none where nothing must."""
        clauses: list[list[int]] = []
        for facts in sewing.followed(edge):
            clauses.append([-self._variable(fact, clauses) for fact in facts])
        return clauses

    def any(self, rounds: int) -> Sewing | None:
        """Some choice without conflict, and without needless pivots where partial seams are preferred; None: not found.

        The solver is told to try the easiest options first, but nothing is proven.
        """
        from pysat.solvers import Glucose4

        costly = [variable for variable, cost in self._soft if cost == self._weight]
        easily = [[-variable] for variable in costly] if self.prefer == "partial" else []
        with Glucose4(bootstrap_with=[*self._hard, *easily]) as solver:
            easy = [rows[0][0] for rows in self._option.values()]
            others = [variable for rows in self._option.values() for variable, _ in rows[1:]]
            solver.set_phases([*easy, *(-variable for variable in others), *(-variable for variable, _ in self._soft)])
            for _ in range(rounds):
                if not solver.solve():
                    return None
                sewing = self.read(solver.get_model())
                clauses = self.forbidden(sewing)
                if not clauses:
                    return sewing
                solver.append_formula(clauses)
        return None
