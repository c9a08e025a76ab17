"""Log cabins with graded logs, so that the seams seem to curve, and with cornerstones."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle
from seamproof_logs.cabins import Growing, Side

if TYPE_CHECKING:
    from seamproof.block import Block

_ROUND: Final[tuple[Side, ...]] = ("right", "top", "left", "bottom")
_COMMON: Final = ("common practice, no source",)


class GradedCabinParameters(Parameters):
    """What may be chosen of a graded log cabin."""

    rounds: int = Field(default=5, ge=2, le=7, description="Rounds of logs; more than 7 make the thin ones too narrow.")
    centre: float = Field(
        default=2.0, ge=1, le=8, description="Side of the centre square over the narrowest log's width."
    )
    grade: float = Field(
        default=1.25,
        ge=1.05,
        le=1.4,
        description="How much wider each light log is than the one before, and each dark one narrower; beyond 1.4 the "
        "narrowest cannot be sewn.",
    )


class CornerstoneParameters(Parameters):
    """What may be chosen of a cabin with cornerstones."""

    rounds: int = Field(default=3, ge=1, le=7, description="Rounds of logs; more than 7 are too narrow for a block.")
    centre: float = Field(
        default=1.0, ge=0.5, le=8, description="Side of the centre square over a log's width; under a half it is lost."
    )


def draft_graded_cabin(parameters: GradedCabinParameters, size: float) -> Block:
    """Draft centre out: light logs that grow wider round by round, dark ones that grow narrower."""
    rounds, grade = parameters.rounds, parameters.grade
    cabin = Growing(parameters.centre)
    for number in range(1, rounds + 1):
        light, dark = grade ** (number - 1), grade ** (rounds - number)
        for side, width, shade in zip(_ROUND, (light, light, dark, dark), ("light",) * 2 + ("dark",) * 2, strict=True):
            cabin.log(side, width, f"{shade} log {number}")
    return cabin.block("Graded log cabin", size)


def draft_cornerstones(parameters: CornerstoneParameters, size: float) -> Block:
    """Draft centre out: a light log above and below, then dark ones on either side with a square at each end."""
    side = parameters.centre + 2.0 * parameters.rounds
    draft = Draft.square(side)
    low = float(parameters.rounds)
    draft.add("centre", rectangle(low, low, parameters.centre))
    for number in range(1, parameters.rounds + 1):
        x = parameters.rounds - number
        length = parameters.centre + 2.0 * (number - 1)
        far = x + 1 + length
        draft.add(f"light log {number}", rectangle(x + 1, far, length, 1.0))
        draft.add(f"light log {number}", rectangle(x + 1, x, length, 1.0))
        for left in (float(x), far):
            draft.add("cornerstone", rectangle(left, x, 1.0))
            draft.add(f"dark log {number}", rectangle(left, x + 1, 1.0, length))
            draft.add("cornerstone", rectangle(left, far, 1.0))
    return draft.block("Log cabin with cornerstones", size)


GRADED_CABIN: Final = Family(
    slug="graded-log-cabin",
    title="Graded log cabin",
    parameters=GradedCabinParameters,
    draft=draft_graded_cabin,
    sources=_COMMON,
    designs={
        "curved log cabin": {},
        "gently curved log cabin": {"grade": 1.12, "rounds": 6},
        "deeply curved log cabin": {"grade": 1.4, "rounds": 5, "centre": 3.0},
    },
    roles=("centre", "light log #", "dark log #"),
    smallest=0.0175,
    sharpest=89.9,
    about="Logs that grow wider on two sides and narrower on the others: straight seams that seem to curve.",
)

CORNERSTONES: Final = Family(
    slug="cornerstone-log-cabin",
    title="Log cabin with cornerstones",
    parameters=CornerstoneParameters,
    draft=draft_cornerstones,
    sources=_COMMON,
    designs={
        "cabin with cornerstones": {},
        "wide hearth with cornerstones": {"rounds": 2, "centre": 3.0},
        "chain of cornerstones": {"rounds": 5},
    },
    roles=("centre", "light log #", "dark log #", "cornerstone"),
    smallest=0.03,
    sharpest=89.9,
    about="Logs in pairs, with a square in every corner.",
)
