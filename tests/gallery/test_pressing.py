"""A block's page says of pressing what its handout says."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamproof import load_recipe, work_out
from seamproof.gallery.block_page import block_page
from seamproof.gallery.card import card_of

GALLERY = Path(__file__).parents[2] / "gallery"


def page_of(name: str) -> str:
    path = GALLERY / f"{name}.recipe.toml"
    pattern = work_out(load_recipe(path))
    return block_page(pattern, card_of(pattern, "block", (1, 1)), path.read_text(encoding="utf-8"), "{}", [])


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (
            "grids/eddy",
            ("or the finished unit laid there", "the line of a laid unit at 1 place", "where unit A is laid, a darker",
             "each of the 9 points where four blocks meet", "To spin a point"),
        ),
        ("stars/first-watch", ("Seams meet across a join at", "In rows:")),
    ],
)  # fmt: skip
def test_pressing_is_told(name: str, told: tuple[str, ...]) -> None:
    page = page_of(name)
    section = page[page.index('id="pressing"') : page.index('id="cutting"')]
    for words in told:
        assert words in section


def test_a_proof_of_laid_units_is_named_in_words() -> None:
    page = page_of("grids/eddy")
    assert "Every laid unit covers its area" in page
    assert "along and across its line: A 2 1/2" in page.replace("\u00a0", " ")
