"""Laws of repair: the fewest seams carried on."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

import seamproof as sp
from seamproof.planning.repair import carry_on, repair

Polygons = list[list[tuple[float, float]]]
PINWHEEL: Polygons = [
    [(0, 0), (2, 0), (2, 1), (0, 1)], [(2, 0), (3, 0), (3, 2), (2, 2)], [(1, 2), (3, 2), (3, 3), (1, 3)],
    [(0, 1), (1, 1), (1, 3), (0, 3)], [(1, 1), (2, 1), (2, 2), (1, 2)],
]  # fmt: skip
ELL: Polygons = [[(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)], [(1, 1), (2, 1), (2, 2), (1, 2)]]


def beside(block: Polygons, dx: float) -> Polygons:
    return [*block, *[[(x + dx, y) for x, y in ring] for ring in block]]


def box() -> Polygons:
    """Three diamonds that meet at a wye, as a tumbling block: a hexagon."""
    corner = [(math.cos(math.radians(60 * i)), math.sin(math.radians(60 * i))) for i in range(6)]
    return [[(0, 0), corner[i], corner[i + 1], corner[(i + 2) % 6]] for i in (0, 2, 4)]


@pytest.mark.parametrize(
    ("polygons", "least"),
    [
        (PINWHEEL, 1),  # Source: derived: any one of its four lines carried on breaks the ring.
        (ELL, 1),  # Source: derived: either arm's edge carried on makes a tee of the bend.
        (beside(PINWHEEL, 3), 2),  # Source: derived: two rings that share no seam need one each.
        (box(), 1),  # Source: derived: one edge carried on through the wye.
    ],
    ids=["pinwheel", "L", "two pinwheels", "tumbling block"],
)  # fmt: skip
def test_the_fewest_additions(polygons: Polygons, least: int) -> None:
    mended = repair(sp.Block.from_polygons(polygons))
    assert (len(mended.additions), mended.is_least) == (least, True)
    mended.block.check()
    construction = sp.plan(mended.block)
    assert construction.technique == "straight"
    sp.replay(mended.block, construction)


def test_what_straight_seams_sew_needs_no_addition() -> None:
    strips = sp.Block.from_polygons([[(i, 0), (i + 1, 0), (i + 1, 4), (i, 4)] for i in range(4)])
    mended = repair(strips)
    assert (mended.additions, mended.block, mended.is_least) == ((), strips, True)


def test_a_four_patch_takes_two_foundations_whatever_is_carried_on() -> None:
    four = sp.Block.from_polygons([[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)] for x in (0, 1) for y in (0, 1)])
    assert len(sp.plan(four).foundations) == 2
    # Source: derived: through the crossing passes the join of two papers, whatever is added.
    mended = repair(four, foundations=1)
    assert (mended.solved, mended.never) == (False, True)


def test_a_patch_parted_keeps_its_role_and_its_area() -> None:
    block = sp.Block.from_polygons(PINWHEEL, roles=list("abcde"))
    parted, addition = carry_on(block, "2", (2.0, 1.0), (1.0, 0.0))
    assert addition.pieces == ("2a", "2b")
    assert addition.end == (3.0, 1.0)
    assert {parted.patch(name).role for name in addition.pieces} == {"b"}
    assert sum(parted.patch(name).outline.area for name in addition.pieces) == pytest.approx(2)


@pytest.mark.parametrize("toward", [(-1.0, 0.0), (0.0, 1.0)])
def test_a_line_that_does_not_cross_the_patch_is_refused(toward: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="does not cross"):
        carry_on(sp.Block.from_polygons(PINWHEEL), "2", (2.0, 1.0), toward)


def test_when_the_search_must_end_early_it_says_what_it_proved() -> None:
    mended = repair(sp.Block.from_polygons(beside(beside(PINWHEEL, 3), 6)), looks=20)
    assert mended.bound <= 4 <= len(mended.additions)
    mended.block.check()


def test_no_single_carry_mends_two_rings() -> None:
    # Computed independently: every single line across every patch, from every corner of a patch on its outline.
    block = sp.Block.from_polygons(beside(PINWHEEL, 3))
    places = {point for patch in block.patches for point in patch.outline.points}
    for patch in block.patches:
        on = [p for p in places if _is_on(p, patch)]
        for p, q in combinations(on, 2):
            for start, end in ((p, q), (q, p)):
                try:
                    parted, _ = carry_on(block, patch.id, start, (end[0] - start[0], end[1] - start[1]))
                except ValueError:
                    continue
                assert sp.plan(parted).technique != "straight"


def _is_on(p: tuple[float, float], patch: sp.Patch) -> bool:
    x0, y0, x1, y1 = patch.outline.bounds
    return x0 <= p[0] <= x1 and y0 <= p[1] <= y1 and (p[0] in {x0, x1} or p[1] in {y0, y1})
