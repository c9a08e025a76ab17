"""String blocks: parallel strips across a square, and four of them set as a diamond."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, peel, rectangle, turned
from seamproof_strings.chance import Chance

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_COMMON: Final = ("common practice, no source",)


class _Strips(Parameters):
    uneven: float = Field(
        default=0.4,
        ge=0,
        le=0.6,
        description="How much widths differ: 0 makes them equal; above 0.6 some would be too narrow.",
    )
    seed: int = Field(default=1, ge=0, le=9999, description="Another number, other widths; any will do.")


class StringsParameters(_Strips):
    """What may be chosen of a string block."""

    strips: int = Field(default=7, ge=3, le=12, description="Strips across the block; more than 12 are too narrow.")
    tilt: float = Field(
        default=0.0,
        ge=0,
        le=3,
        description="How far strips may lean, in degrees; beyond 3 neighbouring seams would cross within the block.",
    )
    lie: Literal["diagonal", "upright", "level"] = Field(default="diagonal", description="How the strips lie.")
    fabrics: int = Field(
        default=4, ge=2, le=8, description="After how many strips their roles begin again; scraps may be many."
    )


class StringDiamondParameters(_Strips):
    """What may be chosen of four string blocks set as a diamond."""

    strips: int = Field(
        default=7,
        ge=3,
        le=11,
        description="Strips in each quarter, the middle one a line of the diamond; an odd number.",
    )
    fabrics: int = Field(
        default=3, ge=2, le=5, description="After how many strips beside the middle one roles begin again."
    )


def _seams(reach: float, choice: StringsParameters) -> list[tuple[Point, Point]]:
    """Seams across the x axis from −reach to reach, from the far end back, the part nearer the near end kept left.

    Widths differ by the seed; each seam leans a little about its middle, less than would let two of them cross.
    """
    chance = Chance(choice.seed)
    widths = [1 + chance.between(-choice.uneven, choice.uneven) for _ in range(choice.strips)]
    total = sum(widths)
    seams = []
    for n in range(choice.strips - 1, 0, -1):
        x = -reach + 2 * reach * sum(widths[:n]) / total
        room = 2 * reach / total * min(widths[n - 1], widths[n])
        lean = min(math.tan(math.radians(choice.tilt)), room / 4) * chance.between(-1.0, 1.0)
        seams.append(((x - lean, -1.0), (x + lean, 1.0)))
    return seams


def draft_strings(parameters: StringsParameters, size: float) -> Block:
    """Draft strip after strip from one side, or one corner, to the other."""
    square = rectangle(-0.5, -0.5, 1.0)
    seams = _seams(0.5, parameters)
    if parameters.lie == "diagonal":
        seams = [(_turn(p), _turn(q)) for p, q in _seams(math.sqrt(0.5), parameters)]
    elif parameters.lie == "level":
        seams = [(turned([p], 1)[0], turned([q], 1)[0]) for p, q in seams]
    draft = Draft(square)
    for n, strip in enumerate(peel(square, seams)):
        draft.add(f"string {n % parameters.fabrics + 1}", strip)
    return draft.block("Strings", size)


def _turn(p: Point) -> Point:
    return ((p[0] - p[1]) * math.sqrt(0.5), (p[0] + p[1]) * math.sqrt(0.5))


def draft_string_diamond(parameters: StringDiamondParameters, size: float) -> Block:
    """Draft quarter by quarter: strips along the quarter's inner diagonal, so that the middle ones make a diamond.

    Raises:
        ValueError: an even number of strips has no middle one.
    """
    if parameters.strips % 2 == 0:
        odd = parameters.strips + 1
        raise ValueError(f"strips: {parameters.strips} have no middle one: make it {odd}, or {odd - 2}")
    quarter = rectangle(-0.5, -0.5, 1.0)
    seams = [(_turn(p), _turn(q)) for p, q in _balanced(parameters)]
    shapes = peel(quarter, seams)
    middle = parameters.strips // 2
    draft = Draft(rectangle(-0.5, -0.5, 2.0))
    for quarters in range(4):
        for n, strip in enumerate(shapes):
            far = abs(n - middle)
            role = "diamond" if far == 0 else f"string {(far - 1) % parameters.fabrics + 1}"
            draft.add(role, turned(strip, quarters, (0.5, 0.5)))
    return draft.block("String diamond", size)


def _balanced(choice: StringDiamondParameters) -> list[tuple[Point, Point]]:
    """Seams on either side of the diagonal, each as far off as its twin, so that strips meet where quarters join."""
    chance = Chance(choice.seed)
    widths = [1 + chance.between(-choice.uneven, choice.uneven) for _ in range(choice.strips // 2 + 1)]
    unit = math.sqrt(0.5) / (widths[0] / 2 + sum(widths[1:]))
    levels = [unit * (widths[0] / 2 + sum(widths[1 : n + 1])) for n in range(len(widths) - 1)]
    return [((x, -1.0), (x, 1.0)) for x in [*reversed(levels), *(-level for level in levels)]]


STRINGS: Final = Family(
    slug="strings",
    title="Strings",
    parameters=StringsParameters,
    draft=draft_strings,
    sources=_COMMON,
    designs={
        "strings": {},
        "even strings": {"uneven": 0.0, "lie": "upright", "strips": 6},
        "leaning strings": {"tilt": 3.0, "strips": 9, "seed": 5},
        "level strings": {"lie": "level", "seed": 12},
    },
    roles=("string #",),
    smallest=0.012,
    sharpest=41.9,
    about="Strips of many widths across a square.",
)

STRING_DIAMOND: Final = Family(
    slug="string-diamond",
    title="String diamond",
    parameters=StringDiamondParameters,
    draft=draft_string_diamond,
    sources=_COMMON,
    designs={
        "string diamond": {},
        "even string diamond": {"uneven": 0.0, "strips": 5},
        "fine string diamond": {"strips": 11},
    },
    roles=("diamond", "string #"),
    smallest=0.014,
    sharpest=44.9,
    about="Four string blocks, whose middle strips draw a diamond.",
)
