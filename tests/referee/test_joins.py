"""Joins replayed: straight, curved, partial and set in."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from seamproof.block import Block, Patch
from seamproof.errors import SewingError
from seamproof.geometry import Edge, Outline
from seamproof.referee import Reason, replay
from seamproof.sequence import Construction, Join, Step

if TYPE_CHECKING:
    from collections.abc import Callable


def box(x0: float, y0: float, x1: float, y1: float) -> list[tuple[float, float]]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


FOUR = [box(0, 0, 1, 1), box(1, 0, 2, 1), box(0, 1, 1, 2), box(1, 1, 2, 2)]
PINWHEEL = [box(1, 1, 2, 2), box(0, 2, 2, 3), box(2, 1, 3, 3), box(1, 0, 3, 1), box(0, 0, 1, 2)]
ELL = [[(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)], box(2, 2, 4, 4)]


def refused(hand: Any, **changes: Any) -> SewingError:
    with pytest.raises(SewingError) as caught:
        replay(hand.block, replace(hand.construction, **changes))
    return caught.value


@pytest.fixture
def four(sewing: Callable[..., Any]) -> Any:
    """A four-patch in two pairs."""
    hand = sewing(FOUR)
    hand.join("1", "2", hand.contact("1", "2"))
    hand.join("3", "4", hand.contact("3", "4"))
    hand.join("J1", "J2", hand.contact("12", "34"))
    return hand


def test_a_four_patch_is_joined_in_pairs(four: Any) -> None:
    seen = replay(four.block, four.construction)
    assert (seen.contacts, seen.technique) == (4, "straight")
    assert [step.length for step in seen.seen] == pytest.approx([1, 1, 2])


def test_the_first_unit_lies_on_the_left(four: Any) -> None:
    swapped = replace(four.joins[0], first="2", second="1")
    assert refused(four, joins=(swapped, *four.joins[1:])).reason == Reason.WRONG_SIDES


def test_a_join_before_its_units_is_out_of_order(four: Any) -> None:
    steps, joins = four.steps, four.joins
    error = refused(four, steps=(steps[0], steps[2], steps[1]), joins=(joins[0], joins[2], joins[1]))
    assert (error.reason, error.step) == (Reason.OUT_OF_ORDER, 1)


def test_a_join_of_no_unit_or_of_one_used_up_is_refused(four: Any) -> None:
    joins = four.joins
    assert refused(four, joins=(joins[0], joins[1], replace(joins[2], second="Q"))).reason == Reason.UNKNOWN_UNIT
    assert refused(four, joins=(joins[0], joins[1], replace(joins[2], first="1"))).reason == Reason.PATCH_TWICE
    assert refused(four, joins=tuple(joins[:2])).reason == Reason.UNKNOWN_UNIT


def test_what_is_never_joined_is_refused(four: Any) -> None:
    error = refused(four, joins=tuple(four.joins[:2]), steps=tuple(four.steps[:2]))
    assert (error.reason, set(error.patches)) == (Reason.OPEN_CONTACT, set("1234"))
    assert refused(four, steps=tuple(four.steps[:2])).reason == Reason.STEPS_DISAGREE


def test_a_join_sewn_twice_or_told_two_ways_is_refused(four: Any) -> None:
    assert refused(four, steps=(four.steps[0], *four.steps)).reason == Reason.STEPS_DISAGREE
    other = replace(four.steps[0], seam=four.steps[1].seam)
    assert refused(four, steps=(other, *four.steps[1:])).reason == Reason.STEPS_DISAGREE


@pytest.mark.parametrize("kind", ["start", "finish", "first"])
def test_a_seam_in_one_pass_is_sewn_by_a_step_that_says_so(four: Any, kind: str) -> None:
    error = refused(four, steps=(four.steps[0], replace(four.steps[1], kind=kind), four.steps[2]))
    reason = Reason.UNKNOWN_UNIT if kind == "first" else Reason.STEPS_DISAGREE
    assert (error.reason, error.step) == (reason, 1)


def test_what_the_steps_tell_otherwise_is_named_with_its_step(four: Any) -> None:
    first, second, third = four.steps
    told = (
        (first, second, replace(third, seam=second.seam)),
        (first, second, replace(second, kind="finish")),
        (first, second, second),
        (first, second, replace(third, join="J9")),
    )
    for steps in told:
        assert refused(four, steps=steps).step == 2


def test_a_seam_that_leaves_out_contact_or_runs_on_is_refused(sewing: Callable[..., Any]) -> None:
    for seam, reason in (
        ([(1, 0.5), (1, 0)], Reason.OPEN_CONTACT),
        ([(1, 0), (1, 1.5)], Reason.NO_CONTACT),
        ([(0, 0), (0, 1)], Reason.OPEN_CONTACT),
    ):
        hand = sewing(FOUR[:2])
        hand.join("1", "2", hand.path(*seam))
        assert refused(hand).reason == reason


def test_units_that_do_not_touch_cannot_be_joined(sewing: Callable[..., Any]) -> None:
    hand = sewing(FOUR)
    hand.join("1", "4", hand.path((1, 1), (1, 2)))
    assert refused(hand).reason == Reason.NO_CONTACT


def test_an_ell_and_its_quarter_take_one_pivot(sewing: Callable[..., Any]) -> None:
    # Source: derived: one bend, no wye: one pivot.
    hand = sewing(ELL)
    hand.join("1", "2", hand.path((4, 2), (2, 2), (2, 4)), "set-in", pivots=[(2, 2)])
    seen = replay(hand.block, hand.construction)
    assert (seen.technique, seen.pivots) == ("set-in", 1)


def ell(sewing: Callable[..., Any], kind: str, *pivots: tuple[float, float]) -> Any:
    hand = sewing(ELL)
    hand.join("1", "2", hand.contact("1", "2"), kind, pivots=pivots)
    return hand


def test_a_straight_seam_that_bends_is_refused(sewing: Callable[..., Any]) -> None:
    error = refused(ell(sewing, "straight"))
    assert (error.reason, error.patches) == (Reason.BENT_SEAM, ("1", "2"))


def test_a_pivot_elsewhere_than_at_the_bend_is_refused(sewing: Callable[..., Any]) -> None:
    assert refused(ell(sewing, "set-in", (3, 2))).reason == Reason.IDLE_PIVOT
    assert refused(ell(sewing, "set-in", (2, 2), (2, 4))).reason == Reason.IDLE_PIVOT
    assert refused(ell(sewing, "set-in", (2, 2), (2, 2))).reason == Reason.IDLE_PIVOT


@pytest.mark.parametrize("kind", ["straight", "partial", "curved"])
def test_a_join_of_another_kind_than_it_says_is_refused(sewing: Callable[..., Any], kind: str) -> None:
    assert refused(ell(sewing, kind, (2, 2))).reason == Reason.WRONG_KIND


# Three patches round a wye at (2, 2): two set-in pivots would be one too many.
WYE = [[(0, 0), (4, 0), (4, 1), (2, 2), (0, 1)], [(4, 1), (4, 4), (2, 4), (2, 2)], [(0, 1), (2, 2), (2, 4), (0, 4)]]


def wye(sewing: Callable[..., Any], *pivots: tuple[float, float], kind: str = "set-in") -> Any:
    hand = sewing(WYE)
    hand.join("2", "3", hand.contact("2", "3"))
    hand.join("1", "J1", hand.contact("1", "23"), kind, pivots=pivots)
    return hand


def test_a_wye_takes_one_pivot_and_it_is_counted(sewing: Callable[..., Any]) -> None:
    hand = wye(sewing, (2, 2))
    assert replay(hand.block, hand.construction).pivots == 1
    assert refused(wye(sewing, kind="straight")).reason == Reason.BENT_SEAM


def test_an_uncounted_pivot_is_refused(sewing: Callable[..., Any]) -> None:
    # A trapezium set into a U: two bends, one counted.
    hand = sewing([[(0, 0), (5, 0), (5, 3), (4, 3), (3, 1), (2, 1), (1, 3), (0, 3)], [(1, 3), (2, 1), (3, 1), (4, 3)]])
    hand.join("1", "2", hand.contact("1", "2"), "set-in", pivots=[(2, 1)])
    assert refused(hand).reason == Reason.UNDECLARED_PIVOT
    join = replace(hand.joins[0], pivots=((2, 1), (3, 1)))
    assert replay(hand.block, replace(hand.construction, joins=(join,))).pivots == 2


def test_a_pivot_where_the_seam_runs_on_in_line_is_refused(four: Any) -> None:
    idle = replace(four.joins[2], kind="set-in", pivots=((1, 1),))
    assert refused(four, joins=(*four.joins[:2], idle)).reason == Reason.IDLE_PIVOT


def test_one_pivot_serves_the_seam_that_stops_at_a_wye_and_the_one_that_turns_there(sewing: Callable[..., Any]) -> None:
    # Patch 1 fills 200° of the wye at (2, 2): the seam of 1 and 2 stops dead where that of 3 is turned.
    b, c = (2 + 2 / math.tan(math.radians(60)), 4.0), (0.0, 2 + 2 * math.tan(math.radians(20)))
    hand = sewing([[(0, 0), (4, 0), (4, 2), (2, 2), c], [(2, 2), (4, 2), (4, 4), b], [(2, 2), b, (0, 4), c]])
    hand.join("1", "2", hand.path((4, 2), (2, 2)))
    hand.join("3", "J1", hand.path(c, (2, 2), b)[::1], "set-in", pivots=[(2, 2)])
    assert replay(hand.block, hand.construction).pivots == 1


# A step in the outline: the seam between 1 and 2 ends at (2, 2), where patch 1 goes on ahead of it.
DEAD = [[(0, 0), (4, 0), (4, 4), (3, 4), (2, 2), (0, 2)], [(0, 2), (2, 2), (2, 3), (0, 3)]]


def dead(sewing: Callable[..., Any], kind: str, *pivots: tuple[float, float]) -> Any:
    hand = sewing(DEAD)
    hand.join("1", "2", hand.contact("1", "2"), kind, pivots=pivots)
    return hand


def test_a_seam_that_must_stop_dead_is_a_pivot(sewing: Callable[..., Any]) -> None:
    assert refused(dead(sewing, "straight")).reason == Reason.UNDECLARED_PIVOT
    hand = dead(sewing, "set-in", (2, 2))
    assert replay(hand.block, hand.construction).pivots == 1
    assert refused(dead(sewing, "set-in", (2, 2), (0, 2))).reason == Reason.IDLE_PIVOT
    assert refused(dead(sewing, "set-in", (2, 2), (2, 2))).reason == Reason.IDLE_PIVOT


def test_a_seam_may_run_out_along_its_own_outline(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(0, 0, 4, 2), box(0, 2, 2, 3)])
    hand.join("1", "2", hand.contact("1", "2"))
    assert replay(hand.block, hand.construction).contacts == 1


def test_cloth_farther_off_than_an_allowance_does_not_stop_a_seam(sewing: Callable[..., Any]) -> None:
    # A U whose far arm stands 0.5 in beyond the end of the seam.
    hand = sewing([[(0, 0), (4, 0), (4, 3), (2.5, 3), (2.5, 1), (0, 1)], box(0, 1, 2, 2)])
    hand.join("1", "2", hand.contact("1", "2"))
    near = [[(0, 0), (4, 0), (4, 3), (2.5, 3), (2.5, 1), (0, 1)], [(0, 1), (2, 1), (2, 2), (0, 2)]]
    assert replay(sewing(near).block, hand.construction, allowance=0.25).pivots == 0
    # With the step moved up by a hair the seam's line runs into the arm.
    raised = [[(0, 0), (4, 0), (4, 3), (2.5, 3), (2.5, 0.9), (2, 0.9), (2, 1), (0, 1)], box(0, 1, 2, 2)]
    hand = sewing(raised)
    hand.join("1", "2", hand.contact("1", "2"))
    assert replay(hand.block, hand.construction, allowance=0.25).pivots == 0
    with pytest.raises(SewingError) as caught:
        replay(hand.block, hand.construction, allowance=0.75)
    assert caught.value.reason == Reason.UNDECLARED_PIVOT


def test_a_join_in_two_stretches_is_refused(sewing: Callable[..., Any]) -> None:
    u_and_bar = [[(0, 0), (3, 0), (3, 2), (2, 2), (2, 1), (1, 1), (1, 2), (0, 2)], box(0, 2, 3, 3)]
    for seam in [[(1, 2), (0, 2)], [(3, 2), (2, 2)]]:
        hand = sewing(u_and_bar)
        hand.join("1", "2", hand.path(*seam))
        assert refused(hand).reason == Reason.OPEN_CONTACT
    across = sewing(u_and_bar)
    across.join("1", "2", across.path((3, 2), (0, 2)))
    assert refused(across).reason == Reason.NOT_ONE_SEAM


def test_a_frame_closed_round_a_hole_is_refused(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(0, 0, 3, 1), box(2, 1, 3, 3), box(0, 2, 2, 3), box(0, 1, 1, 2), box(1, 1, 2, 2)])
    hand.join("1", "2", hand.contact("1", "2"))
    hand.join("J1", "3", hand.contact("12", "3"))
    hand.join("J2", "4", hand.path((1, 2), (0, 2)))
    error = refused(hand)
    assert (error.reason, error.step, set(error.patches)) == (Reason.OPEN_CONTACT, 2, set("14"))


BOW = math.tan(math.pi / 8)


def drunkard(kind: str, *, bow: float = BOW) -> tuple[Block, Construction]:
    """A quarter disc in a square, joined by one arc."""
    fan = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (0, 2), bow), Edge((0, 2), (0, 0))))
    edges = [Edge((2, 0), (3, 0)), Edge((3, 0), (3, 3)), Edge((3, 3), (0, 3)), Edge((0, 3), (0, 2)),
             Edge((0, 2), (2, 0), -bow)]  # fmt: skip
    block = Block("path", (Patch("1", fan), Patch("2", Outline(tuple(edges)))))
    join = Join("J1", "1", "2", (Edge((2, 0), (0, 2), bow),), kind)  # type: ignore[arg-type]
    return block, Construction("pieced", (), ("1", "2"), (join,), (Step("join", join.seam, join="J1"),))


def test_one_smooth_arc_is_a_curved_seam() -> None:
    block, con = drunkard("curved")
    seen = replay(block, con)
    assert seen.technique == "curved"
    assert seen.seen[0].length == pytest.approx(math.pi)
    with pytest.raises(SewingError) as caught:
        replay(*drunkard("straight"))
    assert caught.value.reason == Reason.WRONG_KIND


def test_an_arc_told_flatter_than_it_is_does_not_run_along_the_contact() -> None:
    block, _ = drunkard("curved")
    _, flat = drunkard("curved", bow=BOW * 0.9)
    with pytest.raises(SewingError) as caught:
        replay(block, flat)
    assert caught.value.reason == Reason.OPEN_CONTACT


def test_an_arc_that_ends_in_a_line_bends() -> None:
    wave = (Edge((2, 0), (0, 2), BOW), Edge((0, 2), (0, 3)))
    left = Outline((Edge((-1, 0), (2, 0)), *wave, Edge((0, 3), (-1, 3)), Edge((-1, 3), (-1, 0))))
    back = tuple(edge.reversed() for edge in reversed(wave))
    right = Outline((Edge((2, 0), (3, 0)), Edge((3, 0), (3, 3)), Edge((3, 3), (0, 3)), *back))
    block = Block("wave", (Patch("1", left), Patch("2", right)))
    for kind, reason in (("curved", Reason.BENT_SEAM), ("straight", Reason.BENT_SEAM), ("partial", Reason.WRONG_KIND)):
        join = Join("J1", "1", "2", wave, kind)  # type: ignore[arg-type]
        with pytest.raises(SewingError) as caught:
            replay(block, Construction("pieced", (), ("1", "2"), (join,), (Step("join", wave, join="J1"),)))
        assert caught.value.reason == reason


# The pinwheel of five: the log on the left is started on the centre, the ring is sewn round, and its seam is closed.
SEAM_5 = ((1, 2), (1, 1)), ((1, 1), (1, 0))


def pinwheel(sewing: Callable[..., Any], *, last_finish: bool = True) -> Any:
    """Log 5 partly sewn on at x = 1 (y 2 … 1); logs 2, 3, 4 in turn; then the rest of its seam (y 1 … 0)."""
    hand = sewing(PINWHEEL)
    (started, left_open), path = SEAM_5, hand.path
    whole = (*path(*started), *path(*left_open))
    hand.join("1", "5", whole, "partial", passes=[path(*started), path(*left_open)])
    hand.join("2", "J1", path((0, 2), (1, 2), (2, 2)))
    hand.join("3", "J2", path((2, 3), (2, 2), (2, 1)))
    hand.join("4", "J3", path((3, 1), (2, 1), (1, 1)))
    if last_finish:
        hand.finish("J1")
    return hand


def test_a_pinwheel_of_five_takes_one_partial_seam(sewing: Callable[..., Any]) -> None:
    # Source: derived: no straight cut at all; one seam sewn in two passes opens the ring.
    hand = pinwheel(sewing)
    seen = replay(hand.block, hand.construction)
    assert (seen.technique, seen.partial_seams, seen.pivots, seen.contacts) == ("partial", 1, 0, 8)
    assert [step.said.split()[0] for step in seen.seen] == ["start", "join", "join", "join", "finish"]


def test_the_started_stretch_may_stop_part_way(sewing: Callable[..., Any]) -> None:
    hand = pinwheel(sewing)
    path = hand.path
    started, left_open = path((1, 2), (1, 1.5)), path((1, 1.5), (1, 1), (1, 0))
    join = replace(hand.joins[0], passes=(started, left_open))
    steps = [*hand.steps]
    steps[0], steps[-1] = replace(steps[0], seam=started), replace(steps[-1], seam=left_open)
    seen = replay(hand.block, replace(hand.construction, joins=(join, *hand.joins[1:]), steps=tuple(steps)))
    assert seen.contacts == 9


def test_a_partial_seam_never_finished_is_refused(sewing: Callable[..., Any]) -> None:
    error = refused(pinwheel(sewing, last_finish=False))
    assert (error.reason, error.patches) == (Reason.UNFINISHED_SEAM, ("4", "5"))


def test_a_partial_seam_finished_too_early_is_out_of_order(sewing: Callable[..., Any]) -> None:
    hand = pinwheel(sewing)
    steps = hand.steps
    error = refused(hand, steps=(*steps[:3], steps[4], steps[3]))
    assert (error.reason, error.patches) == (Reason.OUT_OF_ORDER, ("4",))


def test_a_partial_seam_finished_twice_or_before_its_start_is_refused(sewing: Callable[..., Any]) -> None:
    hand = pinwheel(sewing)
    twice = refused(hand, steps=(*hand.steps, hand.steps[-1]))
    assert (twice.reason, twice.step) == (Reason.STEPS_DISAGREE, 5)
    assert refused(hand, steps=(hand.steps[-1], *hand.steps)).reason == Reason.STEPS_DISAGREE


def test_a_partial_seam_that_begins_in_its_middle_is_refused(sewing: Callable[..., Any]) -> None:
    hand = pinwheel(sewing)
    path = hand.path
    passes = (path((1, 1.8), (1, 1)), path((1, 1), (1, 0)))
    steps = (replace(hand.steps[0], seam=passes[0]), *hand.steps[1:])
    joins = (replace(hand.joins[0], passes=passes), *hand.joins[1:])
    assert refused(hand, joins=joins, steps=steps).reason == Reason.NOT_AN_END_PART


def test_passes_that_are_not_the_whole_seam_are_refused(sewing: Callable[..., Any]) -> None:
    hand = pinwheel(sewing)
    short = replace(hand.joins[0], seam=hand.path((1, 2), (1, 0.5)))
    assert refused(hand, joins=(short, *hand.joins[1:])).reason == Reason.NOT_AN_END_PART


def test_a_later_pass_over_what_is_sewn_is_refused(sewing: Callable[..., Any]) -> None:
    hand = sewing(FOUR)
    path = hand.path
    hand.join("1", "2", hand.contact("1", "2"))
    passes = [path((1, 2), (1, 1)), path((1, 1), (1, 0))]
    hand.join("4", "3", [*passes[0], *passes[1]], "partial", passes=passes)
    error = refused(hand)
    assert (error.reason, error.step, error.patches) == (Reason.SEWN_TWICE, 1, ("1", "2"))


def test_a_stretch_left_open_by_two_seams_is_refused(sewing: Callable[..., Any]) -> None:
    hand = sewing(PINWHEEL)
    path = hand.path
    down = [path((1, 2), (1, 1)), path((1, 1), (1, 0))]
    hand.join("1", "5", [*down[0], *down[1]], "partial", passes=down)
    turned = [path((2, 1), (1, 1)), path((1, 1), (1, 0))]
    hand.join("4", "J1", [*turned[0], *turned[1]], "set-in", pivots=[(1, 1)], passes=turned)
    error = refused(hand)
    assert (error.reason, error.step, error.patches) == (Reason.SEWN_TWICE, 1, ("4", "5"))


def test_passes_that_turn_a_corner_are_not_in_one_line(sewing: Callable[..., Any]) -> None:
    hand = pinwheel(sewing)
    path = hand.path
    passes = (path((1, 2), (1, 1)), path((1, 1), (2, 1)))
    steps = (replace(hand.steps[0], seam=passes[0]), *hand.steps[1:])
    joins = (replace(hand.joins[0], passes=passes, seam=(*passes[0], *passes[1])), *hand.joins[1:])
    assert refused(hand, joins=joins, steps=steps).reason == Reason.NOT_IN_ONE_LINE


def test_a_pinwheel_by_one_pivot_instead(sewing: Callable[..., Any]) -> None:
    # Source: derived: one pivot serves instead of the partial seam.
    hand = sewing(PINWHEEL)
    path = hand.path
    hand.join("2", "1", path((1, 2), (2, 2)))
    hand.join("3", "J1", path((2, 3), (2, 2), (2, 1)))
    hand.join("4", "J2", path((3, 1), (2, 1), (1, 1)))
    hand.join("J3", "5", path((0, 2), (1, 2), (1, 0)), "set-in", pivots=[(1, 2)])
    seen = replay(hand.block, hand.construction)
    assert (seen.technique, seen.pivots) == ("set-in", 1)
