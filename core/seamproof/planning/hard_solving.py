"""The best choice for a whole region: straight cuts and arcs first, then each stuck part by itself."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.planning.hard_choices import ROUNDS, SEARCHED, Search, Solution, dead_stops, has_line, options
from seamproof.planning.hard_order import Fact, Option, Sewing
from seamproof.planning.hard_peeling import Peeling

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.planning.hard_region import Region
    from seamproof.planning.stages import Prefer

EASED: Final = 100
"""At how many nodes a pivot is tried to be left out when the search has ended without proof."""


def solve(region: Region, prefer: Prefer = "partial", rounds: int = ROUNDS) -> Solution:
    """The choice for a region, with its proven bounds.

    Raises:
        NotSewable: the region has a hole, or does not hang together.
    """
    choice, early, cut = _cuts(region)
    pivots = partial = 0
    is_least = True
    for patches in region.parted(cut):
        part = region.part(patches)
        if not part.edges:
            continue
        solved = _solve_stuck(part, prefer, rounds)
        choice |= solved.choice
        early += solved.early
        pivots += solved.pivots
        partial += solved.partial_seams
        is_least &= solved.is_least
    return Solution(choice, tuple(early), pivots, partial, is_least)


def _cuts(region: Region) -> tuple[dict[int, Option], list[Fact], list[int]]:
    """Runs in line from outline to outline, taken as they come: what they choose, and their edges, sewn last first."""
    pm = region.pm
    choice: dict[int, Option] = {}
    cut: dict[int, None] = {}
    open_nodes = set(region.nodes)
    stops = {(node, edge): crossed for node, edge, crossed in dead_stops(region)}
    queue = sorted(region.border_nodes)
    for node in queue:
        for edge in region.star(node):
            run, nodes = _run(region, edge, node, open_nodes)
            ends = ((node, edge), (nodes[-1], run[-1]))
            if edge in cut or nodes[-1] in open_nodes or nodes[-1] == node:
                continue
            if any(end in stops and not cut.keys() & set(stops[end]) for end in ends):
                continue
            cut |= dict.fromkeys(run)
            inside = nodes[1:-1]
            choice |= {at: Option(run[i], run[i + 1]) for i, at in enumerate(inside)}
            open_nodes -= set(inside)
            queue += [*inside, node, nodes[-1]] if stops else inside
    assert all(pm.in_line(option.first, option.then, node) for node, option in choice.items())
    return choice, _before_cuts(stops, list(cut)), list(cut)


def _before_cuts(stops: dict[tuple[int, int], tuple[int, ...]], cut: list[int]) -> list[Fact]:
    """The orders that keep seams from stopping dead where they would run into a cut that is sewn after them."""
    place = {edge: at for at, edge in enumerate(cut)}
    found = []
    for (node, edge), crossed in stops.items():
        first = min((place[other] for other in crossed if other in place), default=len(cut))
        if first < place.get(edge, len(cut)):
            found.append(Fact("early", node, edge, cut[first]))
    return found


def _run(region: Region, edge: int, node: int, open_nodes: set[int]) -> tuple[list[int], list[int]]:
    """The run in line from a node along an edge, to the first node that is not open or where it ends."""
    run, nodes = [edge], [node, region.pm.other_end(edge, node)]
    while nodes[-1] in open_nodes:
        after = region.pm.onward(run[-1], nodes[-1])
        if after is None or after == edge:
            break
        run.append(after)
        nodes.append(region.pm.other_end(after, nodes[-1]))
    return run, nodes


def _solve_stuck(part: Region, prefer: Prefer, rounds: int) -> Solution:
    """The choice for a part that no run in line parts."""
    stops = list(dead_stops(part))
    forced = sum(not has_line(part, node) for node in part.nodes) + sum(not crossed for *_, crossed in stops)
    if not any(crossed for *_, crossed in stops) and not any(has_line(part, node) for node in part.nodes):
        return Solution(Peeling(part).run(), (), forced, 0)
    sewing = None
    pivots = partial = 0
    if len(part.nodes) <= SEARCHED:
        sewing, pivots, partial = Search(part, prefer).run(rounds)
    elif prefer == "partial":
        partial = _apart_rings(part)
    is_least = sewing is not None
    if sewing is None:
        sewing = _fallback(part, prefer)
        while (easier := whole_again(sewing)) != sewing:
            sewing = easier
    return Solution(sewing.choice, tuple(sewing.early), forced + pivots, partial, is_least)


def _apart_rings(part: Region) -> int:
    """How many rings without a common node there are among orders that hold wherever no pivot is needless.

    At a node with one pair in line that pair is sewn last unless a pivot is made: each ring of such orders asks for a
    pivot or a partial seam of its own.
    """
    sure = {}
    for node in part.nodes:
        lines = [option for option in options(part, node, "pivot") if not option.is_pivot]
        if len(lines) == 1:
            sure[node] = lines[0]
    count = 0
    while True:
        gone: set[int] = set()
        for conflict in sorted(Sewing(part, sure).conflicts(), key=len):
            nodes = {fact.node for fact in conflict}
            if not nodes & gone and any(fact.kind == "after" for fact in conflict):
                count += 1
                gone |= nodes
        if not gone:
            return count
        sure = {node: option for node, option in sure.items() if node not in gone}


def _fallback(part: Region, prefer: Prefer) -> Sewing:
    """A good choice, with no claim that none is better."""
    found = Search(part, prefer).any(ROUNDS)
    if found is None:
        return Sewing(part, Peeling(part).run())
    if prefer == "partial":
        lines = {node: options(part, node, "pivot")[0] for node in part.nodes if has_line(part, node)}
        found = _mended(replace(found, choice={**found.choice, **lines})) or found
    return _eased(found)


def _mended(sewing: Sewing) -> Sewing | None:
    """A choice in conflict with its rings parted one after another; None where that does not come to an end."""
    while conflicts := sewing.conflicts():
        changes: dict[int, Option] = {}
        touched: set[int] = set()
        for ring in sorted(conflicts, key=len):
            nodes = {fact.node for fact in ring}
            parted = next(_partings(sewing, ring), None)
            if parted and not nodes & touched:
                changes[parted[0]] = parted[1]
                touched |= nodes
        if not changes:
            return None
        sewing = replace(sewing, choice={**sewing.choice, **changes})
    return sewing


def _partings(sewing: Sewing, ring: Sequence[Fact]) -> Iterator[tuple[int, Option]]:
    """Nodes of a ring that can be parted, the edge by which the ring goes on being sewn first."""
    for fact in ring:
        option = sewing.choice.get(fact.node)
        if fact.kind == "after" and option and not option.costs:
            other = option.other(fact.f)
            assert other is not None
            yield fact.node, Option(fact.f, other, is_parted=True)


def _eased(sewing: Sewing) -> Sewing:
    """A choice with an easier option in place of a pivot wherever that makes no conflict."""
    part = sewing.region
    costly = [node for node in part.nodes if has_line(part, node) and sewing.choice[node].is_pivot]
    for node in costly[:EASED]:
        for option in options(part, node, "pivot"):
            easier = replace(sewing, choice={**sewing.choice, node: option})
            if not option.is_pivot and not easier.conflicts():
                sewing = easier
                break
    return sewing


def whole_again(sewing: Sewing) -> Sewing:
    """A choice with seams parted in vain made whole, each node looked at once: the two passes there become one.

    Let f and l be the passes on either side of a parted node, f the earlier. Made one, they close a ring just where
    something other than l comes after f and before l: only then are they left as they are.
    """
    after = [set(row) for row in sewing.after]
    part_of = list(range(len(after)))
    choice = dict(sewing.choice)

    def whole(number: int) -> int:
        while part_of[number] != number:
            number = part_of[number]
        return number

    for node, option in sewing.choice.items():
        if not option.is_parted:
            continue
        f, late = whole(sewing.pass_of[option.first]), whole(sewing.pass_of[option.then])
        rest = {whole(number) for number in after[f]} - {late}
        stack, seen = [*rest], rest | {f}
        for number in stack:
            fresh = {whole(other) for other in after[number]} - seen
            seen |= fresh
            stack += fresh
        if late not in seen:
            part_of[f] = late
            after[late] |= after[f] - {f, late}
            choice[node] = replace(option, is_parted=False)
    return replace(sewing, choice=choice)
