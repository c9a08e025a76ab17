"""Seams sewn in several passes, and finished units laid on papers: what is open, what is taken, what is still there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeAlias

import pytest

from seamproof.errors import SewingError
from seamproof.referee import Reason, replay
from seamproof.sequence import Construction, Foundation, Step

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from seamproof.block import Block
    from seamproof.geometry import Edge


def box(x0: float, y0: float, x1: float, y1: float) -> list[tuple[float, float]]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def refused(block: Block, con: Construction) -> SewingError:
    with pytest.raises(SewingError) as caught:
        replay(block, con)
    return caught.value


# A strip on the left, three squares on its right.
LADDER = [box(0, 0, 1, 3), box(1, 2, 2, 3), box(1, 1, 2, 2), box(1, 0, 2, 1)]


def ladder(sewing: Callable[..., Any], *, up: bool) -> Any:
    """The strip sewn on in three passes, one for each square, from the top down or from the bottom up."""
    hand = sewing(LADDER)
    down = [hand.path((1, y), (1, y - 1)) for y in (3, 2, 1)]
    squares = ["2", "3", "4"]
    passes = down[::-1] if up else down
    squares = squares[::-1] if up else squares
    hand.join(squares[0], "1", [edge for stretch in down for edge in stretch], "partial", passes=passes)
    for number, square in enumerate(squares[1:], 1):
        line = hand.path((2, number), (1, number)) if up else hand.path((1, 3 - number), (2, 3 - number))
        hand.join(f"J{number}", square, line)
        hand.finish("J1", number)
    return hand


@pytest.mark.parametrize("up", [False, True])
def test_a_seam_in_three_passes_is_carried_on_from_where_it_stopped(sewing: Callable[..., Any], up: bool) -> None:
    hand = ladder(sewing, up=up)
    seen = replay(hand.block, hand.construction)
    assert (seen.technique, seen.partial_seams, seen.contacts) == ("partial", 2, 5)


@pytest.mark.parametrize("up", [False, True])
def test_passes_sewn_out_of_their_order_are_refused(sewing: Callable[..., Any], up: bool) -> None:
    hand = ladder(sewing, up=up)
    first = hand.joins[0]
    start, join, finish, other, last = hand.steps
    swapped = (start, join, replace(finish, seam=first.passes[2]), other, replace(last, seam=first.passes[1]))
    assert refused(hand.block, replace(hand.construction, steps=swapped)).reason == Reason.STEPS_DISAGREE
    early = (start, join, finish, last, other)
    assert refused(hand.block, replace(hand.construction, steps=early)).reason == Reason.OUT_OF_ORDER
    passes = (first.passes[0], first.passes[2], first.passes[1])
    joins = (replace(first, passes=passes), *hand.joins[1:])
    error = refused(hand.block, replace(hand.construction, joins=joins, steps=swapped))
    assert error.reason == Reason.NOT_AN_END_PART


Seam: TypeAlias = "tuple[Edge, ...]"
SPOILED: dict[str, Callable[[Seam, tuple[Seam, ...]], tuple[Seam, tuple[Seam, ...]]]] = {
    "empty pass": lambda seam, passes: (seam, ((), *passes[1:])),
    "empty later pass": lambda seam, passes: (seam, (*passes[:2], ())),
    "empty seam": lambda _, passes: ((), passes),
    "broken seam": lambda seam, passes: ((seam[0], seam[2]), passes),
    "broken pass": lambda seam, passes: (seam, (passes[0], (*passes[1], *passes[0]))),
}


@pytest.mark.parametrize("name", SPOILED)
def test_a_seam_or_pass_that_is_empty_or_broken_off_is_refused(sewing: Callable[..., Any], name: str) -> None:
    hand = ladder(sewing, up=False)
    first = hand.joins[0]
    seam, passes = SPOILED[name](first.seam, first.passes)
    joins = (replace(first, seam=seam, passes=passes), *hand.joins[1:])
    steps = (replace(hand.steps[0], seam=passes[0]), *hand.steps[1:])
    error = refused(hand.block, replace(hand.construction, joins=joins, steps=steps))
    assert error.reason == Reason.STEPS_DISAGREE
    assert "J1" in str(error)


def test_a_later_pass_along_no_contact_is_refused(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(0, 0, 1, 2), box(1, 1, 2, 2)])
    passes = (hand.path((1, 2), (1, 1)), hand.path((1, 1), (1, 0)))
    hand.join("2", "1", (*passes[0], *passes[1]), "partial", passes=passes)
    hand.finish("J1")
    assert refused(hand.block, hand.construction).reason == Reason.NO_CONTACT


def test_a_seam_never_finished_is_told_by_the_step_that_started_it(sewing: Callable[..., Any]) -> None:
    hand = ladder(sewing, up=False)
    error = refused(hand.block, replace(hand.construction, steps=tuple(hand.steps[:-1])))
    assert (error.reason, error.step, error.patches) == (Reason.UNFINISHED_SEAM, 0, ("1", "4"))
    swapped = (hand.steps[0], *hand.steps[1:4])
    assert refused(hand.block, replace(hand.construction, steps=swapped)).step == 0


# A step in the outline: a seam along y = 2 that ends at (2, 2) must stop dead there, for patch 1 goes on ahead of it.
DEAD = [[(0, 0), (4, 0), (4, 4), (3, 4), (2, 2), (0, 2)], box(1, 2, 2, 3), box(0, 2, 1, 3)]


def dead(sewing: Callable[..., Any], *, at_once: bool, turned: bool, pivots: Sequence[tuple[float, float]]) -> Any:
    """Patch 1 sewn to 2 and 3 in two passes; the end that stops dead is sewn at once, or last."""
    hand = sewing(DEAD)
    inner, outer = ((2, 2), (1, 2)), ((1, 2), (0, 2))
    near, far = ("2", "3") if at_once else ("3", "2")
    stretches = [hand.path(*(ends[::-1] if turned else ends)) for ends in (inner, outer)]
    seam = [edge for stretch in (stretches[::-1] if turned else stretches) for edge in stretch]
    passes = stretches if at_once else stretches[::-1]
    units = (near, "1") if turned else ("1", near)
    hand.join(*units, seam, "set-in" if pivots else "partial", pivots=pivots, passes=passes)
    hand.join(*(("J1", far) if at_once else (far, "J1")), hand.contact(*((near, far) if at_once else (far, near))))
    hand.finish("J1")
    return hand


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("at_once", [False, True])
def test_each_end_of_a_seam_in_passes_is_looked_at_when_it_is_sewn(
    sewing: Callable[..., Any], at_once: bool, turned: bool
) -> None:
    hand = dead(sewing, at_once=at_once, turned=turned, pivots=[(2, 2)])
    assert replay(hand.block, hand.construction).pivots == 1
    hand = dead(sewing, at_once=at_once, turned=turned, pivots=[])
    error = refused(hand.block, hand.construction)
    assert (error.reason, error.step) == (Reason.UNDECLARED_PIVOT, 0 if at_once else 2)
    hand = dead(sewing, at_once=at_once, turned=turned, pivots=[(2, 2), (0, 2)])
    error = refused(hand.block, hand.construction)
    assert (error.reason, error.step) == (Reason.IDLE_PIVOT, 2 if at_once else 0)


# Two squares over two squares, and strips above them.
OPEN = [box(0, 1, 1, 2), box(1, 1, 2, 2), box(0, 0, 1, 1), box(1, 0, 2, 1), box(0, 2, 2, 3), box(0, 3, 2, 4)]


def laid(sewing: Callable[..., Any], steps: str, *, whole: bool) -> tuple[Block, Construction]:
    """Patches 1 and 2 joined in two passes, 3 and 4 sewn on before the second (`whole`) or not at all.

    The unit is laid on paper A after patch 5 and before 6. Steps: s the start, j and k the joins of 3 and 4, f the
    finish; a, b and c patch 5, the unit and patch 6 on the paper.
    """
    hand = sewing(OPEN if whole else [*OPEN[:2], *OPEN[4:]])
    ids = "56" if whole else "34"
    passes = (hand.path((1, 2), (1, 1)), hand.path((1, 1), (1, 0))) if whole else (
        hand.path((1, 2), (1, 1.5)), hand.path((1, 1.5), (1, 1))
    )  # fmt: skip
    hand.join("2", "1", (*passes[0], *passes[1]), "partial", passes=passes)
    unit = "J1"
    if whole:
        hand.join("3", "J1", hand.path((1, 1), (0, 1)))
        hand.join("4", "J2", hand.path((2, 1), (1, 1)))
        unit = "J3"
    hand.finish("J1")
    bottom, top = hand.path((2, 2), (0, 2)), hand.path((0, 3), (2, 3))
    paper = Foundation("A", (ids[0], unit, ids[1]), tuple((part,) for part in (ids[0], unit, ids[1])),
                       frozenset({(ids[0], unit), (ids[0], ids[1])}))  # fmt: skip
    made = dict(zip("sjkf" if whole else "sf", hand.steps, strict=True))
    made |= {"a": Step("first", foundation="A", patch=ids[0]), "b": Step("add", bottom, "A", unit=unit),
             "c": Step("add", top, "A", patch=ids[1])}  # fmt: skip
    loose = tuple("1234" if whole else "12")
    return hand.block, Construction(
        "foundation", (paper,), loose, tuple(hand.joins), tuple(made[letter] for letter in steps)
    )


@pytest.mark.parametrize(("steps", "whole"), [("sfabc", False), ("asfbc", False), ("sjkfabc", True), ("asjkfbc", True)])
def test_a_unit_is_laid_once_its_seams_are_closed(sewing: Callable[..., Any], steps: str, whole: bool) -> None:
    assert replay(*laid(sewing, steps, whole=whole)).partial_seams == 1


@pytest.mark.parametrize(("steps", "whole", "step"), [("sabfc", False, 2), ("sabcf", False, 2), ("sjkabfc", True, 4)])
def test_a_unit_with_a_seam_left_open_is_not_laid(
    sewing: Callable[..., Any], steps: str, whole: bool, step: int
) -> None:
    error = refused(*laid(sewing, steps, whole=whole))
    assert (error.reason, error.step) == (Reason.UNFINISHED_SEAM, step)
    assert set(error.patches) <= set("1234")


def test_a_seam_is_not_finished_while_its_unit_lies_on_a_paper_that_is_not(sewing: Callable[..., Any]) -> None:
    # The stretch left open lies between 3 and 4 alone, which are not there yet when the unit of 1 and 2 is laid.
    hand = sewing(OPEN)
    passes = (hand.path((1, 2), (1, 1)), hand.path((1, 1), (1, 0)))
    hand.join("2", "1", (*passes[0], *passes[1]), "partial", passes=passes)
    paper = Foundation("A", ("5", "J1", "6"), (("5",), ("J1",), ("6",)), frozenset({("5", "J1"), ("5", "6")}))
    steps = (hand.steps[0], Step("first", foundation="A", patch="5"),
             Step("add", hand.path((2, 2), (0, 2)), "A", unit="J1"), Step("finish", passes[1], join="J1"))  # fmt: skip
    con = Construction("foundation", (paper,), ("1", "2", "3", "4"), tuple(hand.joins), steps)
    error = refused(hand.block, con)
    assert (error.reason, error.step) == (Reason.OUT_OF_ORDER, 3)
    assert "not finished" in str(error)


def test_what_is_laid_on_a_paper_belongs_to_no_other_unit(sewing: Callable[..., Any]) -> None:
    # While 4 and 5 lie on the paper of 1 and 6, patches 2 and 3 are joined; 3 touches 5, and that is for later.
    hand = sewing(
        [box(0, 0, 2, 1), box(2, 0, 3, 1.5), box(2, 1.5, 3, 3), box(0, 1, 1, 2), box(1, 1, 2, 2), box(0, 2, 2, 3)]
    )
    hand.paper("A", "45")
    middle, top = hand.path((2, 1), (0, 1)), hand.path((2, 2), (0, 2))
    pairs = frozenset({("1", "A"), ("A", "6")})
    hand.foundations.append(Foundation("B", ("1", "A", "6"), (("1",), ("A",), ("6",)), pairs))
    hand._papered.update("16")
    for step in (Step("first", foundation="B", patch="1"), Step("add", middle, "B", unit="A")):
        hand.steps.append(step)
    hand.join("2", "3", hand.contact("2", "3"))
    hand.steps.append(Step("add", top, "B", patch="6"))
    hand.join("B", "J1", hand.contact("1456", "23"))
    assert replay(hand.block, hand.construction).contacts == 10


def test_a_unit_used_up_is_told_with_its_patch(sewing: Callable[..., Any]) -> None:
    hand = sewing([box(0, 0, 1, 1), box(1, 0, 2, 1), box(0, 1, 2, 2), box(0, 2, 2, 3)])
    hand.join("1", "2", hand.contact("1", "2"))
    hand.join("3", "J1", hand.contact("3", "12"))
    for unit, patches in (("1", ("1",)), ("J1", ())):
        hand.join("4", unit, hand.contact("4", "3"))
        error = refused(hand.block, hand.construction)
        assert (error.reason, error.step, error.patches) == (Reason.PATCH_TWICE, 2, patches)
        hand.joins.pop()
        hand.steps.pop()
