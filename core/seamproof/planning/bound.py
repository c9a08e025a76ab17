"""A lower bound on the foundations of a unit, from the nodes that no foundation can have inside it.

An inner node is *bad* if no patch lies flat across it: every line through it has seams on both sides. No foundation has
a bad node inside (the patch sewn last at a node lies flat across it), and no join of a lone patch passes through one
(the lone patch would lie flat there). So every bad node lies inside the seam of a join of two units of two patches or
more, hence of two units that hold a foundation each. There are exactly f − 1 such joins, and each lies on one run. So
f − 1 is no less than the least number of runs that pass through all bad nodes.

That number is bounded in turn. A run that alone passes through some bad node is one of them, and what else it passes
through is done with. Of the nodes left, no two that share a run can be passed by less than two runs: as many runs are
needed as there are nodes of which no two share one. Where the nodes left have two runs each and the runs fall into two
kinds, of which no two of a kind cross (rows and columns), the most nodes of which no two share a run are as many as
the least runs, so no better bound can be had from bad nodes.
Source: D. Kőnig, "Gráfok és mátrixok", Matematikai és Fizikai Lapok 38 (1931).
"""

from __future__ import annotations

from collections import defaultdict, deque
from typing import TYPE_CHECKING, TypeAlias

from seamproof.planning.frame import bits

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from seamproof.planning.frame import Frame

Runs: TypeAlias = "Mapping[int, Iterable[int]]"
"""For each run those it crosses at a bad node."""


def least_foundations(frame: Frame, unit: int) -> int:
    """A lower bound for a unit that straight cuts and smooth arcs serve, from its bad nodes."""
    if not unit & (unit - 1):
        return 0
    nodes = {node for patch in bits(unit) for node in frame.ring(patch)}.intersection(frame.crossed)
    bad = {
        frozenset(frame.crossed[node])
        for node in sorted(nodes)
        if not frame.flat_at[node] and frame.is_inside(node, unit)
    }
    return 1 + runs_needed(bad)


def runs_needed(bad: Iterable[frozenset[int]]) -> int:
    """At least so many runs are needed to pass through every bad node, each given as the runs through it.

    >>> runs_needed([frozenset({0, 2}), frozenset({0, 3}), frozenset({1, 3})])
    2
    """
    nodes = set(bad)
    forced = {run for runs in nodes if len(runs) == 1 for run in runs}
    left = sorted((sorted(runs) for runs in nodes if not forced & runs), key=lambda runs: (len(runs), runs))
    mates = _matched([runs for runs in left if len(runs) == 2])
    taken, count = set(mates), len(forced) + len(mates) // 2
    for runs in left:
        if taken.isdisjoint(runs):
            taken.update(runs)
            count += 1
    return count


def _matched(pairs: Sequence[Sequence[int]]) -> dict[int, int]:
    """Pairs of runs of which no two share one, as the mate of each: the most, where the runs are of two kinds.

    Pairs within one kind are left out. From each run of the first kind without a mate a shortest way is sought on which
    pairs that are not chosen and pairs that are follow one another, to a run without a mate; these change places.
    """
    first = _first_kind(pairs)
    across: defaultdict[int, list[int]] = defaultdict(list)
    for a, b in pairs:
        if first[a] != first[b]:
            across[a if first[a] else b].append(b if first[a] else a)
    mates: dict[int, int] = {}
    for root in across:
        came: dict[int, int] = {}
        row = deque([root])
        while row:
            run = row.popleft()
            for other in across[run]:
                if other not in came:
                    came[other] = run
                    if other not in mates:
                        _change_places(mates, came, other)
                        row.clear()
                        break
                    row.append(mates[other])
    return mates


def _change_places(mates: dict[int, int], came: dict[int, int], end: int) -> None:
    """Give every run on the way to one without a mate another mate."""
    while True:
        run = came[end]
        before = mates.get(run)
        mates[run], mates[end] = end, run
        if before is None:
            return
        end = before


def _first_kind(pairs: Sequence[Sequence[int]]) -> dict[int, bool]:
    """For each run whether it is of the first kind: across from its neighbours, as far as that goes."""
    beside: defaultdict[int, list[int]] = defaultdict(list)
    for a, b in pairs:
        beside[a].append(b)
        beside[b].append(a)
    first: dict[int, bool] = {}
    for start in beside:
        if start in first:
            continue
        first[start] = True
        row = [start]
        for run in row:
            for other in beside[run]:
                if other not in first:
                    first[other] = not first[run]
                    row.append(other)
    return first
