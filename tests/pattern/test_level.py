"""Laws of the level: a written rule over figures."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.pattern.level import LEVELS, Figure, Level, narrowest, sharpest

GALLERY = Path(__file__).parents[2] / "gallery"


@given(st.lists(st.floats(0, 20), min_size=1, max_size=6))
def test_a_block_is_as_hard_as_its_hardest_figure(values: list[float]) -> None:
    level = Level(tuple(Figure("x", value, "", (5, 10)) for value in values))
    assert LEVELS.index(level.name) == (max(values) > 5) + (max(values) > 10)
    assert all(figure.level == level.name for figure in level.hardest)


@given(st.floats(0.2, 5), st.floats(0.2, 5))
def test_a_rectangle_is_as_narrow_as_its_shorter_side(width: float, height: float) -> None:
    assert narrowest(sp.Outline.rectangle(width, height)) == pytest.approx(min(width, height))
    assert sharpest(sp.Outline.rectangle(width, height)) == pytest.approx(90)


@given(st.floats(10, 170))
def test_the_sharpest_corner_of_a_rhombus_is_its_own(angle: float) -> None:
    a = math.radians(angle)
    u, v = (1.0, 0.0), (math.cos(a), math.sin(a))
    rhombus = sp.Outline.of([(0, 0), u, (u[0] + v[0], u[1] + v[1]), v])
    assert sharpest(rhombus) == pytest.approx(min(angle, 180 - angle))
    assert narrowest(rhombus) == pytest.approx(math.sin(a))


def test_a_pineapple_says_what_makes_it_hard() -> None:
    pattern = sp.work_out(sp.load_recipe(GALLERY / "rings" / "storm-lantern.recipe.toml"))
    figures = {figure.name: figure.value for figure in pattern.level.figures}
    assert figures["longest sewing order"] == 25
    assert figures["sharpest corner"] == pytest.approx(45)
    assert figures["pivots"] == 0
    assert "longest sewing order" in {figure.name for figure in pattern.level.hardest}
