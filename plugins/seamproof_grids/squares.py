"""Checks of squares, even and uneven, and rail fences."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle

if TYPE_CHECKING:
    from seamproof.block import Block

_COMMON: Final = ("common practice, no source",)


class ChecksParameters(Parameters):
    """What may be chosen of checks."""

    across: int = Field(
        default=3, ge=2, le=8, description="Squares across and down; more than 8 are too small to sew in a block."
    )
    middle: float = Field(
        default=1.0,
        ge=0.4,
        le=4,
        description="Width of the middle row and column over that of the others; an even number has no middle, so 1.",
    )


class RailFenceParameters(Parameters):
    """What may be chosen of a rail fence."""

    rails: int = Field(
        default=3, ge=2, le=6, description="Strips in each square; more than 6 are too narrow for a block."
    )
    across: int = Field(default=2, ge=1, le=4, description="Squares of strips across and down; 1 is a single fence.")


def draft_checks(parameters: ChecksParameters, size: float) -> Block:
    """Draft row by row from the lower left.

    Raises:
        ValueError: a middle is asked of an even number of squares.
    """
    across = parameters.across
    if across % 2 == 0 and parameters.middle != 1:
        raise ValueError(f"middle: {across} squares across have no middle one: make it 1, or take {across + 1} across")
    widths = [parameters.middle if 2 * i + 1 == across else 1.0 for i in range(across)]
    starts = [sum(widths[:i]) for i in range(across + 1)]
    draft = Draft.square(starts[-1])
    for j in range(across):
        for i in range(across):
            role = "dark" if (i + j) % 2 == 0 else "light"
            draft.add(role, rectangle(starts[i], starts[j], starts[i + 1] - starts[i], starts[j + 1] - starts[j]))
    return draft.block("Checks", size)


def draft_rail_fence(parameters: RailFenceParameters, size: float) -> Block:
    """Draft square by square from the lower left, the rails lying and standing by turns."""
    rails = parameters.rails
    draft = Draft.square(float(parameters.across * rails))
    for j in range(parameters.across):
        for i in range(parameters.across):
            x, y = float(i * rails), float(j * rails)
            for n in range(rails):
                if (i + j) % 2 == 0:
                    draft.add(f"rail {n + 1}", rectangle(x, y + n, rails, 1.0))
                else:
                    draft.add(f"rail {n + 1}", rectangle(x + n, y, 1.0, rails))
    return draft.block("Rail fence", size)


CHECKS: Final = Family(
    slug="checks",
    title="Checks",
    parameters=ChecksParameters,
    draft=draft_checks,
    sources=_COMMON,
    designs={
        "four-patch": {"across": 2},
        "nine-patch": {},
        "uneven nine-patch": {"middle": 2.0},
        "puss in the corner": {"middle": 3.0},
        "sixteen-patch": {"across": 4},
        "twenty-five-patch": {"across": 5},
    },
    roles=("dark", "light"),
    smallest=0.05,
    sharpest=89.9,
    about="Squares dark and light by turns, the middle row as wide as you like.",
)

RAIL_FENCE: Final = Family(
    slug="rail-fence",
    title="Rail fence",
    parameters=RailFenceParameters,
    draft=draft_rail_fence,
    sources=_COMMON,
    designs={
        "rail fence": {},
        "rail fence of four": {"rails": 4},
        "little rails": {"rails": 3, "across": 4},
        "one fence": {"rails": 5, "across": 1},
    },
    roles=("rail #",),
    smallest=0.041,
    sharpest=89.9,
    about="Squares of strips, lying and standing by turns.",
)
