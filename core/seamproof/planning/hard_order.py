"""From a choice at every inner node to seams, their passes and the order of sewing, or to what speaks against it."""

from __future__ import annotations

import heapq
from collections import deque
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from seamproof.planning.hard_region import Region


@dataclass(frozen=True, slots=True)
class Option:
    """Which two edges are sewn last at an inner node, as one seam.

    Attributes:
        first: One of the two; where the node is parted, the one that is sewn earlier.
        then: The other; where the node is parted, it closes the seam there after all else at the node.
        is_pivot: They are not in line.
        is_parted: They are sewn in two passes.
    """

    first: int
    then: int
    is_pivot: bool = False
    is_parted: bool = False

    @property
    def costs(self) -> bool:
        """Whether it makes a pivot or a partial seam."""
        return self.is_pivot or self.is_parted

    def other(self, edge: int) -> int | None:
        """The edge that carries on an edge of the pair; None for an edge that ends at the node."""
        return self.then if edge == self.first else self.first if edge == self.then else None


FactKind: TypeAlias = Literal["link", "chain", "end", "late", "open", "after", "early"]


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that follows from the option taken at a node.

    "link": e and f are sewn in one pass; "chain": in one seam; "end": the seam of e ends there; "late": e closes its
    seam from there; "open": the pass of e stops there, to be carried on later; "after": f is sewn after e. "early", at
    a node of the outline: f is wanted after e, so that the seam of e need not stop dead.
    """

    kind: FactKind
    node: int
    e: int
    f: int = -1

    def holds(self, option: Option) -> bool:
        """Whether it follows from an option at its node."""
        pair = {option.first, option.then}
        if self.kind == "link":
            return pair == {self.e, self.f} and not option.is_parted
        if self.kind == "chain":
            return pair == {self.e, self.f}
        if self.kind == "end":
            return self.e not in pair
        if self.kind in {"late", "open"}:
            return option.is_parted and (option.then if self.kind == "late" else option.first) == self.e
        if option.is_parted:
            return self.f == option.then != self.e
        return self.f in pair and self.e not in pair


def joint(kind: Literal["link", "chain"], node: int, e: int, f: int) -> Fact:
    """The fact that two edges go on into one another, written one way only."""
    return Fact(kind, node, min(e, f), max(e, f))


@dataclass(frozen=True)
class Sewing:
    """The seams that follow from a choice.

    Attributes:
        region: Where.
        choice: An option for every inner node.
        early: Orders wanted at nodes of the outline.
    """

    region: Region
    choice: Mapping[int, Option]
    early: Sequence[Fact] = ()

    def _chains(self, *, through_parted: bool) -> list[tuple[int, ...]]:
        """Maximal chains of edges, each in order; a closed one starts anywhere."""
        done: set[int] = set()
        chains = []
        for index in self.region.edges:
            if index in done:
                continue
            start, end = self.region.ends(index)
            back = self._followed(index, start, through_parted=through_parted)
            if len(back) > 1 and back[-1] == index:
                chain = back[:-1]
            else:
                chain = [*back[:0:-1], *self._followed(index, end, through_parted=through_parted)]
            done.update(chain)
            chains.append(tuple(chain))
        return chains

    def _followed(self, index: int, node: int, *, through_parted: bool) -> list[int]:
        """The chain from an edge out through one of its ends; it ends with that edge again where it is closed."""
        chain = [index]
        while (option := self.choice.get(node)) is not None and (through_parted or not option.is_parted):
            after = option.other(chain[-1])
            if after is None:
                break
            chain.append(after)
            if after == index:
                break
            node = self.region.pm.other_end(after, node)
        return chain

    @cached_property
    def passes(self) -> tuple[tuple[int, ...], ...]:
        """What is sewn at one go."""
        return tuple(self._chains(through_parted=False))

    @cached_property
    def seams(self) -> tuple[tuple[int, ...], ...]:
        """Passes put together into seams, each from end to end."""
        return tuple(self._chains(through_parted=True))

    @cached_property
    def pass_of(self) -> dict[int, int]:
        """The pass in which an edge is sewn."""
        return {edge: number for number, run in enumerate(self.passes) for edge in run}

    @cached_property
    def seam_of(self) -> dict[int, int]:
        """The seam an edge belongs to."""
        return {edge: number for number, run in enumerate(self.seams) for edge in run}

    def path_nodes(self, chain: Sequence[int]) -> list[int]:
        """The nodes a chain runs through, both ends included; a single edge runs as it does in the map."""
        start, end = self.region.ends(chain[0])
        if len(chain) > 1:
            option = self.choice.get(end)
            if option is None or option.other(chain[0]) != chain[1]:
                start, end = end, start
        nodes = [start, end]
        for edge in chain[1:]:
            nodes.append(self.region.pm.other_end(edge, nodes[-1]))
        return nodes

    def _orders(self) -> Iterator[Fact]:
        for node, option in self.choice.items():
            for edge in self.region.star(node):
                if edge == option.then or (edge == option.first and not option.is_parted):
                    continue
                yield Fact("after", node, edge, option.then)
                if not option.is_parted:
                    yield Fact("after", node, edge, option.first)
        yield from self.early

    @cached_property
    def after(self) -> tuple[frozenset[int], ...]:
        """For each pass the passes that must be sewn after it (itself where it is in its own way)."""
        rows: list[set[int]] = [set() for _ in self.passes]
        for fact in self._orders():
            rows[self.pass_of[fact.e]].add(self.pass_of[fact.f])
        return tuple(frozenset(row) for row in rows)

    def conflicts(self) -> list[tuple[Fact, ...]]:
        """What speaks against the choice: sets of facts that cannot all be; empty where it can be sewn."""
        found = [*self._closed(), *self._same_ends(), *self._own_ends(), *self._late_twice(), *self._rings()]
        return list(dict.fromkeys(found))

    def _joints(self, chain: Sequence[int], nodes: Sequence[int], kind: Literal["link", "chain"]) -> list[Fact]:
        return [joint(kind, node, chain[i], chain[i + 1]) for i, node in enumerate(nodes[1:-1])]

    def _closed(self) -> Iterator[tuple[Fact, ...]]:
        for run in self.passes:
            nodes = self.path_nodes(run)
            option = self.choice.get(nodes[0])
            if len(run) > 1 and nodes[0] == nodes[-1] and option and option.other(run[0]) == run[-1]:
                facts = [*self._joints(run, nodes, "link"), joint("link", nodes[0], run[0], run[-1])]
                if not option.is_parted:
                    yield tuple(sorted(facts, key=_key))

    def _same_ends(self) -> Iterator[tuple[Fact, ...]]:
        for run in self.seams:
            nodes = self.path_nodes(run)
            if nodes[0] != nodes[-1]:
                continue
            option = self.choice.get(nodes[0])
            if option and option.other(run[0]) == run[-1]:
                continue
            facts = self._joints(run, nodes, "chain")
            if option:
                facts += [Fact("end", nodes[0], run[0]), Fact("end", nodes[0], run[-1])]
            yield tuple(sorted(facts, key=_key))

    def _own_ends(self) -> Iterator[tuple[Fact, ...]]:
        for run in self.seams:
            nodes = self.path_nodes(run)
            for edges, row in ((run, nodes), (run[::-1], nodes[::-1])):
                if row[0] in row[1:-1]:
                    loop = row.index(row[0], 1)
                    yield tuple(sorted(self._joints(edges, row[: loop + 2], "chain"), key=_key))

    def _late_twice(self) -> Iterator[tuple[Fact, ...]]:
        for run in self.passes:
            nodes = self.path_nodes(run)
            if all(
                (option := self.choice.get(node)) and option.is_parted and option.then == edge
                for node, edge in ((nodes[0], run[0]), (nodes[-1], run[-1]))
            ):
                late = [Fact("late", nodes[0], run[0]), Fact("late", nodes[-1], run[-1])]
                yield tuple(sorted([*late, *self._joints(run, nodes, "link")], key=_key))

    def followed(self, edge: int) -> Iterator[tuple[Fact, ...]]:
        """What lets something come after the pass of an edge: facts for each end where it does."""
        run = self.passes[self.pass_of[edge]]
        nodes = self.path_nodes(run)
        for edges, row in ((run, nodes), (run[::-1], nodes[::-1])):
            option = self.choice.get(row[-1])
            if option is not None and (not option.is_parted or option.then != edges[-1]):
                kind: FactKind = "open" if option.is_parted and option.first == edges[-1] else "end"
                yield (*self._joints(edges, row, "link"), Fact(kind, row[-1], edges[-1]))
        for fact in self.early:
            if fact.e in run and fact.f not in run:
                yield (*self._joints(run, nodes, "link"), fact)

    def _rings(self) -> Iterator[tuple[Fact, ...]]:
        """Shortest rings of orders, as facts between single edges: one through each order that lies on a ring."""
        ringed = _ringed(self.after)
        steps: dict[int, list[tuple[int, Fact]]] = {edge: [] for edge in self.region.edges}
        orders = []
        for fact in self._orders():
            if {self.pass_of[fact.e], self.pass_of[fact.f]} <= ringed:
                steps[fact.e].append((fact.f, fact))
                orders.append(fact)
        if not orders:
            return
        for node, option in self.choice.items():
            if not option.is_parted and self.pass_of[option.first] in ringed:
                fact = joint("link", node, option.first, option.then)
                steps[option.first].append((option.then, fact))
                steps[option.then].append((option.first, fact))
        for fact in orders:
            back = _shortest(steps, fact.f, fact.e)
            if back is not None:
                yield tuple(sorted({fact, *back}, key=_key))

    def order(self) -> list[int] | None:
        """The passes in an order in which they can be sewn, lowest first where free; None where there is a ring."""
        waits = [0] * len(self.passes)
        for row in self.after:
            for number in row:
                waits[number] += 1
        ready = [number for number, count in enumerate(waits) if not count]
        order = []
        while ready:
            number = heapq.heappop(ready)
            order.append(number)
            for other in self.after[number]:
                waits[other] -= 1
                if not waits[other]:
                    heapq.heappush(ready, other)
        return order if len(order) == len(self.passes) else None


def _key(fact: Fact) -> tuple[int, str, int, int]:
    return fact.node, fact.kind, fact.e, fact.f


def _shortest(steps: Mapping[int, Iterable[tuple[int, Fact]]], start: int, goal: int) -> list[Fact] | None:
    """The facts along a shortest way from one edge to another."""
    came: dict[int, tuple[int, Fact] | None] = {start: None}
    queue = deque([start])
    while queue and goal not in came:
        edge = queue.popleft()
        for other, fact in steps[edge]:
            if other not in came:
                came[other] = (edge, fact)
                queue.append(other)
    if goal not in came:
        return None
    facts, at = [], came[goal]
    while at is not None:
        facts.append(at[1])
        at = came[at[0]]
    return facts


def _ringed(after: Sequence[Iterable[int]]) -> set[int]:
    """The passes that lie on a ring of orders, or between two rings: those left when free ends are taken off."""
    before: list[list[int]] = [[] for _ in after]
    for number, row in enumerate(after):
        for other in row:
            before[other].append(number)
    first = _without_sources(after, before, set(range(len(after))))
    return _without_sources(before, after, first)


def _without_sources(after: Sequence[Iterable[int]], before: Sequence[Iterable[int]], left: set[int]) -> set[int]:
    """What is left when everything that follows nothing is taken off, again and again."""
    waits = {number: sum(other in left for other in before[number]) for number in sorted(left)}
    ready = [number for number, count in waits.items() if not count]
    for number in ready:
        for other in after[number]:
            if other in left:
                waits[other] -= 1
                if not waits[other]:
                    ready.append(other)
    return left - set(ready)
