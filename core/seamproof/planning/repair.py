"""The fewest seams to add so that a block can be sewn as asked: existing seams carried on across a patch.

Carrying on. A seam that ends inside the block ends on a patch; carried on in its own direction it crosses that patch to
where it first meets its outline again, and parts it in two pieces of the same cloth. Nothing else is ever added, and
nothing that would leave a sliver. What follows is of straight seams; `repair_curved` tells of blocks with curved sides.

*What counts is what lies in the stuck units.* Any straight cut may be taken first, also of the block with its
additions, for these leave every cut a cut. So the units that are left when no cut can be found (*stuck*) may be looked
at one by one: the block with additions A can be sewn if and only if each stuck unit with those of A inside it can.
Each stuck unit therefore needs an addition inside it.

*Carries.* Choose any stuck unit U. Of a least set A, taken in its order, let t be the first addition inside U. It
carries on a seam of the block, or an addition that does so, and so on back: a chain along one line from a seam's end
to the first patch of U, which is whole when t crosses it. Take that chain first. The rest of A keeps its lines, and
every seam that one of them carries on; and the number of additions hangs on the lines alone, not on their order: one
for each patch crossed, and one more for each crossing of two of them, whichever is the later. So a least set can be
found by choosing any one stuck unit, trying every *carry* into it (a seam taken on across one patch or more, all but
the last outside the unit, each an addition), and so on with what is then stuck. Depth-first with a growing limit finds
the least; the same lines in another order are looked at once.

*Ends on the outline.* Where the outline turns inward a seam may end on it with cloth beyond. Carried on there, each of
the seam and its addition runs into the cloth beside the other when prolonged, and the outline's node keeps them two:
neither can be sewn whole before the other. So for straight seams such ends serve nothing, and are left out; where
pivots are allowed they are tried.

*Bounds.* An addition has two ends and sets at most the junctions there in line, so a stuck unit with w wyes and bends
inside it needs ⌈w/2⌉ additions at least. Another bound, for units that are convex, is the least number of patches that
a tree of chords must cross (see `chords`). Where so many pivots are allowed, each may stand for one wye or bend.

*Foundations.* Let T be a unit of a convex block, parted off by straight cuts, that takes more than k foundations. A
construction of the block of k foundations, restricted to T, would be one of T: the units met stay convex, and each
foundation stays one, or a lone patch, or nothing. So a repair has an addition inside T, and for T the argument about
carries holds as it does for a stuck unit. Units as small as further cuts lead to are taken, and as many as share no
patch: each needs an addition of its own.

Some counts cannot be reached at all. Call an inner node *closed* if every angle at it is less than a half turn;
additions leave it so. The patch that is sewn last at a node, on a foundation or as a lone patch joined to the rest,
lies flat across it. So however many seams are carried on, through every closed node passes the seam of a join of two
units that hold a foundation each, of which there is one less than there are foundations. Each lies on one of the lines
drawn, so there are no fewer than the lines needed to pass through all closed nodes (see `bound`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import cross, dot, height_over, sub, times
from seamproof.planning.bound import runs_needed
from seamproof.planning.carrying import Addition, carry_on, entered, exit_of, parted, seam_ends
from seamproof.planning.chords import WORK, Chords, inside, rings_of
from seamproof.planning.cuts import cuts_of
from seamproof.planning.fewest import Search
from seamproof.planning.frame import Frame, bits
from seamproof.planning.order import peel
from seamproof.planning.plan import plan
from seamproof.planning.repair_curved import LOOK, SMALLEST, CurvedSearch, Wanted, knots
from seamproof.planning.verdict import stuck_units
from seamproof.planning.whole import check_whole
from seamproof.tolerance import SAME_POINT, UNIT_VECTOR, area_slack
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.planning.stages import Prefer

LOOKS: Final = 250
"""How many changed blocks of LOOK patches are looked at before the search ends; larger ones count as more."""

PLANNED: Final = 8
"""How many looks a whole plan counts as, where pivots are asked for."""

COUNTED: Final = 1 / 2
"""How many looks counting the foundations takes: that is quick, and more of them are needed."""

DEEPEST: Final = 12
"""How many additions are proven least at most; beyond, the best found and its bound are given."""

MOST: Final = 200
"""The most additions that are ever proposed."""

Carry = tuple[tuple["Point", "Point"], ...]


@dataclass(frozen=True)
class Repair:
    """What a search for the fewest additions came to.

    Attributes:
        block: The block with the additions.
        additions: The seams carried on, in order.
        solved: Whether the block can now be sewn as asked.
        bound: Proven: no repair has fewer additions.
        never: Whether it is proven that no seams carried on serve, however many.
    """

    block: Block
    additions: tuple[Addition, ...]
    solved: bool
    bound: int
    never: bool = False

    @property
    def is_least(self) -> bool:
        """Whether no repair has fewer additions."""
        return self.solved and self.bound == len(self.additions)


@dataclass(frozen=True)
class Goal:
    """What is asked of a block.

    Attributes:
        foundations: The most foundations it may take; None: any number.
        pivots: The most pivots it may take; None: none, and no partial seam: straight seams only.
        allowance: The seam allowance [in].
        prefer: What breaks a ring of seams where pivots are given.
    """

    foundations: int | None = None
    pivots: int | None = None
    allowance: float = ALLOWANCE
    prefer: Prefer = "partial"

    @property
    def is_straight(self) -> bool:
        """Whether straight seams are all that is asked."""
        return self.foundations is None and self.pivots is None

    def is_met(self, block: Block) -> bool:
        """Whether a block's plan keeps to it."""
        con = plan(block, allowance=self.allowance, prefer=self.prefer)
        hard = con.pivots + con.partial_seams if self.pivots is None else max(0, con.pivots - self.pivots)
        return not hard and (self.foundations is None or len(con.foundations) <= self.foundations)


