"""What a construction claims of itself, held to what its steps do."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

import pytest

import seamproof as sp
from seamproof.errors import SewingError
from seamproof.referee import Reason, replay
from seamproof.sequence import Bounds, Construction

if TYPE_CHECKING:
    from collections.abc import Callable


def box(x0: float, y0: float, x1: float, y1: float) -> list[tuple[float, float]]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


CABIN = [box(1, 1, 2, 2), box(1, 2, 2, 3), box(2, 1, 3, 3), box(1, 0, 3, 1), box(0, 0, 1, 3)]
PINWHEEL = [box(1, 1, 2, 2), box(0, 2, 2, 3), box(2, 1, 3, 3), box(1, 0, 3, 1), box(0, 0, 1, 2)]


def refused(block: sp.Block, con: Construction) -> SewingError:
    with pytest.raises(SewingError) as caught:
        replay(block, con)
    return caught.value


@pytest.fixture
def cabin(sewing: Callable[..., Any]) -> Callable[..., SewingError]:
    """The refusal of a log cabin on one foundation, changed."""
    hand = sewing(CABIN).paper("A", "12345")

    def change(**changes: Any) -> SewingError:
        return refused(hand.block, replace(hand.construction, **changes))

    return change


@pytest.fixture
def pinwheel() -> tuple[sp.Block, Construction]:
    """A pinwheel of five, with one partial seam."""
    block = sp.Block.from_polygons(PINWHEEL)
    con = sp.plan(block)
    assert (con.pivots, con.partial_seams, con.bounds.partial_seams) == (0, 1, 1)
    return block, con


@pytest.mark.parametrize("method", ["by machine", "", "Foundation", None, 3, ["foundation"]])
def test_an_unknown_method_is_refused(cabin: Callable[..., SewingError], method: Any) -> None:
    error = cabin(method=method)
    assert error.reason == Reason.WRONG_METHOD
    assert "foundation, pieced, hand" in str(error)


@pytest.mark.parametrize("method", ["pieced", "hand"])
def test_a_method_without_paper_has_no_foundations(cabin: Callable[..., SewingError], method: str) -> None:
    assert cabin(method=method).reason == Reason.WRONG_METHOD


@pytest.mark.parametrize("bounds", [Bounds(foundations=2), Bounds(pivots=1), Bounds(partial_seams=1)])
def test_a_bound_above_the_count_is_refused(cabin: Callable[..., SewingError], bounds: Bounds) -> None:
    assert cabin(bounds=bounds).reason == Reason.FALSE_BOUND


@pytest.mark.parametrize(("name", "count"), [("foundations", 0), ("pivots", 0), ("partial_seams", 1)])
def test_a_count_is_held_to_its_bound_to_the_last_one(
    pinwheel: tuple[sp.Block, Construction], name: str, count: int
) -> None:
    block, con = pinwheel
    replay(block, replace(con, optimal=False, bounds=replace(Bounds(), **{name: count})))
    above = replace(con, optimal=False, bounds=replace(Bounds(), **{name: count + 1}))
    assert refused(block, above).reason == Reason.FALSE_BOUND


def test_the_bound_on_partial_seams_holds_where_pivots_are_as_few_as_theirs() -> None:
    # An L set into a corner, and a pinwheel beside it: one pivot and one partial seam at the least.
    ell = [(4.0, 0.0), (6.0, 0.0), (6.0, 2.0), (5.0, 2.0), (5.0, 1.0), (4.0, 1.0)]
    block = sp.Block.from_polygons([*PINWHEEL, box(3, 0, 4, 3), box(4, 2, 6, 3), ell, box(4, 1, 5, 2)])
    con = sp.plan(block)
    assert (con.pivots, con.partial_seams) == (con.bounds.pivots, con.bounds.partial_seams) == (1, 1)
    assert refused(block, replace(con, bounds=replace(con.bounds, partial_seams=2))).reason == Reason.FALSE_BOUND
    # With more pivots than any must have, fewer partial seams prove nothing false.
    replay(block, replace(con, bounds=replace(con.bounds, pivots=0, partial_seams=2)))


@pytest.mark.parametrize("bound", [0, 2])
def test_a_count_that_is_not_its_own_bound_is_not_the_least(cabin: Callable[..., SewingError], bound: int) -> None:
    reason = cabin(bounds=Bounds(foundations=bound), optimal=True).reason
    assert reason == (Reason.FALSE_BOUND if bound else Reason.FALSE_OPTIMUM)


def test_a_count_that_is_its_own_bound_may_be_said_to_be_least(sewing: Callable[..., Any]) -> None:
    hand = sewing(CABIN).paper("A", "12345")
    assert replay(hand.block, replace(hand.construction, bounds=Bounds(foundations=1), optimal=True)).contacts == 8


@pytest.mark.parametrize(("name", "said"), [("technique", "straight"), ("pivots", 1), ("partial_seams", 0)])
def test_counts_told_otherwise_than_the_steps_come_to_are_refused(
    pinwheel: tuple[sp.Block, Construction], name: str, said: Any
) -> None:
    block, con = pinwheel
    teller = type("Teller", (Construction,), {name: said})
    told = teller(**{field.name: getattr(con, field.name) for field in fields(con)})
    error = refused(block, told)
    assert error.reason == Reason.WRONG_COUNT
    assert name.replace("_", " ") in str(error)


def test_what_was_seen_is_counted_from_the_steps(pinwheel: tuple[sp.Block, Construction]) -> None:
    seen = replay(*pinwheel)
    assert (seen.technique, seen.pivots, seen.partial_seams) == ("partial", 0, 1)
