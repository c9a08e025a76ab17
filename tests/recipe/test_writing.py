"""A first recipe explains every key, and is right as it stands."""

from __future__ import annotations

import itertools

import pytest

from seamproof import PluginError, RecipeError, families
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.model import Front, Make
from seamproof.recipe.writing import new_recipe

EVERY = [(slug, design) for slug, family in families().items() for design in family.designs]


@pytest.mark.parametrize(("slug", "design"), EVERY)
def test_a_new_recipe_of_any_design_loads(slug: str, design: str) -> None:
    recipe = read_recipe(new_recipe(slug, design).encode())
    assert recipe.family == slug
    assert recipe.parameters == families()[slug].design(design)


@pytest.mark.parametrize("slug", families())
def test_a_new_recipe_explains_every_parameter(slug: str) -> None:
    text = new_recipe(slug).replace("\n# ", " ")
    for name, field in families()[slug].parameters.model_fields.items():
        assert field.description in text
        assert f"\n{name} = " in text


def test_a_new_recipe_changes_nothing_that_it_does_not_show() -> None:
    recipe = read_recipe(new_recipe("log-cabin").encode())
    assert recipe.make == Make()
    assert recipe.pattern == Front(designer="Your name", licence="All rights reserved")


def test_neighbouring_fabrics_of_a_new_recipe_differ() -> None:
    recipe = read_recipe(new_recipe("square-in-a-square", "square well").encode())
    rounds = [recipe.fabric_of(f"round {number}") for number in range(1, 7)]
    assert all(a != b for a, b in itertools.pairwise(rounds))


def test_an_unknown_family_or_design_is_named_with_the_nearest() -> None:
    with pytest.raises(PluginError, match="did you mean 'pineapple'"):
        new_recipe("pinapple")
    with pytest.raises(RecipeError, match='did you mean "grand pineapple"'):
        new_recipe("pineapple", "grand pinapple")
