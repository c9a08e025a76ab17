"""Pineapple: a centre square, then straight and diagonal rounds of four by turns, the corners last."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, cut
from seamproof.tolerance import ROUND_OFF

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_NEAR: Final = 0.01


class PineappleParameters(Parameters):
    """What may be chosen of a pineapple."""

    rounds: int = Field(
        default=6,
        ge=1,
        le=12,
        description="Rounds of four patches about the centre; more than 12 leave strips too narrow to sew. An odd "
        "number begins with a diagonal round, so the centre stands on its point.",
    )
    centre: float = Field(
        default=0.25,
        ge=0.125,
        le=0.6,
        description="Side of the centre square as a share of the block; a larger one leaves no room for strips.",
    )
    diagonal: float = Field(
        default=1.0,
        ge=0.75,
        le=1.25,
        description="Width of the diagonal strips over that of the straight ones; far from 1 the strips run to points.",
    )


def draft_pineapple(parameters: PineappleParameters, size: float) -> Block:
    """Draft the block inward out: each round is what one more line on each of four sides adds.

    Raises:
        ValueError: the centre is too small for the first round's strips, which would run past a point.
    """
    rounds = parameters.rounds
    starts_straight = rounds % 2 == 0
    straights = rounds // 2
    half = parameters.centre / 2 if starts_straight else parameters.centre / math.sqrt(2)
    if straights == 0:
        half = 0.5
    strip = (0.5 - half) / straights if straights else 0.0
    half, strip = _settle(parameters, half, strip, straights)
    level = half * math.sqrt(2) if starts_straight else half / math.sqrt(2)
    draft = Draft([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    draft.add("centre", _square(half) if starts_straight else _on_point(level))
    number = {"straight log": 0, "diagonal log": 0}
    for turn in range(1, rounds):
        is_straight = (turn % 2 == 1) == starts_straight
        role = "straight log" if is_straight else "diagonal log"
        number[role] += 1
        before = half, level
        if is_straight:
            half += strip
        else:
            level += strip * parameters.diagonal
        for patch in _round(before, (half, level), is_straight=is_straight):
            draft.add(f"{role} {number[role]}", patch)
    for patch in _round((0.5, level), (0.5, 1.0), is_straight=False):
        draft.add("corner", patch)
    return draft.block("Pineapple", size)


def _settle(parameters: PineappleParameters, half: float, strip: float, straights: int) -> tuple[float, float]:
    """The half width of the centre and the width of a strip, after a look at whether the first round has room."""
    if straights == 0:
        return half, strip
    is_even = parameters.rounds % 2 == 0
    diagonal = math.sqrt(2) * parameters.diagonal
    least = 0.5 / (straights + 1) if is_even else 0.5 * diagonal / (straights + diagonal)
    if half < least - _NEAR / 10:
        share = math.ceil((2 * least if is_even else math.sqrt(2) * least) * 1000 - ROUND_OFF) / 1000
        raise ValueError(
            f"centre: {parameters.centre:g} is too small for {parameters.rounds} rounds, whose first strips would run "
            f"past a point: make it {share:g} or more, or take more rounds"
        )
    if half < least + _NEAR / 2:
        half = least
    return half, (0.5 - half) / straights


def _square(half: float) -> list[Point]:
    return [(-half, -half), (half, -half), (half, half), (-half, half)]


def _on_point(level: float) -> list[Point]:
    reach = level * math.sqrt(2)
    return [(reach, 0.0), (0.0, reach), (-reach, 0.0), (0.0, -reach)]


def _round(before: tuple[float, float], after: tuple[float, float], *, is_straight: bool) -> list[list[Point]]:
    """The four patches between what |x|, |y| ≤ half and |x| + |y| ≤ √2·level bound before and after."""
    half, level = after
    reach = min(level, 1.0) * math.sqrt(2)
    ring: list[Point] = _square(half)
    for p, q in (((reach, 0.0), (0.0, reach)), ((0.0, reach), (-reach, 0.0))):
        ring, _ = cut(ring, p, q)
        ring, _ = cut(ring, (-p[0], -p[1]), (-q[0], -q[1]))
    patches = []
    for turn in range(4):
        p, q = _inner_line(before, is_straight=is_straight)
        for _ in range(turn):
            p, q = (-p[1], p[0]), (-q[1], q[0])
        _, patch = cut(ring, p, q)
        patches.append(patch)
    return patches


def _inner_line(before: tuple[float, float], *, is_straight: bool) -> tuple[Point, Point]:
    half, level = before
    if is_straight:
        return (half, -half), (half, half)
    reach = level * math.sqrt(2)
    return (reach, 0.0), (0.0, reach)


PINEAPPLE: Final = Family(
    slug="pineapple",
    title="Pineapple",
    parameters=PineappleParameters,
    draft=draft_pineapple,
    sources=("common practice, no source: a log cabin of straight and diagonal rounds by turns",),
    designs={
        "pineapple": {},
        "small pineapple": {"rounds": 4, "centre": 0.4},
        "grand pineapple": {"rounds": 10, "centre": 0.2},
        "pineapple on point": {"rounds": 7, "centre": 0.3},
        "broad-leaved pineapple": {"rounds": 6, "centre": 0.3, "diagonal": 1.25},
    },
    roles=("centre", "straight log #", "diagonal log #", "corner"),
    smallest=0.011,
    sharpest=44.9,
    about="Straight and diagonal strips by turns about a centre square.",
)
