"""Pictures and words of a join agree on which unit is flipped onto which, and a partial seam names its own edges."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamproof import load_recipe, work_out
from seamproof.sheets.join_svg import join_sketch
from seamproof.sheets.unit_shapes import under_and_over
from seamproof.sheets.words_joins import finish_words, join_words, unit_words

GALLERY = Path(__file__).parents[2] / "gallery"


@pytest.mark.parametrize("recipe", ["grids/five-boathouses", "curves/harbour-lane"])
def test_the_words_flip_the_unit_that_the_picture_flips(recipe: str) -> None:
    pattern = work_out(load_recipe(GALLERY / f"{recipe}.recipe.toml"))
    for join in pattern.construction.joins:
        under, over = (unit_words(pattern, label) for label in under_and_over(pattern, join))
        assert f"{over} is flipped onto {under}" in join_sketch(pattern, join.label, "beside").alt
        assert str(join_words(pattern, join)[0]).startswith(f"Lay {over} on {under}")


def test_a_partial_seam_is_closed_between_the_patches_left_open_and_pressed_one_way() -> None:
    pattern = work_out(load_recipe(GALLERY / "grids/five-boathouses.recipe.toml"))
    (partial,) = (join for join in pattern.construction.joins if len(join.passes) > 1)
    told = finish_words(pattern, partial, pattern.construction.whole)
    assert "between 2 and 5 is" in str(told[0])
    assert "toward" in str(told[1])
