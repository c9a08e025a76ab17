"""Every way in which a stuck unit can begin to come apart in a construction of the least cost.

What is sewn last of all has an end on the outline of the unit: a whole seam has two, and a pass that closes a partial
seam has one, since at an inner node something would come after it. So for every edge at the outline the search is asked
for least choices in which the pass of this edge is sewn last: where it is not, what lets it be followed (it ends at an
inner node, or stops where its seam is closed later) is forbidden there. A stage that is found is forbidden before the
search goes on: not the whole choice, but the options at all nodes that the stage's seams touch, and the orders kept
there. Whichever choice agrees with these comes apart by the same stage along this edge. So when nothing is left at the
least cost, *every stage with which a least choice begins was found*. Where the search is ended before, or finds too
many, nothing is said.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from seamproof.planning.hard_choices import Search
from seamproof.planning.hard_stages import TakenApart

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.planning.hard_order import Sewing
    from seamproof.planning.hard_region import Region
    from seamproof.planning.stages import Prefer

MOST: Final = 80
"""How many ways of coming apart are listed before the list is given up."""

TURNS: Final = 1000
"""How often the search is asked before the list is given up."""

INNER: Final = 40
"""The most inner nodes of a unit for which the list is begun."""


class _GivenUpError(Exception):
    """The list has become too long, or too dear."""


def every_way(region: Region, prefer: Prefer, most: int = MOST, turns: int = TURNS) -> list[TakenApart] | None:
    """All ways in which a least construction of a region can begin to come apart; None: not all were found."""
    if len(region.nodes) > INNER:
        return None
    listing = _Listing(Search(region, prefer), most, turns)
    try:
        listing.run()
    except _GivenUpError:
        return None
    return [way for way, _ in listing.found]


@dataclass
class _Listing:
    search: Search
    most: int
    turns: int
    found: list[tuple[TakenApart, list[int]]] = field(default_factory=list)

    def run(self) -> None:
        _, least = next(self._choices([]))
        region = self.search.region
        for edge in region.edges:
            if not region.border_nodes.isdisjoint(region.ends(edge)):
                self._along(edge, least)

    def _choices(self, extra: list[list[int]]) -> Iterator[tuple[Sewing, int]]:
        """Choices without conflict with their cost, the least first; what is put in `extra` meanwhile is forbidden."""
        search = self.search
        with search.solver(extra) as solver:
            extra.clear()
            while self.turns:
                self.turns -= 1
                model = solver.compute()
                if model is None:
                    return
                sewing = search.read(model)
                clauses = search.forbidden(sewing)
                if not clauses:
                    yield sewing, solver.cost
                for clause in (*clauses, *extra):
                    solver.add_clause(clause)
                extra.clear()
        raise _GivenUpError

    def _along(self, edge: int, least: int) -> None:
        """All ways in which the pass of one edge is the last."""
        extra = [clause for way, clause in self.found if edge in way.sewing.passes[way.undone[0]]]
        for sewing, cost in self._choices(extra):
            if cost > least:
                return
            clauses = self.search.followed(sewing, edge)
            if not clauses:
                way = TakenApart.along(sewing, sewing.pass_of[edge])
                clauses = [self.search.without(way.edges, sewing)]
                self.found.append((way, clauses[0]))
                if len(self.found) > self.most:
                    raise _GivenUpError
            extra += clauses
