"""Stars of diamonds: eight-pointed with its lone-star rows, and six-pointed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, polar, regular

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block
    from seamproof.geometry import Point


class EightPointedParameters(Parameters):
    """What may be chosen of an eight-pointed star."""

    rows: int = Field(
        default=1,
        ge=1,
        le=5,
        description="Rows of small diamonds in each large one; 5 rows in a block are as small as hands can sew.",
    )
    halved: bool = Field(
        default=False,
        description="Halve the squares and triangles between the points: straight seams then serve, with no Y-seam.",
    )


class SixPointedParameters(Parameters):
    """What may be chosen of a six-pointed star."""

    halved: bool = Field(
        default=False, description="Halve the triangles between the points: straight seams then serve, with no Y-seam."
    )


def _diamond(o: Point, p: Point, q: Point, rows: int) -> Iterator[tuple[int, list[Point]]]:
    """Small diamonds of the diamond o, p, p + q − o, q, row by row, each with its ring counted from o."""

    def at(i: int, j: int) -> Point:
        s, t = i / rows, j / rows
        return (o[0] + (p[0] - o[0]) * s + (q[0] - o[0]) * t, o[1] + (p[1] - o[1]) * s + (q[1] - o[1]) * t)

    for i in range(rows):
        for j in range(rows):
            yield i + j + 1, [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)]


def draft_eight_pointed(parameters: EightPointedParameters, size: float) -> Block:
    """Draft eight diamonds round the centre, then what lies between their points.

    The diamonds' side is b / (2 + √2) for a block of side b.
    """
    side = 1 / (2 + math.sqrt(2))
    tip = 2 * side * math.cos(math.pi / 8)
    draft = Draft([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    for k in range(8):
        arms = polar(side, 45 * k), polar(side, 45 * k + 45)
        for ring, shape in _diamond((0.0, 0.0), *arms, parameters.rows):
            draft.add(f"diamond {k % 2 + 1}" if parameters.rows == 1 else f"ring {ring}", shape)
    for k in range(8):
        inner, before, after = polar(side, 45 * k), polar(tip, 45 * k - 22.5), polar(tip, 45 * k + 22.5)
        outer = polar(0.5, 45 * k) if k % 2 == 0 else polar(math.sqrt(0.5), 45 * k)
        role = "edge triangle" if k % 2 == 0 else "corner square"
        if parameters.halved:
            draft.add(role, [inner, before, outer])
            draft.add(role, [inner, outer, after])
        else:
            draft.add(role, [inner, before, after] if k % 2 == 0 else [inner, before, outer, after])
    return draft.block("Eight-pointed star", size)


def draft_six_pointed(parameters: SixPointedParameters, size: float) -> Block:
    """Draft six diamonds of 60° round the centre of a hexagon, then the triangles between their points."""
    tips = regular(6, math.sqrt(3), 30)
    arms = regular(6, 1.0, 0)
    draft = Draft(tips)
    for k in range(6):
        draft.add(f"diamond {k % 2 + 1}", [(0.0, 0.0), arms[k], tips[k], arms[(k + 1) % 6]])
    for k in range(6):
        before, after = tips[k - 1], tips[k]
        if parameters.halved:
            outer = polar(1.5, 60 * k)
            draft.add("edge triangle", [arms[k], before, outer])
            draft.add("edge triangle", [arms[k], outer, after])
        else:
            draft.add("edge triangle", [arms[k], before, after])
    return draft.block("Six-pointed star", size)


EIGHT_POINTED: Final = Family(
    slug="eight-pointed-star",
    title="Eight-pointed star",
    parameters=EightPointedParameters,
    draft=draft_eight_pointed,
    sources=("common practice, no source: eight diamonds of 45°, also called a LeMoyne star; in rows, a lone star",),
    designs={
        "eight-pointed star": {},
        "eight-pointed star, halved": {"halved": True},
        "small lone star": {"rows": 2},
        "lone star": {"rows": 3, "halved": True},
    },
    roles=("diamond #", "ring #", "edge triangle", "corner square"),
    smallest=0.04,
    sharpest=44.9,
    about="Eight diamonds round a centre, whole or in rows.",
)

SIX_POINTED: Final = Family(
    slug="six-pointed-star",
    title="Six-pointed star",
    parameters=SixPointedParameters,
    draft=draft_six_pointed,
    sources=("common practice, no source",),
    designs={"six-pointed star": {}, "six-pointed star, halved": {"halved": True}},
    roles=("diamond #", "edge triangle"),
    smallest=0.12,
    sharpest=29.9,
    about="Six diamonds of 60° in a hexagon.",
)
