"""Fans of blades in a corner, and plates of four fans about the centre."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.geometry import Outline
from seamproof.plugin import Draft, Family, Parameters, polar, rectangle
from seamproof_curves.arcs import arc, turned

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block
    from seamproof.geometry import Edge, Point


class _Blades(Parameters):
    hub: float = Field(
        default=0.3,
        ge=0.2,
        le=0.6,
        description="Radius of the hub over the side of the fan's square; a smaller one cannot be sewn round.",
    )
    reach: float = Field(
        default=0.85,
        ge=0.7,
        le=0.95,
        description="How far the blades reach over the side of the fan's square; beyond it the ground is a thread.",
    )


class FanParameters(_Blades):
    """What may be chosen of a fan."""

    blades: int = Field(default=5, ge=2, le=9, description="Blades in the quarter circle; more than 9 are too narrow.")


class PlateParameters(_Blades):
    """What may be chosen of a plate."""

    blades: int = Field(
        default=4, ge=2, le=6, description="Blades in each quarter; more than 6 are too narrow at the hub."
    )
    edge: Literal["round", "straight"] = Field(
        default="round", description="Whether blades end in arcs, or each straight across, which takes set-in seams."
    )


def _fan(choice: _Blades, blades: int, first: int = 0, *, is_round: bool = True) -> Iterator[tuple[str, Outline]]:
    """A fan in the square of side 1 about the corner (0, 0): hub, blades from the right round, ground.

    Blades are 1 and 2 by turns, the first one as `first` is even or odd. A blade with straight ends is as wide as
    2r·tan(45°/blades) at the distance r along its middle.
    """
    step, hub, reach = 90 / blades, choice.hub, choice.reach
    stretch = 1.0 if is_round else 1 / math.cos(math.radians(step / 2))
    inner = [polar(hub * stretch, n * step) for n in range(blades + 1)]
    outer = [polar(reach * stretch, n * step) for n in range(blades + 1)]
    bow = step if is_round else 0.0

    def along(points: list[Point]) -> list[Edge]:
        return [arc(p, q, bow) for p, q in pairwise(points)]

    def back(edges: list[Edge]) -> list[Edge]:
        return [edge.reversed() for edge in reversed(edges)]

    rim, brim = along(inner), along(outer)
    yield "hub", Outline((arc((0.0, 0.0), inner[0], 0), *rim, arc(inner[-1], (0.0, 0.0), 0)))
    for n in range(blades):
        sides = arc(inner[n], outer[n], 0), arc(outer[n + 1], inner[n + 1], 0)
        yield f"blade {(n + first) % 2 + 1}", Outline((sides[0], brim[n], sides[1], rim[n].reversed()))
    corners = [outer[0], (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), outer[-1]]
    lines = [arc(p, q, 0) for p, q in pairwise(corners)]
    yield "ground", Outline((*lines, *back(brim)))


def draft_fan(parameters: FanParameters, size: float) -> Block:
    """Draft the hub, the blades, the ground."""
    draft = Draft.square()
    for role, outline in _fan(parameters, parameters.blades):
        draft.add(role, outline)
    return draft.block("Fan", size)


def draft_plate(parameters: PlateParameters, size: float) -> Block:
    """Draft four fans about the centre, each as a fan in its own square.

    Raises:
        ValueError: straight blades would reach past the sides of the block.
    """
    is_round = parameters.edge == "round"
    most = math.cos(math.radians(45 / parameters.blades))
    if not is_round and parameters.reach > most - 1 / 50:
        nearest = math.floor((most - 1 / 50) * 100) / 100
        raise ValueError(
            f"reach: {parameters.reach:g} takes {parameters.blades} straight blades to the edge of the block: "
            f"make it {nearest:g} or less"
        )
    draft = Draft(rectangle(-1.0, -1.0, 2.0))
    for quarters in range(4):
        for role, outline in _fan(parameters, parameters.blades, quarters * parameters.blades, is_round=is_round):
            draft.add(role, turned(outline, quarters, (0.0, 0.0)))
    return draft.block("Plate", size)


FAN: Final = Family(
    slug="fan",
    title="Fan",
    parameters=FanParameters,
    draft=draft_fan,
    sources=("common practice, no source",),
    designs={"fan": {}, "fan of eight": {"blades": 8}, "ring arc": {"blades": 6, "hub": 0.6}},
    roles=("hub", "blade #", "ground"),
    smallest=0.03,
    sharpest=89.0,
    about="Blades about a quarter circle in a corner.",
)

PLATE: Final = Family(
    slug="plate",
    title="Plate of blades",
    parameters=PlateParameters,
    draft=draft_plate,
    sources=(
        "common practice, no source: also called a Dresden plate; here in four quarters, so that all can be sewn",
    ),
    designs={
        "plate of sixteen": {},
        "plate of twenty": {"blades": 5},
        "plate of straight blades": {"edge": "straight", "blades": 3, "reach": 0.8},
        "wide-hubbed plate": {"hub": 0.5, "blades": 6},
    },
    roles=("hub", "blade #", "ground"),
    smallest=0.035,
    sharpest=60.0,
    about="Blades about a hub, in four quarters.",
)
