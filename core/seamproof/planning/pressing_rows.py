"""Where the seams of neighbouring blocks meet when a block is repeated, and how to make them nest.

Four copies of the block are laid two by two and looked at as one block, by the same view and the same solver as a block
by itself. In rows of blocks every second one is like the second of the four, on a chequerboard; so each edge that two
blocks share is one of four: first beside second or second beside first, first under second or second under first.
The points where four blocks meet are left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import count
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.block import Block, Patch
from seamproof.geometry import Edge, Transform
from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import distance
from seamproof.planning.pressing_solving import Question
from seamproof.planning.pressing_view import View
from seamproof.sequence import Construction, Foundation, Join
from seamproof.sequence.owners import owners
from seamproof.tolerance import SAME_POINT, area_slack

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from seamproof.geometry import Point
    from seamproof.planning.pressing_view import Pair
    from seamproof.sequence.pressing import PressingPlan, Toward

WayName: TypeAlias = Literal["alike", "pressed", "half turn", "quarter turn"]
_TURNS: Final[dict[WayName, float]] = {"half turn": 180.0, "quarter turn": 90.0}
_SECOND: Final = (1, 2)
"""Which of the four copies (lower left, lower right, upper left, upper right) are laid or pressed the second way."""


@dataclass(frozen=True)
class RowWay:
    """One way of laying or pressing every second block.

    Attributes:
        way: "alike": every block as it is; "pressed": every second one with some joins pressed otherwise; else every
            second one turned.
        meetings: At how many places seams of two neighbouring blocks meet.
        nests: At how many of them they nest.
        joins: The joins that are pressed otherwise in every second block, each with where.
    """

    way: WayName
    meetings: int
    nests: int
    joins: tuple[tuple[str, Toward], ...] = ()

    @property
    def missed(self) -> int:
        """At how many places they do not nest."""
        return self.meetings - self.nests


@dataclass(frozen=True)
class RowsAdvice:
    """What comes of a block in rows.

    Attributes:
        columns: How many blocks lie side by side.
        rows: How many lie one above the other.
        ways: "alike" first; while places are missed, turns that show the same picture; then another pressing of every
            second block, where it serves.
    """

    columns: int
    rows: int
    ways: tuple[RowWay, ...]

    @property
    def alike(self) -> RowWay:
        """Every block as it is."""
        return self.ways[0]

    @property
    def best(self) -> RowWay:
        """The way with the fewest places missed; of equals the first."""
        return min(self.ways, key=lambda way: way.missed)


def meetings_of_rows(
    block: Block,
    construction: Construction,
    pressing: PressingPlan,
    columns: int,
    rows: int,
    *,
    turn: float = 0.0,
) -> tuple[int, int]:
    """At how many places along the edges that blocks share seams meet, and at how many of those they nest.

    Args:
        block: A block whose outline is a rectangle.
        construction: How it is sewn.
        pressing: Where its allowances lie, in every block.
        columns: How many blocks lie side by side.
        rows: How many lie one above the other.
        turn: By how much every second block is turned [°]: 0 or 180; of a square block also 90 or 270.

    Raises:
        ValueError: fewer than one column or row, an outline that is no rectangle, or a turn that it does not allow.
    """
    if columns < 1 or rows < 1:
        raise ValueError(f"{columns} by {rows} blocks: columns and rows must be 1 or more")
    _check_turn(block, turn)
    quilt = _Quilt(block, construction, turn)
    return quilt.counted(quilt.toward(pressing), columns, rows)


def advise_rows(
    block: Block,
    construction: Construction,
    pressing: PressingPlan,
    columns: int,
    rows: int,
    *,
    lightness: Mapping[str, float] | None = None,
) -> RowsAdvice | None:
    """How to make the seams of neighbouring blocks nest; None where the outline is no rectangle.

    The first block is pressed as planned. That no pressing of every second block has fewer meetings missed inside the
    block, and then fewer missed along the shared edges, is proven by the solver.

    Raises:
        ValueError: fewer than one column or row.
    """
    if not is_rectangle(block):
        return None
    quilt = _Quilt(block, construction, 0.0, lightness)
    found = [RowWay("alike", *quilt.counted(quilt.toward(pressing), columns, rows))]
    for name, turn in _TURNS.items():
        if found[-1].missed and (turn == _TURNS["half turn"] or is_square(block)) and looks_same(block, turn):
            found.append(RowWay(name, *meetings_of_rows(block, construction, pressing, columns, rows, turn=turn)))
    if all(way.missed for way in found) and construction.joins:
        otherwise = _pressed(quilt, pressing, columns, rows)
        if otherwise.missed < found[0].missed:
            found.append(otherwise)
    return RowsAdvice(columns, rows, tuple(found))


def grid_of(blocks: int) -> tuple[int, int]:
    """The columns and rows of the squarest setting of so many blocks that has no gap.

    >>> grid_of(12), grid_of(9), grid_of(7)
    ((3, 4), (3, 3), (1, 7))
    """
    columns = next(n for n in range(math.isqrt(blocks), 0, -1) if blocks % n == 0)
    return columns, blocks // columns


def is_rectangle(block: Block) -> bool:
    """Whether a block fills the box round it."""
    width, height = block.size
    return abs(width * height - sum(p.outline.area for p in block.patches)) <= area_slack(2 * (width + height))


def is_square(block: Block) -> bool:
    """Whether a block fills the box round it, and that is as wide as high."""
    return is_rectangle(block) and abs(block.size[0] - block.size[1]) <= SAME_POINT


def looks_same(block: Block, turn: float) -> bool:
    """Whether a block turned about its middle [°] shows every patch where one of the same role was."""
    turned = block.transformed(Transform.turn(turn, _middle(block)))
    return all(any(_is_alike(patch, other) for other in block.patches) for patch in turned.patches)


def _is_alike(patch: Patch, other: Patch) -> bool:
    if patch.role != other.role or len(patch.outline.edges) != len(other.outline.edges):
        return False
    corners = other.outline.points
    return all(any(distance(p, q) <= SAME_POINT for q in corners) for p in patch.outline.points)


def _check_turn(block: Block, turn: float) -> None:
    if not is_rectangle(block):
        raise ValueError("the block's outline must be a rectangle to be set in rows")
    allowed = (0, 90, 180, 270) if is_square(block) else (0, 180)
    if turn not in allowed:
        raise ValueError(f"turn {turn:g}° must be one of {', '.join(map(str, allowed))}, so that the blocks fit")


def _middle(block: Block) -> Point:
    left, bottom, right, top = block.bounds
    return ((left + right) / 2, (bottom + top) / 2)


def _pressed(quilt: _Quilt, pressing: PressingPlan, columns: int, rows: int) -> RowWay:
    """Every second block pressed so that the fewest meetings are missed: in itself first, then across the edges."""
    joins = [join.label for join in quilt.once.joins]
    question = Question(quilt.view, wishes=len(joins))
    for pair in quilt.across:
        question.meet(pair)
    for pair in quilt.view.pairs():
        if quilt.is_inside(pair):
            question.meet(pair, len(quilt.across) + 1)
    for label in joins:
        for copy in range(4):
            if copy not in _SECOND:
                question.fix(quilt.name(label, copy), pressing.toward(label))
        question.tie(*(quilt.name(label, copy) for copy in _SECOND))
        question.wish(quilt.name(label, _SECOND[0]), pressing.toward(label))
    toward, _ = question.answer()
    chosen = [(label, toward[quilt.name(label, _SECOND[0])]) for label in joins]
    changed = tuple((label, way) for label, way in chosen if way != pressing.toward(label))
    return RowWay("pressed", *quilt.counted(toward, columns, rows), changed)


class _Quilt:
    """Four copies of a block, two by two, the second way on one diagonal, joined in rows and the rows joined."""

    def __init__(
        self, block: Block, construction: Construction, turn: float, lightness: Mapping[str, float] | None = None
    ) -> None:
        self.one, self.once = block, construction
        left, bottom, _, _ = block.bounds
        width, height = block.size
        middle = _middle(block)
        self.moves = [
            Transform.turn(turn if copy in _SECOND else 0.0, middle).then(Transform.shift(width * x, height * y))
            for copy, (x, y) in enumerate(((0, 0), (1, 0), (0, 1), (1, 1)))
        ]
        self.corner = (left + width, bottom + height)
        self.names: dict[tuple[str, int], str] = {}
        patches: list[Patch] = []
        for copy, move in enumerate(self.moves):
            for patch in block.patches:
                self.names[patch.id, copy] = str(len(patches) + 1)
                outline = patch.outline.transformed(move)
                patches.append(Patch(self.names[patch.id, copy], outline, patch.role))
        four = Block(block.title, tuple(patches))
        joined = self._joined()
        pm = PlanarMap.of([patch.outline for patch in four.patches])
        light = {self.name(patch, copy): value for patch, value in (lightness or {}).items() for copy in range(4)}
        self.view = View(pm, four.ids, joined, owners(pm, four.ids, joined), light)

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
        whole = [self.name(self.once.whole, copy) for copy in range(4)]
        left, bottom, right, top = self.one.bounds
        width, height = right - left, top - bottom
        (x, y) = self.corner
        lower, upper = Edge((x, bottom), (x, y)), Edge((x, y), (x, y + height))
        self.rows = (f"J{next(number)}", f"J{next(number)}", f"J{next(number)}")
        joins += [
            Join(self.rows[0], whole[0], whole[1], (lower,)),
            Join(self.rows[1], whole[2], whole[3], (upper,)),
            Join(self.rows[2], self.rows[1], self.rows[0], (Edge((left, y), (x + width, y)),)),
        ]
        loose = tuple(self.name(patch, copy) for copy in range(4) for patch in self.once.loose)
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

    def toward(self, pressing: PressingPlan) -> dict[str, Toward]:
        """Every block pressed as planned; how the rows are pressed matters to no meeting along them."""
        ways: dict[str, Toward] = dict.fromkeys(self.rows, "left")
        for join in self.once.joins:
            ways |= {self.name(join.label, copy): pressing.toward(join.label) for copy in range(4)}
        return ways

    def is_inside(self, pair: Pair) -> bool:
        """Whether a meeting lies inside one of the blocks."""
        return pair.join not in self.rows

    @property
    def across(self) -> list[Pair]:
        """The meetings along the edges that two blocks share, without the corner of all four."""
        return [
            pair
            for pair in self.view.pairs()
            if not self.is_inside(pair) and distance(self.view.pm.nodes[pair.node], self.corner) > SAME_POINT
        ]

    def counted(self, toward: Mapping[str, Toward], columns: int, rows: int) -> tuple[int, int]:
        """How many meetings, and how many that nest, along all edges that so many blocks share."""
        met, nested = [0, 0, 0, 0], [0, 0, 0, 0]
        for pair in self.across:
            kind = self._kind(pair)
            met[kind] += 1
            nested[kind] += self.view.meeting(pair, toward).nests
        often = list(_edges(columns, rows))
        return sum(met[kind] for kind in often), sum(nested[kind] for kind in often)

    def _kind(self, pair: Pair) -> int:
        """0, 1: the second block right of the first, or left of it; 2, 3: above it, or below it."""
        if pair.join == self.rows[2]:
            return 2 + (self.view.pm.nodes[pair.node][0] > self.corner[0])
        return self.rows.index(pair.join)


def _edges(columns: int, rows: int) -> Iterator[int]:
    """The kind of every edge that two blocks share; the lower left block is of the first way."""
    for i in range(columns):
        for j in range(rows):
            if i + 1 < columns:
                yield (i + j) % 2
            if j + 1 < rows:
                yield 2 + (i + j) % 2
