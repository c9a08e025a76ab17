"""Flying geese in rows, in a ring, and in pairs round a centre."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, goose, rectangle, turned

if TYPE_CHECKING:
    from seamproof.block import Block

_COMMON: Final = ("common practice, no source",)


class FlyingGeeseParameters(Parameters):
    """What may be chosen of flying geese in rows."""

    columns: int = Field(default=2, ge=1, le=6, description="Rows of geese side by side; more than 6 are too small.")
    geese: int = Field(default=4, ge=1, le=12, description="Geese in each row; twice the columns make a square block.")
    flight: Literal["together", "to and fro"] = Field(
        default="together", description="Whether all rows fly up, or every other one down."
    )


class GeeseRingParameters(Parameters):
    """What may be chosen of a ring of geese."""

    geese: int = Field(
        default=4, ge=2, le=8, description="Geese on each side of the centre; more than 8 are too small to sew."
    )
    turn: Literal["anticlockwise", "clockwise"] = Field(
        default="clockwise", description="Which way the geese fly round, as seen from the face."
    )


class GeesePuzzleParameters(Parameters):
    """What may be chosen of a geese puzzle."""

    columns: int = Field(
        default=1,
        ge=1,
        le=3,
        description="Rows of geese side by side in each quarter, each with twice as many geese; 4 would be too small.",
    )


def draft_flying_geese(parameters: FlyingGeeseParameters, size: float) -> Block:
    """Draft row by row from the left, each from below: goose, then its wings."""
    draft = Draft(rectangle(0.0, 0.0, 2.0 * parameters.columns, float(parameters.geese)))
    for i in range(parameters.columns):
        is_down = parameters.flight == "to and fro" and i % 2 == 1
        for j in range(parameters.geese):
            body, *wings = goose(2.0 * i, float(j), 2.0, 2 if is_down else 0)
            draft.add("goose", body)
            for wing in wings:
                draft.add("wing", wing)
    return draft.block("Flying geese", size)


def draft_geese_ring(parameters: GeeseRingParameters, size: float) -> Block:
    """Draft the centre, then side by side geese of base 2, each side a strip between two corners."""
    length = float(parameters.geese)
    side = length + 4
    middle = (side / 2, side / 2)
    draft = Draft.square(side)
    draft.add("centre", rectangle(2.0, 2.0, length))
    heading = 1 if parameters.turn == "anticlockwise" else 3
    for quarters in range(4):
        for n in range(parameters.geese):
            body, *wings = goose(2.0 + n, 2.0 + length, 2.0, heading)
            draft.add("goose", turned(body, quarters, middle))
            for wing in wings:
                draft.add("wing", turned(wing, quarters, middle))
    for quarters in range(4):
        draft.add("corner", turned(rectangle(0.0, 0.0, 2.0), quarters, middle))
    return draft.block("Ring of geese", size)


def draft_geese_puzzle(parameters: GeesePuzzleParameters, size: float) -> Block:
    """Draft quarter by quarter, in each the geese one behind the other, each quarter turned from the last."""
    side = 2.0 * parameters.columns
    draft = Draft.square(2 * side)
    for quarters in range(4):
        for i in range(parameters.columns):
            for j in range(2 * parameters.columns):
                body, *wings = goose(2.0 * i, float(j), 2.0)
                draft.add("goose", turned(body, quarters, (side, side)))
                for wing in wings:
                    draft.add("wing", turned(wing, quarters, (side, side)))
    return draft.block("Geese puzzle", size)


FLYING_GEESE: Final = Family(
    slug="flying-geese",
    title="Flying geese",
    parameters=FlyingGeeseParameters,
    draft=draft_flying_geese,
    sources=_COMMON,
    designs={
        "flying geese": {},
        "geese to and fro": {"columns": 3, "geese": 6, "flight": "to and fro"},
        "skein of geese": {"columns": 1, "geese": 8},
    },
    roles=("goose", "wing"),
    smallest=0.058,
    sharpest=44.9,
    about="Triangles that fly in rows.",
)

GEESE_RING: Final = Family(
    slug="geese-ring",
    title="Ring of geese",
    parameters=GeeseRingParameters,
    draft=draft_geese_ring,
    sources=_COMMON,
    designs={
        "ring of geese": {},
        "ring of geese, anticlockwise": {"turn": "anticlockwise"},
        "wide ring of geese": {"geese": 7},
    },
    roles=("centre", "goose", "wing", "corner"),
    smallest=0.058,
    sharpest=44.9,
    about="Geese that fly round a centre square.",
)

GEESE_PUZZLE: Final = Family(
    slug="geese-puzzle",
    title="Geese puzzle",
    parameters=GeesePuzzleParameters,
    draft=draft_geese_puzzle,
    sources=("common practice, no source: of eight geese, a Dutchman's puzzle",),
    designs={"Dutchman's puzzle": {}, "flocks that turn": {"columns": 2}},
    roles=("goose", "wing"),
    smallest=0.058,
    sharpest=44.9,
    about="Geese in four quarters, each turned from the last.",
)
