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
