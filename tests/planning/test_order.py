"""The order on one foundation: which patch can be first, what must come before what, what is free."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise, permutations
from typing import TYPE_CHECKING, TypeAlias

import pytest
import shapely
from hypothesis import given

import seamproof as sp
from seamproof.planning.frame import Frame
from seamproof.planning.freedom import going_round
from seamproof.planning.order import peel, possible_firsts
from seamproof.testing.strategies import slicing_tilings

if TYPE_CHECKING:
    from seamproof.geometry import Point

Ring: TypeAlias = "list[Point]"
GRID = 1e-6
"""[in] Corners are moved to so fine a grid before the exhaustive search looks at them."""


def rectangle(x: float, y: float, width: float, height: float) -> Ring:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def pineapple() -> list[Ring]:
    """A centre and six rounds of four, straight and diagonal by turns; the last are the corners."""
    patches = [[(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]]
    side, tip = 1.0, 2.0
    for number in range(6):
        if number % 2 == 0:
            inner, side = side, side + 0.5
            ring = [(inner, inner - tip), (side, side - tip), (side, tip - side), (inner, tip - inner)]
        elif number < 5:
            inner, tip = tip, tip + 0.5
            ring = [(side, inner - side), (side, tip - side), (tip - side, side), (inner - side, side)]
        else:
            ring = [(side, tip - side), (side, side), (tip - side, side)]
        for _ in range(4):
            patches.append(ring)
            ring = [(-y, x) for x, y in ring]
    return patches


BLOCKS: dict[str, list[Ring]] = {
    "strips": [rectangle(k, 0, 1, 4) for k in range(5)],
    "half log cabin": [
        rectangle(0, 0, 1, 1),
        rectangle(1, 0, 1, 1),
        rectangle(0, 1, 2, 1),
        rectangle(2, 0, 1, 2),
        rectangle(0, 2, 3, 1),
    ],
    "courthouse steps": [
        rectangle(0, 0, 1, 1),
        rectangle(0, 1, 1, 1),
        rectangle(0, -1, 1, 1),
        rectangle(1, -1, 1, 3),
        rectangle(-1, -1, 1, 3),
    ],
    "square in a square": [
        [(1, 0), (2, 1), (1, 2), (0, 1)],
        [(0, 0), (1, 0), (0, 1)],
        [(1, 0), (2, 0), (2, 1)],
        [(2, 1), (2, 2), (1, 2)],
        [(1, 2), (0, 2), (0, 1)],
    ],
    "fan": [
        [(0, 0), (6, 0), (6, 2)],
        [(0, 0), (6, 2), (6, 4)],
        [(0, 0), (6, 4), (6, 6)],
        [(0, 0), (6, 6), (3, 6)],
        [(0, 0), (3, 6), (0, 6)],
    ],
}


def valid_orders(block: sp.Block) -> set[tuple[str, ...]]:
    """Every order in which each patch meets all earlier ones along one straight line, tried one by one."""
    shapes = {patch.id: shapely.set_precision(shapely.Polygon(patch.outline.polygon), GRID) for patch in block.patches}

    def meets_straight(patch: str, earlier: tuple[str, ...]) -> bool:
        whole = shapely.union_all([shapes[other] for other in earlier], grid_size=GRID)
        line = shapely.line_merge(shapely.intersection(shapes[patch], whole, grid_size=GRID))
        if line.geom_type != "LineString":
            return False
        ends = shapely.LineString([line.coords[0], line.coords[-1]])
        return bool(line.length > 100 * GRID and shapely.hausdorff_distance(line, ends) < 10 * GRID)

    orders: list[tuple[str, ...]] = [(patch,) for patch in block.ids]
    for _ in block.ids[1:]:
        orders = [
            (*order, patch)
            for order in orders
            for patch in block.ids
            if patch not in order and meets_straight(patch, order)
        ]
    return set(orders)


def linear_extensions(foundation: sp.Foundation) -> set[tuple[str, ...]]:
    """Every order with the same first patch that keeps all pairs of `precedes`."""
    first, *rest = foundation.order
    orders = [(first, *order) for order in permutations(rest)]
    return {order for order in orders if all(order.index(a) < order.index(b) for a, b in foundation.precedes)}


def is_one_foundation(construction: sp.Construction) -> bool:
    return len(construction.foundations) == 1 and not construction.joins


@pytest.mark.parametrize("patches", BLOCKS.values(), ids=BLOCKS)
def test_valid_orders_are_the_linear_extensions(patches: list[Ring]) -> None:
    block = sp.Block.from_polygons(patches)
    every = valid_orders(block)
    for first in sorted({order[0] for order in every}):
        (foundation,) = sp.plan(block, first=first).foundations
        assert linear_extensions(foundation) == {order for order in every if order[0] == first}


@pytest.mark.parametrize("patches", BLOCKS.values(), ids=BLOCKS)
def test_a_patch_can_be_first_just_where_some_order_starts_with_it(patches: list[Ring]) -> None:
    block = sp.Block.from_polygons(patches)
    firsts = {order[0] for order in valid_orders(block)}
    for patch in block.ids:
        if patch in firsts:
            assert sp.plan(block, first=patch).foundations[0].order[0] == patch
        else:
            with pytest.raises(sp.NotSewable, match=f"patch {patch} cannot be first") as caught:
                sp.plan(block, first=patch)
            assert caught.value.patches == (patch,)


@given(slicing_tilings(most=6))
def test_orders_of_random_blocks_are_linear_extensions(block: sp.Block) -> None:
    every, construction = valid_orders(block), sp.plan(block)
    assert is_one_foundation(construction) == (bool(every) and len(block.patches) > 1)
    for foundation in construction.foundations if is_one_foundation(construction) else ():
        assert linear_extensions(foundation) == {order for order in every if order[0] == foundation.order[0]}


def before(foundation: sp.Foundation) -> dict[str, set[str]]:
    """For each patch all that must come before it: the transitive closure of `precedes`."""
    found: dict[str, set[str]] = {}
    for patch in foundation.order:
        direct = [earlier for earlier, later in foundation.precedes if later == patch]
        found[patch] = set(direct).union(*(found[earlier] for earlier in direct))
    return found


@given(slicing_tilings(most=12))
def test_patches_of_a_group_are_free_of_one_another(block: sp.Block) -> None:
    for foundation in sp.plan(block).foundations:
        assert tuple(patch for group in foundation.groups for patch in group) == foundation.order
        known = before(foundation)
        for group in foundation.groups:
            assert not any(known[patch].intersection(group) for patch in group)


def hold_to_reduced(foundation: sp.Foundation) -> None:
    known = before(foundation)
    for earlier, later in foundation.precedes:
        assert not any(earlier in known[between] for between in known[later])
    for patch in foundation.order[1:]:
        assert foundation.order[0] in known[patch]


@given(slicing_tilings(most=12))
def test_of_pairs_that_precede_none_follows_from_others_and_no_patch_has_more_than_two(block: sp.Block) -> None:
    for foundation in sp.plan(block).foundations:
        hold_to_reduced(foundation)
        assert max(Counter(later for _, later in foundation.precedes).values()) <= 2


@pytest.mark.parametrize("patches", BLOCKS.values(), ids=BLOCKS)
def test_of_pairs_that_precede_none_follows_from_others(patches: list[Ring]) -> None:
    for foundation in sp.plan(sp.Block.from_polygons(patches)).foundations:
        hold_to_reduced(foundation)


def test_a_pineapple_is_one_foundation_of_rounds_of_four() -> None:
    """Source: common practice, no source: 25 patches, one foundation, the last four free of one another."""
    block = sp.Block.from_polygons(pineapple())
    construction = sp.plan(block)
    sp.replay(block, construction)
    assert is_one_foundation(construction)
    (foundation,) = construction.foundations
    assert [len(group) for group in foundation.groups] == [1, 4, 4, 4, 4, 4, 4]
    assert set(foundation.groups[-1]) == {"22", "23", "24", "25"}


def test_each_round_is_sewn_in_one_direction() -> None:
    block = sp.Block.from_polygons(pineapple())
    (foundation,) = sp.plan(block).foundations
    for group in foundation.groups[1:]:
        numbers = [int(patch) for patch in group]
        assert numbers == list(range(numbers[0], numbers[0] + 4))


@pytest.mark.parametrize("patches", BLOCKS.values(), ids=BLOCKS)
def test_the_firsts_told_are_those_some_order_starts_with(patches: list[Ring]) -> None:
    block = sp.Block.from_polygons(patches)
    frame = Frame.of(block, 0.25, "partial")
    firsts = {order[0] for order in valid_orders(block)}
    for found in (peel(frame, frame.all), *(peel(frame, frame.all, int(first) - 1) for first in firsts)):
        assert {block.ids[patch] for patch in possible_firsts(frame, frame.all, found)} == firsts


def test_patches_are_met_going_round_from_the_lowest_toward_its_lower_neighbour() -> None:
    # 1 lies east of the first, 2 west, 3 north, 4 south; turned over, the other way round.
    centres: list[Point] = [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)]
    assert going_round(centres, [1, 2, 3, 4], 0) == [1, 3, 2, 4]
    assert going_round([(x, -y) for x, y in centres], [4, 3, 2, 1], 0) == [1, 3, 2, 4]
    assert going_round(centres, [2, 4], 0) == [2, 4]
    assert going_round([(x + 5, y - 3) for x, y in centres], [1, 2, 3, 4], 0) == [1, 3, 2, 4]


@pytest.mark.parametrize("patch", ["fan", "arm", "hook"])
def test_what_cannot_be_folded_back_is_on_no_paper(patch: str) -> None:
    quarter = sp.Outline((sp.Edge((0, 0), (2, 0)), sp.Edge((2, 0), (0, 2), 2**0.5 - 1), sp.Edge((0, 2), (0, 0))))
    rest = (sp.Edge((2, 0), (3, 0)), sp.Edge((3, 0), (3, 3)), sp.Edge((3, 3), (0, 3)), sp.Edge((0, 3), (0, 2)),
            sp.Edge((0, 2), (2, 0), 1 - 2**0.5))  # fmt: skip
    blocks = {
        "fan": sp.Block("fan", (sp.Patch("1", quarter), sp.Patch("2", sp.Outline(rest)))),
        "arm": sp.Block.from_polygons([rectangle(2, 0, 1.5, 2), [(2, -1), (5, -1), (5, 1), (4, 1), (4, 0), (2, 0)]]),
        "hook": sp.Block.from_polygons([rectangle(3, 1, 1, 1), [(2, 0), (5, 0), (5, 1), (3, 1), (3, 2), (2, 2)]]),
    }
    con = sp.plan(blocks[patch])
    assert (con.foundations, con.loose) == ((), ("1", "2"))
    sp.replay(blocks[patch], con)


def test_centre_out_the_patch_nearest_the_middle_is_first() -> None:
    (foundation,) = sp.plan(sp.Block.from_polygons(BLOCKS["strips"])).foundations
    assert foundation.groups == (("3",), ("2", "4"), ("1", "5"))


def test_a_seam_has_its_new_patch_on_the_left() -> None:
    block = sp.Block.from_polygons(pineapple())
    for step in sp.plan(block).steps[1:]:
        assert step.patch is not None
        ring = shapely.Polygon(block.patch(step.patch).outline.polygon)
        for edge in step.seam:
            (x, y), (dx, dy) = edge.middle, edge.direction(0.5)
            assert ring.contains(shapely.Point(x - dy * 0.01, y + dx * 0.01))
        assert all(a.end == b.start for a, b in pairwise(step.seam))
