"""Which way a block is sewn when its recipe does not say."""

from __future__ import annotations

import pytest

import seamproof as sp
from seamproof.pattern.method import choose_construction
from seamproof.recipe import Make


@pytest.mark.parametrize(
    ("family", "method"),
    [("pineapple", "foundation"), ("ohio-star", "foundation"), ("snails-trail", "foundation"),
     ("eight-pointed-star", "foundation"), ("pinwheel-of-five", "pieced"), ("rosette", "hand")],
)  # fmt: skip
def test_papers_are_taken_where_they_hold_enough_of_the_block(family: str, method: str) -> None:
    slug = next(slug for slug in sp.families() if slug == family or slug.endswith(family))
    found = sp.families()[slug]
    block = found.draft(found.design(), 12.0)
    assert choose_construction(block, Make()).method == method


@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
def test_a_recipe_that_says_is_followed(method: str) -> None:
    found = sp.families()["ohio-star"]
    make = Make.model_validate({"method": method})
    assert choose_construction(found.draft(found.design(), 12.0), make).method == method
