"""Stars on a grid of squares: sawtooth, Ohio, friendship, and sawtooth stars nested in one another."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle, turned

if TYPE_CHECKING:
    from seamproof.block import Block

_MIDDLE: Final = (0.5, 0.5)
_COMMON: Final = ("common practice, no source",)


class SawtoothParameters(Parameters):
    """What may be chosen of a sawtooth star."""

    centre: float = Field(
        default=0.5,
        ge=0.4,
        le=0.6,
        description="Side of the centre square as a share of the block: a half makes equal right triangles; "
        "far from it the points grow thin.",
    )


class OhioParameters(Parameters):
    """What may be chosen of an Ohio star."""

    centre: float = Field(
        default=1 / 3,
        ge=0.25,
        le=0.45,
        description="Side of the centre square as a share of the block: a third makes nine equal squares; "
        "far from it the points grow thin.",
    )


class FriendshipParameters(Parameters):
    """What may be chosen of a friendship star."""

    turn: Literal["anticlockwise", "clockwise"] = Field(
        default="anticlockwise", description="Which way the points go round, as seen from the face."
    )


class NestedParameters(Parameters):
    """What may be chosen of nested stars."""

    stars: int = Field(
        default=2, ge=1, le=4, description="Stars in one another; each is half as large, so a fifth cannot be sewn."
    )


def _sawtooth_round(draft: Draft, box: tuple[float, float], height: float, mark: str) -> None:
    """The four sides and corners of a sawtooth star in the square of this lower left corner's offset and side."""
    corner, side = box
    far = corner + side
    low, middle, high = corner + height, corner + side / 2, far - height
    top = [
        ("point", [(low, high), (middle, high), (low, far)]),
        ("point", [(middle, high), (high, high), (high, far)]),
        ("background", [(low, far), (middle, high), (high, far)]),
    ]
    for quarters in range(4):
        for role, shape in top:
            draft.add(role + mark, turned(shape, quarters, _MIDDLE))
    for quarters in range(4):
        draft.add(f"corner{mark}", turned(rectangle(corner, corner, height), quarters, _MIDDLE))


def draft_sawtooth(parameters: SawtoothParameters, size: float) -> Block:
    """Draft the centre, then the points side by side, then the corners."""
    height = (1 - parameters.centre) / 2
    draft = Draft.square()
    draft.add("centre", rectangle(height, height, parameters.centre))
    _sawtooth_round(draft, (0.0, 1.0), height, "")
    return draft.block("Sawtooth star", size)


def draft_nested(parameters: NestedParameters, size: float) -> Block:
    """Draft the innermost star first; the centre of each larger star is the star inside it."""
    draft = Draft.square()
    least = 2.0**-parameters.stars
    draft.add("centre", rectangle((1 - least) / 2, (1 - least) / 2, least))
    for star in range(1, parameters.stars + 1):
        side = least * 2**star
        _sawtooth_round(draft, ((1 - side) / 2, side), side / 4, f" {star}")
    return draft.block("Nested stars", size)


def draft_ohio(parameters: OhioParameters, size: float) -> Block:
    """Draft the centre, four quartered squares, four corners."""
    low = (1 - parameters.centre) / 2
    high = 1 - low
    draft = Draft.square()
    draft.add("centre", rectangle(low, low, parameters.centre))
    ring = rectangle(low, high, parameters.centre, low)
    middle = (0.5, high + low / 2)
    roles = ("inner triangle", "point", "background", "point")
    for quarters in range(4):
        for role, p, q in zip(roles, ring, ring[1:] + ring[:1], strict=True):
            draft.add(role, turned([middle, p, q], quarters, _MIDDLE))
    for quarters in range(4):
        draft.add("corner", turned(rectangle(0, 0, low), quarters, _MIDDLE))
    return draft.block("Ohio star", size)


def draft_friendship(parameters: FriendshipParameters, size: float) -> Block:
    """Draft the centre, four half-square triangles that chase one another, four corners."""
    third = 1 / 3
    draft = Draft.square()
    draft.add("centre", rectangle(third, third, third))
    a, b, c, d = rectangle(third, 2 * third, third)
    point, background = ([a, b, d], [b, c, d]) if parameters.turn == "anticlockwise" else ([a, b, c], [a, c, d])
    for quarters in range(4):
        draft.add("point", turned(point, quarters, _MIDDLE))
        draft.add("background", turned(background, quarters, _MIDDLE))
    for quarters in range(4):
        draft.add("corner", turned(rectangle(0, 0, third), quarters, _MIDDLE))
    return draft.block("Friendship star", size)


SAWTOOTH: Final = Family(
    slug="sawtooth-star",
    title="Sawtooth star",
    parameters=SawtoothParameters,
    draft=draft_sawtooth,
    sources=_COMMON,
    designs={
        "sawtooth star": {},
        "broad sawtooth star": {"centre": 0.6},
        "slender sawtooth star": {"centre": 0.4},
    },
    roles=("centre", "point", "background", "corner"),
    smallest=0.16,
    sharpest=33.0,
    about="A square with two points on every side.",
)

OHIO: Final = Family(
    slug="ohio-star",
    title="Ohio star",
    parameters=OhioParameters,
    draft=draft_ohio,
    sources=_COMMON,
    designs={"Ohio star": {}, "large-hearted Ohio star": {"centre": 0.45}, "spreading Ohio star": {"centre": 0.25}},
    roles=("centre", "inner triangle", "point", "background", "corner"),
    smallest=0.12,
    sharpest=31.0,
    about="Nine squares, four of them quartered into points.",
)

FRIENDSHIP: Final = Family(
    slug="friendship-star",
    title="Friendship star",
    parameters=FriendshipParameters,
    draft=draft_friendship,
    sources=_COMMON,
    designs={"friendship star": {}, "friendship star, clockwise": {"turn": "clockwise"}},
    roles=("centre", "point", "background", "corner"),
    smallest=0.23,
    sharpest=44.9,
    about="Four points that chase one another round a square.",
)

NESTED: Final = Family(
    slug="nested-stars",
    title="Nested stars",
    parameters=NestedParameters,
    draft=draft_nested,
    sources=_COMMON,
    designs={"star within a star": {}, "three nested stars": {"stars": 3}},
    roles=("centre", "point #", "background #", "corner #"),
    smallest=0.022,
    sharpest=44.9,
    about="Sawtooth stars, each the centre of the next.",
)
