"""Batches of a pieced block: which units are made together, and by which way."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.block import Block
from seamproof.cloth import plan_cloth
from seamproof.cutting import cut_pieces
from seamproof.cutting.piecing import Piecing, piecing_of
from seamproof.cutting.recipes_of_units import Workshop
from seamproof.planning import plan, plan_pressing
from seamproof.referee import replay

if TYPE_CHECKING:
    from collections.abc import Sequence

Polygon = list[tuple[float, float]]


def square(x: float, y: float, w: float, h: float) -> Polygon:
    return [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]


def half_squares(n: int, side: float, *, turned: bool = False) -> tuple[list[Polygon], list[str]]:
    polygons, roles = [], []
    for i in range(n):
        for j in range(n):
            x, y = i * side, j * side
            if turned and (i + j) % 2:
                polygons += [
                    [(x, y), (x + side, y), (x, y + side)],
                    [(x + side, y), (x + side, y + side), (x, y + side)],
                ]
            else:
                polygons += [
                    [(x, y), (x + side, y), (x + side, y + side)],
                    [(x, y), (x + side, y + side), (x, y + side)],
                ]
            roles += ["a", "b"]
    return polygons, roles


def hourglasses(n: int, side: float, roles: str) -> tuple[list[Polygon], list[str]]:
    polygons, named = [], []
    for i in range(n):
        x = i * side
        ring = square(x, 0, side, side)
        middle = (x + side / 2, side / 2)
        polygons += [[ring[k], ring[(k + 1) % 4], middle] for k in range(4)]
        named += list(roles)
    return polygons, named


def geese(n: int, h: float, roles: str = "gw") -> tuple[list[Polygon], list[str]]:
    polygons, named = [], []
    for i in range(n):
        y = i * h
        apex = (h, y + h)
        polygons += [[(0, y), (2 * h, y), apex], [(0, y), apex, (0, y + h)], [(2 * h, y), (2 * h, y + h), apex]]
        named += [roles[0], roles[1], roles[-1]]
    return polygons, named


def checks(n: int, side: float) -> tuple[list[Polygon], list[str]]:
    cells = [(i, j) for j in range(n) for i in range(n)]
    return [square(i * side, j * side, side, side) for i, j in cells], ["ab"[(i + j) % 2] for i, j in cells]


def gathered(polygons: Sequence[Polygon], roles: Sequence[str], copies: int = 4) -> tuple[Block, Piecing, float]:
    block = Block.from_polygons(polygons, roles)
    construction = plan(block, method="pieced")
    cut = cut_pieces(block, construction)
    replay(block, construction, cut)
    fabric_of = {patch.id: patch.role for patch in block.patches}
    workshop = Workshop({piece.patch: piece for piece in cut}, copies)
    piecing = piecing_of(block, construction, plan_pressing(block, construction), fabric_of, workshop)
    cloth = plan_cloth((), cut, fabric_of, copies, ways=piecing.ways)
    used = sum(group.cut * group.width * group.height for need in cloth.needs for group in need.groups)
    return block, piecing, used


def ways(piecing: Piecing) -> Counter[str]:
    return Counter(way.kind for way in piecing.ways)


def test_half_square_units_are_made_two_at_a_time_however_they_are_turned() -> None:
    _, piecing, used = gathered(*half_squares(2, 3, turned=True))
    assert ways(piecing) == {"half-square": 1}
    (way,) = piecing.ways
    assert len(way.labels) == 4
    # derived: 16 units take 8 pairs; 8 squares of 3 7/8 in of either fabric are all the cloth.
    assert way.times == 8
    assert used == pytest.approx(2 * 8 * 3.875**2)


@pytest.mark.parametrize(
    ("roles", "makes"),
    [("abab", 2), ("abac", 4), ("abcb", 4), ("aabc", 0), ("aabb", 0), ("abcd", 0)],
)
def test_only_units_that_are_their_own_mirror_image_come_of_crossed_pairs(roles: str, makes: int) -> None:
    # derived: two squares sewn and cut twice give a unit and its mirror image.
    _, piecing, _ = gathered(*hourglasses(2, 4, roles))
    made = [way.makes for way in piecing.ways if way.kind == "quarter-square"]
    assert made == ([makes] if makes else [])


def test_geese_come_four_at_a_time_of_one_large_square_and_four_small() -> None:
    _, piecing, used = gathered(*geese(4, 2))
    (way,) = piecing.ways
    assert (way.kind, way.times, way.makes, way.over) == ("geese", 4, 4, 0)
    # derived: 16 geese of 4 × 2 in: 4 squares of 5 1/4 in, 16 of 2 7/8 in.
    assert used == pytest.approx(4 * 5.25**2 + 16 * 2.875**2)


def test_geese_with_two_fabrics_beside_them_are_not_made_four_at_a_time() -> None:
    # derived: of four geese two would have the fabrics the other way round.
    _, piecing, _ = gathered(*geese(4, 2, "gwv"))
    assert "geese" not in ways(piecing)


def test_rows_of_a_nine_patch_are_cut_from_two_sets_of_strips() -> None:
    _, piecing, _ = gathered(*checks(3, 3))
    assert ways(piecing) == {"strip set": 2}
    assert sorted(len(way.labels) for way in piecing.ways) == [1, 2]


def test_one_block_alone_is_not_sewn_of_strips() -> None:
    _, piecing, _ = gathered(*checks(3, 3), copies=1)
    assert not piecing.ways


def test_mirror_images_are_told_apart() -> None:
    # Three triangles in a square: its halves are not alike, so neither it nor its mirror image serves for the other.
    one: list[Polygon] = [[(0, 0), (2, 0), (2, 1)], [(0, 0), (2, 1), (0, 1)]]
    other = [[(4 - x, y) for x, y in polygon] for polygon in one]
    _, piecing, _ = gathered([*one, *other], "abab")
    first = next(batch for batch in piecing.batches if "J1" in batch.labels)
    assert first.labels == ("J1",)


@given(st.sampled_from(["half", "turned", "hourglass", "geese", "checks"]), st.integers(2, 4), st.integers(1, 6))
def test_every_join_is_told_once_or_lies_in_a_unit_that_a_way_makes(kind: str, n: int, copies: int) -> None:
    made = {
        "half": lambda: half_squares(n, 3),
        "turned": lambda: half_squares(n, 3, turned=True),
        "hourglass": lambda: hourglasses(n, 3, "abac"),
        "geese": lambda: geese(n, 2),
        "checks": lambda: checks(n, 2),
    }[kind]()
    block, piecing, _ = gathered(*made, copies=copies)
    construction = plan(block, method="pieced")
    told = [label for batch in piecing.batches for label in batch.labels]
    assert len(told) == len(set(told))
    inside = {
        join.label
        for join in construction.joins
        for way in piecing.ways
        for label in way.labels
        if join.label != label and set(construction.patches_of(join.label)) <= set(construction.patches_of(label))
    }
    assert set(told) | inside == {join.label for join in construction.joins}
    assert not set(told) & inside
    # Each batch comes after those whose units it takes.
    place = {label: n for n, batch in enumerate(piecing.batches) for label in batch.labels}
    for join in construction.joins:
        if join.label in place:
            assert all(place.get(part, -1) < place[join.label] for part in (join.first, join.second))
    # The cloth holds each patch's piece as often as it is needed.
    cut = cut_pieces(block, construction)
    fabric_of = {patch.id: patch.role for patch in block.patches}
    cloth = plan_cloth((), cut, fabric_of, copies, ways=piecing.ways)
    groups = [group for need in cloth.needs for group in need.groups]
    assert Counter(patch for group in groups for patch in group.patches) == Counter(block.ids)
    assert all(group.pieces >= group.needed == len(group.patches) * copies for group in groups)
