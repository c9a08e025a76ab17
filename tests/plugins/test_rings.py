from __future__ import annotations

import math

import pytest

import seamproof as sp

FAMILIES = sp.families()
PINEAPPLE = FAMILIES["pineapple"]
SQUARES = FAMILIES["square-in-a-square"]


@pytest.mark.parametrize("rounds", range(1, 13))
# derived: one centre and four patches a round
def test_a_pineapple_of_r_rounds_has_one_and_four_r_patches(rounds: int) -> None:
    block = PINEAPPLE.draft(PINEAPPLE.parameters(rounds=rounds, centre=0.6), 6.0)
    assert len(block.patches) == 1 + 4 * rounds
    assert all(patch.outline.is_convex for patch in block.patches)
    assert [patch.role for patch in block.patches[-4:]] == ["corner"] * 4


# common practice, no source: a pineapple of one centre and six rounds has 25 patches and is sewn on one foundation,
# its last four patches in any order
def test_a_pineapple_of_six_rounds_is_one_foundation_whose_corners_are_free() -> None:
    construction = sp.plan(PINEAPPLE.draft(PINEAPPLE.design(), 6.0))
    (foundation,) = construction.foundations
    assert len(foundation.order) == 25
    assert set(foundation.groups[-1]) == {"22", "23", "24", "25"}


@pytest.mark.parametrize("rounds", range(1, 13))
def test_every_pineapple_is_one_foundation(rounds: int) -> None:
    construction = sp.plan(PINEAPPLE.draft(PINEAPPLE.parameters(rounds=rounds, centre=0.6), 6.0))
    assert (len(construction.foundations), construction.technique) == (1, "straight")


@pytest.mark.parametrize(("rounds", "diagonal"), [(2, 1.0), (4, 1.25), (6, 1.0), (7, 0.75), (7, 1.25), (12, 1.0)])
def test_the_least_centre_a_pineapple_names_is_one_that_works(rounds: int, diagonal: float) -> None:
    with pytest.raises(ValueError, match=r"^centre: ") as caught:
        PINEAPPLE.draft(PINEAPPLE.parameters(rounds=rounds, diagonal=diagonal, centre=0.125), 6.0)
    least = float(str(caught.value).split("make it ")[1].split(" ")[0])
    made = PINEAPPLE.parameters(rounds=rounds, diagonal=diagonal, centre=least)
    PINEAPPLE.draft(made, 6.0).check()
    with pytest.raises(ValueError, match=r"^centre: "):
        PINEAPPLE.draft(made.model_copy(update={"centre": least - 0.005}), 6.0)


@pytest.mark.parametrize("rounds", range(1, 9))
# derived: the middles of a square's sides are the corners of a square of half its area
def test_a_square_in_a_square_k_times_leaves_a_centre_of_two_to_the_minus_k(rounds: int) -> None:
    block = SQUARES.draft(SQUARES.parameters(rounds=rounds), 6.0)
    assert len(block.patches) == 1 + 4 * rounds
    assert block.patch("1").outline.area == pytest.approx(36 / 2**rounds)
    assert block.patch("2").outline.area == pytest.approx(36 / 2**rounds / 4)


# derived: equal strips w on four sides leave a centre c with c + 2sw = side, s the number of straight rounds
def test_the_straight_strips_of_a_pineapple_are_equally_wide() -> None:
    block = PINEAPPLE.draft(PINEAPPLE.parameters(rounds=6, centre=0.4), 10.0)
    rings = [max(abs(x - 5) for p in block.patches if p.role == f"straight log {n}" for x, _ in p.outline.points)
             for n in (1, 2, 3)]  # fmt: skip
    assert rings == pytest.approx([3, 4, 5])
    assert math.isclose(block.patch("1").outline.area, 16)


@pytest.mark.parametrize(("shape", "sides", "corners"), [("diamond", 4, 4), ("hexagon", 6, 4), ("octagon", 8, 4)])
# derived: a strip along each side in every ring, and the four corners of the box
def test_concentric_rings_have_a_strip_a_side_on_one_foundation(shape: str, sides: int, corners: int) -> None:
    family = FAMILIES["concentric-rings"]
    block = family.draft(family.parameters(shape=shape, rings=3), 8.0)
    assert len(block.patches) == 1 + 3 * sides + corners
    assert len(sp.plan(block).foundations) == 1


@pytest.mark.parametrize("sides", range(3, 9))
# derived: a corner cut off a regular n-gon of side 1 at t and 1 − t leaves c² = 1 − 2t(1−t)(1 − cos 360°/n)
def test_each_round_of_a_spiral_shrinks_it_by_the_law_of_cosines(sides: int) -> None:
    family = FAMILIES["spiral"]
    block = family.draft(family.parameters(sides=sides, rounds=3, turn=0.2), 8.0)
    assert len(block.patches) == 1 + 3 * sides
    assert block.outline is not None
    shrink = 1 - 2 * 0.2 * 0.8 * (1 - math.cos(math.tau / sides))
    assert block.patch("1").outline.area / block.outline.area == pytest.approx(shrink**3)
    assert len(sp.plan(block).foundations) == 1


def test_a_spiral_of_too_many_rounds_is_refused_with_the_most_that_work() -> None:
    family = FAMILIES["spiral"]
    with pytest.raises(ValueError, match=r"^rounds: 16 .* make it 8 or fewer"):
        family.draft(family.parameters(rounds=16, turn=0.5), 8.0)
    family.draft(family.parameters(rounds=8, turn=0.5), 8.0).check()
