"""Grids of squares cut into triangles: from a letter plan, hourglasses, pinwheels."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, half_square, letter_plan, quarter_square, rectangle, turned

if TYPE_CHECKING:
    from seamproof.block import Block

_COMMON: Final = ("common practice, no source",)
_DARK_CORNER: Final = {"d": 0, "c": 1, "b": 2, "a": 3}


class HalfSquareParameters(Parameters):
    """What may be chosen of half-square triangles."""

    plan: str = Field(
        default="bc ad",
        min_length=1,
        max_length=71,
        pattern=r"^[abcdkl]{1,8}( [abcdkl]{1,8}){0,7}$",
        description="The squares row by row from the top, a space between rows, each row as long as the first: a, b, "
        "c or d is a square halved, dark in its upper left, upper right, lower right or lower left corner; k is a "
        "dark square, l a light one. More than 8 in a row are too small to sew in a block.",
    )


class HourglassParameters(Parameters):
    """What may be chosen of hourglasses."""

    across: int = Field(
        default=2, ge=1, le=4, description="Hourglasses across and down; more than 4 are too small to sew in a block."
    )


class PinwheelParameters(Parameters):
    """What may be chosen of a pinwheel."""

    blades: Literal["single", "double", "triple"] = Field(
        default="single", description="How each quarter is cut: in two, in three, or in four triangles."
    )
    turn: Literal["anticlockwise", "clockwise"] = Field(
        default="clockwise", description="Which way the wheel seems to turn, as seen from the face."
    )


def draft_half_squares(parameters: HalfSquareParameters, size: float) -> Block:
    """Draft row by row from the top left, as the plan is read.

    Raises:
        ValueError: the rows of the plan are not equally long.
    """
    rows = letter_plan(parameters.plan)
    draft = Draft(rectangle(0.0, 0.0, len(rows[0]), len(rows)))
    for j, row in enumerate(rows):
        for i, letter in enumerate(row):
            x, y = float(i), float(len(rows) - 1 - j)
            if letter in _DARK_CORNER:
                dark, light = half_square(x, y, 1.0, _DARK_CORNER[letter])
                draft.add("dark", dark)
                draft.add("light", light)
            else:
                draft.add("dark" if letter == "k" else "light", rectangle(x, y, 1.0))
    return draft.block("Half-square triangles", size)


def draft_hourglass(parameters: HourglassParameters, size: float) -> Block:
    """Draft square by square from the lower left, each cut along both diagonals, standing and lying by turns."""
    draft = Draft.square(float(parameters.across))
    for j in range(parameters.across):
        for i in range(parameters.across):
            for n, triangle in enumerate(quarter_square(float(i), float(j), 1.0)):
                draft.add("dark" if (n + i + j) % 2 == 0 else "light", triangle)
    return draft.block("Hourglass", size)


def draft_pinwheel(parameters: PinwheelParameters, size: float) -> Block:
    """Draft quarter by quarter round the centre of a square of side 2, each cut from its corner to the centre."""
    corner, low, centre, left, middle = (0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.5, 0.5)
    halves = {
        "single": [("blade", [corner, low, centre]), ("background", [corner, centre, left])],
        "double": [
            ("blade", [low, centre, middle]),
            ("half blade", [corner, low, middle]),
            ("background", [corner, centre, left]),
        ],
        "triple": [
            ("blade", [low, centre, middle]),
            ("half blade", [corner, low, middle]),
            ("background", [centre, left, middle]),
            ("half background", [left, corner, middle]),
        ],
    }
    draft = Draft.square(2.0)
    for quarters in range(4):
        for role, shape in halves[parameters.blades]:
            points = turned(shape, quarters, centre)
            draft.add(role, points if parameters.turn == "clockwise" else [(2 - x, y) for x, y in points])
    return draft.block("Pinwheel", size)


HALF_SQUARES: Final = Family(
    slug="half-square-triangles",
    title="Half-square triangles",
    parameters=HalfSquareParameters,
    draft=draft_half_squares,
    sources=_COMMON,
    designs={
        "broken dishes": {"plan": "ba cd"},
        "shoo-fly": {"plan": "cld lkl bla"},
        "diamond of four": {"plan": "cd ba"},
        "concentric diamonds": {"plan": "ccdd ccdd bbaa bbaa"},
        "mountain ranges": {"plan": "cdcd cdcd cdcd cdcd"},
        "windmills": {"plan": "bcbc adad bcbc adad"},
        "sawtooth square": {"plan": "bbbc akkc akkc addd"},
        "four diamonds": {"plan": "cdcd baba cdcd baba"},
    },
    roles=("dark", "light"),
    smallest=0.085,
    sharpest=44.9,
    about="Squares halved corner to corner, laid as a plan of letters says.",
)

HOURGLASS: Final = Family(
    slug="hourglass",
    title="Hourglass",
    parameters=HourglassParameters,
    draft=draft_hourglass,
    sources=_COMMON,
    designs={"hourglass": {"across": 1}, "four hourglasses": {}, "nine hourglasses": {"across": 3}},
    roles=("dark", "light"),
    smallest=0.124,
    sharpest=44.9,
    about="Squares cut along both diagonals.",
)

PINWHEEL: Final = Family(
    slug="pinwheel",
    title="Pinwheel",
    parameters=PinwheelParameters,
    draft=draft_pinwheel,
    sources=_COMMON,
    designs={
        "pinwheel": {},
        "double pinwheel": {"blades": "double"},
        "whirling pinwheel": {"blades": "triple"},
        "pinwheel, anticlockwise": {"turn": "anticlockwise"},
    },
    roles=("blade", "half blade", "background", "half background"),
    smallest=0.24,
    sharpest=44.9,
    about="Blades that turn round the centre.",
)
