"""Crazy: irregular patches grown round an irregular centre, always on one foundation."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, cut, polar, rectangle
from seamproof_strings.chance import Chance

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_TRIES: Final = 8
_TURN: Final = 137.5


class CrazyParameters(Parameters):
    """What may be chosen of a crazy block."""

    patches: int = Field(default=12, ge=5, le=20, description="Patches; more than 20 leave slivers too narrow to sew.")
    fabrics: int = Field(default=5, ge=2, le=8, description="After how many patches their roles begin again.")
    seed: int = Field(default=3, ge=0, le=9999, description="Another number, another block; any will do.")


def draft_crazy(parameters: CrazyParameters, size: float) -> Block:
    """Draft outside in: cut a patch off by a line, then off what is left, till only the centre is left.

    So every block is sewn on one foundation, by the reverse order. Of a few lines in about the right direction the
    one is taken whose patch is widest for the room it takes.
    """
    chance = Chance(parameters.seed)
    square = rectangle(-0.5, -0.5, 1.0)
    rest: list[Point] = square
    off: list[list[Point]] = []
    direction = chance.between(0.0, 360.0)
    for n in range(parameters.patches - 1):
        left = parameters.patches - n
        rest, patch = _best(rest, direction, left, chance)
        off.append(patch)
        direction += _TURN
    draft = Draft(square)
    draft.add("centre", rest)
    for n, patch in enumerate(reversed(off)):
        draft.add(f"patch {n % parameters.fabrics + 1}", patch)
    return draft.block("Crazy", size)


def _best(rest: list[Point], direction: float, left: int, chance: Chance) -> tuple[list[Point], list[Point]]:
    best, parts = -1.0, (rest, rest)
    share = 1 / (left + 1.5)
    for _ in range(_TRIES):
        angle = direction + chance.between(-35.0, 35.0)
        kept, patch = _slice(rest, angle, share * chance.between(0.75, 1.25))
        score = min(_roundness(patch), 2 * _roundness(kept))
        if score > best:
            best, parts = score, (kept, patch)
    return parts


def _slice(rest: list[Point], angle: float, share: float) -> tuple[list[Point], list[Point]]:
    """Cut off about this share of the area, on the side that looks in this direction [°]."""
    normal = polar(1.0, angle)
    heights = [p[0] * normal[0] + p[1] * normal[1] for p in rest]
    low, high = min(heights), max(heights)
    goal = share * _area(rest)
    parts = rest, rest
    for _ in range(20):
        height = (low + high) / 2
        foot = (normal[0] * height, normal[1] * height)
        parts = cut(rest, foot, (foot[0] - normal[1], foot[1] + normal[0]))
        if _area(parts[1]) > goal:
            low = height
        else:
            high = height
    return parts


def _area(ring: list[Point]) -> float:
    return sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(ring, ring[1:] + ring[:1], strict=True)) / 2


def _roundness(ring: list[Point]) -> float:
    """Area over the square of the longest side, and no more than the shortest side over the longest allows."""
    sides = [math.dist(p, q) for p, q in zip(ring, ring[1:] + ring[:1], strict=True)]
    return min(_area(ring) / max(sides) ** 2, min(sides) / max(sides))


CRAZY: Final = Family(
    slug="crazy",
    title="Crazy",
    parameters=CrazyParameters,
    draft=draft_crazy,
    sources=("common practice, no source",),
    designs={"crazy": {}, "wild crazy": {"patches": 18, "seed": 8}, "tame crazy": {"patches": 7, "seed": 2}},
    roles=("centre", "patch #"),
    smallest=0.04,
    sharpest=9.0,
    about="Irregular patches round an irregular centre.",
)
