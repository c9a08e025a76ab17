"""How to make the seams of neighbouring blocks nest when a block is repeated."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Transform
from seamproof.geometry.points import distance
from seamproof.planning.pressing_quilt import COPIES, SECOND, Quilt, RowWay, WayName, kinds, middle_of
from seamproof.planning.pressing_solving import Question
from seamproof.tolerance import SAME_POINT, area_slack

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from seamproof.block import Block, Patch
    from seamproof.sequence import Construction
    from seamproof.sequence.pressing import PressingPlan

_TURNS: Final[dict[WayName, float]] = {"half turn": 180.0, "quarter turn": 90.0}


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

    The points where four blocks meet are not counted.

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
    quilt = Quilt(block, construction, turn)
    return quilt.counted(quilt.toward(pressing), columns, rows)


def advise_rows(
    block: Block,
    construction: Construction,
    pressing: PressingPlan,
    columns: int,
    rows: int,
    *,
    lightness: Mapping[str, float] | None = None,
    fixed: Collection[str] = (),
) -> RowsAdvice | None:
    """How to make the seams of neighbouring blocks nest; None where the outline is no rectangle.

    The first block is pressed as planned; `fixed` are joins that are so in every block, for they are pressed before it
    is known of which block they will be. That no pressing of every second block has fewer meetings missed inside the
    block, and then fewer missed along the shared edges, is proven by the solver.

    Raises:
        ValueError: fewer than one column or row.
    """
    if not is_rectangle(block):
        return None
    quilt = Quilt(block, construction, 0.0, lightness)
    found = [quilt.way("alike", quilt.toward(pressing), columns, rows)]
    for name, turn in _TURNS.items():
        if found[-1].missed and (turn == _TURNS["half turn"] or is_square(block)) and looks_same(block, turn):
            turned = Quilt(block, construction, turn, lightness)
            found.append(turned.way(name, turned.toward(pressing), columns, rows))
    if all(way.missed for way in found) and construction.joins:
        otherwise = _pressed(quilt, pressing, columns, rows, fixed)
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
    turned = block.transformed(Transform.turn(turn, middle_of(block)))
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


def _pressed(quilt: Quilt, pressing: PressingPlan, columns: int, rows: int, fixed: Collection[str]) -> RowWay:
    """Every second block pressed so that the fewest meetings are missed: in itself first, then across the edges."""
    joins = [join.label for join in quilt.once.joins]
    question = Question(quilt.view, wishes=len(joins))
    often = Counter(kinds(columns, rows))
    met = [(pair, often[kind]) for kind, pair in quilt.across if often[kind] and not quilt.is_between(pair)]
    for pair, weight in met:
        question.meet(pair, weight)
    most = sum(weight for _, weight in met)
    for pair in quilt.view.pairs():
        if quilt.is_inside(pair):
            question.meet(pair, most + 1)
    for label in joins:
        for copy in range(len(COPIES)):
            if copy not in SECOND or label in fixed:
                question.fix(quilt.name(label, copy), pressing.toward(label))
        for copy in SECOND[1:]:
            question.tie(quilt.name(label, SECOND[0]), quilt.name(label, copy))
        question.wish(quilt.name(label, SECOND[0]), pressing.toward(label))
    toward, _ = question.answer()
    chosen = [(label, toward[quilt.name(label, SECOND[0])]) for label in joins]
    changed = tuple((label, way) for label, way in chosen if way != pressing.toward(label))
    return replace(quilt.way("pressed", toward | quilt.in_turns, columns, rows), joins=changed)
