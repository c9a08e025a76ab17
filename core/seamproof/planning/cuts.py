"""The cuts by which a unit that one foundation does not serve can be parted in two.

*Lone patches wait.* Let S be a unit with removable patches R and core K (see `order`), K of two patches or more.
Every construction of S parts K at last by some first cut c of K; what it takes off S before, one patch at a time, is
a set L of removable patches. Among the sets after which the run of c is a cut there is a least one M: where the run
ends at an inner node, the patch that lies flat across it must go, with all that must go before it, and nothing else
must. The patches of L without M can as well be taken off later, from the part they hang on, at the same price of one
lone patch each. So it is enough to try, for every cut of the core, the cut of S without M: as many choices as there
are runs, not as many as there are sets of removable patches. And since a removable patch costs no foundation, the
least number of foundations of S is that of K.

Where the outline is not convex, a cut of the core may part a single patch from it, one that no paper could be folded
back on. Such a patch costs no foundation if it is joined by itself, so all that hangs on it is taken off as well.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce
from itertools import groupby
from operator import or_
from typing import TYPE_CHECKING

from seamproof.planning.frame import bits

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.planning.frame import Frame, Run
    from seamproof.planning.order import Peel
    from seamproof.planning.stages import SeamEdge


@dataclass(frozen=True, slots=True)
class Cut:
    """A unit parted in two.

    Attributes:
        run: The run along which it is cut.
        low: The first position on it.
        high: One past the last.
        left: The patches on the left of the run, and all that hangs on them.
        right: Those on its right.
        peeled: The lone patches (patch, run of its seam) that are taken off before, in that order.
    """

    run: int
    low: int
    high: int
    left: int
    right: int
    peeled: tuple[tuple[int, int], ...] = ()


def inner_edges(frame: Frame, unit: int) -> dict[int, list[int]]:
    """For each run the positions of its edges inside a unit, ascending."""
    found: dict[int, list[int]] = {}
    for patch in bits(unit):
        for edge, other, run in frame.sides[patch]:
            if patch < other and unit >> other & 1:
                found.setdefault(run, []).append(frame.place[edge][1])
    return {run: sorted(found[run]) for run in sorted(found)}


def cuts_of(frame: Frame, unit: int, found: Peel | None = None) -> Iterator[Cut]:
    """Every cut of a unit's core, each with the lone patches that must go before it and no other.

    Args:
        frame: The block.
        unit: A connected unit without holes.
        found: Its peel; None: no patch waits, and every cut of the unit itself is given, lone patches' too.
    """
    core = unit if found is None else found.core
    removable = () if found is None else found.order
    before = removed_before(frame, unit, removable)
    for run, spots in inner_edges(frame, core).items():
        for low, high in _chords(frame, frame.runs[run], core, spots):
            cut = _widened(frame, unit, run, (low, high), before)
            if cut is not None and (hanging := _on_lone_side(core, cut)):
                gone = reduce(or_, (before[patch] for patch in bits(hanging)))
                cut = _widened(frame, unit & ~gone, run, (low, high), before)
            if cut is not None:
                gone = unit & ~(cut.left | cut.right)
                peeled = tuple((patch, seam) for patch, seam in removable if gone >> patch & 1)
                yield Cut(run, cut.low, cut.high, cut.left, cut.right, peeled)


def removed_before(frame: Frame, unit: int, removable: tuple[tuple[int, int], ...]) -> dict[int, int]:
    """For each removable patch itself and all that must be taken off before it."""
    before: dict[int, int] = {}
    for patch, run in removable:
        gone = 1 << patch
        for _, other, _ in frame.sides[patch]:
            gone |= before.get(other, 0)
        if not frame.is_plain:
            for other in bits(frame.over_sides(patch, run)[0] & unit & ~(1 << patch)):
                gone |= before.get(other, 0)
        before[patch] = gone
    return before


def _chords(frame: Frame, run: Run, unit: int, spots: list[int]) -> Iterator[tuple[int, int]]:
    """Stretches of edges inside a unit, parted at the unit's boundary, that end at its boundary on both sides."""
    stretches = [[spot for _, spot in group] for _, group in groupby(enumerate(spots), lambda row: row[1] - row[0])]
    for stretch in stretches:
        low = stretch[0]
        for spot in stretch:
            node = run.nodes[spot + 1]
            if spot == stretch[-1] or not frame.is_inside(node, unit):
                is_open = frame.is_inside(run.nodes[low], unit) or frame.is_inside(node, unit)
                if not is_open and run.nodes[low] != node:
                    yield (low, spot + 1)
                low = spot + 1


