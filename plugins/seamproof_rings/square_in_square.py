"""Square in a square: each square stands on its point in the next, the corners filled with triangles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters

if TYPE_CHECKING:
    from seamproof.block import Block


class SquareInSquareParameters(Parameters):
    """What may be chosen of a square in a square."""

    rounds: int = Field(
        default=2,
        ge=1,
        le=8,
        description="Rounds of four triangles; each halves the area of the centre, so 8 leave it a sixteenth as wide.",
    )


def draft_square_in_square(parameters: SquareInSquareParameters, size: float) -> Block:
    """Draft the block from the outside in, then list its patches from the centre out."""
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    draft = Draft(square)
    rounds = []
    for _ in range(parameters.rounds):
        middles = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in zip(square, square[1:] + square[:1], strict=True)]
        rounds.append([[middles[i - 1], square[i], middles[i]] for i in range(4)])
        square = middles
    draft.add("centre", square)
    for number, triangles in enumerate(reversed(rounds), 1):
        for triangle in triangles:
            draft.add(f"round {number}", triangle)
    return draft.block("Square in a square", size)


SQUARE_IN_SQUARE: Final = Family(
    slug="square-in-a-square",
    title="Square in a square",
    parameters=SquareInSquareParameters,
    draft=draft_square_in_square,
    sources=("common practice, no source: also called an economy patch",),
    designs={
        "economy patch": {"rounds": 1},
        "square in a square": {},
        "thrice-framed square": {"rounds": 3},
        "square well": {"rounds": 6},
    },
    roles=("centre", "round #"),
    smallest=0.031,
    sharpest=44.9,
    about="Squares standing in one another, each on its point in the next.",
)
