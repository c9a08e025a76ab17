from __future__ import annotations

import math
from itertools import pairwise

import pytest

import seamproof as sp

FAMILIES = sp.families()
ROOT2 = math.sqrt(2)


def draft(slug: str, **chosen: object) -> sp.Block:
    family = FAMILIES[slug]
    return family.draft(family.parameters(**chosen), 1.0)


def share(block: sp.Block, *roles: str) -> float:
    assert block.outline is not None
    return sum(p.outline.area for p in block.patches if p.role.startswith(roles)) / block.outline.area


# derived: on four by four squares a star has a centre, 8 points, 4 triangles between them and 4 corners, half its area
def test_a_sawtooth_star_has_17_patches_and_covers_half_its_block() -> None:
    block = draft("sawtooth-star")
    assert len(block.patches) == 17
    assert share(block, "centre", "point") == pytest.approx(1 / 2)


# derived: nine squares, four of them quartered; the star is the centre and half of four ninths
def test_an_ohio_star_has_21_patches() -> None:
    block = draft("ohio-star")
    assert len(block.patches) == 21
    assert share(block, "centre", "point") == pytest.approx(3 / 9)


# derived: nine squares, four of them halved; the star is the centre and half of four ninths
def test_a_friendship_star_has_13_patches_and_covers_a_third() -> None:
    block = draft("friendship-star")
    assert len(block.patches) == 13
    assert share(block, "centre", "point") == pytest.approx(3 / 9)


# derived: each star takes the place of a centre square of a quarter of the area
@pytest.mark.parametrize("stars", range(1, 5))
def test_k_nested_stars_have_16_k_and_1_patches(stars: int) -> None:
    block = draft("nested-stars", stars=stars)
    assert len(block.patches) == 16 * stars + 1
    assert share(block, "centre") == pytest.approx(4.0**-stars)


# derived: a diamond of 45° and side a has the area a²/√2, with a = 1/(2 + √2)
def test_an_eight_pointed_star_has_the_areas_of_its_closed_form() -> None:
    block = draft("eight-pointed-star")
    assert len(block.patches) == 16
    assert share(block, "diamond") == pytest.approx(6 * ROOT2 - 8)
    assert share(block, "corner square") == pytest.approx(6 - 4 * ROOT2)
    assert share(block, "edge triangle") == pytest.approx(3 - 2 * ROOT2)
    assert block.patch("1").outline.edges[0].length == pytest.approx(1 / (2 + ROOT2))


@pytest.mark.parametrize("rows", range(1, 6))
def test_a_lone_star_of_k_rows_has_eight_times_k_squared_diamonds(rows: int) -> None:
    assert len(draft("eight-pointed-star", rows=rows, halved=True).patches) == 8 * rows**2 + 16


# derived: where two diamonds meet what lies between their points no two edges are in line: 8 such places
def test_an_eight_pointed_star_of_whole_diamonds_has_eight_pivots_and_halved_none() -> None:
    whole = sp.plan(draft("eight-pointed-star").transformed(sp.Transform.scale(6)))
    assert (whole.technique, whole.pivots, whole.bounds.pivots) == ("set-in", 8, 8)
    halved = sp.plan(draft("eight-pointed-star", halved=True).transformed(sp.Transform.scale(6)))
    assert (halved.technique, halved.pivots) == ("straight", 0)


# derived: the six places where two diamonds meet a triangle have no two edges in line
def test_a_six_pointed_star_has_six_pivots_and_halved_none() -> None:
    assert sp.plan(draft("six-pointed-star").transformed(sp.Transform.scale(6))).pivots == 6
    assert sp.plan(draft("six-pointed-star", halved=True).transformed(sp.Transform.scale(6))).technique == "straight"


# derived: a regular octagon in a unit square has the area 2(√2 − 1)
def test_a_kaleidoscope_is_a_regular_octagon_of_eight_wedges_and_four_corners() -> None:
    block = draft("kaleidoscope")
    assert len(block.patches) == 12
    assert share(block, "wedge") == pytest.approx(2 * (ROOT2 - 1))
    assert share(block, "corner") == pytest.approx(3 - 2 * ROOT2)


@pytest.mark.parametrize("points", range(5, 17))
# derived: each point is two halves, each with its ground
def test_a_star_of_n_points_has_4_n_patches(points: int) -> None:
    block = draft("many-pointed-star", points=points)
    assert len(block.patches) == 4 * points
    tips = {p for patch in block.patches if "half" in patch.role for p in patch.outline.points
            if math.dist(p, (0.5, 0.5)) == pytest.approx(0.47)}  # fmt: skip
    angles = sorted(math.degrees(math.atan2(y - 0.5, x - 0.5)) for x, y in tips)
    assert all(b - a == pytest.approx(360 / points) or b - a < 1 for a, b in pairwise(angles))


@pytest.mark.parametrize("points", [8, 16, 32])
@pytest.mark.parametrize("ground", ["round", "straight"])
# derived: eight octants of two halved points, then a point and a ground for every gap of 360°/N; four corners
def test_a_compass_of_n_points_has_n_plus_8_pieces_of_points_n_grounds_and_4_corners(points: int, ground: str) -> None:
    block = draft("compass", points=points, ground=ground)
    assert sum("point" in p.role for p in block.patches) == points + 8
    assert sum(p.role == "background" for p in block.patches) == points
    assert sum(p.role == "corner" for p in block.patches) == 4


# derived: every compass is octants joined by seams through the centre; a round one has four arcs besides
def test_a_compass_on_a_straight_ground_is_straight_and_on_a_round_one_curved() -> None:
    for ground, technique in (("straight", "straight"), ("round", "curved")):
        block = draft("compass", points=16, ground=ground).transformed(sp.Transform.scale(10))
        assert sp.plan(block).technique == technique


@pytest.mark.parametrize(
    "slug", ["sawtooth-star", "ohio-star", "friendship-star", "nested-stars", "feathered-star", "kaleidoscope",
             "many-pointed-star"],
)  # fmt: skip
# common practice, no source: these are sewn in units and rows, with straight seams only
def test_a_star_of_units_is_sewn_with_straight_seams(slug: str) -> None:
    assert sp.plan(FAMILIES[slug].draft(FAMILIES[slug].design(), 12.0)).technique == "straight"
