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
from seamproof.cutting.alike import Alike
from seamproof.cutting.piecing import Piecing, piecing_of
from seamproof.cutting.recipes_of_units import Workshop
from seamproof.cutting.units import Units
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


def snowball(width: float, height: float, legs: dict[int, float]) -> tuple[list[Polygon], list[str]]:
    """A rectangle with triangles in some of its corners, numbered from the lower left anticlockwise."""
    ring = square(0, 0, width, height)
    left: Polygon = []
    polygons: list[Polygon] = []
    for at, corner in enumerate(ring):
        if at not in legs:
            left.append(corner)
            continue
        ends = []
        for other in (ring[at - 1], ring[(at + 1) % 4]):
            size = max(abs(other[0] - corner[0]), abs(other[1] - corner[1]))
            t = legs[at] / size
            ends.append((corner[0] + (other[0] - corner[0]) * t, corner[1] + (other[1] - corner[1]) * t))
        left += [end for end in ends if end not in left]
        polygons.append([corner, ends[1], ends[0]])
    return [left, *polygons], ["a", *["b"] * len(polygons)]


def halves_and_quarters(hands: str, side: float) -> tuple[list[Polygon], list[str]]:
    """Squares of a half and two quarters of two fabrics in a row, the one or the other of these at the left."""
    polygons: list[Polygon] = []
    named = []
    for i, hand in enumerate(hands):
        x, middle = i * side, (i * side + side / 2, side / 2)
        half = [(x, 0.0), (x + side, 0.0), (x + side, side)]
        quarters = [[(x, 0.0), middle, (x, side)], [(x, side), middle, (x + side, side)]]
        if hand == "r":
            half, *quarters = ([(2 * x + side - p, q) for p, q in ring[::-1]] for ring in (half, *quarters))
        polygons += [half, *quarters]
        named += ["a", "b", "c"]
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


def test_half_square_units_are_made_together_however_they_are_turned() -> None:
    _, piecing, used = gathered(*half_squares(2, 3, turned=True), copies=3)
    assert ways(piecing) == {"half-square": 1}
    (way,) = piecing.ways
    assert len(way.labels) == 4
    # derived: 12 units take 6 pairs; 6 squares of 3 7/8 in of either fabric are all the cloth.
    assert (way.makes, way.times) == (2, 6)
    assert used == pytest.approx(2 * 6 * 3.875**2)


def test_eight_at_a_time_where_as_many_are_needed_of_squares_twice_as_large() -> None:
    _, piecing, used = gathered(*half_squares(2, 3, turned=True), copies=4)
    (way,) = piecing.ways
    # derived: 16 units are twice eight; 2 squares of 2 · 3 7/8 in of either fabric, as much cloth as 8 of 3 7/8 in.
    assert (way.kind, way.makes, way.times, way.over) == ("eight half-squares", 8, 2, 0)
    assert [cut.width for cut in way.cuts] == [7.75, 7.75]
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
    # derived: of four geese two would have the fabrics the other way round. Common practice, no source: a goose of
    # 4 × 2 in is then stitched and flipped of a rectangle of 4 1/2 × 2 1/2 and two squares of 2 1/2 in.
    _, piecing, _ = gathered(*geese(4, 2, "gwv"))
    (way,) = piecing.ways
    assert (way.kind, way.makes) == ("corners", 1)
    assert [(cut.width, cut.height, cut.cut) for cut in way.cuts] == [(4.5, 2.5, 16), (2.5, 2.5, 16), (2.5, 2.5, 16)]


def test_a_square_with_its_corners_turned_over_is_cut_whole() -> None:
    # Common practice, no source: a 6 in square with 2 in corners: 6 1/2 in and four squares of 2 1/2 in.
    _, piecing, _ = gathered(*snowball(6, 6, {0: 2, 1: 2, 2: 2, 3: 2}), copies=1)
    (way,) = piecing.ways
    assert (way.kind, way.needed, way.size) == ("corners", 1, (6.5, 6.5))
    assert [(cut.width, cut.cut) for cut in way.cuts] == [(6.5, 1), (2.5, 4)]


@pytest.mark.parametrize("legs", [{0: 1}, {0: 1, 2: 2}, {1: 2, 3: 2}, {0: 1, 1: 1.5, 2: 2}, {0: 2.5, 2: 2.5}])
def test_corners_of_any_number_and_size_are_found_however_the_block_is_turned(legs: dict[int, float]) -> None:
    for turn in range(4):
        polygons, roles = snowball(6, 4, legs)
        for _ in range(turn):
            polygons = [[(-y, x) for x, y in ring] for ring in polygons]
        _, piecing, _ = gathered(polygons, roles, copies=1)
        (way,) = piecing.ways
        squares = Counter({cut.width: cut.cut for cut in way.cuts[1:]})
        assert (way.cuts[0].width, way.cuts[0].height) == (6.5, 4.5)
        assert squares == Counter(leg + 0.5 for leg in legs.values())


