"""Concentric rings on a hexagon, an octagon or a diamond."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, facing, peel, side_line

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_SIDES: Final = {
    "diamond": (330.0, 30.0, 150.0, 210.0),
    "hexagon": (270.0, 330.0, 30.0, 90.0, 150.0, 210.0),
    "octagon": (270.0, 315.0, 0.0, 45.0, 90.0, 135.0, 180.0, 225.0),
}
"""[°] The directions in which the sides of each shape look, in order round it."""


class PolygonRingsParameters(Parameters):
    """What may be chosen of concentric rings."""

    shape: Literal["diamond", "hexagon", "octagon"] = Field(
        default="octagon", description="The shape of the centre and of every ring; the diamond has corners of 60°."
    )
    rings: int = Field(default=3, ge=1, le=8, description="Rings about the centre; more than 8 are too narrow to sew.")
    centre: float = Field(
        default=0.3,
        ge=0.15,
        le=0.7,
        description="Width of the centre as a share of the whole; a larger one leaves no room for rings.",
    )
    ground: bool = Field(
        default=True, description="Whether the corners about the outermost ring are filled to a square or an oblong."
    )


def draft_polygon_rings(parameters: PolygonRingsParameters, size: float) -> Block:
    """Draft centre out: in every ring opposite sides in pairs, then the corners of the ground."""
    sides = _SIDES[parameters.shape]
    half = len(sides) // 2
    pairs = [sides[i + j * half] for i in range(half) for j in range(2)]
    ring = facing(sides)
    outline = _box(ring) if parameters.ground else ring
    lines = [side_line(1.0, side) for side in sides if side % 90 and parameters.ground]
    corners = len(lines)
    step = (1 - parameters.centre) / parameters.rings
    for number in range(parameters.rings - 1, -1, -1):
        lines += [side_line(parameters.centre + number * step, side) for side in reversed(pairs)]
    shapes = peel(outline, lines)
    draft = Draft(outline)
    for n, shape in enumerate(shapes):
        if n == 0:
            draft.add("centre", shape)
        elif n < len(shapes) - corners:
            draft.add(f"ring {(n - 1) // len(sides) + 1}", shape)
        else:
            draft.add("corner", shape)
    return draft.block("Concentric rings", size)


def _box(ring: list[Point]) -> list[Point]:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return [(min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys))]


POLYGON_RINGS: Final = Family(
    slug="concentric-rings",
    title="Concentric rings",
    parameters=PolygonRingsParameters,
    draft=draft_polygon_rings,
    sources=("common practice, no source",),
    designs={
        "octagon rings": {},
        "hexagon rings": {"shape": "hexagon", "ground": False},
        "hexagon rings on a ground": {"shape": "hexagon"},
        "diamond rings": {"shape": "diamond", "rings": 4},
        "many octagon rings": {"rings": 6, "centre": 0.2},
    },
    roles=("centre", "ring #", "corner"),
    smallest=0.009,
    sharpest=29.9,
    about="Strips in rings about an octagon, a hexagon or a diamond.",
)
