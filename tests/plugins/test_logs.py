from __future__ import annotations

import pytest

import seamproof as sp

FAMILIES = sp.families()
# derived: a strip w laid along a side L adds w·L, and every log so far has made the cabin longer by its own w
ROUNDS = (1, 4, 10)
CENTRES = (0.5, 1.0, 3.0)


def draft(slug: str, rounds: int, centre: float, size: float = 6.0) -> sp.Block:
    family = FAMILIES[slug]
    return family.draft(family.parameters(rounds=rounds, centre=centre), size)


def area_of(block: sp.Block, kind: str) -> float:
    return sum(patch.outline.area for patch in block.patches if patch.role.startswith(kind))


@pytest.mark.parametrize("rounds", ROUNDS)
@pytest.mark.parametrize("centre", CENTRES)
@pytest.mark.parametrize(
    ("slug", "figures"),
    [
        ("log-cabin", (4, 2, 2)),  # derived: 1 + 4n patches, side c + 2nw, the last two logs of a round exceed by 2w²
        ("courthouse-steps", (4, 2, 4)),  # derived: the second pair is longer by 2w each
        ("half-log-cabin", (2, 1, 1)),  # derived: 1 + 2n patches, side c + nw, the second log is longer by w
    ],
)
def test_a_cabin_has_the_patches_the_side_and_the_areas_of_its_closed_form(
    slug: str, figures: tuple[int, int, int], rounds: int, centre: float
) -> None:
    a_round, logs, excess = figures
    block = draft(slug, rounds, centre)
    strip = 6.0 / (centre + logs * rounds)
    assert len(block.patches) == 1 + a_round * rounds
    assert block.patch("1").outline.area == pytest.approx((centre * strip) ** 2)
    assert area_of(block, "dark") - area_of(block, "light") == pytest.approx(excess * rounds * strip**2)


# derived: n rounds of a narrow strip on two sides and a wide one on the others: c + n(1 + wide)
def test_an_off_centre_cabin_moves_its_centre_by_the_difference_of_the_strips() -> None:
    family = FAMILIES["off-centre-log-cabin"]
    block = family.draft(family.parameters(rounds=4, centre=1.0, wide=2.0), 13.0)
    x, y = block.patch("1").outline.centroid
    assert (x, y) == pytest.approx((8.5, 8.5))


def test_a_clockwise_cabin_is_the_mirror_image_of_an_anticlockwise_one() -> None:
    family = FAMILIES["log-cabin"]
    one = family.draft(family.parameters(turn="anticlockwise"), 6.0)
    other = family.draft(family.parameters(turn="clockwise"), 6.0)
    for patch, twin in zip(one.patches, other.patches, strict=True):
        x0, y0, x1, y1 = patch.outline.bounds
        assert twin.outline.bounds == pytest.approx((6 - x1, y0, 6 - x0, y1))


@pytest.mark.parametrize("slug", ["log-cabin", "courthouse-steps", "half-log-cabin", "off-centre-log-cabin"])
@pytest.mark.parametrize("rounds", ROUNDS)
# common practice, no source: a log cabin is sewn from its centre out on one foundation
def test_a_cabin_is_one_foundation_sewn_with_straight_seams(slug: str, rounds: int) -> None:
    construction = sp.plan(draft(slug, rounds, 1.0))
    assert len(construction.foundations) == 1
    assert construction.technique == "straight"
    assert not construction.loose


@pytest.mark.parametrize(
    ("shape", "sides"), [("triangle", 3), ("diamond", 4), ("pentagon", 5), ("hexagon", 6), ("octagon", 8)]
)
# derived: one log along each side in every round, each parted from all inside it by one straight line
def test_a_cabin_on_a_polygon_of_n_sides_has_n_logs_a_round_on_one_foundation(shape: str, sides: int) -> None:
    family = FAMILIES["polygon-log-cabin"]
    block = family.draft(family.parameters(shape=shape, rounds=3), 8.0)
    assert len(block.patches) == 1 + 3 * sides
    assert block.outline is not None
    # derived: the sides of centre and block are as far out as 1.5 and 1.5 + 3 logs, so the areas are as the squares
    assert block.patch("1").outline.area / block.outline.area == pytest.approx((1.5 / 4.5) ** 2)
    assert len(sp.plan(block).foundations) == 1


@pytest.mark.parametrize("rounds", range(1, 8))
# derived: four logs and four squares in every round; the squares are 4n strips square
def test_a_cabin_with_cornerstones_has_eight_patches_a_round(rounds: int) -> None:
    block = draft("cornerstone-log-cabin", rounds, 1.0, size=1.0 + 2 * rounds)
    assert len(block.patches) == 1 + 8 * rounds
    assert area_of(block, "cornerstone") == pytest.approx(4 * rounds)
    assert sp.plan(block).technique == "straight"


# derived: widths g^0 … g^(n−1) on two sides and g^(n−1) … g^0 on the others add up to the same on either side
def test_a_graded_cabin_keeps_its_centre_in_the_middle_and_is_one_foundation() -> None:
    family = FAMILIES["graded-log-cabin"]
    block = family.draft(family.design(), 9.0)
    assert block.patch("1").outline.centroid == pytest.approx((4.5, 4.5))
    assert len(sp.plan(block).foundations) == 1
