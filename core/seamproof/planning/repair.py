"""The fewest seams to add so that a block can be sewn as asked: existing seams carried on across a patch.

Carrying on. A seam that ends inside the block ends on a patch; carried on in its own direction it crosses that patch to
its far side and parts it in two pieces of the same cloth. Nothing else is ever added.

Why the search for straight seams is complete. The units that are left when every straight cut has been taken (*stuck*)
are the same whatever was cut first, and a construction of the whole restricts to one of each stuck unit, so each needs
an addition inside it. An addition outside all of them serves only as the beginning of one carried on, patch by patch,
into one: take away any other, and the cuts that set the stuck units free, which lie outside, are still there. So a
*carry* is a seam taken on across one or more patches, all but the last outside the stuck units, and costs as many
additions. Depth-first with a growing limit finds the least sum; orders of the same carries are tried once.

Why a branch may be left early. A carry across one patch begins at one node and ends at one, so it sets in line at most
two wyes or bends; a node that stays a wye or bend within a stuck unit keeps it stuck. So a stuck unit with w of them
needs ⌈w/2⌉ additions at least, and one in any case.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from seamproof.block import Block, Patch
from seamproof.geometry import Outline
from seamproof.geometry.points import add, along, cross, distance, dot, sub, times
from seamproof.planning.frame import Frame, bits
from seamproof.planning.plan import plan
from seamproof.planning.verdict import stuck_units
from seamproof.planning.whole import check_whole
from seamproof.tolerance import SAME_POINT, UNIT_VECTOR, area_slack

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from seamproof.geometry import Point

LOOKS: Final = 4_000
"""How many changed blocks are looked at before the search ends with what it has."""

DEEPEST: Final = 12
"""The most additions that are ever proposed."""


@dataclass(frozen=True)
class Addition:
    """One seam carried on across one patch.

    Attributes:
        patch: The patch that it parts, by its id at that moment.
        start: Where the existing seam ended [in].
        end: Where it ends now [in].
        pieces: The ids of the two pieces.
    """

    patch: str
    start: Point
    end: Point
    pieces: tuple[str, str]


@dataclass(frozen=True)
class Repair:
    """What a search for the fewest additions came to.

    Attributes:
        block: The block with the additions.
        additions: The seams carried on, in order.
        solved: Whether the block can now be sewn as asked.
        bound: Proven: no repair has fewer additions.
    """

    block: Block
    additions: tuple[Addition, ...]
    solved: bool
    bound: int

    @property
    def is_least(self) -> bool:
        """Whether no repair has fewer additions."""
        return self.solved and self.bound == len(self.additions)


def repair(block: Block, *, foundations: int | None = None, pivots: int | None = None, looks: int = LOOKS) -> Repair:
    """Find the fewest seams to carry on so that a block can be sewn as asked.

    Args:
        block: The block, of straight-edged patches.
        foundations: The most foundations it may take; None: any number.
        pivots: The most pivots it may take; None: none, and no partial seam: straight seams only.
        looks: How many changed blocks to look at before ending with the best found.

    Raises:
        BlockError: the patches do not tile.
        NotSewable: the block is in parts or has holes, which no added seam mends.
    """
    block.check()
    check_whole(Frame.of(block))
    search = _Search(_asked(foundations, pivots), looks, only_stuck=foundations is None and pivots is None)
    return search.run(block)


def carry_on(block: Block, patch_id: str, start: Point, toward: Point) -> tuple[Block, Addition]:
    """The block with one patch parted along the line from `start`, a point of its outline, in a direction.

    Raises:
        BlockError: no such patch.
        ValueError: the line does not cross the patch, or would leave a sliver.
    """
    patch = block.patch(patch_id)
    ring = list(patch.outline.points)
    end = _exit(ring, start, toward)
    if end is None:
        raise ValueError(f"a seam from {start} does not cross patch {patch_id}")
    one, other = _parted(ring, start, end)
    if min(len(one), len(other)) < 3 or min(_thin(one), _thin(other)):
        raise ValueError(f"a seam from {start} to {end} leaves a sliver of patch {patch_id}")
    names = _names(block, patch_id)
    pieces = tuple(Patch(name, Outline.of(half), patch.role) for name, half in zip(names, (one, other), strict=True))
    at = block.ids.index(patch_id)
    patches = block.patches[:at] + pieces + block.patches[at + 1 :]
    return replace(block, patches=patches), Addition(patch_id, start, end, names)


def _asked(foundations: int | None, pivots: int | None) -> Callable[[Block], bool]:
    def is_met(block: Block) -> bool:
        frame = Frame.of(block)
        if pivots is None and stuck_units(frame, frame.all):
            return False
        if foundations is None and pivots is None:
            return True
        con = plan(block)
        enough = foundations is None or len(con.foundations) <= foundations
        return enough and (pivots is None or con.pivots <= pivots)

    return is_met


@dataclass(frozen=True)
class _State:
    block: Block
    additions: tuple[Addition, ...] = ()

    @property
    def key(self) -> frozenset[tuple[float, ...]]:
        """The same for the same lines, in whatever order they were added."""
        return frozenset(
            tuple(round(value / SAME_POINT) for point in sorted((a.start, a.end)) for value in point)
            for a in self.additions
        )


class _Search:
    def __init__(self, is_met: Callable[[Block], bool], looks: int, *, only_stuck: bool) -> None:
        self.is_met, self.looks, self.only_stuck = is_met, looks, only_stuck
        self.seen: dict[frozenset[tuple[float, ...]], int] = {}

    def run(self, block: Block) -> Repair:
        start = _State(block)
        bound = 0
        for limit in range(DEEPEST + 1):
            self.seen.clear()
            found = self._within(start, limit)
            if found is not None:
                return Repair(found.block, found.additions, solved=True, bound=bound)
            if self.looks <= 0:
                break
            bound = limit + 1
        best = self._greedy(start)
        return Repair(best.block, best.additions, solved=self.is_met(best.block), bound=bound)

    def _within(self, state: _State, limit: int) -> _State | None:
        left = limit - len(state.additions)
        if self.seen.get(state.key, -1) >= left or self.looks <= 0:
            return None
        self.seen[state.key] = left
        self.looks -= 1
        view = _View(state.block, only_stuck=self.only_stuck)
        if view.least > left:
            return None
        if self.is_met(state.block):
            return state
        if left == 0:
            return None
        for carried in view.carries(left):
            after = _taken(state, carried)
            if after is not None and (found := self._within(after, limit)) is not None:
                return found
        return None

    def _greedy(self, state: _State) -> _State:
        """Beyond the limit: again and again the carry after which the bound is least."""
        while len(state.additions) < DEEPEST and not self.is_met(state.block):
            view = _View(state.block, only_stuck=self.only_stuck)
            tried = [after for carried in view.carries(2) if (after := _taken(state, carried)) is not None]
            if not tried:
                break
            state = min(tried, key=lambda s: (_View(s.block, only_stuck=self.only_stuck).weight, len(s.additions)))
        return state


def _taken(state: _State, carried: tuple[tuple[Point, Point], ...]) -> _State | None:
    """The state after a seam is taken on across one patch after another; None where it leaves a sliver."""
    block, additions = state.block, state.additions
    for start, toward in carried:
        patch = _entered(block, start, toward)
        if patch is None:
            return None
        try:
            block, addition = carry_on(block, patch, start, toward)
        except ValueError:
            return None
        additions = (*additions, addition)
    return _State(block, additions)


class _View:
    """What a block offers: its stuck units, the bound they give, the seams that can be carried on."""

    def __init__(self, block: Block, *, only_stuck: bool) -> None:
        self.block, self.only_stuck = block, only_stuck
        self.frame = Frame.of(block)
        self.stuck = stuck_units(self.frame, self.frame.all) if only_stuck else ()
        self.least = sum(max(1, (self._knots(unit) + 1) // 2) for unit in self.stuck)

    @property
    def weight(self) -> tuple[int, int]:
        """How far from done: the bound, then the patches that are stuck."""
        return (self.least, sum(unit.bit_count() for unit in self.stuck))

    def _knots(self, unit: int) -> int:
        """The wyes and bends inside a unit."""
        pm = self.frame.map
        return sum(
            self.frame.is_inside(node, unit) and all(pm.onward(e, node) is None for e in pm.star(node))
            for node in range(len(pm.nodes))
        )

    def carries(self, most: int) -> Iterator[tuple[tuple[Point, Point], ...]]:
        """Every carry of at most so many additions, as (where it starts, direction) for each patch crossed."""
        pm = self.frame.map
        wanted = {patch for unit in self.stuck for patch in bits(unit)}
        for node in range(len(pm.nodes)):
            if pm.is_boundary(node):
                continue
            for index in pm.star(node):
                edge = pm.leaving(index, node)
                if edge.is_arc or pm.onward(index, node) is not None:
                    continue
                yield from self._carry(pm.nodes[node], times(edge.direction(0), -1), wanted, most)

    def _carry(
        self, start: Point, toward: Point, wanted: set[int], most: int
    ) -> Iterator[tuple[tuple[Point, Point], ...]]:
        carried: list[tuple[Point, Point]] = []
        place = start
        for _ in range(most):
            name = _entered(self.block, place, toward)
            if name is None:
                return
            carried.append((place, toward))
            if not self.only_stuck or self.frame.patches.index(self.block.patch(name)) in wanted:
                yield tuple(carried)
                if self.only_stuck:
                    return
            end = _exit(list(self.block.patch(name).outline.points), place, toward)
            if end is None:
                return
            place = end


def _entered(block: Block, p: Point, toward: Point) -> str | None:
    """The patch whose inside a line from p, a point on its outline, enters; None where it runs along an edge."""
    for patch in block.patches:
        left, bottom, right, top = patch.outline.bounds
        if not (left - SAME_POINT <= p[0] <= right + SAME_POINT and bottom - SAME_POINT <= p[1] <= top + SAME_POINT):
            continue
        if patch.outline.is_straight and _exit(list(patch.outline.points), p, toward) is not None:
            return patch.id
    return None


def _exit(ring: list[Point], start: Point, toward: Point) -> Point | None:
    """Where a line from a point on a ring, into its inside, first meets the ring again; corners are met exactly."""
    meets = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        side = sub(b, a)
        turn = cross(toward, side)
        if abs(turn) <= UNIT_VECTOR * distance(a, b):
            continue
        t = cross(sub(a, start), side) / turn
        u = cross(sub(a, start), toward) / turn
        slack = SAME_POINT / distance(a, b)
        if t > SAME_POINT and -slack <= u <= 1 + slack:
            end = add(start, times(toward, t))
            meets.append((t, next((corner for corner in (a, b) if distance(corner, end) <= SAME_POINT), end)))
    if not meets:
        return None
    end = min(meets)[1]
    return end if _holds(ring, along(start, end, 0.5)) else None


def _holds(ring: list[Point], p: Point) -> bool:
    """Whether p lies inside a ring and off its edges."""
    import shapely

    polygon = shapely.Polygon(ring)
    point = shapely.Point(p)
    return bool(polygon.contains(point)) and polygon.exterior.distance(point) > SAME_POINT


def _parted(ring: list[Point], start: Point, end: Point) -> tuple[list[Point], list[Point]]:
    """The two rings into which a chord parts a ring."""
    whole = _with(_with(ring, start), end)
    i, j = (min(range(len(whole)), key=lambda k: distance(whole[k], p)) for p in (start, end))
    turned = whole[i:] + whole[:i]
    cut = (j - i) % len(whole)
    return turned[: cut + 1], [turned[0], *turned[cut:]]


def _with(ring: list[Point], p: Point) -> list[Point]:
    """The ring with p as one of its points."""
    if any(distance(p, q) <= SAME_POINT for q in ring):
        return ring
    for i, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
        side = sub(b, a)
        t = dot(sub(p, a), side) / dot(side, side)
        if 0 < t < 1 and distance(along(a, b, t), p) <= 2 * SAME_POINT:
            return [*ring[: i + 1], p, *ring[i + 1 :]]
    return ring


def _thin(ring: list[Point]) -> bool:
    outline = Outline.of(ring)
    return outline.area <= area_slack(outline.perimeter)


def _names(block: Block, patch_id: str) -> tuple[str, str]:
    """Two ids for the pieces: the number of the patch with the first small letters that are free."""
    number = patch_id.rstrip("abcdefghijklmnopqrstuvwxyz")
    taken = set(block.ids) - {patch_id}
    free = [f"{number}{letter}" for letter in "abcdefghijklmnopqrstuvwxyz" if f"{number}{letter}" not in taken]
    return free[0], free[1]
