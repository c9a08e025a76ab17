"""What looks at every patch for every seam is for so many patches; more are answered in words, at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

import seamproof as sp
from seamproof.given import MOST_PATCHES
from seamproof.planning.forecast import forecast
from seamproof.planning.layers import LayerMap
from seamproof.planning.pressing import order_for_pressing, plan_pressing

if TYPE_CHECKING:
    from collections.abc import Callable

    from seamproof.geometry import Point


def strips(count: int) -> sp.Block:
    rings: list[list[Point]] = [[(k, 0), (k + 1, 0), (k + 1, 3), (k, 3)] for k in range(count)]
    return sp.Block.from_polygons(rings)


PARTS: dict[str, Callable[[Any, Any], Any]] = {
    "a pressing plan": plan_pressing,
    "a forecast": forecast,
    "a layer map": lambda block, con: LayerMap(block, con, plan_pressing(strips(2), sp.plan(strips(2))), 0.25),
}


@pytest.mark.parametrize("part", PARTS)
def test_what_is_not_for_so_many_patches_says_how_many_it_is_for(part: str) -> None:
    block = strips(MOST_PATCHES + 1)
    with pytest.raises(
        sp.BlockError, match=f"has {MOST_PATCHES + 1} patches, and {part} is worked out for {MOST_PATCHES}"
    ):
        PARTS[part](block, sp.plan(block))


def test_orders_are_not_chosen_for_pressing_among_too_many() -> None:
    block = strips(MOST_PATCHES + 1)
    with pytest.raises(sp.BlockError, match="draw it as several blocks"):
        order_for_pressing(block, sp.plan(block))


def test_as_many_patches_as_are_allowed_are_pressed() -> None:
    block = strips(MOST_PATCHES)
    assert len(plan_pressing(block, sp.plan(block)).seams) == MOST_PATCHES - 1
