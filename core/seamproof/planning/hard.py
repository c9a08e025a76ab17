"""Seams that straight cuts alone do not serve: the fewest pivots, then the fewest partial seams, proven.

**What a construction is.** S is a connected set of patches without holes, one piece of the plane bounded by a closed
line that does not touch itself. It is sewn seam by seam, each seam joining two units of the same kind. At every inner
node choose a pair of its edges, the *through pair*: the seam that is sewn there last runs through along the two of
them, and every other edge at the node belongs to a seam that ends there and was sewn before. The pairs chain the edges
into seams.

*A choice of pairs comes from a construction if and only if (1) no seam is closed, nor has both its ends at one node,
and (2) the relation "ends at an inner node of" (is sewn before) has no ring.* Take the last seam of a construction: it
runs from outline to outline and parts S in two, so the last seam through each node gives its pair, every other seam at
the node lies in one of the two parts and ends there, and the seams are sewn in an order. The other way: by (2) some
seam has none after it. Both its ends lie on the outline, for at an inner node the seam through it would have to come
after; by (1) it is a path between two different points, and it meets the outline nowhere else, since its other nodes
are inner. So it parts S into two units of the same kind (Jordan), for which the rest of the choice holds again.

**Pivots.** A through pair that is not in line is a pivot. So *wyes + bends is a lower bound*: an inner node at which no
two edges are in line has a pivot whatever is chosen. *Where no inner junction has two edges in line, every construction
has exactly that many:* each inner node has exactly one through pair. The excess elsewhere is what rings force. (On an
outline that is not convex, a seam that would run into cloth of its own unit when prolonged past its end must stop dead
there, and that end counts as a pivot as well, unless one of the edges it would run into is sewn later.)

**Partial seams.** An inner node may be *parted*: its pair, in line, is one seam sewn in two passes. The first comes
when it will; the second, from the node on, comes after all else at the node. Passes take the place of seams in (2),
the first of such two is before the second, (3) no pass is the second one at both its ends, and (4) no seam ends at an
inner node of its own (in one pass that is a ring; in two, a unit would touch itself along a stretch that must wait).
*Then every construction of this kind can be sewn, each earliest pass of a seam joining two units, each later one
closing a gap from its inner end.* S has (inner edges − inner nodes) seams, which is patches − 1 by Euler's formula. By
(3) just one pass of each seam is never second. A pass that is second at a node finds all else sewn round the node, so
both its sides belong to one unit already and meet there: it joins nothing, it closes a gap. All must hang together
in the end, for which patches − 1 unions are needed; so each earliest pass makes one. (A seam could be left open between
two nodes too, but that frees no order that parting it at the next node would not free. One left open in its middle
alone, sewn from both ends, is excluded by (3): some other pass would then join nothing, but close a ring of cloth.)

*No seam need be parted twice.* Let f and l be the passes at a parted node, f the earlier. Made one, they close a ring
only if something other than l comes after f and before l; if not, a partial seam is saved. In a least choice, then, f
is followed by something else than l, at its other end: it is not itself the closing of a gap there. *Nor is a seam
started in its middle:* let p be its first pass, l and m those that close it on either side. If p cannot be made one
with l, something goes from m (the only other pass after p) to l; if not with m, from l to m: a ring. So a seam has two
passes at most, the first from one of its ends; choices that are not proven least are made so (`whole_again`).

*Where units touch.* When two units are joined they may touch along more than the pass that joins them: along what is
left open of a seam begun before. Along a seam not yet begun they can touch only if its later pass is met there, for
that pass will join nothing, and only if a ring of cloth closes round its start. That was met in no plan so far, but it
is not proven that it cannot be; the referee would refuse it.

**Straight cuts and smooth arcs first.** A run in line from outline to outline may be taken as the last seam: restrict
any construction to the two sides. Seams that cross the run fall into parts that keep their orders, passes still
grow away from the earliest, the run costs nothing, and no seam stops dead that did not before (the units are
smaller). So only what no run in line parts is searched (`Search`): RC2 over one option for each node, with rings and
closed seams forbidden as they turn up; each answer is a lower bound, the first without conflict is least.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.errors import NotSewable
from seamproof.planning.hard_choices import ROUNDS
from seamproof.planning.hard_every import every_way
from seamproof.planning.hard_order import Sewing
from seamproof.planning.hard_region import Region
from seamproof.planning.hard_solving import solve
from seamproof.planning.hard_stages import TakenApart, ways_apart
from seamproof.planning.stages import HardPlan

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.geometry.planar import PlanarMap
    from seamproof.planning.stages import Prefer
    from seamproof.sequence import Technique

WAYS: Final = 12
"""How many ways of coming apart are offered for one unit."""


@dataclass(frozen=True)
class SeamChoice:
    """One seam.

    Attributes:
        edges: Its edge indices, in order along it.
        passes: Them as they are sewn, the started stretch first.
        pivots: The nodes where the needle stops and the cloth is turned, or where it stops dead.
        kind: The technique it takes.
    """

    edges: tuple[int, ...]
    passes: tuple[tuple[int, ...], ...]
    pivots: tuple[int, ...]
    kind: Technique


@dataclass(frozen=True)
class HardSeams:
    """Every seam of a unit.

    Attributes:
        last_seams: From the one started first to the last; the last one of a single pass parts the unit.
        order: Every (seam, pass) in sewing order.
        least_pivots: Proven: no construction has fewer.
        least_partial_seams: Proven: none with so few pivots has fewer.
    """

    last_seams: tuple[SeamChoice, ...]
    order: tuple[tuple[int, int], ...]
    least_pivots: int
    least_partial_seams: int

    @property
    def pivots(self) -> int:
        """Its pivots."""
        return sum(len(seam.pivots) for seam in self.last_seams)

    @property
    def partial_seams(self) -> int:
        """Passes beyond the first, over all seams."""
        return sum(len(seam.passes) - 1 for seam in self.last_seams)

    @property
    def is_proven(self) -> bool:
        """Whether both counts are proven least."""
        return (self.pivots, self.partial_seams) == (self.least_pivots, self.least_partial_seams)


def hard_seams(
    pm: PlanarMap, patches: Iterable[int] | None = None, prefer: Prefer = "partial", rounds: int = ROUNDS
) -> HardSeams:
    """The seams of a connected set of patches without holes, with the fewest pivots, then partial seams.

    Args:
        pm: The planar map of the block.
        patches: Patch indices; everything else counts as outside. None: all.
        prefer: "pivot": no partial seam at all; a pivot takes its place.
        rounds: How often rings are looked for in each stuck part before the best found must do.

    Raises:
        NotSewable: the patches do not hang together by their edges, or round a hole.
    """
    region = _region(pm, patches)
    solution = solve(region, prefer, rounds)
    sewing = Sewing(region, solution.choice, solution.early)
    order = sewing.order()
    assert order is not None
    apart = TakenApart(sewing, tuple(reversed(order)))
    numbers: dict[int, list[int]] = {}
    for number in order:
        numbers.setdefault(sewing.seam_of[sewing.passes[number][0]], []).append(number)
    place = {seam: at for at, seam in enumerate(numbers)}
    steps = tuple(
        (place[seam], numbers[seam].index(number))
        for number in order
        for seam in [sewing.seam_of[sewing.passes[number][0]]]
    )
    seams = tuple(_seam_choice(apart, seam, passes) for seam, passes in numbers.items())
    return HardSeams(seams, steps, solution.pivots, solution.partial_seams)


def plan_hard(
    pm: PlanarMap,
    unit: int | None = None,
    prefer: Prefer = "partial",
    *,
    rounds: int = ROUNDS,
    ways: int = WAYS,
    every: bool = False,
) -> HardPlan:
    """How a stuck unit may come apart: by the last seam of a best construction, or by a ring of partial seams.

    Args:
        pm: The planar map of the block.
        unit: The set of patches, as a bitmask; None: all.
        prefer: "pivot": no partial seam at all; a pivot takes its place.
        rounds: How often rings are looked for before the best found must do.
        ways: How many ways are offered: those of few parts, few pivots and even sizes first.
        every: Whether all ways are offered instead, as long as they are few; `is_complete` of the answer tells.

    Raises:
        NotSewable: the patches do not hang together by their edges, or round a hole.
    """
    region = _region(pm, None if unit is None else (patch for patch in range(pm.count) if unit >> patch & 1))
    solution = solve(region, prefer, rounds)
    sewing = Sewing(region, solution.choice, solution.early)
    all_ways = every_way(region, prefer) if every and solution.is_least else None
    apart = sorted(ways_apart(sewing), key=_rank)[:ways] if all_ways is None else sorted(all_ways, key=_rank)
    stages = list(dict.fromkeys(way.stage for way in apart))
    return HardPlan(tuple(stages), solution.pivots, solution.partial_seams, is_complete=all_ways is not None)


def _region(pm: PlanarMap, patches: Iterable[int] | None) -> Region:
    region = Region.of(pm, patches)
    if not region.is_disc:
        raise NotSewable(
            f"these {len(region.patches)} patches do not hang together by their edges, or lie round a hole: sew each "
            "connected part without holes by itself",
            reason="holes or parts",
        )
    return region


def _rank(way: TakenApart) -> tuple[int, int, int, int]:
    """Few parts, few pivots and even sizes first."""
    sizes = [len(part) for part in way.parts]
    return len(sizes), way.stage.pivots, max(sizes), way.undone[0]


def _seam_choice(apart: TakenApart, seam: int, passes: list[int]) -> SeamChoice:
    sewing = apart.sewing
    edges = sewing.seams[seam]
    pivots = apart.pivots(list(edges), sewing.path_nodes(edges))
    kind: Technique = "curved" if sewing.region.pm.edges[edges[0]].edge.is_arc else "straight"
    if pivots:
        kind = "set-in"
    elif len(passes) > 1:
        kind = "partial"
    return SeamChoice(edges, tuple(sewing.passes[number] for number in passes), pivots, kind)
