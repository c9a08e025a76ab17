"""Stars and kaleidoscopes of wedges that meet in the centre."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, cut, polar, regular
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_REACH: Final = 0.47
_SQUARE: Final = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
_ORIGIN: Final = (0.0, 0.0)


class ManyPointedParameters(Parameters):
    """What may be chosen of a many-pointed star."""

    points: int = Field(
        default=8, ge=5, le=16, description="Points; more than 16 bring too many seams together in the centre."
    )
    depth: float = Field(
        default=0.45,
        ge=0.4,
        le=0.7,
        description="Distance of the valleys from the centre over that of the tips; less makes needles of the points.",
    )
    ground: Literal["square", "polygon"] = Field(
        default="square", description="What the star lies in: a square, or a polygon whose corners its points touch."
    )


class KaleidoscopeParameters(Parameters):
    """What may be chosen of a kaleidoscope."""

    corner: float = Field(
        default=1 - math.sqrt(0.5),
        ge=0.2,
        le=0.4,
        description="Leg of the corner triangles as a share of the block; 0.2929 makes a regular octagon.",
    )


def draft_many_pointed(parameters: ManyPointedParameters, size: float) -> Block:
    """Draft half a point after another, each with its ground, so that every seam is straight.

    Each point is halved by a seam from the centre to its tip and beyond, one half in light and one in shade.
    """
    count = parameters.points
    is_square = parameters.ground == "square"
    outline = _SQUARE if is_square else regular(count, 0.5, 90)
    reach = _REACH if is_square else 0.5
    valley = reach * parameters.depth
    if not is_square:
        valley = min(valley, reach * math.cos(math.pi / count) * 0.8)
    draft = Draft(outline)
    for k in range(2 * count):
        a, b = 90 + 180 * k / count, 90 + 180 * (k + 1) / count
        near, far = (polar(reach, a), polar(valley, b)) if k % 2 == 0 else (polar(valley, a), polar(reach, b))
        ground = cut(outline, _ORIGIN, polar(1.0, a))[0]
        ground = cut(ground, polar(1.0, b), _ORIGIN)[0]
        draft.add(f"{'light' if k % 2 else 'shaded'} half", [_ORIGIN, near, far])
        draft.add("background", _clean(cut(ground, far, near)[0]))
    return draft.block("Many-pointed star", size)


def _clean(ring: list[Point]) -> list[Point]:
    """Drop a corner that repeats the one before it, as where a seam meets a corner of the block."""
    return [p for i, p in enumerate(ring) if math.dist(p, ring[i - 1]) > SAME_POINT]


def draft_kaleidoscope(parameters: KaleidoscopeParameters, size: float) -> Block:
    """Draft eight wedges round the centre of an octagon, then the four corners."""
    c = parameters.corner - 0.5
    octagon = [(c, -0.5), (-c, -0.5), (0.5, c), (0.5, -c), (-c, 0.5), (c, 0.5), (-0.5, -c), (-0.5, c)]
    draft = Draft(_SQUARE)
    for k in range(8):
        draft.add(f"wedge {k % 2 + 1}", [_ORIGIN, octagon[k], octagon[(k + 1) % 8]])
    for k, corner in enumerate(_SQUARE):
        draft.add("corner", [octagon[2 * k - 1], corner, octagon[2 * k]])
    return draft.block("Kaleidoscope", size)


MANY_POINTED: Final = Family(
    slug="many-pointed-star",
    title="Many-pointed star",
    parameters=ManyPointedParameters,
    draft=draft_many_pointed,
    sources=("common practice, no source: each point halved into light and shade, as on a compass",),
    designs={
        "five-pointed star": {"points": 5},
        "seven-pointed star": {"points": 7},
        "split eight-pointed star": {"points": 8},
        "twelve-pointed star": {"points": 12, "depth": 0.6},
        "star in a pentagon": {"points": 5, "ground": "polygon"},
        "star in a hexagon": {"points": 6, "ground": "polygon", "depth": 0.55},
    },
    roles=("light half", "shaded half", "background"),
    smallest=0.03,
    sharpest=7.0,
    about="Five to sixteen points, each in light and shade.",
)

KALEIDOSCOPE: Final = Family(
    slug="kaleidoscope",
    title="Kaleidoscope",
    parameters=KaleidoscopeParameters,
    draft=draft_kaleidoscope,
    sources=("common practice, no source",),
    designs={"kaleidoscope": {}, "blunt kaleidoscope": {"corner": 0.35}},
    roles=("wedge #", "corner"),
    smallest=0.14,
    sharpest=22.0,
    about="Eight wedges in an octagon, with the corners of its square.",
)
