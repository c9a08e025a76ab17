"""Pieced blocks, blocks by hand, a single patch, the first patch, labels and steps."""

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


def squares(columns: int, rows: int) -> sp.Block:
    return sp.Block.from_polygons([rectangle(i, j, 1, 1) for j in range(rows) for i in range(columns)])


def half_squares(columns: int, rows: int) -> sp.Block:
    """Squares halved corner to corner."""
    patches: list[Ring] = []
    for j in range(rows):
        for i in range(columns):
            patches += [[(i, j), (i + 1, j), (i + 1, j + 1)], [(i, j), (i + 1, j + 1), (i, j + 1)]]
    return sp.Block.from_polygons(patches)


def hexagons(rings: int) -> sp.Block:
    patches = []
    for q in range(-rings, rings + 1):
        for r in range(max(-rings, -q - rings), min(rings, rings - q) + 1):
            x, y = math.sqrt(3) * (q + r / 2), 1.5 * r
            turns = [math.radians(60 * k + 30) for k in range(6)]
            patches.append([(x + math.cos(turn), y + math.sin(turn)) for turn in turns])
    return sp.Block.from_polygons(patches)


PINWHEEL = sp.Block.from_polygons(
    [rectangle(1, 1, 1, 1), rectangle(0, 0, 2, 1), rectangle(2, 0, 1, 2), rectangle(1, 2, 2, 1), rectangle(0, 1, 1, 2)]
)


def planned(block: sp.Block, method: Method) -> sp.Construction:
    construction = sp.plan(block, method)
    sp.replay(block, construction)
    return construction


def sizes(construction: sp.Construction) -> list[int]:
    """How many patches each join makes one unit of, in sewing order."""
    return [len(construction.patches_of(join.label)) for join in construction.joins]


def test_pieced_every_patch_is_cut_plain() -> None:
    construction = planned(squares(3, 3), "pieced")
    assert sorted(construction.loose) == sorted(squares(3, 3).ids)
    assert construction.foundations == ()
    assert construction.bounds.foundations == 0
    assert construction.optimal


def test_pieced_nine_squares_are_sewn_in_rows() -> None:
    construction = planned(squares(3, 3), "pieced")
    assert sizes(construction) == [2, 2, 2, 3, 3, 3, 6, 9]
    assert [round(join.length) for join in construction.joins] == [1, 1, 1, 1, 1, 1, 3, 3]


def test_pieced_half_squares_are_made_together_first() -> None:
    construction = planned(half_squares(4, 4), "pieced")
    assert sizes(construction)[:16] == [2] * 16
    assert sizes(construction)[16:] == [4] * 8 + [8] * 4 + [16] * 2 + [32]


def test_pieced_long_seams_come_last() -> None:
    lengths = [join.length for join in planned(half_squares(4, 2), "pieced").joins]
    assert lengths[-1] == max(lengths)


@pytest.mark.parametrize("method", ["foundation", "pieced"])
def test_a_pinwheel_takes_one_partial_seam(method: Method) -> None:
    """Source: derived: the smallest that straight seams cannot sew; one partial seam, or one pivot."""
    construction = planned(PINWHEEL, method)
    assert construction.technique == "partial"
    assert (construction.partial_seams, construction.bounds.partial_seams, construction.pivots) == (1, 1, 0)
    kinds = [step.kind for step in construction.steps]
    assert kinds == ["start", "join", "join", "join", "finish"]


def test_foundations_serve_between_partial_seams() -> None:
    rooms = [rectangle(1, 1, 1, 1), rectangle(2, 0, 1, 2), rectangle(1, 2, 2, 1), rectangle(0, 1, 1, 2)]
    block = sp.Block.from_polygons([rooms[0], *(rectangle(0, y, 2, 0.5) for y in (0, 0.5)), *rooms[1:]])
    construction = planned(block, "foundation")
    assert construction.technique == "partial"
    assert {"2", "3"} in [set(foundation.order) for foundation in construction.foundations]


@pytest.mark.parametrize("rings", [1, 2])
@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
def test_hexagons_take_as_many_pivots_as_inner_junctions(method: Method, rings: int) -> None:
    """Source: derived: every inner junction is a wye, and each takes one pivot in every construction."""
    inner = 6 * rings**2
    construction = planned(hexagons(rings), method)
    assert construction.pivots == construction.bounds.pivots == inner


def test_by_hand_rounds_are_sewn_outward() -> None:
    construction = planned(hexagons(2), "hand")
    assert [step.kind for step in construction.steps] == ["join"] * 18
    middle = "10"
    first_ring = {"5", "6", "9", "11", "14", "15"}
    assert set(construction.patches_of("J6")) == {middle, *first_ring}
    assert all(join.first in construction.loose for join in construction.joins)


def test_by_hand_a_corner_to_turn_waits_as_long_as_it_can() -> None:
    pivots = [len(join.pivots) for join in planned(hexagons(1), "hand").joins]
    assert pivots == [0, 1, 1, 1, 1, 2]


def test_by_hand_the_maker_chooses_the_first_patch() -> None:
    construction = sp.plan(hexagons(1), "hand", first="1")
    assert construction.joins[0].second == "1"


def test_a_single_patch_needs_no_sewing() -> None:
    block = squares(1, 1)
    for method in ("foundation", "pieced", "hand"):
        construction = planned(block, method)
        assert (construction.loose, construction.joins, construction.steps) == (("1",), (), ())
        assert construction.whole == "1"
    assert sp.plan(block, first="1") == planned(block, "foundation")


def test_all_papers_are_sewn_before_the_first_join() -> None:
    kinds = [step.kind for step in planned(squares(4, 4), "foundation").steps]
    assert set(kinds[kinds.index("join") :]) == {"join"}
    assert kinds.count("join") == 3


def test_labels_leave_out_what_reads_as_a_figure_or_a_join() -> None:
    construction = planned(squares(10, 10), "foundation")
    assert [foundation.label for foundation in construction.foundations] == list("ABCDEFGHKL")
    assert [join.label for join in construction.joins] == [f"J{number}" for number in range(1, 10)]


def test_the_maker_chooses_the_first_patch_of_a_twin() -> None:
    construction = sp.plan(squares(2, 2), first="4")
    orders = [foundation.order for foundation in construction.foundations]
    assert "4" in {order[0] for order in orders}
    assert construction.foundations[1].twin_of == "A"


def test_a_patch_joined_by_itself_cannot_be_first() -> None:
    rounds = [rectangle(2, 0, 1, 2), rectangle(0, 2, 3, 1), rectangle(-1, 0, 1, 3), rectangle(-1, -1, 4, 1)]
    block = sp.Block.from_polygons([*(rectangle(i, j, 1, 1) for j in range(2) for i in range(2)), *rounds])
    lone = sp.plan(block).loose[-1]
    with pytest.raises(sp.NotSewable, match="joined by itself") as caught:
        sp.plan(block, first=lone)
    assert caught.value.reason == "first"


def test_a_first_patch_that_is_not_in_the_block_is_refused() -> None:
    with pytest.raises(sp.BlockError, match="no patch '7'"):
        sp.plan(squares(2, 2), first="7")


def test_pieced_there_is_no_first_patch() -> None:
    with pytest.raises(sp.NotSewable, match="no first patch"):
        sp.plan(squares(2, 2), "pieced", first="1")


def test_an_unknown_method_is_refused_with_those_there_are() -> None:
    with pytest.raises(sp.NotSewable, match="foundation, pieced, hand"):
        sp.plan(squares(2, 2), "glued")  # type: ignore[arg-type]
