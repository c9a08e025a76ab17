"""Blocks named for what they show: churn dash, bear's paw, basket, card trick, ladder."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, half_square, quarter_square, rectangle, turned

if TYPE_CHECKING:
    from seamproof.block import Block

_COMMON: Final = ("common practice, no source",)
_THREE: Final = (1.5, 1.5)


class ChurnDashParameters(Parameters):
    """What may be chosen of a churn dash."""

    centre: float = Field(
        default=1 / 3,
        ge=0.2,
        le=0.5,
        description="Side of the centre square as a share of the block; above a half the bars grow too narrow.",
    )


class BearsPawParameters(Parameters):
    """What may be chosen of a bear's paw."""

    claws: int = Field(default=2, ge=2, le=4, description="Claws on each side of a paw; more than 4 are too small.")


class BasketParameters(Parameters):
    """What may be chosen of a basket."""

    teeth: int = Field(default=3, ge=2, le=6, description="Triangles along each side of the rim; more are too small.")


class CardTrickParameters(Parameters):
    """What may be chosen of a card trick."""

    turn: Literal["anticlockwise", "clockwise"] = Field(
        default="clockwise", description="Which way each card slips under the next, as seen from the face."
    )


class LadderParameters(Parameters):
    """What may be chosen of a ladder."""

    rungs: int = Field(
        default=2, ge=2, le=4, description="Squares across each checked square; more than 4 are too small to sew."
    )


def draft_churn_dash(parameters: ChurnDashParameters, size: float) -> Block:
    """Draft the centre, then side by side a bar and its ground, then the halved corners."""
    low = (1 - parameters.centre) / 2
    draft = Draft.square()
    draft.add("centre", rectangle(low, low, parameters.centre))
    for quarters in range(4):
        for n, role in enumerate(("bar", "background")):
            strip = rectangle(low, 1 - low + n * low / 2, parameters.centre, low / 2)
            draft.add(role, turned(strip, quarters, (0.5, 0.5)))
    for quarters in range(4):
        inner, outer = half_square(0.0, 0.0, low, 2)
        draft.add("corner triangle", turned(inner, quarters, (0.5, 0.5)))
        draft.add("background", turned(outer, quarters, (0.5, 0.5)))
    return draft.block("Churn dash", size)


def draft_bears_paw(parameters: BearsPawParameters, size: float) -> Block:
    """Draft paw by paw, each pad before its claws, then the cross between them."""
    n = parameters.claws
    paw = float(n + 1)
    middle = (paw + 0.5, paw + 0.5)
    draft = Draft.square(2 * paw + 1)
    for quarters in range(4):
        draft.add("pad", turned(rectangle(1.0, 1.0, n), quarters, middle))
        for i in range(1, n + 1):
            for x, y, corner in ((float(i), 0.0, 3), (0.0, float(i), 1)):
                claw, ground = half_square(x, y, 1.0, corner)
                draft.add("claw", turned(claw, quarters, middle))
                draft.add("background", turned(ground, quarters, middle))
        draft.add("background", turned(rectangle(0.0, 0.0, 1.0), quarters, middle))
    for quarters in range(4):
        draft.add("cross", turned(rectangle(paw, 0.0, 1.0, paw), quarters, middle))
    draft.add("centre", rectangle(paw, paw, 1.0))
    return draft.block("Bear's paw", size)


def draft_basket(parameters: BasketParameters, size: float) -> Block:
    """Draft the basket and what it holds, its toothed rim, then the ground with the feet."""
    n = parameters.teeth
    side = float(n + 2)
    draft = Draft.square(side)
    basket, held = half_square(1.0, 1.0, n, 1)
    draft.add("basket", basket)
    draft.add("flowers", held)
    for i in range(n):
        for x, y in ((1.0 + i, side - 1), (0.0, side - 2 - i)):
            tooth, ground = half_square(x, y, 1.0, 1)
            draft.add("tooth", tooth)
            draft.add("background", ground)
    draft.add("background", rectangle(0.0, side - 1, 1.0))
    for x, y, corner in ((side - 1, 1.0, 0), (side - 2, 0.0, 2)):
        foot, ground = half_square(x, y, 1.0, corner)
        draft.add("foot", foot)
        draft.add("background", ground)
    draft.add("background", rectangle(side - 1, 2.0, 1.0, n))
    draft.add("background", rectangle(0.0, 0.0, n, 1.0))
    draft.add("background", rectangle(side - 1, 0.0, 1.0))
    return draft.block("Basket", size)


