"""Foundations replayed: what the paper bears and what it does not."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, permutations
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.errors import SewingError
from seamproof.geometry import Transform
from seamproof.referee import Reason, replay
from seamproof.referee.foundations import Paper
from seamproof.referee.table import Table
from seamproof.referee.touching import Touching
from seamproof.sequence import Foundation, Step

if TYPE_CHECKING:
    from collections.abc import Callable


def box(x0: float, y0: float, x1: float, y1: float) -> list[tuple[float, float]]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


# A log cabin of one round: centre, then top, right, bottom, left.
CABIN = [box(1, 1, 2, 2), box(1, 2, 2, 3), box(2, 1, 3, 3), box(1, 0, 3, 1), box(0, 0, 1, 3)]
# Courthouse steps of one round: centre, top and bottom, left and right.
STEPS = [box(1, 1, 2, 2), box(1, 2, 2, 3), box(1, 0, 2, 1), box(0, 0, 1, 3), box(2, 0, 3, 3)]
PINWHEEL = [box(1, 1, 2, 2), box(0, 2, 2, 3), box(2, 1, 3, 3), box(1, 0, 3, 1), box(0, 0, 1, 2)]


def refused(hand: Any, **changes: Any) -> SewingError:
    with pytest.raises(SewingError) as caught:
        replay(hand.block, replace(hand.construction, **changes))
    return caught.value


def test_a_log_cabin_is_sewn_on_one_foundation(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "12345")
    seen = replay(hand.block, hand.construction)
    assert (seen.technique, seen.pivots, seen.partial_seams) == ("straight", 0, 0)
    assert [step.length for step in seen.seen] == pytest.approx([0, 1, 2, 2, 3])
    assert seen.contacts == 8
    assert set(seen.seen[4].pairs) == {("5", "1"), ("5", "2"), ("5", "4")}


@given(st.floats(0, 360), st.floats(0.3, 8))
def test_turning_and_scaling_change_nothing_but_lengths(turn: float, factor: float) -> None:
    # Built without fixtures: hypothesis runs the body many times.
    from seamproof.block import Block
    from seamproof.geometry import Edge
    from seamproof.sequence import Construction

    move = Transform.turn(turn, (1, 2)).then(Transform.scale(factor))
    block = Block.from_polygons(CABIN).transformed(move)
    seams = [((1, 2), (2, 2)), ((2, 1), (2, 3)), ((1, 1), (3, 1)), ((1, 0), (1, 3))]
    steps = [Step("first", foundation="A", patch="1")]
    for patch, (p, q) in enumerate(seams, 2):
        steps.append(Step("add", (move.edge(Edge(p, q)),), "A", str(patch)))
    paper = Foundation("A", tuple("12345"), tuple((p,) for p in "12345"), frozenset(pairwise("12345")))
    seen = replay(block, Construction("foundation", (paper,), (), (), tuple(steps)))
    assert [step.length for step in seen.seen] == pytest.approx([length * factor for length in (0, 1, 2, 2, 3)])


@pytest.mark.parametrize("order", ["12435", "13245", "14235", "21354"])
def test_dependent_patches_swapped_are_out_of_order(sewing: Callable[..., Any], order: str) -> None:
    assert refused(sewing(CABIN).paper("A", order)).reason == Reason.OUT_OF_ORDER


def test_steps_swapped_under_a_right_order_are_out_of_order(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "12345")
    first, second, third, *rest = hand.steps
    error = refused(hand, steps=(first, third, second, *rest))
    assert (error.reason, error.step, error.patches) == (Reason.OUT_OF_ORDER, 1, ("3", "2"))


def test_the_patch_a_seam_runs_along_too_early_is_named(sewing: Callable[..., Any]) -> None:
    right, wrong = sewing(CABIN).paper("A", "12345"), sewing(CABIN).paper("A", "12435")
    seams = {step.patch: step.seam for step in right.steps}
    steps = tuple(replace(step, seam=seams[step.patch]) for step in wrong.steps)
    error = refused(wrong, steps=steps)
    assert (error.reason, error.step, error.patches) == (Reason.OUT_OF_ORDER, 2, ("4", "3"))


def test_a_seam_that_bends_is_refused(sewing: Callable[..., Any]) -> None:
    error = refused(sewing(PINWHEEL).paper("A", "12345"))
    assert (error.reason, error.step) == (Reason.BENT_SEAM, 4)


def test_paper_that_cannot_be_folded_back_is_refused(sewing: Callable[..., Any]) -> None:
    # The third patch lies on the tongue of the first, but the second stands beyond its line.
    tongue = [(0, 0), (4, 0), (4, 2), (2, 2), (2, 1), (0, 1)]
    error = refused(sewing([tongue, box(2, 2, 4, 3), box(0, 1, 1.5, 2)]).paper("A", "123"))
    assert (error.reason, error.step, error.patches) == (Reason.CANNOT_FOLD, 2, ("1", "2", "3"))
    below = [tongue, box(0, -1, 4, 0), box(2, 2, 4, 3), box(0, 1, 1.5, 2)]
    error = refused(sewing(below).paper("A", "1234"))
    assert (error.reason, error.step, error.patches) == (Reason.CANNOT_FOLD, 3, ("1", "3", "4"))


def test_a_patch_that_crosses_its_own_seam_line_is_refused(sewing: Callable[..., Any]) -> None:
    hook = [(2, 0), (5, 0), (5, 1), (3, 1), (3, 2), (2, 2)]
    assert refused(sewing([box(3, 1, 4, 2), hook]).paper("A", "12")).reason == Reason.BENT_SEAM
    arm = [(2, -1), (5, -1), (5, 1), (4, 1), (4, 0), (2, 0)]
    assert refused(sewing([box(2, 0, 3.5, 2), arm]).paper("A", "12")).reason == Reason.CANNOT_FOLD


def test_an_l_shaped_outline_is_sewn_where_every_fold_is_free(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(0, 0, 2, 2), box(0, 2, 2, 4), box(2, 0, 4, 2)]).paper("A", "123")
    assert replay(hand.block, hand.construction).contacts == 2


def test_a_patch_that_touches_nothing_sewn_before_is_refused(sewing: Callable[..., Any]) -> None:
    bridge = sewing([box(0, 1, 3, 2), box(0, 0, 1, 1), box(2, 0, 3, 1)]).paper("A", "231")
    assert refused(bridge).reason == Reason.NO_CONTACT
    strips = sewing([box(0, 0, 1, 1), box(1, 0, 2, 1), box(2, 0, 3, 1)]).paper("A", "132")
    assert refused(strips).reason == Reason.OUT_OF_ORDER


def test_a_gap_in_the_contact_is_not_one_seam(sewing: Callable[..., Any]) -> None:
    apart = [box(0, 0, 1, 1), box(1, 0, 2, 0.5), box(2, 0, 3, 1), box(0, 1, 3, 2)]
    assert refused(sewing(apart).paper("A", "1234")).reason == Reason.NOT_ONE_SEAM


def test_a_seam_told_too_short_leaves_contact_open(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "12345")
    short = replace(hand.steps[2], seam=hand.path((2, 1), (2, 2)))
    error = refused(hand, steps=(*hand.steps[:2], short, *hand.steps[3:]))
    assert (error.reason, error.patches) == (Reason.OPEN_CONTACT, ("2", "3"))


def test_a_seam_told_too_long_runs_where_nothing_touches(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "12345")
    long = replace(hand.steps[1], seam=hand.path((1, 2), (2.5, 2)))
    assert refused(hand, steps=(hand.steps[0], long, *hand.steps[2:])).reason == Reason.NO_CONTACT


def test_a_patch_missing_twice_or_unknown_is_refused(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "1234")
    assert refused(hand, loose=()).reason == Reason.MISSING_PATCH
    assert refused(hand, loose=("5", "4")).reason == Reason.PATCH_TWICE
    assert refused(hand, loose=("5", "9")).reason == Reason.UNKNOWN_PATCH


def test_steps_missing_or_repeated_are_refused(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "12345")
    assert refused(hand, steps=tuple(hand.steps[:-1])).reason == Reason.STEPS_DISAGREE
    assert refused(hand, steps=(*hand.steps[:3], *hand.steps[2:])).reason == Reason.PATCH_TWICE
    assert refused(hand, steps=(replace(hand.steps[0], kind="add"), *hand.steps[1:])).reason == Reason.STEPS_DISAGREE
    assert refused(hand, steps=(replace(hand.steps[0], foundation="B"),)).reason == Reason.UNKNOWN_UNIT


def test_patches_that_lie_on_one_another_are_refused(sewing: Callable[..., Any]) -> None:
    error = refused(sewing([box(0, 0, 2, 1), box(1, 0, 3, 1)]))
    assert (error.reason, error.patches) == (Reason.OVERLAP, ("1", "2"))


def test_the_free_patches_of_a_round_may_be_sewn_in_any_order(sewing: Callable[..., Any]) -> None:
    hand = sewing(STEPS).paper("A", "12345", groups=["1", "23", "45"])
    assert replay(hand.block, hand.construction).contacts == 8


@pytest.mark.parametrize("groups", [["1", "2", "34", "5"], ["12", "3", "4", "5"], ["1", "2345"], ["1", "2", "3"]])
def test_a_group_that_is_not_free_is_refused(sewing: Callable[..., Any], groups: list[str]) -> None:
    assert refused(sewing(STEPS).paper("A", "12345", groups=groups)).reason == Reason.NOT_FREE


def test_two_that_are_not_free_are_named_wherever_they_stand_in_their_group(sewing: Callable[..., Any]) -> None:
    # Of five strips begun in the middle, the second is free of the fourth and the fifth, which are not of one another.
    hand = sewing([box(k, 0, k + 1, 3) for k in range(5)]).paper("A", "32451", groups=["3", "245", "1"])
    error = refused(hand)
    assert (error.reason, error.patches) == (Reason.NOT_FREE, ("4", "5"))


STEPS_RELATION = {("1", "2"), ("1", "3"), *((a, b) for a in "23" for b in "45")}


def test_the_relation_of_courthouse_steps_is_accepted_as_it_is(sewing: Callable[..., Any]) -> None:
    hand = sewing(STEPS).paper("A", "12345", precedes=STEPS_RELATION)
    assert replay(hand.block, hand.construction).contacts == 8


@pytest.mark.parametrize("change", [{("2", "3")}, {("2", "4")}, {("1", "4")}, {("1", "2")}, {("4", "2")}, {("2", "9")}])
def test_a_relation_with_a_pair_too_many_or_too_few_is_refused(
    sewing: Callable[..., Any], change: set[tuple[str, str]]
) -> None:
    hand = sewing(STEPS).paper("A", "12345", precedes=STEPS_RELATION ^ change)
    assert refused(hand).reason == Reason.WRONG_PRECEDENCE


SMALL = {
    "cabin": CABIN,
    "courthouse steps": STEPS,
    "square in a square": [[(2, 0), (4, 2), (2, 4), (0, 2)], [(0, 0), (2, 0), (0, 2)], [(4, 0), (4, 2), (2, 0)],
                           [(4, 4), (2, 4), (4, 2)], [(0, 4), (0, 2), (2, 4)]],
    "leaning strips": [[(0, 0), (1, 0), (2, 3), (0, 3)], [(1, 0), (2, 0), (2.5, 3), (2, 3)], box(4, 0, 5, 3),
                       [(2, 0), (4, 0), (4, 3), (2.5, 3)]],
    "chair": [box(0, 0, 4, 1), box(0, 1, 1, 2), box(4, 0, 5, 3)],
    "ell": [box(0, 0, 2, 2), box(0, 2, 2, 4), box(2, 0, 4, 2)],
}  # fmt: skip


@pytest.mark.parametrize("name", SMALL)
def test_valid_orders_are_the_linear_extensions_of_the_relation(sewing: Callable[..., Any], name: str) -> None:
    # Source: computed independently: every permutation replayed, with its seams as shapely sees them.
    block = sewing(SMALL[name]).block
    ids = block.ids
    for first in ids:
        valid = set()
        for rest in permutations([patch for patch in ids if patch != first]):
            hand = sewing(SMALL[name]).paper("A", (first, *rest))
            try:
                replay(block, hand.construction)
            except SewingError as error:
                assert error.reason != Reason.WRONG_PRECEDENCE
                continue
            valid.add((first, *rest))
        for order in list(valid)[:3]:
            pairs = _relation(sewing(SMALL[name]).paper("A", order))
            extensions = {
                (first, *rest)
                for rest in permutations([patch for patch in ids if patch != first])
                if all((first, *rest).index(a) < (first, *rest).index(b) for a, b in pairs)
            }
            assert extensions == valid


def _relation(hand: Any) -> set[tuple[str, str]]:
    table = Table(hand.block, hand.construction, Touching.of([p.outline for p in hand.block.patches]), 0.25)
    order = hand.foundations[0].order
    paper = Paper(table, hand.foundations[0], tuple((table.index[p],) for p in order))
    paper.first()
    for number, step in enumerate(hand.steps[1:], 1):
        paper.add(step, number)
    return {
        (order[a], order[b]) for b, before in enumerate(paper.relation()) for a in range(len(order)) if before >> a & 1
    }


def test_a_short_seam_points_no_more_exactly_than_its_corners_do(sewing: Callable[..., Any]) -> None:
    # The patch's corner is 0.00009 in off; carried on for a foot, its seam line is off by 0.0035 in, and means nothing.
    hand = sewing([box(0, 0, 12, 1), [(0.5, 1.00009), (0.8, 1), (0.8, 2), (0.5, 2)]])
    hand.paper("A", "12", precedes=[("1", "2")]).steps[1] = Step("add", hand.path((0.5, 1), (0.8, 1)), "A", "2")
    assert replay(hand.block, hand.construction).contacts == 1


def test_a_seam_told_along_a_patch_of_another_paper_is_no_matter_of_order(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(x, 0, x + 1, 2) for x in range(4)]).paper("A", "12").paper("B", "34")
    hand.join("A", "B", hand.contact("12", "34"))
    hand.steps[1] = replace(hand.steps[1], seam=hand.path((2, 0), (2, 2)))
    error = refused(hand)
    assert (error.reason, error.step, error.patches) == (Reason.OPEN_CONTACT, 1, ("1", "2"))


def test_a_unit_told_to_be_laid_along_a_seam_inside_it_is_no_matter_of_order(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(0, 0, 2, 1), box(0, 1, 1, 2), box(1, 1, 2, 2)]).paper("A", "23")
    hand.foundations.append(Foundation("B", ("1", "A"), (("1",), ("A",)), frozenset({("1", "A")})))
    hand._papered.add("1")
    hand.steps.append(Step("first", foundation="B", patch="1"))
    hand.steps.append(Step("add", hand.path((2, 1), (0, 1)), "B", unit="A"))
    assert replay(hand.block, hand.construction).contacts == 3
    hand.steps[-1] = Step("add", hand.path((1, 1), (1, 2)), "B", unit="A")
    error = refused(hand)
    assert (error.reason, error.step, set(error.patches)) == (Reason.OPEN_CONTACT, 3, set("123"))


TWINS = [box(0, 0, 1, 2), box(1, 0, 3, 2), box(3, 0, 4, 2), box(4, 0, 6, 2)]


def test_a_twin_turned_round_is_a_twin_and_a_mirror_image_is_not(sewing: Callable[..., Any]) -> None:
    leaning = [[(0, 0), (2, 0), (1, 2), (0, 2)], [(2, 0), (3, 0), (3, 2), (1, 2)]]
    turned = [[(6 - x, 2 - y) for x, y in ring] for ring in leaning]
    hand = sewing([*leaning, *turned]).paper("A", "12").paper("B", "34", twin_of="A")
    hand.join("A", "B", hand.contact("12", "34"))
    assert replay(hand.block, hand.construction).contacts == 3
    mirrored = [[(6 - x, y) for x, y in ring] for ring in leaning]
    hand = sewing([*leaning, *mirrored]).paper("A", "12").paper("B", "34", twin_of="A")
    hand.join("A", "B", hand.contact("12", "34"))
    assert refused(hand).reason == Reason.WRONG_TWIN


@pytest.mark.parametrize(
    ("roles", "order", "model"), [("abac", "34", "A"), ("abab", "43", "A"), ("abab", "34", "B"), ("abab", "34", "Z")]
)
def test_a_wrong_twin_is_refused(sewing: Callable[..., Any], roles: str, order: str, model: str) -> None:
    hand = sewing(TWINS, roles=list(roles)).paper("A", "12").paper("B", order, twin_of=model)
    hand.join("A", "B", hand.contact("12", "34"))
    assert refused(hand).reason == Reason.WRONG_TWIN
