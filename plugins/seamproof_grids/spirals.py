"""Blocks that turn: the snail's trail and the pinwheel of five."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle, turned

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_COMMON: Final = ("common practice, no source",)
_MIDDLE: Final = (0.5, 0.5)


class SnailsTrailParameters(Parameters):
    """What may be chosen of a snail's trail."""

    rounds: int = Field(
        default=3, ge=1, le=6, description="Rounds about the four-patch; more than 6 leave its squares too small."
    )


class PinwheelOfFiveParameters(Parameters):
    """What may be chosen of a pinwheel of five."""

    centre: float = Field(
        default=1 / 3,
        ge=0.1,
        le=0.7,
        description="Side of the centre square as a share of the block; outside this the square or the arms are lost.",
    )
    turn: Literal["anticlockwise", "clockwise"] = Field(
        default="anticlockwise", description="Which way the arms go round, as seen from the face."
    )


def draft_snails_trail(parameters: SnailsTrailParameters, size: float) -> Block:
    """Draft the four-patch, then round by round the triangles; each arm winds half a right angle a round."""
    ring: list[Point] = rectangle(0.0, 0.0, 1.0)
    draft = Draft(ring)
    rounds = []
    for _ in range(parameters.rounds):
        middles = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in zip(ring, ring[1:] + ring[:1], strict=True)]
        rounds.append([[middles[i - 1], ring[i], middles[i]] for i in range(4)])
        ring = middles
    for i in range(4):
        (x0, y0), (x1, y1), (x2, y2) = ring[i - 1], ring[i], ring[(i + 1) % 4]
        before, after = ((x0 + x1) / 2, (y0 + y1) / 2), ((x1 + x2) / 2, (y1 + y2) / 2)
        draft.add(f"arm {i + 1}", [_MIDDLE, before, ring[i], after])
    for triangles in reversed(rounds):
        for i, triangle in enumerate(triangles):
            draft.add(f"arm {i + 1}", triangle)
    return draft.block("Snail's trail", size)


def draft_pinwheel_of_five(parameters: PinwheelOfFiveParameters, size: float) -> Block:
    """Draft the centre square, then four oblongs round it, each as long as the block less the next one's width."""
    low = (1 - parameters.centre) / 2
    draft = Draft.square()
    draft.add("centre", rectangle(low, low, parameters.centre))
    for quarters in range(4):
        shape = turned(rectangle(0.0, 0.0, 1 - low, low), quarters, _MIDDLE)
        is_mirrored = parameters.turn == "clockwise"
        draft.add(f"arm {quarters + 1}", [(1 - x, y) for x, y in shape] if is_mirrored else shape)
    return draft.block("Pinwheel of five", size)


SNAILS_TRAIL: Final = Family(
    slug="snails-trail",
    title="Snail's trail",
    parameters=SnailsTrailParameters,
    draft=draft_snails_trail,
    sources=_COMMON,
    designs={"snail's trail": {}, "short snail's trail": {"rounds": 2}, "long snail's trail": {"rounds": 5}},
    roles=("arm #",),
    smallest=0.06,
    sharpest=44.9,
    about="Four arms that wind out of a four-patch.",
)

PINWHEEL_OF_FIVE: Final = Family(
    slug="pinwheel-of-five",
    title="Pinwheel of five",
    parameters=PinwheelOfFiveParameters,
    draft=draft_pinwheel_of_five,
    sources=("common practice, no source: the smallest block that needs a partial seam",),
    designs={"pinwheel of five": {}, "narrow-armed pinwheel of five": {"centre": 0.6, "turn": "clockwise"}},
    roles=("centre", "arm #"),
    smallest=0.099,
    sharpest=89.9,
    about="Four oblongs that chase one another round a square, sewn with one partial seam.",
)
