"""Blocks on a grid: checks, rails, half-square triangles, pinwheels, geese, paws, baskets and more."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_grids.geese import FLYING_GEESE, GEESE_PUZZLE, GEESE_RING
from seamproof_grids.pictures import BASKET, BEARS_PAW, CARD_TRICK, CHURN_DASH, LADDER
from seamproof_grids.spirals import PINWHEEL_OF_FIVE, SNAILS_TRAIL
from seamproof_grids.squares import CHECKS, RAIL_FENCE
from seamproof_grids.triangles import HALF_SQUARES, HOURGLASS, PINWHEEL

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [
        CHECKS, RAIL_FENCE, HALF_SQUARES, HOURGLASS, PINWHEEL, FLYING_GEESE, GEESE_RING, GEESE_PUZZLE, CHURN_DASH,
        BEARS_PAW, BASKET, CARD_TRICK, LADDER, SNAILS_TRAIL, PINWHEEL_OF_FIVE,
    ]  # fmt: skip
