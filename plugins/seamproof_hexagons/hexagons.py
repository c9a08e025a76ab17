"""Hexagons sewn by hand or with set-in seams: rosettes and honeycombs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Family, Parameters
from seamproof_hexagons.lattice import block, hexagon, ring

if TYPE_CHECKING:
    from seamproof.block import Block

_COMMON: Final = ("common practice, no source",)


class RosetteParameters(Parameters):
    """What may be chosen of a rosette."""

    rings: int = Field(
        default=1, ge=1, le=3, description="Rings about the middle hexagon; 3 make 37 hexagons, enough for one block."
    )


class HoneycombParameters(Parameters):
    """What may be chosen of a honeycomb."""

    columns: int = Field(default=3, ge=2, le=5, description="Columns of hexagons; more than 5 are too small to sew.")
    rows: int = Field(default=3, ge=1, le=5, description="Hexagons in each column; more than 5 are too small to sew.")
    fabrics: int = Field(default=3, ge=2, le=6, description="After how many hexagons of a column roles begin again.")


def draft_rosette(parameters: RosetteParameters, size: float) -> Block:
    """Draft the middle hexagon, then ring by ring."""
    patches = [
        (f"ring {number}" if number else "centre", hexagon(middle))
        for number in range(parameters.rings + 1)
        for middle in ring(number)
    ]
    return block("Hexagon rosette", patches, size)


def draft_honeycomb(parameters: HoneycombParameters, size: float) -> Block:
    """Draft column by column from the left, each from below; every other column stands half a hexagon higher."""
    patches = []
    for column in range(parameters.columns):
        right, up = divmod(column, 2)
        for row in range(parameters.rows):
            middle = (3 * right + up - row, up + 2 * row)
            patches.append((f"hexagon {(row + column) % parameters.fabrics + 1}", hexagon(middle)))
    return block("Honeycomb", patches, size)


ROSETTE: Final = Family(
    slug="hexagon-rosette",
    title="Hexagon rosette",
    parameters=RosetteParameters,
    draft=draft_rosette,
    sources=(*_COMMON, "derived: 3k(k + 1) + 1 hexagons in k rings, OEIS A003215"),
    designs={"hexagon flower": {}, "flower garden": {"rings": 2}, "great rosette": {"rings": 3}},
    roles=("centre", "ring #"),
    smallest=0.14,
    sharpest=119.9,
    about="Hexagons in rings about one, sewn with set-in seams or by hand.",
)

HONEYCOMB: Final = Family(
    slug="honeycomb",
    title="Honeycomb",
    parameters=HoneycombParameters,
    draft=draft_honeycomb,
    sources=_COMMON,
    designs={"honeycomb": {}, "wide honeycomb": {"columns": 5, "rows": 3, "fabrics": 4}},
    roles=("hexagon #",),
    smallest=0.12,
    sharpest=119.9,
    about="Hexagons in columns, sewn with set-in seams or by hand.",
)
