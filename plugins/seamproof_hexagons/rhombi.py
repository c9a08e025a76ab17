"""Rhombi and triangles of 60°: tumbling blocks, diamonds in rows, pyramids."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Family, Parameters
from seamproof_hexagons.lattice import block, hexagon, ring

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof_hexagons.lattice import Node

_COMMON: Final = ("common practice, no source",)


class TumblingBlocksParameters(Parameters):
    """What may be chosen of tumbling blocks."""

    rings: int = Field(
        default=1,
        ge=0,
        le=2,
        description="Rings of cubes about the middle one; 2 make 57 diamonds, enough for a block.",
    )


class DiamondRowsParameters(Parameters):
    """What may be chosen of diamonds in rows."""

    across: int = Field(default=4, ge=1, le=8, description="Diamonds in each row; more than 8 are too small to sew.")
    rows: int = Field(default=4, ge=1, le=8, description="Rows of diamonds; more than 8 are too small to sew.")
    lean: Literal["one way", "to and fro"] = Field(
        default="one way", description="Whether all rows lean to the right, or every other one to the left."
    )
    fabrics: int = Field(default=3, ge=2, le=6, description="After how many diamonds of a row roles begin again.")


class PyramidsParameters(Parameters):
    """What may be chosen of pyramids."""

    rows: int = Field(default=5, ge=2, le=10, description="Rows of triangles; more than 10 are too small to sew.")


def draft_tumbling_blocks(parameters: TumblingBlocksParameters, size: float) -> Block:
    """Draft cube by cube from the middle: its top, its left and its right side."""
    patches: list[tuple[str, list[Node]]] = []
    for number in range(parameters.rings + 1):
        for middle in ring(number):
            corners = hexagon(middle)
            for side, first in (("top", 1), ("left side", 3), ("right side", 5)):
                rhombus = [middle, corners[first - 1], corners[first], corners[(first + 1) % 6]]
                patches.append((side, rhombus))
    return block("Tumbling blocks", patches, size)


def draft_diamond_rows(parameters: DiamondRowsParameters, size: float) -> Block:
    """Draft row by row from below, each from the left."""
    patches = []
    for row in range(parameters.rows):
        leans_left = parameters.lean == "to and fro" and row % 2 == 1
        shift = -(row // 2) if parameters.lean == "to and fro" else 0
        step = (-1, 1) if leans_left else (0, 1)
        for n in range(parameters.across):
            a, b = n + shift, row
            shape = [(a, b), (a + 1, b), (a + 1 + step[0], b + 1), (a + step[0], b + 1)]
            patches.append((f"diamond {(n + row) % parameters.fabrics + 1}", shape))
    return block("Diamonds in rows", patches, size)


def draft_pyramids(parameters: PyramidsParameters, size: float) -> Block:
    """Draft row by row from below, each from the left: upright triangles dark, the others light."""
    patches: list[tuple[str, list[Node]]] = []
    for row in range(parameters.rows):
        count = parameters.rows - row
        for n in range(count):
            patches.append(("dark", [(n, row), (n + 1, row), (n, row + 1)]))
            if n < count - 1:
                patches.append(("light", [(n + 1, row), (n + 1, row + 1), (n, row + 1)]))
    return block("Pyramids", patches, size)


TUMBLING_BLOCKS: Final = Family(
    slug="tumbling-blocks",
    title="Tumbling blocks",
    parameters=TumblingBlocksParameters,
    draft=draft_tumbling_blocks,
    sources=_COMMON,
    designs={"one tumbling block": {"rings": 0}, "tumbling blocks": {}, "many tumbling blocks": {"rings": 2}},
    roles=("top", "left side", "right side"),
    smallest=0.09,
    sharpest=59.9,
    about="Cubes of three diamonds each, sewn with set-in seams or by hand.",
)

DIAMOND_ROWS: Final = Family(
    slug="diamond-rows",
    title="Diamonds in rows",
    parameters=DiamondRowsParameters,
    draft=draft_diamond_rows,
    sources=_COMMON,
    designs={
        "diamonds in rows": {},
        "diamonds to and fro": {"lean": "to and fro"},
        "streak of diamonds": {"across": 3, "rows": 6, "lean": "to and fro", "fabrics": 2},
    },
    roles=("diamond #",),
    smallest=0.07,
    sharpest=59.9,
    about="Diamonds of 60° sewn in rows.",
)

PYRAMIDS: Final = Family(
    slug="pyramids",
    title="Pyramids",
    parameters=PyramidsParameters,
    draft=draft_pyramids,
    sources=("common practice, no source: of many, a thousand pyramids",),
    designs={"pyramids": {}, "thousand pyramids": {"rows": 9}},
    roles=("dark", "light"),
    smallest=0.08,
    sharpest=59.9,
    about="Triangles of 60° in a large triangle.",
)
