"""A block set in rows as the pressing of neighbouring blocks sees it: six copies, three by two.

The copies are looked at as one block, by the same view and the same solver as a block by
itself. In rows of blocks every second one is laid or pressed the second way, as on a chequerboard; so each edge that
two blocks share is one of four (first beside second or second beside first, first under second or second under first),
and each point where four blocks meet is one of two (a first block lower left, or a second one). All of these lie
between the six.

Where four blocks meet, the seams between the blocks of one row meet those of the next. They nest where the rows are
pressed in turns, one way in one row and the other way in the next; seams that run into the blocks' corners meet there
too. Where none does, four patches meet, and the point may be spun.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, count
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.block import Block, Patch
from seamproof.geometry import Edge, Transform
from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import distance
from seamproof.planning.pressing_view import View
from seamproof.sequence import Construction, Foundation, Join
from seamproof.sequence.owners import owners
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from seamproof.geometry import Point
    from seamproof.planning.pressing_view import Pair
    from seamproof.sequence.pressing import PressingPlan, Toward

WayName: TypeAlias = Literal["alike", "pressed", "half turn", "quarter turn"]
_COLUMNS, _ROWS = 3, 2
COPIES: Final = tuple((column, row) for row in range(_ROWS) for column in range(_COLUMNS))
"""The column and row of each copy, from the lower left."""
SECOND: Final = tuple(copy for copy, (column, row) in enumerate(COPIES) if (column + row) % 2)
"""Which of the copies are laid or pressed the second way."""
_CORNERS: Final = (4, 5)
"""The kinds of a point where four blocks meet: a first block lower left, or a second one; edges have the kinds 0 to 3:
a second block right of a first, or left of it; above it, or below it."""


@dataclass(frozen=True)
class RowWay:
    """One way of laying or pressing every second block.

    Attributes:
        way: "alike": every block as it is; "pressed": every second one with some joins pressed otherwise; else every
            second one turned.
        meetings: At how many places seams of two neighbouring blocks meet.
        nests: At how many of them they nest.
        joins: The joins that are pressed otherwise in every second block, each with where.
        corners: How many points there are where four blocks meet.
        corners_nest: At how many of them all seams nest, the seams between blocks pressed in turns from row to row.
        spins: How many of them may be spun: only the four seams between the blocks meet there.
    """

    way: WayName
    meetings: int
    nests: int
    joins: tuple[tuple[str, Toward], ...] = ()
    corners: int = 0
    corners_nest: int = 0
    spins: int = 0

    @property
    def missed(self) -> int:
        """At how many places they do not nest, points where four blocks meet among them."""
        return self.meetings - self.nests + self.corners - self.corners_nest


class Quilt:
    """Copies of a block, three by two, every second one the second way, joined in rows and the rows joined."""

    def __init__(
        self, block: Block, construction: Construction, turn: float, lightness: Mapping[str, float] | None = None
    ) -> None:
        self.one, self.once = block, construction
        left, bottom, _, _ = block.bounds
        width, height = block.size
        middle = middle_of(block)
        self.moves = [
            Transform.turn(turn if copy in SECOND else 0.0, middle).then(Transform.shift(width * x, height * y))
            for copy, (x, y) in enumerate(COPIES)
        ]
        self.corners = tuple((left + width * column, bottom + height) for column in range(1, _COLUMNS))
        self.names: dict[tuple[str, int], str] = {}
        patches: list[Patch] = []
        for copy, move in enumerate(self.moves):
            for patch in block.patches:
                self.names[patch.id, copy] = str(len(patches) + 1)
                outline = patch.outline.transformed(move)
                patches.append(Patch(self.names[patch.id, copy], outline, patch.role))
        whole = Block(block.title, tuple(patches))
        joined = self._joined()
        pm = PlanarMap.of([patch.outline for patch in whole.patches])
        light = {
            self.name(patch, copy): value for patch, value in (lightness or {}).items() for copy in range(len(COPIES))
        }
        self.view = View(pm, whole.ids, joined, owners(pm, whole.ids, joined), light)

    def name(self, unit: str, copy: int) -> str:
        """What a unit of the block is called in one of the copies."""
        return self.names[unit, copy]

    def _joined(self) -> Construction:
        foundations: list[Foundation] = []
        joins: list[Join] = []
        number = count(1)
        for copy, move in enumerate(self.moves):
            self.names |= {(paper.label, copy): f"{paper.label}/{copy}" for paper in self.once.foundations}
            self.names |= {(join.label, copy): f"J{next(number)}" for join in self.once.joins}
            for paper in self.once.foundations:
                order = tuple(self.name(patch, copy) for patch in paper.order)
                foundations.append(Foundation(self.name(paper.label, copy), order, (order,)))
            joins += [self._moved(join, copy, move) for join in self.once.joins]
        height = self.one.size[1]
        self.between: list[list[str]] = []
        rows = []
        for row in range(_ROWS):
            units = [self.name(self.once.whole, copy) for copy, (_, y) in enumerate(COPIES) if y == row]
            unit, labels = units[0], []
            for (x, y), other in zip(self.corners, units[1:], strict=True):
                foot = y + height * (row - 1)
                joins.append(Join(f"J{next(number)}", unit, other, (Edge((x, foot), (x, foot + height)),)))
                unit = joins[-1].label
                labels.append(unit)
            self.between.append(labels)
            rows.append(unit)
        left, _, right, _ = self.one.bounds
        y = self.corners[0][1]
        self.long = f"J{next(number)}"
        seam = (Edge((left, y), (left + _COLUMNS * (right - left), y)),)
        joins.append(Join(self.long, rows[1], rows[0], seam))
        loose = tuple(self.name(patch, copy) for copy in range(len(COPIES)) for patch in self.once.loose)
        return Construction(self.once.method, tuple(foundations), loose, tuple(joins), ())

    def _moved(self, join: Join, copy: int, move: Transform) -> Join:
        return replace(
            join,
            label=self.name(join.label, copy),
            first=self.name(join.first, copy),
            second=self.name(join.second, copy),
            seam=tuple(map(move.edge, join.seam)),
            passes=tuple(tuple(map(move.edge, stretch)) for stretch in join.passes),
        )

    @property
    def in_turns(self) -> dict[str, Toward]:
        """The seams between blocks pressed one way in one row and the other way in the next."""
        ways: dict[str, Toward] = dict.fromkeys(self.between[0], "left")
        ways |= dict.fromkeys(self.between[1], "right")
        return ways | {self.long: "left"}

    def toward(self, pressing: PressingPlan) -> dict[str, Toward]:
        """Every block pressed as planned, the seams between them in turns."""
        ways = self.in_turns
        for join in self.once.joins:
            ways |= {self.name(join.label, copy): pressing.toward(join.label) for copy in range(len(COPIES))}
        return ways

    def is_inside(self, pair: Pair) -> bool:
        """Whether a meeting lies inside one of the blocks."""
        return pair.join not in {self.long, *chain.from_iterable(self.between)}

    def is_between(self, pair: Pair) -> bool:
        """Whether the two seams that meet are seams between blocks, so that they may be pressed at will."""
        return self.view.owner[pair.left[0]] in self.between[0] + self.between[1]

    @cached_property
    def across(self) -> tuple[tuple[int, Pair], ...]:
        """The meetings along the edges that two blocks share and where four meet, with their kind, each kind once."""
        found = ((self._kind(pair), pair) for pair in self.view.pairs() if not self.is_inside(pair))
        return tuple((kind, pair) for kind, pair in found if kind is not None)

    def counted(self, toward: Mapping[str, Toward], columns: int, rows: int) -> tuple[int, int]:
        """How many meetings, and how many that nest, along all edges that so many blocks share."""
        often = Counter(kinds(columns, rows))
        found = [(often[kind], pair) for kind, pair in self.across if kind not in _CORNERS]
        nested = sum(times for times, pair in found if self.view.meeting(pair, toward).nests)
        return sum(times for times, _ in found), nested

    def way(self, name: WayName, toward: Mapping[str, Toward], columns: int, rows: int) -> RowWay:
        """What comes of a way of pressing, all counted."""
        often = Counter(kinds(columns, rows))
        nests = dict.fromkeys(_CORNERS, True)
        spins = dict(nests)
        for kind, pair in self.across:
            if kind in _CORNERS:
                nests[kind] &= self.view.meeting(pair, toward).nests
                spins[kind] &= len(self.view.pm.star(pair.node)) == 4
        return RowWay(
            name,
            *self.counted(toward, columns, rows),
            corners=sum(often[kind] for kind in _CORNERS),
            corners_nest=sum(often[kind] for kind in _CORNERS if nests[kind]),
            spins=sum(often[kind] for kind in _CORNERS if spins[kind]),
        )

    def _kind(self, pair: Pair) -> int | None:
        """The kind of the edge or point on which seams meet; None where another stands for it."""
        if pair.join != self.long:
            return self.between[0].index(pair.join) if pair.join in self.between[0] else None
        place = self.view.pm.nodes[pair.node]
        for kind, corner in zip(_CORNERS, self.corners, strict=True):
            if distance(place, corner) <= SAME_POINT:
                return kind
        column = sum(place[0] > corner[0] for corner in self.corners)
        return 2 + column if column < _COLUMNS - 1 else None


def kinds(columns: int, rows: int) -> Iterator[int]:
    """The kind of every edge that two blocks share, and of every point where four meet; lower left is a first block."""
    for i in range(columns):
        for j in range(rows):
            kind = (i + j) % 2
            if i + 1 < columns:
                yield kind
            if j + 1 < rows:
                yield 2 + kind
            if i + 1 < columns and j + 1 < rows:
                yield _CORNERS[kind]


def middle_of(block: Block) -> Point:
    """The middle of the box round a block [in]."""
    left, bottom, right, top = block.bounds
    return ((left + right) / 2, (bottom + top) / 2)
