"""Whether straight seams serve: the queue of nodes that have become boundary.

*Any cut may be taken first.* Let c and d be cuts of a unit. Taking c leaves d a cut of each part it crosses: where c
crosses d, d is parted there, at a node that has become boundary. Its prolongation ends in no cloth that it did not
end in before. So a construction of the whole, restricted to a part, is one of the part; hence if the unit can be
parted into single patches at all, it still can after any cut, and the units that are left when no cut can be found
(the *stuck* ones) are the same whatever was cut first.

So a queue serves. A node that becomes boundary marks its place on every run through it; a stretch of edges, not yet
cut, between two neighbouring marks is a cut, and its nodes become boundary in turn. Each edge is cut once and each
node marked once on each of its runs: O(E log E), the logarithm from finding the neighbouring marks.

Where the outline is not convex, a stretch whose prolongation would enter its own unit waits until that unit is parted
again. Units are then told apart by labels; of two parts, the smaller is relabelled, found by walking both at once, so
each patch gets a new label at most log n times.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from seamproof.planning.frame import bits

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.planning.frame import Frame


@dataclass
class _Stretch:
    """Edges of one run inside the unit, one after the other, with the marks set on them so far."""

    edges: tuple[int, ...]
    nodes: tuple[int, ...]
    forward: tuple[bool, ...]
    marks: list[int] = field(default_factory=list)


def stuck_units(frame: Frame, unit: int, *, curved: bool = False) -> tuple[int, ...]:
    """What is left of a connected unit after every straight cut: parts of two patches or more, none where it serves.

    Args:
        frame: The block.
        unit: The patches.
        curved: Whether smooth arcs are cut as well.
    """
    cutter = _Cutter(frame, unit, curved=curved)
    cutter.run()
    return tuple(part for part in cutter.parts() if part & (part - 1))


class _Cutter:
    def __init__(self, frame: Frame, unit: int, *, curved: bool) -> None:
        self._frame = frame
        self._alive = set(bits(unit))
        self._is_careful = not (frame.is_convex and unit == frame.all and not curved)
        self._cut: set[int] = set()
        self._on: defaultdict[int, list[tuple[_Stretch, int]]] = defaultdict(list)
        self._label = dict.fromkeys(self._alive, 0)
        self._labels = 1
        self._waiting: defaultdict[int, list[tuple[_Stretch, int, int]]] = defaultdict(list)
        for stretch in self._stretches(curved=curved):
            for position, node in enumerate(stretch.nodes):
                self._on[node].append((stretch, position))
        self._queue = [node for node in sorted(self._on) if not frame.is_inside(node, unit)]
        self._seen = set(self._queue)

    def _is_inner(self, edge: int) -> bool:
        sides = self._frame.map.edges[edge]
        return sides.left in self._alive and sides.right in self._alive

    def _stretches(self, *, curved: bool) -> Iterator[_Stretch]:
        for run in self._frame.runs:
            if not (run.is_straight or curved):
                continue
            start = None
            for position in range(len(run.edges) + 1):
                is_in = position < len(run.edges) and self._is_inner(run.edges[position])
                if is_in and start is None:
                    start = position
                elif not is_in and start is not None:
                    inside, nodes = slice(start, position), run.nodes[start : position + 1]
                    yield _Stretch(run.edges[inside], nodes, run.forward[inside])
                    start = None

    def run(self) -> None:
        """Cut until nothing can be cut."""
        while self._queue:
            for stretch, position in self._on.get(self._queue.pop(), ()):
                marks = stretch.marks
                at = bisect_left(marks, position)
                marks.insert(at, position)
                if at > 0:
                    self._try(stretch, marks[at - 1], position)
                if at + 1 < len(marks):
                    self._try(stretch, position, marks[at + 1])

    def _try(self, stretch: _Stretch, low: int, high: int) -> None:
        """Cut between two neighbouring marks, unless that was done, another mark came between, or it must wait."""
        edges = stretch.edges[low:high]
        if edges[0] in self._cut or stretch.marks[bisect_left(stretch.marks, low) + 1] != high:
            return
        if stretch.nodes[low] == stretch.nodes[high]:
            return  # a full circle from a point to itself is no seam
        if self._is_careful and not self._seen.isdisjoint(stretch.nodes[low + 1 : high]):
            return  # a mark between is still to come: it makes two cuts of this one
        if self._is_careful and self._enters(stretch, low, high):
            self._waiting[self._label[self._frame.map.edges[edges[0]].left]].append((stretch, low, high))
            return
        self._cut.update(edges)
        fresh = [node for node in stretch.nodes[low + 1 : high] if node not in self._seen]
        self._seen.update(fresh)
        self._queue += fresh
        if self._is_careful:
            self._part(edges[0])

    def _enters(self, stretch: _Stretch, low: int, high: int) -> bool:
        """Whether the prolongation past either end runs into the unit's own cloth."""
        label = self._label[self._frame.map.edges[stretch.edges[low]].left]
        ends = ((stretch.edges[low], not stretch.forward[low]), (stretch.edges[high - 1], stretch.forward[high - 1]))
        return any(
            all(self._label.get(patch) == label for patch in bits(beyond))
            for edge, at_end in ends
            for beyond in self._frame.prolonged.beyond(edge, at_end=at_end)
        )

    def _part(self, edge: int) -> None:
        """Give the smaller of the two parts beside a cut a new label, and try again what waited."""
        sides = self._frame.map.edges[edge]
        old = self._label[sides.left]
        walks = (self._walk(sides.left), self._walk(sides.right))
        found: tuple[list[int], list[int]] = ([], [])
        smaller = None
        while smaller is None:
            for walk, part in zip(walks, found, strict=True):
                patch = next(walk, None)
                if patch is None:
                    smaller = part
                    break
                part.append(patch)
        for patch in smaller:
            self._label[patch] = self._labels
        self._labels += 1
        again = self._waiting.pop(old, [])
        for stretch, low, high in again:
            self._try(stretch, low, high)

    def _walk(self, first: int) -> Iterator[int]:
        seen, stack = {first}, [first]
        while stack:
            patch = stack.pop()
            yield patch
            for edge, other, _ in self._frame.sides[patch]:
                if other in self._alive and other not in seen and edge not in self._cut:
                    seen.add(other)
                    stack.append(other)

    def parts(self) -> Iterator[int]:
        """The units between the cuts, by their lowest patch."""
        seen: set[int] = set()
        for first in sorted(self._alive):
            if first not in seen:
                part = list(self._walk(first))
                seen.update(part)
                yield sum(1 << patch for patch in part)
