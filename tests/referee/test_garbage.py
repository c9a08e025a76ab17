"""Whatever is written as a construction is accepted or refused in words, never with a traceback."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.block import Block
from seamproof.cutting import cut_pieces, rough_pieces, templates, unfinished
from seamproof.errors import SeamproofError, SewingError
from seamproof.geometry import Edge
from seamproof.referee import Reason, replay
from seamproof.sequence import Bounds, Construction, Foundation, Join, Step

FOUR = Block.from_polygons([[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)] for x in (0, 1) for y in (0, 1)])
PATCHES = st.sampled_from(["1", "2", "3", "4", "9"])
UNITS = st.sampled_from(["1", "2", "3", "4", "A", "B", "J1", "J2", "Q"])
PLACES = st.tuples(st.sampled_from([0.0, 0.5, 1.0, 2.0]), st.sampled_from([0.0, 1.0, 1.5, 2.0]))
EDGES = st.builds(Edge, PLACES, PLACES, st.sampled_from([0.0, 0.0, 0.0, 0.4, -1.0]))
SEAMS = st.lists(EDGES, max_size=3).map(tuple) | st.sampled_from(
    [
        (Edge((1, 0), (1, 1)),),
        (Edge((1, 1), (1, 2)),),
        (Edge((0, 1), (1, 1)),),
        (Edge((2, 1), (1, 1)), Edge((1, 1), (0, 1))),
    ]
)
ORDERS = st.lists(PATCHES, max_size=4).map(tuple)
FOUNDATIONS = st.builds(
    Foundation,
    st.sampled_from(["A", "B"]),
    ORDERS,
    st.lists(ORDERS, max_size=3).map(tuple),
    st.frozensets(st.tuples(PATCHES, PATCHES), max_size=2),
    st.none() | st.sampled_from(["A", "B"]),
)
JOINS = st.builds(
    Join,
    st.sampled_from(["J1", "J2"]),
    UNITS,
    UNITS,
    SEAMS,
    st.sampled_from(["straight", "curved", "partial", "set-in"]),
    st.lists(PLACES, max_size=2).map(tuple),
    st.lists(SEAMS, max_size=2).map(tuple),
)
STEPS = st.builds(
    Step,
    st.sampled_from(["first", "add", "join", "start", "finish"]),
    SEAMS,
    st.none() | st.sampled_from(["A", "B"]),
    st.none() | PATCHES,
    st.none() | st.sampled_from(["J1", "J2", "J3"]),
)
CONSTRUCTIONS = st.builds(
    Construction,
    st.just("foundation"),
    st.lists(FOUNDATIONS, max_size=2).map(tuple),
    ORDERS,
    st.lists(JOINS, max_size=3).map(tuple),
    st.lists(STEPS, max_size=6).map(tuple),
    st.builds(Bounds, st.integers(0, 2), st.integers(0, 2), st.integers(0, 2)),
    st.booleans(),
)


@given(CONSTRUCTIONS)
def test_garbage_is_refused_in_one_of_the_fixed_words(con: Construction) -> None:
    try:
        replay(FOUR, con)
    except SewingError as error:
        assert error.reason in set(Reason)


@pytest.mark.parametrize("door", [rough_pieces, cut_pieces, templates, unfinished])
@given(con=CONSTRUCTIONS | st.builds(
    Construction, st.just("pieced"), st.just(()), st.just(("1", "2", "3", "4")), st.lists(JOINS, max_size=3).map(tuple),
    st.just(()),
))  # fmt: skip
def test_nothing_is_cut_for_garbage_but_in_words(door: Any, con: Construction) -> None:
    try:
        assert door(FOUR, con) is not None
    except SeamproofError as error:
        assert str(error)


@given(st.lists(JOINS, min_size=1, max_size=3).map(tuple), st.data())
def test_garbage_that_holds_every_patch_is_refused_in_one_of_the_fixed_words(
    joins: tuple[Join, ...], data: st.DataObject
) -> None:
    kinds = {1: ("join",), 2: ("start", "finish")}
    steps = [
        Step(kind, stretch, join=join.label)  # type: ignore[arg-type]
        for join in joins
        for kind, stretch in zip(kinds[len(join.passes)], join.passes, strict=True)
    ]
    steps = data.draw(st.permutations(steps))
    try:
        replay(FOUR, Construction("pieced", (), ("1", "2", "3", "4"), joins, tuple(steps)))
    except SewingError as error:
        assert error.reason in set(Reason)


def test_a_lone_patch_needs_no_step() -> None:
    block = Block.from_polygons([[(0, 0), (1, 0), (0, 1)]])
    seen = replay(block, Construction("pieced", (), ("1",), (), ()))
    assert (seen.seen, seen.contacts) == ((), 0)
