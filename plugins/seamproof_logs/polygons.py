"""Log cabins on a polygon: triangle, diamond, pentagon, hexagon, octagon."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, facing, peel, side_line

if TYPE_CHECKING:
    from seamproof.block import Block

_SIDES: Final = {
    "triangle": (270.0, 30.0, 150.0),
    "diamond": (330.0, 30.0, 150.0, 210.0),
    "pentagon": (270.0, 342.0, 54.0, 126.0, 198.0),
    "hexagon": (270.0, 330.0, 30.0, 90.0, 150.0, 210.0),
    "octagon": (270.0, 315.0, 0.0, 45.0, 90.0, 135.0, 180.0, 225.0),
}
"""[°] The directions in which the sides of each shape look, in order round it."""


class PolygonCabinParameters(Parameters):
    """What may be chosen of a log cabin on a polygon."""

    shape: Literal["triangle", "diamond", "pentagon", "hexagon", "octagon"] = Field(
        default="hexagon", description="The shape of the centre and of the block; the diamond has corners of 60°."
    )
    rounds: int = Field(default=3, ge=1, le=8, description="Rounds of logs; more than 8 are too narrow for a block.")
    centre: float = Field(
        default=1.5, ge=0.75, le=6, description="Distance of the centre's sides from its middle over a log's width."
    )


def draft_polygon_cabin(parameters: PolygonCabinParameters, size: float) -> Block:
    """Draft centre out: in every round a log along each side in turn, light ones first."""
    sides = _SIDES[parameters.shape]
    outline = facing(sides, parameters.centre + parameters.rounds)
    reaches = [parameters.centre + number for number in range(parameters.rounds - 1, -1, -1)]
    lines = [side_line(reach, side) for reach in reaches for side in reversed(sides)]
    draft = Draft(outline)
    for n, shape in enumerate(peel(outline, lines)):
        number, side = divmod(n - 1, len(sides))
        shade = "light" if 2 * side < len(sides) else "dark"
        draft.add(f"{shade} log {number + 1}" if n else "centre", shape)
    return draft.block("Log cabin on a polygon", size)


POLYGON_CABIN: Final = Family(
    slug="polygon-log-cabin",
    title="Log cabin on a polygon",
    parameters=PolygonCabinParameters,
    draft=draft_polygon_cabin,
    sources=("common practice, no source",),
    designs={
        "hexagon log cabin": {},
        "triangle log cabin": {"shape": "triangle", "rounds": 3, "centre": 1.0},
        "diamond log cabin": {"shape": "diamond", "rounds": 4},
        "pentagon log cabin": {"shape": "pentagon"},
        "octagon log cabin": {"shape": "octagon", "centre": 3.0},
    },
    roles=("centre", "light log #", "dark log #"),
    smallest=0.014,
    sharpest=44.9,
    about="Logs round a triangle, diamond, pentagon, hexagon or octagon.",
)
