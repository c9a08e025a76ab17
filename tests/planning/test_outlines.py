"""Outlines that are not convex: folding back, stopping dead, slots; and blocks that no seam joins."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, TypeAlias

import pytest

import seamproof as sp

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sequence.construction import Method

Ring: TypeAlias = "list[Point]"


def rectangle(x: float, y: float, width: float, height: float) -> Ring:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def planned(patches: list[Ring], allowance: float = 0.25) -> sp.Construction:
    block = sp.Block.from_polygons(patches)
    construction = sp.plan(block, allowance=allowance)
    sp.replay(block, construction, allowance=allowance)
    return construction


def u_shape(slot: float) -> list[Ring]:
    return [rectangle(0, 0, 2 + slot, 1), rectangle(0, 1, 1, 2), rectangle(1 + slot, 1, 1, 2)]


def six_pointed_star() -> tuple[list[Ring], Ring]:
    """Its six points, and the hexagon in its middle."""
    ring = [(math.cos(k * math.pi / 3), math.sin(k * math.pi / 3)) for k in range(6)]
    tips = [[p, (p[0] + q[0], p[1] + q[1]), q] for p, q in zip(ring, [*ring[1:], ring[0]], strict=True)]
    return tips, ring


def test_an_l_of_squares_is_one_foundation() -> None:
    construction = planned([rectangle(0, 0, 1, 1), rectangle(1, 0, 1, 1), rectangle(0, 1, 1, 1)])
    assert construction.technique == "straight"
    assert len(construction.foundations) == 1
    assert not construction.joins


def test_the_second_arm_of_a_u_cannot_be_folded_back_on_paper() -> None:
    construction = planned(u_shape(slot=1.0))
    assert construction.technique == "straight"
    assert [set(foundation.order) for foundation in construction.foundations] == [{"1", "2"}]
    assert construction.loose == ("3",)


@pytest.mark.parametrize(("slot", "pivots"), [(0.3, 0), (0.2, 1)])
def test_a_seam_that_would_cross_a_narrow_slot_stops_dead(slot: float, pivots: int) -> None:
    assert planned(u_shape(slot)).pivots == pivots


def test_the_slot_is_measured_by_the_allowance() -> None:
    assert planned(u_shape(0.3), allowance=0.375).pivots == 1


def test_an_l_shaped_patch_and_its_quarter_take_one_pivot() -> None:
    """Source: derived: one bend, no wye."""
    construction = planned([[(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)], rectangle(1, 1, 1, 1)])
    assert construction.technique == "set-in"
    assert construction.pivots == construction.bounds.pivots == 1
    assert construction.joins[0].pivots == ((1.0, 1.0),)


def test_points_round_a_hexagon_are_sewn_on_it_in_any_order() -> None:
    tips, hexagon = six_pointed_star()
    (foundation,) = planned([*tips, hexagon]).foundations
    assert foundation.groups == (("7",), ("1", "2", "3", "4", "5", "6"))


def test_diamonds_round_a_point_are_sewn_straight_through_it() -> None:
    """Without the corner squares no junction is left but the crossing in the middle."""
    diamonds = []
    for k in range(8):
        (ax, ay), (bx, by) = ((math.cos(a), math.sin(a)) for a in (k * math.pi / 4, (k + 1) * math.pi / 4))
        diamonds.append([(0.0, 0.0), (ax, ay), (ax + bx, ay + by), (bx, by)])
    construction = planned(diamonds)
    assert (construction.technique, construction.pivots) == ("straight", 0)


def test_a_block_in_parts_is_refused_with_the_parts() -> None:
    block = sp.Block.from_polygons([rectangle(0, 0, 1, 1), rectangle(1, 0, 1, 1), rectangle(5, 0, 1, 1)])
    with pytest.raises(sp.NotSewable, match=r"2 parts.*do not touch") as caught:
        sp.plan(block)
    assert (caught.value.reason, caught.value.patches) == ("parts", ("3",))


def test_patches_that_touch_at_a_point_only_are_refused() -> None:
    block = sp.Block.from_polygons([rectangle(0, 0, 1, 1), rectangle(1, 1, 1, 1)])
    with pytest.raises(sp.NotSewable, match="at a point only") as caught:
        sp.plan(block)
    assert (caught.value.reason, caught.value.patches) == ("parts", ("2",))


@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
def test_a_ring_round_a_hole_is_refused_with_its_patches(method: Method) -> None:
    ring = [rectangle(0, 0, 2, 1), rectangle(2, 0, 1, 2), rectangle(1, 2, 2, 1), rectangle(0, 1, 1, 2)]
    block = sp.Block.from_polygons([*ring, rectangle(3, 0, 1, 3)])
    with pytest.raises(sp.NotSewable, match="1 hole") as caught:
        sp.plan(block, method)
    assert (caught.value.reason, caught.value.patches) == ("holes", ("1", "2", "3", "4"))


def test_overlapping_patches_are_no_block() -> None:
    with pytest.raises(sp.BlockError):
        sp.plan(sp.Block.from_polygons([rectangle(0, 0, 2, 1), rectangle(1, 0, 2, 1)]))
