"""Pictures and words of a join agree on which unit lies on top; a partial seam names its own edges; words do alone."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from seamproof import load_recipe, work_out
from seamproof.sheets.join_svg import join_sketch
from seamproof.sheets.unit_shapes import under_and_over
from seamproof.sheets.words_joins import finish_words, join_words, unit_words
from seamproof.sheets.words_piecing import batch_words

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


def test_words_alone_say_which_patch_meets_which_and_point_at_no_picture() -> None:
    pattern = work_out(load_recipe(GALLERY / "curves/harbour-lane.recipe.toml"))
    assert pattern.piecing is not None
    last = pattern.piecing.batches[-1]
    join = pattern.construction.join(last.model)
    under, over = (set(pattern.construction.patches_of(label)) for label in under_and_over(pattern, join))
    told = [str(words) for batch in pattern.piecing.batches for words in batch_words(pattern, batch, set())]
    assert not [words for words in told if "picture" in words or "arrow" in words]
    pairs = re.findall(r"(\d+) on (\d+)", str(batch_words(pattern, last, set())[0]))
    assert len(pairs) >= 4
    assert {a for a, _ in pairs} <= over
    assert {b for _, b in pairs} <= under
