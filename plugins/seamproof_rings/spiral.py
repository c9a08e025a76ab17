"""Spiral: polygons in one another, each turned a little in the one about it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle, regular

if TYPE_CHECKING:
    from seamproof.block import Block

_LEAST: Final = 0.06
"""[1] The centre's side over the outline's; a smaller centre cannot be sewn in a block."""


class SpiralParameters(Parameters):
    """What may be chosen of a spiral."""

    sides: int = Field(
        default=4, ge=3, le=8, description="Sides, and arms; with more than 8 the triangles are slivers."
    )
    rounds: int = Field(default=8, ge=1, le=16, description="Rounds of triangles; each makes what is left smaller.")
    turn: float = Field(
        default=0.2,
        ge=0.1,
        le=0.5,
        description="Where on each side the corner of the next round lies, as a share of the side; under a tenth the "
        "triangles are slivers, over a half the arms wind the other way.",
    )


def draft_spiral(parameters: SpiralParameters, size: float) -> Block:
    """Draft round by round from the outside, and list the patches from the centre out.

    Raises:
        ValueError: after so many rounds the centre would be too small.
    """
    sides, turn = parameters.sides, parameters.turn
    shrink = math.sqrt(1 - 2 * turn * (1 - turn) * (1 - math.cos(2 * math.pi / sides)))
    most = math.floor(math.log(_LEAST) / math.log(shrink))
    if parameters.rounds > most:
        raise ValueError(f"rounds: {parameters.rounds} leave too small a centre at this turn: make it {most} or fewer")
    ring = rectangle(-0.5, -0.5, 1.0) if sides == 4 else regular(sides, 1.0, 90 + 180 / sides * (sides % 2 == 0))
    draft = Draft(ring)
    rounds = []
    for _ in range(parameters.rounds):
        inner = [
            (p[0] + (q[0] - p[0]) * turn, p[1] + (q[1] - p[1]) * turn)
            for p, q in zip(ring, ring[1:] + ring[:1], strict=True)
        ]
        rounds.append([[inner[i - 1], ring[i], inner[i]] for i in range(sides)])
        ring = inner
    draft.add("centre", ring)
    for triangles in reversed(rounds):
        for i, triangle in enumerate(triangles):
            draft.add(f"arm {i + 1}", triangle)
    return draft.block("Spiral", size)


SPIRAL: Final = Family(
    slug="spiral",
    title="Spiral",
    parameters=SpiralParameters,
    draft=draft_spiral,
    sources=("common practice, no source; derived: each round's side is √(1 − 2t(1−t)(1 − cos 360°/n)) of the last",),
    designs={
        "square spiral": {},
        "hexagon spiral": {"sides": 6, "rounds": 10},
        "triangle spiral": {"sides": 3, "rounds": 5},
        "close spiral": {"rounds": 14, "turn": 0.12},
        "pentagon spiral": {"sides": 5, "rounds": 6, "turn": 0.3},
    },
    roles=("centre", "arm #"),
    smallest=0.008,
    sharpest=4.0,
    about="Polygons in one another, each turned, so that their corners wind inward.",
)
