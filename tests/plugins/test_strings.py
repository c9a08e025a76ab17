from __future__ import annotations

import pytest
from hypothesis import given

import seamproof as sp
from seamproof.plugin.widths import width_of
from seamproof.testing import parameters

FAMILIES = sp.families()
CRAZY, STRINGS, DIAMOND = FAMILIES["crazy"], FAMILIES["strings"], FAMILIES["string-diamond"]


@given(parameters(CRAZY.parameters))
# derived: every patch is parted from all that stay by one straight cut
def test_every_crazy_block_is_one_foundation_of_convex_patches(chosen: sp.Parameters) -> None:
    block = CRAZY.draft(chosen, 8.0)
    assert len(block.patches) == chosen.patches  # type: ignore[attr-defined]
    assert all(patch.outline.is_convex for patch in block.patches)
    construction = sp.plan(block)
    assert (len(construction.foundations), construction.technique) == (1, "straight")


@given(parameters(STRINGS.parameters))
def test_every_string_block_is_one_foundation(chosen: sp.Parameters) -> None:
    block = STRINGS.draft(chosen, 8.0)
    assert len(block.patches) == chosen.strips  # type: ignore[attr-defined]
    assert len(sp.plan(block).foundations) == 1


@pytest.mark.parametrize("strips", range(3, 13))
# derived: n equal strips across a square of side b are b/n wide
def test_even_strings_are_equally_wide(strips: int) -> None:
    block = STRINGS.draft(STRINGS.parameters(strips=strips, uneven=0.0, lie="upright"), 6.0)
    assert [width_of(patch.outline) for patch in block.patches] == pytest.approx([6.0 / strips] * strips)


# derived: four quarters, each of one foundation, printed once and sewn four times
def test_a_string_diamond_is_four_foundations_that_are_one_pattern() -> None:
    construction = sp.plan(DIAMOND.draft(DIAMOND.design(), 12.0))
    assert len(construction.foundations) == 4
    assert [foundation.twin_of for foundation in construction.foundations] == [None, "A", "A", "A"]


def test_the_strips_of_a_string_diamond_meet_where_quarters_join() -> None:
    seams = sp.SeamMap.of(DIAMOND.draft(DIAMOND.parameters(uneven=0.6, seed=7), 12.0))
    assert seams.count("tee") == 0


def test_an_even_number_of_strips_has_no_diamond() -> None:
    with pytest.raises(ValueError, match=r"^strips: 6 have no middle one: make it 7, or 5"):
        DIAMOND.draft(DIAMOND.parameters(strips=6), 12.0)


def test_another_seed_is_another_block() -> None:
    drafts = {repr(CRAZY.draft(CRAZY.parameters(seed=seed), 6.0)) for seed in range(30)}
    assert len(drafts) == 30
