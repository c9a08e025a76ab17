"""How far colours are apart, and how other eyes see them."""

from __future__ import annotations

from pathlib import Path

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from seamproof import load_recipe, work_out
from seamproof.gallery.vision import MATRICES, TELLABLE, alike, difference, neighbours, seen

GALLERY = Path(__file__).parents[2] / "gallery"
COLOURS = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


# Source: G. Sharma, W. Wu, E. Dalal, Color Research & Application 30(1), 2005, doi 10.1002/col.20070, table 1.
@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
        ((50, 0, 0), (50, -1, 2), 2.3669),
        ((50, 2.5, 0), (73, 25, -18), 27.1492),
        ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ],
)
def test_ciede2000_as_published(one: tuple[float, ...], other: tuple[float, ...], apart: float) -> None:
    found = Color("lab-d65", list(one)).delta_e(Color("lab-d65", list(other)), method="2000")
    assert found == pytest.approx(apart, abs=0.00005)


@pytest.mark.parametrize("sight", MATRICES)
@given(colour=COLOURS)
def test_other_eyes_see_what_the_published_model_says(sight: str, colour: str) -> None:
    # computed independently: coloraide's tables of Machado, Oliveira, Fernandes, IEEE TVCG 15(6), 2009
    names = {"protan": "protan", "deutan": "deutan", "tritan": "tritan"}
    expected = Color(colour).filter(names[sight], severity=1, method="machado").convert("srgb").clip()
    found = Color(seen(colour, sight))  # type: ignore[arg-type]
    assert all(abs(a - b) <= 1 / 255 for a, b in zip(found[:-1], expected[:-1], strict=True))


@given(COLOURS, COLOURS)
def test_difference_is_the_same_both_ways_and_none_from_itself(one: str, other: str) -> None:
    assert difference(one, one) == 0
    assert difference(one, other) == pytest.approx(difference(other, one))


def test_neighbours_are_the_fabrics_that_meet_at_a_seam() -> None:
    # derived: in a square in a square each round meets the next and the one before, and no other
    pattern = work_out(load_recipe(GALLERY / "rings" / "tide-glass.recipe.toml"))
    assert neighbours(pattern) == (("a", "b"), ("b", "c"), ("c", "d"))


def test_a_red_and_a_green_are_told_apart_by_usual_eyes_alone() -> None:
    # from memory: red and green of about one value are the pair that red-green blind eyes confuse
    red, green = "#b04a3f", "#6b6a2e"
    assert difference(red, green) > 3 * TELLABLE
    assert difference(red, green, "protan") < difference(red, green) / 2


def test_only_pairs_under_the_limit_are_warned_of() -> None:
    pattern = work_out(load_recipe(GALLERY / "grids" / "five-boathouses.recipe.toml"))
    pairs = neighbours(pattern)
    warned = alike(pattern, pairs)
    assert {(one.first, one.second) for one in warned} <= set(pairs)
    assert all(one.difference < TELLABLE for one in warned)