def repair(
    block: Block,
    *,
    foundations: int | None = None,
    pivots: int | None = None,
    allowance: float = ALLOWANCE,
    prefer: Prefer = "partial",
    looks: int = LOOKS,
) -> Repair:
    """Find the fewest seams to carry on so that a block can be sewn as asked.

    Args:
        block: The block.
        foundations: The most foundations it may take; None: any number.
        pivots: The most pivots it may take (partial seams are then allowed); None: none, and no partial seam: straight
            seams only.
        allowance: The seam allowance [in]; it matters only where an outline is not convex.
        prefer: What breaks a ring of seams, as for `plan`.
        looks: How many changed blocks to look at before ending with the best found.

    Raises:
        BlockError: the patches do not tile.
        NotSewable: the block is in parts or has holes, which no added seam mends.
    """
    block.check()
    frame = Frame.of(block, allowance, prefer)
    check_whole(frame)
    goal = Goal(foundations, pivots, allowance, prefer)
    if any(not patch.outline.is_straight for patch in block.patches):
        search = CurvedSearch(Wanted(goal.is_met, pivots, allowance), looks, PLANNED)
        found = search.run(block)
        if found is None:
            return Repair(block, (), solved=False, bound=search.bound)
        return Repair(*found, solved=True, bound=search.bound)
    return _Search(goal, looks, Chords.of(frame)).run(_View(block, goal))


