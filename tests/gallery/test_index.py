"""The gallery's index shows every recipe of the gallery."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from seamproof.recipe import load_recipe
from seamproof.recipe.finding import SUFFIX, find_recipes

GALLERY = Path(__file__).parents[2] / "gallery"
RECIPES = [Path(path) for path in find_recipes([str(GALLERY)])]


def test_there_are_six_recipes_or_more_over_two_families_or_more() -> None:
    assert len(RECIPES) >= 6
    assert len({load_recipe(path).family for path in RECIPES}) >= 2


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.name.removesuffix(SUFFIX))
def test_the_index_shows_each_recipe_with_its_picture_and_title(path: Path) -> None:
    index = (GALLERY / "README.md").read_text("utf-8")
    where = path.relative_to(GALLERY).as_posix()
    title = load_recipe(path).title
    assert f"[{title}]({where})" in index
    assert f"![{title}]({where.removesuffix(SUFFIX)}.svg)" in index
    assert path.with_name(path.name.removesuffix(SUFFIX) + ".svg").is_file()


def test_the_index_shows_nothing_that_is_not_there() -> None:
    index = (GALLERY / "README.md").read_text("utf-8")
    links = re.findall(r"\]\(([^)]+)\)", index)
    assert links
    assert all((GALLERY / link).is_file() for link in links)
