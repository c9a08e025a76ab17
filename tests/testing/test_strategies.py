from __future__ import annotations

from typing import Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import Field

import seamproof as sp
from seamproof.testing import (
    assert_same_geometry,
    blocks,
    extremes,
    fabrics,
    moves,
    parameters,
    sizes,
    slicing_tilings,
)


class Everything(sp.Parameters):
    """One field of each kind."""

    rounds: int = Field(default=3, ge=2, le=5, description="A whole number.")
    share: float = Field(default=0.5, ge=0.25, le=0.75, description="A number.")
    lean: Literal["left", "right"] = Field(default="left", description="A word.")
    halved: bool = Field(default=False, description="Yes or no.")
    plan: str = Field(default="ab", pattern=r"^[ab]{2}( [ab]{2}){0,2}$", max_length=5, description="Letters.")


@given(parameters(Everything))
def test_drawn_parameters_are_those_the_model_allows(drawn: Everything) -> None:
    assert Everything(**drawn.model_dump()) == drawn


@given(st.data())
def test_a_field_without_a_range_is_named(data: st.DataObject) -> None:
    class Open(sp.Parameters):
        width: float = 1.0

    with pytest.raises(TypeError, match=r"'width'.*give it a range"):
        data.draw(parameters(Open))


def test_extremes_hold_every_end_alone_and_all_together() -> None:
    drawn = list(extremes(Everything))
    assert drawn[0] == Everything(rounds=2, share=0.25, lean="left", halved=False)
    assert drawn[1] == Everything(rounds=5, share=0.75, lean="right", halved=True)
    for alone in ({"rounds": 2}, {"rounds": 5}, {"share": 0.25}, {"share": 0.75}, {"lean": "right"}, {"halved": True}):
        assert Everything(**alone) in drawn


@given(sizes(2, 20))
def test_drawn_sizes_are_in_range(size: float) -> None:
    assert 2 <= size <= 20


@given(fabrics(most=5))
def test_drawn_fabrics_are_as_a_recipe_has_them(drawn: dict[str, Any]) -> None:
    assert 1 <= len(drawn) <= 5
    assert all(fabric.colour.startswith("#") for fabric in drawn.values())


# derived: each patch was parted from its neighbour by a straight cut, so the cuts taken in that order are seams
@given(slicing_tilings(8))
def test_a_slicing_tiling_tiles_and_is_sewn_with_straight_seams(block: sp.Block) -> None:
    block.check()
    assert sp.plan(block).technique == "straight"


@given(blocks())
def test_drawn_blocks_tile(block: sp.Block) -> None:
    block.check()


@given(slicing_tilings(), moves())
def test_a_block_moved_and_moved_back_has_the_same_geometry(block: sp.Block, move: sp.Transform) -> None:
    scale = move.a * move.d - move.b * move.c
    back = sp.Transform(move.d / scale, -move.b / scale, -move.c / scale, move.a / scale)
    assert_same_geometry(block.transformed(move).transformed(back), block)


def test_another_corner_role_or_bow_is_another_geometry() -> None:
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    one = sp.Block.from_polygons([square])
    for other in (
        sp.Block.from_polygons([[(0.0, 0.0), (1.001, 0.0), (1.0, 1.0), (0.0, 1.0)]]),
        sp.Block.from_polygons([square], roles=["centre"]),
        sp.Block.from_polygons([square[:3]]),
        sp.Block("bowed", (sp.Patch("1", sp.Outline((sp.Edge((0, 0), (1, 0), 0.01), sp.Edge((1, 0), (1, 1)),
                                                     sp.Edge((1, 1), (0, 1)), sp.Edge((0, 1), (0, 0))))),)),
    ):  # fmt: skip
        with pytest.raises(AssertionError):
            assert_same_geometry(one, other)
    assert_same_geometry(one, sp.Block.from_polygons([square[2:] + square[:2]]))
