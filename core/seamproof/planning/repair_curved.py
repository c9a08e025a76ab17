"""The fewest seams to carry on in a block with curved sides: lines onward, arcs onward along their circles.

What holds for straight seams (see `repair`) holds here with smooth arcs among the cuts: any cut may be taken first, a
stuck unit needs an addition inside it, and one addition sets at most the two junctions at its ends in line. So
additions into one stuck unit are tried, each with what must be carried on to reach it, and a stuck unit with w wyes and
bends inside it needs ⌈w/2⌉ at least. Where pivots or foundations are asked for, every seam end is tried.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Final

from seamproof.planning.carrying import carry_on_curved
from seamproof.planning.carrying_curved import Onward, crossing, curved_ends, parted
from seamproof.planning.frame import Frame, bits
from seamproof.planning.verdict import stuck_units
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from seamproof.block import Block
    from seamproof.geometry import Outline
    from seamproof.planning.carrying import Addition

DEEPEST: Final = 6
"""How many additions are tried at most."""

LOOK: Final = 50
"""How many patches one look takes in."""

SMALLEST: Final = 1 / 6
"""What share of a look any block takes."""


@dataclass(frozen=True)
class Wanted:
    """What is asked.

    Attributes:
        is_met: Whether a block keeps to it; it plans the block, which is dear.
        pivots: The most pivots; None: no pivot and no partial seam.
        allowance: The seam allowance [in].
    """

    is_met: Callable[[Block], bool]
    pivots: int | None
    allowance: float


@dataclass(frozen=True)
class _View:
    block: Block
    allowance: float
    additions: tuple[Addition, ...] = ()

    @cached_property
    def frame(self) -> Frame:
        return Frame.of(self.block, self.allowance)

    @cached_property
    def stuck(self) -> tuple[int, ...]:
        """The units that neither a straight cut nor a smooth arc parts, small ones first."""
        found = stuck_units(self.frame, self.frame.all, curved=True)
        return tuple(sorted(found, key=lambda unit: (unit.bit_count(), unit)))

    @property
    def key(self) -> frozenset[tuple[float, ...]]:
        return frozenset(
            (*(round(v / SAME_POINT) for p in sorted((a.start, a.end)) for v in p), round(abs(a.bulge) / SAME_POINT))
            for a in self.additions
        )

    def least(self, wanted: Wanted) -> int:
        if wanted.pivots is not None:
            return max(0, (knots(self.frame, self.frame.all) - wanted.pivots + 1) // 2)
        return sum(max(1, (knots(self.frame, unit) + 1) // 2) for unit in self.stuck)

    def carries(self, wanted: Wanted, most: int) -> list[tuple[Onward, ...]]:
        """Every carry of at most so many additions into the first stuck unit; else every seam end by itself.

        Those that leave the broadest pieces stand first.
        """
        names = {self.frame.patches[patch].id for patch in bits(self.stuck[0])} if self.stuck else set()
        found: list[tuple[float, tuple[Onward, ...]]] = []
        for node, way, patch in curved_ends(self.frame):
            outline = self.frame.patches[patch].outline
            if wanted.pivots is not None or not names or not self.frame.is_convex:
                found.append((_breadth(outline, way), (way,)))
            elif not self.frame.on_outline[node]:
                chains = self._chain(way, self.frame.patches[patch].id, names, most)
                found += [(_breadth(outline, way), chain) for chain in chains]
        return [chain for _, chain in sorted(found, key=lambda row: -row[0])]

    def _chain(self, way: Onward, name: str, names: set[str], most: int) -> Iterator[tuple[Onward, ...]]:
        chain: list[Onward] = []
        while len(chain) < most:
            chain.append(way)
            if name in names:
                yield tuple(chain)
                return
            stretch = crossing(self.block.patch(name).outline, way)
            if stretch is None:
                return
            way = Onward(stretch.end, stretch.direction(1), way.curvature)
            onto = entered(self.block, way)
            if onto is None:
                return
            name = onto

    def after(self, chain: tuple[Onward, ...]) -> _View | None:
        block, additions = self.block, self.additions
        for way in chain:
            name = entered(block, way)
            if name is None:
                return None
            try:
                block, addition = carry_on_curved(block, name, way)
            except ValueError:
                return None
            additions = (*additions, addition)
        return _View(block, self.allowance, additions)


def _breadth(outline: Outline, way: Onward) -> float:
    """How broad the narrower of the two pieces is that a seam leaves, by area and perimeter [in]."""
    stretch = crossing(outline, way)
    return 0.0 if stretch is None else min(half.area / half.perimeter for half in parted(outline, stretch))


def knots(frame: Frame, unit: int) -> int:
    """The wyes and bends inside a unit."""
    pm = frame.map
    nodes = {node for patch in bits(unit) for node in frame.ring(patch)}
    return sum(frame.is_inside(node, unit) and all(pm.onward(e, node) is None for e in pm.star(node)) for node in nodes)


def entered(block: Block, way: Onward) -> str | None:
    """The patch whose inside a seam enters where it goes on; None where it runs along an edge."""
    return next((patch.id for patch in block.patches if crossing(patch.outline, way) is not None), None)


@dataclass
class CurvedSearch:
    """A search by the number of additions.

    Attributes:
        wanted: What is asked.
        looks: How many changed blocks of LOOK patches may still be looked at.
        planned: As how many looks a whole plan counts.
        bound: Proven: no fewer serve.
    """

    wanted: Wanted
    looks: float
    planned: float
    bound: int = 0
    _seen: dict[frozenset[tuple[float, ...]], int] = field(default_factory=dict)

    def run(self, block: Block) -> tuple[Block, tuple[Addition, ...]] | None:
        """The block with the fewest additions, and these; None where the search ends without."""
        start = _View(block, self.wanted.allowance)
        self.bound = start.least(self.wanted)
        for limit in range(self.bound, DEEPEST + 1):
            self._seen.clear()
            found = self._within(start, limit)
            if found is not None:
                return found.block, found.additions
            if self.looks <= 0:
                break
            self.bound = limit + 1
        return None

    def _within(self, view: _View, limit: int) -> _View | None:
        left = limit - len(view.additions)
        if self._seen.get(view.key, -1) >= left or self.looks <= 0:
            return None
        self._seen[view.key] = left
        self._spend(view, 1)
        if view.least(self.wanted) > left:
            return None
        if self._is_met(view):
            return view
        if left == 0:
            return None
        for chain in view.carries(self.wanted, left):
            after = view.after(chain)
            if after is not None and (found := self._within(after, limit)) is not None:
                return found
        return None

    def _is_met(self, view: _View) -> bool:
        if self.wanted.pivots is None and view.stuck:
            return False
        self._spend(view, self.planned)
        return self.wanted.is_met(view.block)

    def _spend(self, view: _View, times: float) -> None:
        self.looks -= max(SMALLEST, len(view.block.patches) / LOOK) * times
