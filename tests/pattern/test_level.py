"""Laws of the level: a written rule over figures."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.pattern.level import LEVELS, Figure, Level

GALLERY = Path(__file__).parents[2] / "gallery"


@given(st.lists(st.floats(0, 20), min_size=1, max_size=6))
def test_a_block_is_as_hard_as_its_hardest_figure(values: list[float]) -> None:
    level = Level(tuple(Figure("x", value, "", (5, 10)) for value in values))
    assert LEVELS.index(level.name) == (max(values) > 5) + (max(values) > 10)
    assert all(figure.level == level.name for figure in level.hardest)


def test_a_pineapple_says_what_makes_it_hard() -> None:
    pattern = sp.work_out(sp.load_recipe(GALLERY / "rings" / "storm-lantern.recipe.toml"))
    figures = {figure.name: figure.value for figure in pattern.level.figures}
    assert figures["longest sewing order"] == 25
    assert figures["sharpest corner"] == pytest.approx(45)
    assert figures["pivots"] == 0
    assert "longest sewing order" in {figure.name for figure in pattern.level.hardest}
