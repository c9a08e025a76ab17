"""Squares parted by arcs: drunkard's path from a letter plan, and overlapped circles as petals."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, letter_plan, rectangle
from seamproof_curves.arcs import ring, turned

if TYPE_CHECKING:
    from seamproof.block import Block

_QUARTERS: Final = {"d": 0, "c": 1, "b": 2, "a": 3}


class DrunkardsPathParameters(Parameters):
    """What may be chosen of a drunkard's path."""

    plan: str = Field(
        default="cd ba",
        min_length=1,
        max_length=71,
        pattern=r"^[abcdABCD]{1,8}( [abcdABCD]{1,8}){0,7}$",
        description="The squares row by row from the top, a space between rows, each row as long as the first: a, b, "
        "c or d has a dark quarter circle in its upper left, upper right, lower right or lower left corner; a capital "
        "letter a light one in a dark square. More than 8 in a row are too small to sew in a block.",
    )
    radius: float = Field(
        default=2 / 3,
        ge=0.4,
        le=0.85,
        description="Radius of the quarter circles over the side of a square; beyond 0.85 the outer piece is a thread.",
    )


class OrangePeelParameters(Parameters):
    """What may be chosen of an orange peel."""

    across: int = Field(default=2, ge=1, le=4, description="Petals across and down; more than 4 are too small to sew.")
    plump: float = Field(
        default=75.0,
        ge=40,
        le=80,
        description="Angle each arc turns through, in degrees; 90 makes whole circles, whose points cannot be sewn.",
    )


def draft_drunkards_path(parameters: DrunkardsPathParameters, size: float) -> Block:
    """Draft row by row from the top left, as the plan is read: each quarter circle, then what is about it.

    Raises:
        ValueError: the rows of the plan are not equally long.
    """
    rows = letter_plan(parameters.plan)
    draft = Draft(rectangle(0.0, 0.0, len(rows[0]), len(rows)))
    for j, row in enumerate(rows):
        for i, letter in enumerate(row):
            x, y = float(i), float(len(rows) - 1 - j)
            reach = parameters.radius
            quarter = ring([(x, y), (x + reach, y), (x, y + reach)], [0, 90, 0])
            points = [(x + reach, y), (x + 1, y), (x + 1, y + 1), (x, y + 1), (x, y + reach)]
            rest = ring(points, [0, 0, 0, 0, -90])
            shades = ("dark", "light") if letter.islower() else ("light", "dark")
            for shade, shape in zip(shades, (quarter, rest), strict=True):
                draft.add(shade, turned(shape, _QUARTERS[letter.lower()], (x + 0.5, y + 0.5)))
    return draft.block("Drunkard's path", size)


def draft_orange_peel(parameters: OrangePeelParameters, size: float) -> Block:
    """Draft square by square from the lower left: a petal from corner to corner, then what is on either side."""
    draft = Draft.square(float(parameters.across))
    bow = parameters.plump
    for j in range(parameters.across):
        for i in range(parameters.across):
            a, b, c, d = rectangle(float(i), float(j), 1.0)
            shapes = [("petal", ring([a, c], [bow, bow])), ("ground", ring([a, b, c], [0, 0, -bow])),
                      ("ground", ring([c, d, a], [0, 0, -bow]))]  # fmt: skip
            for role, shape in shapes:
                draft.add(role, turned(shape, (i + j) % 2, (i + 0.5, j + 0.5)))
    return draft.block("Orange peel", size)


DRUNKARDS_PATH: Final = Family(
    slug="drunkards-path",
    title="Drunkard's path",
    parameters=DrunkardsPathParameters,
    draft=draft_drunkards_path,
    sources=("common practice, no source",),
    designs={
        "moon": {},
        "drunkard's path": {"plan": "bCcc bBCD BADd aaAd"},
        "winding ways": {"plan": "bDDc CbcA CadA aBBd"},
        "four mushrooms": {"plan": "cdBd ABCa cADC bDba"},
        "four moons": {"plan": "cdCD baBA CDcd BAba"},
        "one quarter": {"plan": "d"},
        "snake": {"plan": "cbcb adad"},
        "robbing Peter": {"plan": "cDcD BaBa cDcD BaBa"},
    },
    roles=("dark", "light"),
    smallest=0.02,
    sharpest=89.0,
    about="Quarter circles in squares, laid as a plan of letters says.",
)

ORANGE_PEEL: Final = Family(
    slug="orange-peel",
    title="Orange peel",
    parameters=OrangePeelParameters,
    draft=draft_orange_peel,
    sources=("common practice, no source: overlapped circles, drawn a little slimmer so that the points can be sewn",),
    designs={
        "orange peel": {},
        "one petal": {"across": 1},
        "overlapped circles": {"across": 4, "plump": 80.0},
        "slim petals": {"plump": 50.0},
    },
    roles=("petal", "ground"),
    smallest=0.055,
    sharpest=4.9,
    about="Petals from corner to corner, whose arcs seem to be overlapped circles.",
)
