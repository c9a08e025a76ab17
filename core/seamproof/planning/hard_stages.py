"""From the best choice for a unit to the ways in which it comes apart, last sewn first."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.planning.hard_order import Sewing
from seamproof.planning.stages import HardSeam, Stage

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from seamproof.planning.hard_region import Region
    from seamproof.planning.stages import SeamEdge


def restricted(sewing: Sewing, region: Region) -> Sewing:
    """What a choice for a whole says of a part of it."""
    inner, nodes = set(region.edges), set(region.nodes)
    choice = {node: option for node, option in sewing.choice.items() if node in nodes}
    return Sewing(region, choice, tuple(fact for fact in sewing.early if {fact.e, fact.f} <= inner))


def unit_mask(patches: Iterable[int]) -> int:
    """A set of patches as a bitmask."""
    return sum(1 << patch for patch in patches)


@dataclass(frozen=True)
class TakenApart:
    """A unit taken apart along its choice until what was begun is open altogether.

    Passes are undone from the last backwards. A seam sewn in passes must be undone to its first one, and with it all
    that was sewn between; what is left then are parts that are whole again: nothing inside them is left open. Each
    is a unit without holes, so that it can be planned afresh, at no higher cost than the choice has inside it.

    Attributes:
        sewing: The choice for the unit.
        undone: Passes, the last sewn first.
    """

    sewing: Sewing
    undone: tuple[int, ...]

    @classmethod
    def along(cls, sewing: Sewing, last: int) -> TakenApart:
        """Undo a pass that nothing has to follow, and what it brings along."""
        undone = {last: None}
        while after := _next(sewing, undone):
            undone |= dict.fromkeys(after)
        return cls(sewing, tuple(undone))

    @cached_property
    def edges(self) -> tuple[int, ...]:
        """All that is undone, ascending."""
        return tuple(sorted(edge for number in self.undone for edge in self.sewing.passes[number]))

    @cached_property
    def parts(self) -> list[frozenset[int]]:
        """The parts, by their lowest patch."""
        return self.sewing.region.parted(self.edges)

    @cached_property
    def stage(self) -> Stage:
        """The stage this makes."""
        sewing, pm = self.sewing, self.sewing.region.pm
        unit_of = {patch: part for part in self.parts for patch in part}
        number_of: dict[int, int] = {}
        runs: list[list[int]] = []
        order, sides = [], []
        for number in reversed(self.undone):
            first = pm.edges[sewing.passes[number][0]]
            seam = sewing.seam_of[sewing.passes[number][0]]
            if seam not in number_of:
                number_of[seam] = len(runs)
                runs.append([])
                sides.append((unit_of[first.left], unit_of[first.right]))
                whole = unit_of[first.left] | unit_of[first.right]
                unit_of |= dict.fromkeys(whole, whole)
            runs[number_of[seam]].append(number)
            order.append((number_of[seam], len(runs[number_of[seam]]) - 1))
        seams = tuple(self._seam(seam, runs[at], sides[at]) for seam, at in number_of.items())
        return Stage(tuple(unit_mask(part) for part in self.parts), seams, tuple(order))

    def _seam(self, seam: int, passes: list[int], sides: tuple[frozenset[int], frozenset[int]]) -> HardSeam:
        """A seam run so that the unit with the lower patch lies on its left."""
        sewing = self.sewing
        edges, nodes = list(sewing.seams[seam]), sewing.path_nodes(sewing.seams[seam])
        first = sewing.passes[passes[0]][0]
        is_forward = nodes[edges.index(first)] == sewing.region.pm.edges[first].start
        left, right = sides if is_forward else sides[::-1]
        if min(right) < min(left):
            left, right = right, left
            edges.reverse()
            nodes.reverse()
        run = oriented(sewing.region, edges, nodes)
        place = {edge: at for at, edge in enumerate(edges)}
        rows = tuple(tuple(run[at] for at in sorted(place[edge] for edge in sewing.passes[p])) for p in passes)
        return HardSeam(unit_mask(left), unit_mask(right), run, rows, self.pivots(edges, nodes))

    def pivots(self, edges: list[int], nodes: list[int]) -> tuple[int, ...]:
        """The nodes where a seam turns or stops dead, in order along it."""
        sewing = self.sewing
        turned = [node for node in nodes[1:-1] if sewing.choice[node].is_pivot]
        start = [nodes[0]] if self._stops(edges[0], nodes[0]) else []
        end = [nodes[-1]] if self._stops(edges[-1], nodes[-1]) else []
        return (*start, *turned, *end)

    def _stops(self, edge: int, node: int) -> bool:
        """Whether a seam stops dead at its end: all that it would run into is sewn before."""
        crossed = self.sewing.region.stop(edge, node)
        if crossed is None:
            return False
        later = self.undone[: self.undone.index(self.sewing.pass_of[edge])]
        return not any(self.sewing.pass_of[other] in later for other in crossed)


def oriented(region: Region, edges: list[int], nodes: list[int]) -> tuple[SeamEdge, ...]:
    """Edges with the way each is run."""
    return tuple((edge, region.pm.edges[edge].start == node) for edge, node in zip(edges, nodes, strict=False))


def _next(sewing: Sewing, undone: Collection[int]) -> list[int]:
    """The passes to undo next, in order; none where all that was begun is open and every part is whole."""
    seams = {sewing.seam_of[sewing.passes[number][0]] for number in undone}
    rest = sorted({sewing.pass_of[edge] for seam in seams for edge in sewing.seams[seam]} - set(undone))
    if rest:
        return _with_all_after(sewing, rest, undone)
    region = sewing.region
    open_edges = [edge for number in undone for edge in sewing.passes[number]]
    units = [unit for unit in region.parted(open_edges) if len(unit) > 1]
    unit_of = {patch: number for number, unit in enumerate(units) for patch in unit}
    sides = [(unit_of.get(region.pm.edges[e].left), unit_of.get(region.pm.edges[e].right)) for e in open_edges]
    torn = {left for left, right in sides if left == right}
    for number, unit in enumerate(units):
        if number in torn or not region.part(unit).is_disc:
            inside = (n for n, run in enumerate(sewing.passes) if region.pm.edges[run[0]].left in unit)
            return [min(n for n in inside if n not in undone and sewing.after[n] <= set(undone))]
    return []


def _with_all_after(sewing: Sewing, wanted: list[int], undone: Collection[int]) -> list[int]:
    """Passes, and all that must be sewn after them, so that each comes after what must follow it."""
    order: dict[int, None] = {}
    seen = set(undone)
    for number in wanted:
        stack = [(number, False)]
        while stack:
            at, is_left = stack.pop()
            if is_left:
                order[at] = None
            elif at not in seen:
                seen.add(at)
                stack.append((at, True))
                stack += [(other, False) for other in sorted(sewing.after[at], reverse=True)]
    return list(order)


def ways_apart(sewing: Sewing) -> Iterator[TakenApart]:
    """Every way in which a unit can begin to come apart along its choice."""
    for number, after in enumerate(sewing.after):
        if not after:
            yield TakenApart.along(sewing, number)