class _View:
    """What a block offers: its stuck units, the bound they give, the seams that can be carried on."""

    def __init__(self, block: Block, goal: Goal, additions: tuple[Addition, ...] = ()) -> None:
        self.block, self.goal, self.additions = block, goal, additions
        self.lows: list[int] = []
        self.is_sure = True

    @cached_property
    def frame(self) -> Frame:
        """The block made ready for planning: the dearest part of a look."""
        return Frame.of(self.block, self.goal.allowance, self.goal.prefer)

    @cached_property
    def stuck(self) -> tuple[int, ...]:
        """The units that straight seams do not part, small ones first."""
        return tuple(sorted(stuck_units(self.frame, self.frame.all), key=lambda unit: (unit.bit_count(), unit)))

    @cached_property
    def over(self) -> tuple[int, ...]:
        """Units that take more foundations than asked, as small as are found, of which no two share a patch.

        All of a block whose outline is not convex; `is_sure` tells whether it is proven.
        """
        most = self.goal.foundations
        if most is None or self.stuck:
            return ()
        search, unit = Search(self.frame), self.frame.all
        if search.best(unit).foundations <= most:
            return ()
        self.is_sure = search.is_exact or search.least(unit) > most
        if not (self.frame.is_plain and search.is_exact):
            return (unit,)
        return tuple(sorted(self._smallest(search, unit, most), key=lambda unit: (unit.bit_count(), unit)))

    def _smallest(self, search: Search, unit: int, most: int) -> Iterator[int]:
        """Units within one that takes too many foundations that do so as well, none with a patch of another."""
        stack = [unit]
        while stack:
            core = peel(self.frame, stack.pop()).core
            best: tuple[tuple[int, int, int], list[int]] | None = None
            for cut in cuts_of(self.frame, core):
                counts = {half: search.best(half).foundations for half in (cut.left, cut.right)}
                over = [half for half, count in counts.items() if count > most]
                if over and search.is_exact:
                    key = (-len(over), min(map(int.bit_count, over)), cut.run)
                    best = min(best, (key, over)) if best else (key, over)
            if best is None:
                yield core
            else:
                stack += best[1]

    def never(self, chords: Chords) -> int:
        """So many foundations are needed at least, whatever is carried on; of blocks of straight seams."""
        pm = self.frame.map
        closed = set()
        for node, place in enumerate(pm.nodes):
            if self.frame.on_outline[node] or self.frame.flat_at[node]:
                continue
            leaving = [pm.leaving(edge, node).direction(0) for edge in pm.star(node)]
            turns = (cross(d, e) for d, e in zip(leaving, leaving[1:] + leaving[:1], strict=True))
            if len(leaving) > 2 and all(turn > UNIT_VECTOR for turn in turns):
                closed.add(frozenset(chords.through(place)))
        return 1 + runs_needed(closed) if closed else 0

    @property
    def key(self) -> frozenset[tuple[float, ...]]:
        """The same for the same lines, in whatever order they were added."""
        return frozenset(
            tuple(round(value / SAME_POINT) for point in sorted((a.start, a.end)) for value in point)
            for a in self.additions
        )

    def least(self, chords: Chords, most: int) -> int:
        """A bound on the additions that are still needed; once it is more than `most` it is not worked out further."""
        if self.goal.pivots is not None:
            return max(0, (knots(self.frame, self.frame.all) - self.goal.pivots + 1) // 2)
        if self.goal.foundations is not None:
            if self.never(chords) > self.goal.foundations:
                return most + 1
            if not self.stuck:
                return len(self.over) if self.is_sure else 0
        lows = [max(1, (knots(self.frame, unit) + 1) // 2) for unit in self.stuck]
        for number, unit in enumerate(self.stuck):
            if self._is_convex(unit):
                left = most - sum(lows) + lows[number]
                lows[number] = max(lows[number], chords.least(rings_of(self.frame, bits(unit)), left))
        self.lows = lows
        return sum(lows)

    def _is_convex(self, unit: int) -> bool:
        import shapely

        hull = shapely.MultiPoint([point for ring in rings_of(self.frame, bits(unit)) for point in ring]).convex_hull
        return bool(hull.area - sum(self.frame.areas[patch] for patch in bits(unit)) <= area_slack(hull.length))

    def least_after(self, carried: Carry, chords: Chords, most: int) -> int:
        """A bound on what is still needed after a carry, told from the shapes of its stuck unit, without a new map."""
        if not self.goal.is_straight or not self._is_convex(self.stuck[0]):
            return 0
        name = entered(self.block, *carried[-1])
        patches = {self.frame.patches[patch].id: patch for patch in bits(self.stuck[0])}
        if name not in patches:
            return 0
        ring = self.frame.patches[patches[name]].outline.points
        end = exit_of(ring, *carried[-1])
        if end is None:
            return 0
        halves = tuple(tuple(half) for half in parted(ring, carried[-1][0], end))
        others = sum(self.lows[1:])
        rings = (*rings_of(self.frame, (patch for patch in bits(self.stuck[0]) if patch != patches[name])), *halves)
        return others + chords.least(rings, most - others)

    def after(self, carried: Carry) -> _View | None:
        """The block after a seam is taken on across one patch after another; None where it leaves a sliver."""
        block, additions = self.block, self.additions
        for start, toward in carried:
            patch = entered(block, start, toward)
            if patch is None:
                return None
            try:
                block, addition = carry_on(block, patch, start, toward)
            except ValueError:
                return None
            additions = (*additions, addition)
        return _View(block, self.goal, additions)

    def carries(self, most: int, chords: Chords) -> list[Carry]:
        """Every carry of at most so many additions: into the first stuck unit where straight seams are the goal.

        Those along a line by which the unit is parted best stand first.
        """
        if self.goal.pivots is not None or not (self.stuck or self.frame.is_plain):
            return [((self.frame.map.nodes[node], toward),) for node, toward, _ in seam_ends(self.frame)]
        if not self.stuck:
            return [carry for carry in self._into(self.over[0], most) if carry]
        unit = self.stuck[0]
        line = chords.line(rings_of(self.frame, bits(unit)))
        found = [carry for carry in self._into(unit, most) if carry]
        if line is not None:
            p, q = chords.lines[line]
            found.sort(key=lambda carry: (not _lies_on(carry[0], p, q), len(carry)))
        return found

    def _into(self, unit: int, most: int) -> Iterator[Carry]:
        names = {self.frame.patches[patch].id for patch in bits(unit)}
        for node, toward, first in seam_ends(self.frame):
            if self.frame.on_outline[node]:
                continue
            place, name = self.frame.map.nodes[node], self.frame.patches[first].id
            carried: list[tuple[Point, Point]] = []
            while len(carried) < most:
                carried.append((place, toward))
                if name in names:
                    yield tuple(carried)
                    break
                end = exit_of(self.block.patch(name).outline.points, place, toward)
                onto = None if end is None else entered(self.block, end, toward)
                if end is None or onto is None:
                    break
                place, name = end, onto


@dataclass
class _Search:
    goal: Goal
    looks: float
    chords: Chords
    seen: dict[frozenset[tuple[float, ...]], int] = field(default_factory=dict)
    is_sure: bool = True

    def run(self, start: _View) -> Repair:
        """The least repair where the looks suffice, else the best found."""
        most = self.goal.foundations
        if most is not None and self.goal.pivots is None and start.never(self.chords) > most:
            return Repair(start.block, (), solved=False, bound=MOST + 1, never=True)
        bound = start.least(self.chords, DEEPEST)
        rough = self._chord_by_chord(start)
        deepest = min(DEEPEST, len(rough.additions) - 1) if rough else DEEPEST
        for limit in range(bound, deepest + 1):
            self.seen.clear()
            found = self._within(start, limit)
            if found is not None:
                return _repair(found, bound, solved=True)
            if self.looks <= 0 or not self.is_sure:
                break
            bound = limit + 1
        best = rough or start
        return _repair(best, bound, solved=rough is not None)

    def _spend(self, view: _View, times: float = 1) -> None:
        self.looks -= max(SMALLEST, len(view.block.patches) / LOOK) * times

    def _is_met(self, view: _View) -> bool:
        if self.goal.pivots is None and view.stuck:
            return False
        if self.goal.is_straight:
            return True
        if self.goal.pivots is None:
            self.is_sure &= view.is_sure
            return not view.over
        self._spend(view, PLANNED)
        return self.goal.is_met(view.block)

    def _within(self, view: _View, limit: int) -> _View | None:
        left = limit - len(view.additions)
        if self.seen.get(view.key, -1) >= left or self.looks <= 0:
            return None
        self.seen[view.key] = left
        self._spend(view, 1 if self.goal.foundations is None else COUNTED)
        if view.least(self.chords, left) > left:
            return None
        if self._is_met(view):
            return view
        if left == 0:
            return None
        for carried in view.carries(left, self.chords):
            if view.least_after(carried, self.chords, left - len(carried)) > left - len(carried):
                continue
            after = view.after(carried)
            if after is not None and (found := self._within(after, limit)) is not None:
                return found
        return None

    def _chord_by_chord(self, view: _View) -> _View | None:
        """A repair, not proven least: stuck units parted by the cheapest chord on one of their own seams' lines.

        Units have no patch in common, so each look parts every one of them; where pivots are allowed, one at a time.
        """
        pool = self.looks
        while not self._is_met(view):
            units = view.stuck if self.goal.pivots is None else view.stuck[:1]
            if not units or len(view.additions) + len(units) > MOST or pool <= 0:
                return None
            pool -= max(SMALLEST, len(view.block.patches) / LOOK)
            after: _View | None = view
            for unit in units:
                tries = (after.after(chord) for chord in self._anchored(view, unit)) if after else ()
                after = next((one for one in tries if one is not None), None)
            if after is None or len(after.additions) > MOST:
                return None
            view = after
        return view

    def _anchored(self, view: _View, unit: int) -> Iterator[Carry]:
        """The chords of a unit that hold a seam of it, as carries, the best first; of very many seams, some."""
        frame, rings = view.frame, rings_of(view.frame, bits(unit))
        numbers = {run for patch in bits(unit) for _, other, run in frame.sides[patch] if unit >> other & 1}
        inner = [frame.runs[number].nodes for number in sorted(numbers) if frame.runs[number].is_straight]
        inner = inner[:: len(inner) * sum(map(len, rings)) // WORK + 1]
        lines = tuple((frame.map.nodes[nodes[0]], frame.map.nodes[nodes[-1]]) for nodes in inner)
        best = self.chords.line(rings)
        centres = [frame.centres[patch] for patch in bits(unit)]
        ranked = []
        for (p, q), count in zip(lines, Chords(lines).crossed(rings) if lines else (), strict=True):
            is_best = best is not None and _lies_on((p, sub(q, p)), *self.chords.lines[best])
            sides = sum(height_over(centre, p, q) > 0 for centre in centres)
            ranked.append((not is_best, count, abs(2 * sides - len(centres)), p, q))
        for *_, p, q in sorted(ranked):
            gaps = [gap for ring in rings for gap in inside(ring, p, q)]
            if gaps:
                yield _outward(p, q, gaps)


def _outward(p: Point, q: Point, gaps: list[tuple[Point, Point]]) -> Carry:
    """Gaps on the line of a seam from p to q as carries, from the seam outward either way."""
    toward = times(sub(q, p), 1 / dot(sub(q, p), sub(q, p)) ** 0.5)
    middle = dot(toward, p) / 2 + dot(toward, q) / 2
    onward = sorted((dot(toward, a), a) for a, b in gaps if dot(toward, a) + dot(toward, b) > 2 * middle)
    back = sorted(((-dot(toward, b), b) for a, b in gaps if dot(toward, a) + dot(toward, b) <= 2 * middle))
    return tuple([(a, toward) for _, a in onward] + [(b, times(toward, -1)) for _, b in back])


def _lies_on(ray: tuple[Point, Point], p: Point, q: Point) -> bool:
    """Whether a seam end's line is that of p and q."""
    start, toward = ray
    far = (start[0] + toward[0], start[1] + toward[1])
    return abs(height_over(start, p, q)) <= 2 * SAME_POINT and abs(height_over(far, p, q)) <= 2 * SAME_POINT


def _repair(view: _View, bound: int, *, solved: bool) -> Repair:
    return Repair(view.block, view.additions, solved=solved, bound=bound)


__all__ = ["Addition", "Goal", "Repair", "carry_on", "repair"]