def test_corners_that_no_rule_shows_are_cut_by_templates() -> None:
    _, piecing, _ = gathered(*snowball(6, 6, dict.fromkeys(range(4), 5 / 3)), copies=1)
    assert not piecing.ways


def test_a_diamond_on_the_rule_is_cut_as_a_square_and_another_is_flipped() -> None:
    # derived: the square on point in 6√2 in has sides of 6 in, on the rule; in 6 in it has 3√2.
    _, piecing, _ = gathered(*snowball(6, 6, dict.fromkeys(range(4), 3)), copies=1)
    assert ways(piecing) == {"corners": 1}
    side = 6 * 2**0.5
    _, piecing, _ = gathered(*snowball(side, side, dict.fromkeys(range(4), side / 2)), copies=1)
    assert not piecing.ways


def test_half_and_quarters_come_with_their_mirror_images() -> None:
    # derived: a pair of quarters cut across gives one of either hand; a 4 in unit takes the square of a half,
    # 4 + 7/8 in, and those of quarters, 4 + 1 1/4 in.
    _, piecing, _ = gathered(*halves_and_quarters("lrrl", 4), copies=2)
    (way,) = piecing.ways
    assert (way.kind, way.times, way.makes, way.needed, way.over) == ("half and quarters", 2, 4, 8, 0)
    assert [(cut.kind, cut.width, cut.cut) for cut in way.cuts] == [
        ("square for halves", 4.875, 4), ("square for quarters", 5.25, 2), ("square for quarters", 5.25, 2),
    ]  # fmt: skip


def test_half_and_quarters_of_one_hand_are_joined_of_triangles() -> None:
    # derived: of every two that come of a pair one would be left over.
    _, piecing, _ = gathered(*halves_and_quarters("llll", 4), copies=2)
    assert not piecing.ways


def test_rows_of_a_nine_patch_are_cut_from_two_sets_of_strips() -> None:
    _, piecing, _ = gathered(*checks(3, 3))
    assert ways(piecing) == {"strip set": 2}
    assert sorted(len(way.labels) for way in piecing.ways) == [1, 2]


def test_one_block_alone_is_not_sewn_of_strips() -> None:
    _, piecing, _ = gathered(*checks(3, 3), copies=1)
    assert not piecing.ways


def test_mirror_images_are_told_apart_and_turned_ones_are_not() -> None:
    # Two triangles in an oblong, four times: as it is, a half turn round, and the mirror images of both.
    one: list[Polygon] = [[(0, 0), (2, 0), (2, 1)], [(0, 0), (2, 1), (0, 1)]]
    turned = [[(2 - x, 1 - y) for x, y in polygon] for polygon in one]
    mirrored = [[(2 - x, y) for x, y in polygon] for polygon in one]
    back = [[(x, 1 - y) for x, y in polygon] for polygon in one]
    polygons = [
        [(x + 2 * at, y) for x, y in polygon]
        for at, unit in enumerate((one, mirrored, turned, back))
        for polygon in unit
    ]
    block = Block.from_polygons(polygons, "abababab")
    construction = plan(block, method="pieced")
    pairs = {join.label: set(construction.patches_of(join.label)) for join in construction.joins}
    label = {at: next(n for n, ids in pairs.items() if ids == {str(2 * at + 1), str(2 * at + 2)}) for at in range(4)}
    alike = Alike(Units(block, construction), plan_pressing(block, construction))
    same = {(a, b) for a in range(4) for b in range(4) if alike.is_same(label[a], label[b], but_last=True)}
    assert same == {(a, b) for a in range(4) for b in range(4) if a % 2 == b % 2}


@given(
    st.sampled_from(["half", "turned", "hourglass", "geese", "checks", "corners", "three"]),
    st.integers(2, 4),
    st.integers(1, 6),
)
def test_every_join_is_told_once_or_lies_in_a_unit_that_a_way_makes(kind: str, n: int, copies: int) -> None:
    made = {
        "half": lambda: half_squares(n, 3),
        "turned": lambda: half_squares(n, 3, turned=True),
        "hourglass": lambda: hourglasses(n, 3, "abac"),
        "geese": lambda: geese(n, 2),
        "checks": lambda: checks(n, 2),
        "corners": lambda: geese(n, 2, "gwv"),
        "three": lambda: halves_and_quarters("lr" * n, 3),
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
