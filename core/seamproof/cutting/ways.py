"""Ways of making units that save cutting small pieces: what is cut for them, and the proof that it is enough.

One rule yields all sizes: a seam allowance s on every side moves a corner of angle θ out by s/sin(θ/2). So a triangle
with legs a, half of a square, is cut with legs a + s(2 + √2); one with long side c, a quarter of a square, is cut with
c + 2s(1 + √2); a rectangle grows by 2s both ways. What is sewn before it is cut comes to the same: the line that is
drawn and cut lies s from both seams, so it is the raw edge of both pieces.

Left out on purpose: four halves at a time from two squares sewn all round and cut from corner to corner. Their outer
edges then lie along the diagonals of the squares, so every edge of the unit is on the bias.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.cutting.need import Frame
from seamproof.geometry import Outline
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import cross, distance, midpoint, sub
from seamproof.tolerance import CUT_ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting.pieces import CutPiece
    from seamproof.geometry import Point

WayKind: TypeAlias = Literal[
    "half-square", "eight half-squares", "quarter-square", "half and quarters", "geese", "corners", "strip set"
]
CutKind: TypeAlias = Literal[
    "square for halves", "square for eight halves", "square for quarters", "square for geese", "square for wings",
    "rectangle for corners", "square for a corner", "strip",
]  # fmt: skip

ROOT2: Final = math.sqrt(2)
PIECES: Final[dict[CutKind, int]] = {
    "square for halves": 2, "square for eight halves": 8, "square for quarters": 4, "square for geese": 4,
    "square for wings": 2, "rectangle for corners": 1, "square for a corner": 1,
}  # fmt: skip
"""How many pieces come out of each square, once all is sewn and cut."""


@dataclass(frozen=True)
class WayCut:
    """What is cut of one fabric for a way of making units, for all copies of the block.

    Attributes:
        kind: What it is for.
        fabric: The fabric's key.
        width: The side of a square, or the length of a strip [in], rounded up.
        height: The side of a square, or the width of a strip [in].
        cut: How many are cut.
        gives: How many pieces come out of each.
        patches: The patches of one block that these pieces are.
    """

    kind: CutKind
    fabric: str
    width: float
    height: float
    cut: int
    gives: int
    patches: tuple[str, ...]


@dataclass(frozen=True)
class Way:
    """A way of making one kind of unit, several at a time.

    Attributes:
        kind: "half-square": two squares with a line drawn from corner to corner, sewn on both sides of it and cut on
            it; "eight half-squares": two squares of twice that side sewn on both sides of both their diagonals and cut
            on these and through the middle both ways; "quarter-square": two such pairs laid on one another and sewn and
            cut again across; "half and quarters": such a pair with a square laid on it, sewn and cut again across;
            "geese": four small squares on one large one; "corners": squares sewn from corner to corner on the corners
            of a rectangle, trimmed and turned over; "strip set": strips sewn along their length, then cut across.
        labels: The joins of one block whose units it makes.
        times: How often it is done, for all copies.
        makes: How many units come of it each time.
        needed: How many units are needed, for all copies.
        cuts: What is cut: half-square: both squares; quarter-square: the square of the fabric that lies opposite
            itself, then the one or two others; half and quarters: the square for the half, then those for the quarters;
            geese: the large square, then the small ones; corners: the rectangle, then the squares; strip set: each
            strip in the order in which they lie.
        length: What a strip set is cut across at each time [in]; 0 for others.
        size: The unit's unfinished width and height [in], exact; of a strip set, across the strips and along them.
        spare: By how much the cut sides exceed the exact ones, at the least [in]; not negative.
    """

    kind: WayKind
    labels: tuple[str, ...]
    times: int
    makes: int
    needed: int
    cuts: tuple[WayCut, ...]
    length: float
    size: tuple[float, float]
    spare: float

    @property
    def over(self) -> int:
        """How many units are left over."""
        return self.times * self.makes - self.needed


def half_side(leg: float, allowance: float) -> float:
    """The exact side [in] of a square from which triangles of this finished leg come, two of each square."""
    return leg + allowance * (2 + ROOT2)


def quarter_side(long: float, allowance: float) -> float:
    """The exact side [in] of a square from which triangles of this finished long side come, four of each square."""
    return long + 2 * allowance * (1 + ROOT2)


def comes_out(kind: CutKind, width: float, height: float, length: float = 0.0) -> Outline:
    """One of the pieces that a square or a strip has become when all is sewn and cut, raw edges [in].

    Args:
        kind: What it was cut for.
        width: The side of the square, or the length of the strip [in].
        height: The side of the square, or the width of the strip [in].
        length: What a strip set is cut across at [in].
    """
    if kind == "strip":
        return Outline.rectangle(min(length, width), height)
    if kind == "square for eight halves":
        return Outline.of([(0, 0), (width / 2, 0), (0, height / 2)])
    if kind in {"square for halves", "square for wings"}:
        return Outline.of([(0, 0), (width, 0), (0, height)])
    return Outline.of([(0, 0), (width, 0), (width / 2, height / 2)])


def is_enough(out: Outline, piece: CutPiece, allowance: float) -> bool:
    """Whether a piece that comes out covers the plain piece that is needed, raw edge on raw edge.

    The longest edges are laid on one another, middle on middle; a triangle's long edge lies on the seam of a half and
    on the outside of a quarter. No corner of what is needed may then lie outside.
    """
    whole = offset(piece.outline, allowance)
    needed = [_frame(whole).into(point) for point in piece.cut.polygon]
    return _holds([_frame(out).into(point) for point in out.points], needed)


def _frame(outline: Outline) -> Frame:
    """Its longest edge as the x-axis, the middle of that edge as origin, itself above."""
    ring = outline.points
    sides = list(zip(ring, ring[1:] + ring[:1], strict=True))
    p, q = max(sides, key=lambda side: round(distance(*side), 3))
    return Frame.of(midpoint(p, q), q) if distance(p, q) > SAME_POINT else Frame(p, (1.0, 0.0))


def _holds(ring: Sequence[Point], points: Sequence[Point]) -> bool:
    sides = list(zip(ring, [*ring[1:], ring[0]], strict=True))
    return all(
        cross(sub(q, p), sub(point, p)) >= -2 * CUT_ROUND_OFF * distance(p, q) for point in points for p, q in sides
    )
