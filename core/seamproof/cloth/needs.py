"""The types of a cloth plan."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class PieceGroup:
    """Pieces of one fabric and one cut size, for all copies of the block.

    Attributes:
        patches: The patch ids they are for, in one block.
        shape: As in RoughPiece or CutPiece, or what a square or strip is for, as in WayCut.
        width: Width to cut [in], rounded up.
        height: Height to cut [in], rounded up.
        cut: How many rectangles or squares of that size are cut, for all copies.
        pieces: How many pieces these give (a halved square gives two, a quartered one four).
        needed: How many pieces are needed.
    """

    patches: tuple[str, ...]
    shape: str
    width: float
    height: float
    cut: int
    pieces: int
    needed: int


@dataclass(frozen=True)
class Strip:
    """Strips across the cloth and what is cut from each.

    Attributes:
        count: How many strips.
        width: How wide each is cut [in].
        length: The usable width of the cloth [in].
        group: The index of the PieceGroup that is cut from it.
        each: How many rectangles one strip gives.
    """

    count: int
    width: float
    length: float
    group: int
    each: int


@dataclass(frozen=True)
class FabricNeed:
    """What one fabric has to give.

    Attributes:
        fabric: Its key in the recipe.
        groups: The pieces, the largest first.
        strips: The strips, the widest first.
        length: The length of cloth that the strips take [in], exact.
        buy: The length to buy [in]: rounded up to 1/8 yd, or to 10 cm.
    """

    fabric: str
    groups: tuple[PieceGroup, ...]
    strips: tuple[Strip, ...]
    length: float
    buy: float


@dataclass(frozen=True)
class ClothPlan:
    """The cloth of a recipe: one need for each fabric, in the order of the legend.

    Attributes:
        usable: The width planned on [in].
        copies: For how many blocks.
        needs: One for each fabric that is used.
    """

    usable: float
    copies: int
    needs: tuple[FabricNeed, ...]
