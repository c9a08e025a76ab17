"""The types of what is cut. All coordinates are the block's, as seen from the face [in]."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.given import from_zero

if TYPE_CHECKING:
    from seamproof.geometry import Edge, Outline, Point

RoughShape: TypeAlias = Literal["rectangle", "half-square", "quarter-square"]
HALVED: Final = frozenset({"half-square", "half-square triangle"})
"""What is cut from a square that is cut once, corner to corner: two of each."""
QUARTERED: Final = frozenset({"quarter-square", "quarter-square triangle"})
"""What is cut from a square that is cut twice, corner to corner: four of each."""

LineEdge: TypeAlias = Literal["long edge", "short edge", "any edge", "cut edge"]


def per_square(shape: str) -> int:
    """How many pieces of a shape come out of one square or rectangle."""
    return 2 if shape in HALVED else 4 if shape in QUARTERED else 1


@dataclass(frozen=True)
class Placement:
    """How far off a maker may lay a piece, in every combination of which it must still cover.

    Exactly: let the seam lie on the x-axis, the patch in y > 0, the piece as it lies after the flip, s the allowance.
    What must be covered is the patch offset by s, its part in y ≥ 0, and below it the strip −s ≤ y ≤ 0 from x₀ to x₁,
    where that part begins at y = 0: at an end of the seam where the next edge meets it at α the strip reaches s/sin α
    past the end. Corners are mitred, but a tip sharper than 45° that is at no end of the seam is cut square to its
    bisector where the mitre of 45° would stand, s/sin 22.5° = 2.61·s out. `RoughPiece.placed` has its raw edge on
    y = −s. From there the piece is

    - turned by the tilt about the point of y = −s below the middle of the strip,
    - slid along its own raw edge by `along` or less, either way,
    - pushed over the line, square to its raw edge, by 0 … `over` and by ½(x₁ − x₀)·sin |tilt| more, so that a tilted
      raw edge is nowhere short of s over the line: a maker sees to that, and pays for it at the far side;
    - and what is past the line (y > 0) comes to lie `fold` lower.

    A foundation's first patch has no seam: all of its offset must be covered, the piece is turned about its middle
    and slid by `along` or less along both of its sides at once.

    Attributes:
        along: Either way along the seam line [in].
        over: The raw edge too far over the line, from 0 to this [in].
        tilt: Either way [°].
        fold: Lost in the fold when it is flipped [in].

    Raises:
        LengthError: one of them is not zero or more, and finite.
    """

    along: float = 1 / 4
    over: float = 1 / 8
    tilt: float = 3.0
    fold: float = 1 / 32

    def __post_init__(self) -> None:
        for name, value in (("along", self.along), ("over", self.over), ("tilt", self.tilt), ("fold", self.fold)):
            from_zero(value, f"placement: {name}")


@dataclass(frozen=True)
class RoughPiece:
    """The generous piece a foundation patch is sewn from.

    Attributes:
        patch: Its patch id.
        foundation: The label of its foundation.
        shape: "rectangle"; "half-square" (a square cut once corner to corner); "quarter-square" (cut twice).
        width: A rectangle's length along the seam line, or the side of the square that is cut [in], rounded up.
        height: A rectangle's other length, or the same side again [in], rounded up.
        line_edge: Which of its edges lies on the seam line ("cut edge": the long, diagonal one of a triangle). For
            a foundation's first patch, "any edge": it has no seam line.
        placed: The piece's corners after the flip, in the nominal placement, anticlockwise.
        seam: The seam line from end to end, with the patch on its left; None for the first patch.
        ticks: Where the piece's ends go on the seam line, when it is not centred on the seam; else None.
        slack: By how much [in] the piece still covers in the worst placement; not negative.
        trim: The allowance [in] to which the seam is trimmed after sewing; 0 for the first patch.
        bias: Whether the patch has an edge on the block's outline along which no straight grain of the piece lies.
    """

    patch: str
    foundation: str
    shape: RoughShape
    width: float
    height: float
    line_edge: LineEdge
    placed: tuple[Point, ...]
    seam: tuple[Point, Point] | None
    ticks: tuple[Point, Point] | None
    slack: float
    trim: float
    bias: bool = False

    @property
    def laid(self) -> tuple[Point, ...]:
        """The corners as the piece is laid face down, before the flip: the mirror image in the seam line."""
        from seamproof.geometry import Transform

        if self.seam is None:
            return self.placed
        return tuple(map(Transform.reflect(*self.seam).point, self.placed))


@dataclass(frozen=True)
class CutPiece:
    """A patch that is joined by itself, cut plain to size.

    Attributes:
        patch: Its patch id.
        outline: The finished patch.
        cut: The outline to cut along, allowance and matched corners included.
        shape: What a maker calls it: "square", "rectangle", "half-square triangle", "template" …
        sizes: Its cut sizes [in], exact: side; width and height; the side of the square that is cut; for a template
            its width and height.
        bias: Whether an edge of it on the block's outline is off the straight grain.
    """

    patch: str
    outline: Outline
    cut: Outline
    shape: str
    sizes: tuple[float, ...]
    bias: bool = False


@dataclass(frozen=True)
class SewingLine:
    """A line sewn on a foundation.

    Attributes:
        patch: The patch that is added along it, or the label of the finished unit that is laid on it.
        number: Its place in the sewing order, from 2.
        seam: The finished seam from end to end.
        printed: The line as printed and sewn: run on to the cut line at the outline, and past its ends elsewhere.
    """

    patch: str
    number: int
    seam: tuple[Point, Point]
    printed: tuple[Point, Point]


@dataclass(frozen=True)
class MatchTick:
    """A lettered mark on the sewing line of a join, the same letter on both sides.

    Attributes:
        letter: The letter.
        place: Where it stands [in].
        join: The join's label; "+" and a unit's label for the line by which that unit is laid on a foundation.
    """

    letter: str
    place: Point
    join: str


@dataclass(frozen=True)
class LaidUnit:
    """A finished unit that is laid on a foundation as if it were one patch.

    It needs no rough piece. It is trimmed to its own allowance, the paper taken out of that, and its raw edge lies one
    allowance past the line, pinned at the line's ends and match points.

    Attributes:
        label: What it is called.
        number: Its place in the sewing order.
        place: Where its label stands [in].
        room: The room round that place [in].
        outline: Its finished outline.
        seams: The seams inside it.
    """

    label: str
    number: int
    place: Point
    room: float
    outline: Outline
    seams: tuple[Edge, ...]


@dataclass(frozen=True)
class Template:
    """One paper section at true size, as seen from the face; `sheets` mirrors it where its use asks for that.

    Attributes:
        label: The foundation's letter, or the id of a loose patch.
        finished: Its finished outline.
        cut: The cut line: the outline with allowance and matched corners.
        patches: (patch id, number in the sewing order, where the number stands, room round that place [in]).
        lines: Its sewing lines in order.
        ticks: Its match ticks.
        stands_for: Labels of all foundations printed once as this one, itself first.
        laid: The finished units that are laid on it.
    """

    label: str
    finished: Outline
    cut: Outline
    patches: tuple[tuple[str, int, Point, float], ...]
    lines: tuple[SewingLine, ...]
    ticks: tuple[MatchTick, ...]
    stands_for: tuple[str, ...]
    laid: tuple[LaidUnit, ...] = ()