def draft_card_trick(parameters: CardTrickParameters, size: float) -> Block:
    """Draft nine squares: the quartered centre, then on every side and corner what is seen of the cards."""
    draft = Draft.square(3.0)
    is_mirrored = parameters.turn == "anticlockwise"

    def add(role: str, shape: list[tuple[float, float]]) -> None:
        draft.add(role, [(3.0 - x, y) for x, y in shape] if is_mirrored else shape)

    for n, triangle in enumerate(quarter_square(1.0, 1.0, 1.0)):
        add(f"card {n + 1}", triangle)
    for n in range(4):
        shown = f"card {n + 1}"
        under = f"card {(n + 1) % 4 + 1}"
        a, b, c, d = rectangle(1.0, 0.0, 1.0)
        middle = (1.5, 0.5)
        for role, shape in ((shown, [a, c, d]), (under, [b, c, middle]), ("background", [a, b, middle])):
            add(role, turned(shape, n, _THREE))
    for n in range(4):
        card, ground = half_square(0.0, 0.0, 1.0, 2)
        add(f"card {n + 1}", turned(card, n, _THREE))
        add("background", turned(ground, n, _THREE))
    return draft.block("Card trick", size)


def draft_ladder(parameters: LadderParameters, size: float) -> Block:
    """Draft nine squares from the lower left: five checked, four halved, the checks running up a diagonal."""
    n = parameters.rungs
    draft = Draft.square(3.0 * n)
    for j in range(3):
        for i in range(3):
            x, y = float(i * n), float(j * n)
            if (i + j) % 2 == 0:
                for v in range(n):
                    for u in range(n):
                        draft.add("rung" if (u + v) % 2 == 0 else "light", rectangle(x + u, y + v, 1.0))
            else:
                dark, light = half_square(x, y, n, 3 if (i, j) in {(0, 1), (1, 2)} else 1)
                draft.add("dark", dark)
                draft.add("light", light)
    return draft.block("Ladder", size)


CHURN_DASH: Final = Family(
    slug="churn-dash",
    title="Churn dash",
    parameters=ChurnDashParameters,
    draft=draft_churn_dash,
    sources=_COMMON,
    designs={"churn dash": {}, "wide churn dash": {"centre": 0.5}, "close churn dash": {"centre": 0.2}},
    roles=("centre", "bar", "corner triangle", "background"),
    smallest=0.12,
    sharpest=44.9,
    about="A square within bars and halved corners.",
)

BEARS_PAW: Final = Family(
    slug="bears-paw",
    title="Bear's paw",
    parameters=BearsPawParameters,
    draft=draft_bears_paw,
    sources=_COMMON,
    designs={"bear's paw": {}, "bear's paw of three claws": {"claws": 3}},
    roles=("pad", "claw", "background", "cross", "centre"),
    smallest=0.06,
    sharpest=44.9,
    about="Four clawed squares about a cross.",
)

BASKET: Final = Family(
    slug="basket",
    title="Basket",
    parameters=BasketParameters,
    draft=draft_basket,
    sources=("common practice, no source: also called a cake stand",),
    designs={"basket": {}, "small basket": {"teeth": 2}, "market basket": {"teeth": 5}},
    roles=("basket", "flowers", "tooth", "foot", "background"),
    smallest=0.085,
    sharpest=44.9,
    about="A basket with a toothed rim, standing on a corner.",
)

CARD_TRICK: Final = Family(
    slug="card-trick",
    title="Card trick",
    parameters=CardTrickParameters,
    draft=draft_card_trick,
    sources=_COMMON,
    designs={"card trick": {}, "card trick, anticlockwise": {"turn": "anticlockwise"}},
    roles=("card #", "background"),
    smallest=0.16,
    sharpest=44.9,
    about="Four cards, each slipped under the next.",
)

LADDER: Final = Family(
    slug="ladder",
    title="Ladder",
    parameters=LadderParameters,
    draft=draft_ladder,
    sources=("common practice, no source: of four-patches, a Jacob's ladder",),
    designs={"Jacob's ladder": {}, "fine ladder": {"rungs": 4}},
    roles=("rung", "light", "dark"),
    smallest=0.083,
    sharpest=44.9,
    about="Checked squares that climb between halved ones.",
)
