"""From the best choice for a unit to the ways in which it comes apart, last sewn first."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.planning.hard_order import Sewing
from seamproof.planning.stages import HardSeam, Stage

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

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
        undone = [last]
        while (after := _next(sewing, undone)) is not None:
            undone.append(after)
        return cls(sewing, tuple(undone))

    @cached_property
    def parts(self) -> list[frozenset[int]]:
        """The parts, by their lowest patch."""
        sewing = self.sewing
        return sewing.region.parted(edge for number in self.undone for edge in sewing.passes[number])

    @cached_property
    def stage(self) -> Stage:
        """The stage this makes."""
        sewing, region = self.sewing, self.sewing.region
        sewn = set(region.edges) - {edge for number in self.undone for edge in sewing.passes[number]}
        number_of: dict[int, int] = {}
        runs: list[list[int]] = []
        order, sides = [], []
        for number in reversed(self.undone):
            run = sewing.passes[number]
            seam = sewing.seam_of[run[0]]
            if seam not in number_of:
                number_of[seam] = len(runs)
                runs.append([])
                sides.append(self._sides(region.joined(sewn), run[0]))
            runs[number_of[seam]].append(number)
            order.append((number_of[seam], len(runs[number_of[seam]]) - 1))
            sewn.update(run)
        seams = tuple(self._seam(seam, runs[at], sides[at]) for seam, at in number_of.items())
        return Stage(tuple(unit_mask(part) for part in self.parts), seams, tuple(order))

    def _sides(self, units: list[frozenset[int]], index: int) -> tuple[frozenset[int], frozenset[int]]:
        """The units on the left and on the right of an edge as the map runs it."""
        edge = self.sewing.region.pm.edges[index]
        left = next(unit for unit in units if edge.left in unit)
        right = next(unit for unit in units if edge.right in unit)
        return left, right

    def _seam(self, seam: int, passes: list[int], sides: tuple[frozenset[int], frozenset[int]]) -> HardSeam:
        """A seam run so that the unit with the lower patch lies on its left."""
        sewing = self.sewing
        edges, nodes = list(sewing.seams[seam]), sewing.path_nodes(sewing.seams[seam])
        first = sewing.region.pm.edges[edges[nodes_at(sewing, edges, passes[0])]]
        is_forward = nodes[edges.index(sewing.passes[passes[0]][0])] == first.start
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


def nodes_at(sewing: Sewing, edges: list[int], number: int) -> int:
    """Where along a seam the first edge of a pass lies."""
    return edges.index(sewing.passes[number][0])


def oriented(region: Region, edges: list[int], nodes: list[int]) -> tuple[SeamEdge, ...]:
    """Edges with the way each is run."""
    return tuple((edge, region.pm.edges[edge].start == node) for edge, node in zip(edges, nodes, strict=False))


def _next(sewing: Sewing, undone: list[int]) -> int | None:
    """The pass to undo next; None where all that was begun is open and every part is whole."""
    region = sewing.region
    gone = set(undone)
    open_edges = [edge for number in undone for edge in sewing.passes[number]]
    begun = {sewing.seam_of[edge] for edge in open_edges}
    wanted = {
        number for number, run in enumerate(sewing.passes) if number not in gone and sewing.seam_of[run[0]] in begun
    }
    if wanted:
        reach = set(wanted)
        queue = sorted(wanted)
        for number in queue:
            fresh = sewing.after[number] - reach - gone
            reach |= fresh
            queue += sorted(fresh)
        return min(number for number in reach if sewing.after[number] <= gone)
    units = region.parted(open_edges)
    for unit in units:
        torn = any(region.pm.edges[e].left in unit and region.pm.edges[e].right in unit for e in open_edges)
        if torn or not region.part(unit).is_disc:
            return min(
                number
                for number, run in enumerate(sewing.passes)
                if number not in gone and sewing.after[number] <= gone and region.pm.edges[run[0]].left in unit
            )
    return None


def ways_apart(sewing: Sewing) -> Iterator[TakenApart]:
    """Every way in which a unit can begin to come apart along its choice."""
    for number, after in enumerate(sewing.after):
        if not after:
            yield TakenApart.along(sewing, number)