def _widened(frame: Frame, unit: int, run: int, chord: tuple[int, int], before: dict[int, int]) -> Cut | None:
    """The cut of the unit along a chord of its core, after the least peeling; None where none makes it a cut."""
    line = frame.runs[run]
    while True:
        low, high = chord
        while low > 0 and frame.is_inside(line.nodes[low], unit):
            low -= 1
        while high < len(line.edges) and frame.is_inside(line.nodes[high], unit):
            high += 1
        ends = [node for node in (line.nodes[low], line.nodes[high]) if frame.is_inside(node, unit)]
        if ends:
            gone = _flat(frame, ends[0], before)
        else:
            gone = 0 if frame.is_plain else _entered(frame, unit, line, (low, high), before)
            if gone == 0:
                return _parted(frame, unit, run, low, high)
        if gone is None:
            return None
        unit &= ~gone


def _on_lone_side(core: int, cut: Cut) -> int:
    """What hangs on a single patch of the core that the cut parts from the rest."""
    sides = (side for side in (cut.left, cut.right) if (side & core).bit_count() == 1)
    return next((side & ~core for side in sides), 0)


def _flat(frame: Frame, node: int, before: dict[int, int]) -> int | None:
    """What must go so that a node comes to the boundary: the removable patch flat across it, and what is before it."""
    return next((before[patch] for patch in bits(frame.flat_at[node]) if patch in before), None)


def _entered(frame: Frame, unit: int, line: Run, stretch: tuple[int, int], before: dict[int, int]) -> int | None:
    """What must go so that the seam, prolonged, does not run into the unit; 0: nothing, None: it cannot be helped."""
    gone = 0
    low, high = stretch
    ends = ((line.edges[low], not line.forward[low]), (line.edges[high - 1], line.forward[high - 1]))
    for edge, at_end in ends:
        for beyond in frame.prolonged.beyond(edge, at_end=at_end):
            if beyond & ~unit == 0:
                helping = [before[patch] for patch in bits(beyond) if patch in before]
                if not helping:
                    return None
                gone |= min(helping, key=int.bit_count)
    return gone


def _parted(frame: Frame, unit: int, run: int, low: int, high: int) -> Cut | None:
    """The two sides of a stretch that runs from boundary to boundary."""
    if frame.is_plain:
        left = unit & frame.left_of[run]
        return Cut(run, low, high, left, unit & ~left)
    edges = frame.runs[run].edges[low:high]
    first = frame.map.edges[edges[0]]
    start = first.left if frame.runs[run].forward[low] else first.right
    left = flood(frame, start, unit, frozenset(edges))
    right = unit & ~left
    return Cut(run, low, high, left, right) if right else None


def flood(frame: Frame, start: int, unit: int, walls: frozenset[int] = frozenset()) -> int:
    """The patches of a unit that can be reached from one of them without crossing a wall."""
    found, stack = 1 << start, [start]
    while stack:
        for edge, other, _ in frame.sides[stack.pop()]:
            if unit >> other & 1 and not found >> other & 1 and edge not in walls:
                found |= 1 << other
                stack.append(other)
    return found


def seam_between(frame: Frame, run: int, left: int, right: int) -> tuple[SeamEdge, ...]:
    """The edges of a run between two units, from end to end, the first unit on the left."""
    line = frame.runs[run]
    found = []
    flipped = False
    for edge, forward in zip(line.edges, line.forward, strict=True):
        sides = frame.map.edges[edge]
        if not sides.is_inner:
            continue
        on_left, on_right = (sides.left, sides.right) if forward else (sides.right, sides.left)
        if left >> on_left & 1 and right >> on_right & 1:
            found.append((edge, forward))
        elif left >> on_right & 1 and right >> on_left & 1:
            found.append((edge, forward))
            flipped = True
    return tuple((edge, not forward) for edge, forward in reversed(found)) if flipped else tuple(found)
