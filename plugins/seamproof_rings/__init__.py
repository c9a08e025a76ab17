"""Rings: blocks that grow round a centre, one round of patches after another."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_rings.pineapple import PINEAPPLE
from seamproof_rings.polygon_rings import POLYGON_RINGS
from seamproof_rings.spiral import SPIRAL
from seamproof_rings.square_in_square import SQUARE_IN_SQUARE

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [PINEAPPLE, SQUARE_IN_SQUARE, POLYGON_RINGS, SPIRAL]
