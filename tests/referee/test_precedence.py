"""What a foundation says must come before what, held to the orders in which it can be sewn."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import permutations
from typing import TYPE_CHECKING

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.errors import SewingError
from seamproof.referee import Reason, replay
from seamproof.referee.foundations import Paper
from seamproof.referee.table import Table
from seamproof.referee.touching import Touching
from seamproof.testing.strategies import slicing_tilings

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sequence import Construction, Foundation

Order = tuple[str, ...]


def box(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


BLOCKS: dict[str, list[list[Point]]] = {
    "cabin": [box(1, 1, 2, 2), box(1, 2, 2, 3), box(2, 1, 3, 3), box(1, 0, 3, 1), box(0, 0, 1, 3)],
    "courthouse steps": [box(1, 1, 2, 2), box(1, 2, 2, 3), box(1, 0, 2, 1), box(0, 0, 1, 3), box(2, 0, 3, 3)],
    "strips": [box(k, 0, k + 1, 4) for k in range(5)],
    "ell": [box(0, 0, 2, 2), box(0, 2, 2, 4), box(2, 0, 4, 2)],
    "chair": [box(0, 0, 4, 1), box(0, 1, 1, 2), box(4, 0, 5, 3)],
    "stair": [box(0, 0, 3, 1), box(0, 1, 2, 2), box(0, 2, 1, 3)],
}


@cache
def planned(name: str) -> tuple[sp.Block, Construction]:
    block = sp.Block.from_polygons(BLOCKS[name])
    con = sp.plan(block)
    assert len(con.foundations) == 1
    assert not con.joins
    return block, con


def reordered(con: Construction, order: Order, pairs: frozenset[tuple[str, str]]) -> Construction:
    """The foundation sewn in another order, one patch after the other, with its seams and with other pairs."""
    steps = {step.patch: step for step in con.steps}
    paper = replace(con.foundations[0], order=order, groups=tuple((patch,) for patch in order), precedes=pairs)
    return replace(con, foundations=(paper,), steps=tuple(steps[patch] for patch in order))


@cache
def valid_orders(name: str) -> frozenset[Order]:
    """Every order with the planned first patch that can be sewn, tried one by one."""
    _, con = planned(name)
    first, rest = con.foundations[0].order[0], con.foundations[0].order[1:]
    return frozenset(order for others in permutations(rest) if folds_all(name, order := (first, *others)))


@cache
def folds_all(name: str, order: Order) -> bool:
    """Whether an order can be sewn; computed independently, by shapely.

    Each patch must meet what is there along one straight stretch, with all of that beyond the stretch's whole line.
    """
    block, _ = planned(name)
    shapes = {patch.id: shapely.Polygon(patch.outline.polygon) for patch in block.patches}

    def folds(patch: str, earlier: Order) -> bool:
        whole = shapely.union_all([shapes[other] for other in earlier])
        line = shapely.line_merge(shapely.intersection(shapes[patch], whole))
        if line.geom_type != "LineString":
            return False
        (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
        sides = [[(x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for x, y in shapely.get_coordinates(shape)]
                 for shape in (shapes[patch], whole, line)]  # fmt: skip
        if max(map(abs, sides[2])) > 1e-6:
            return False
        low, high = min(sides[0]), max(sides[0])
        return bool((low >= -1e-6 and max(sides[1]) <= 1e-6) or (high <= 1e-6 and min(sides[1]) >= -1e-6))

    return all(folds(patch, order[:place]) for place, patch in enumerate(order) if place)


def extensions(order: Order, pairs: frozenset[tuple[str, str]]) -> frozenset[Order]:
    """Every order with the same first patch in which all pairs stand."""
    every = ((order[0], *rest) for rest in permutations(order[1:]))
    return frozenset(other for other in every if all(other.index(a) < other.index(b) for a, b in pairs))


def closure(pairs: frozenset[tuple[str, str]]) -> frozenset[tuple[str, str]]:
    """The pairs and all that follow from them."""
    more = pairs | {(a, d) for a, b in pairs for c, d in pairs if b == c}
    return pairs if more == pairs else closure(more)


def is_accepted(block: sp.Block, con: Construction) -> bool:
    try:
        replay(block, con)
    except SewingError as error:
        assert error.reason == Reason.WRONG_PRECEDENCE
        return False
    return True


@pytest.mark.parametrize("name", BLOCKS)
@given(data=st.data())
def test_a_relation_is_accepted_just_where_it_allows_the_orders_that_can_be_sewn(
    name: str, data: st.DataObject
) -> None:
    block, con = planned(name)
    foundation = con.foundations[0]
    order = foundation.order
    changed = data.draw(st.frozensets(st.sampled_from(sorted(permutations(order, 2))), max_size=3))
    pairs = foundation.precedes ^ changed
    pairs = data.draw(st.sampled_from([pairs, frozenset(), changed]))
    is_true = extensions(order, pairs) == valid_orders(name)
    is_least = all(closure(pairs - {pair}) != closure(pairs) for pair in pairs)
    # With the first patch kept, a pair that begins with it allows no fewer orders; it must be said all the same.
    is_whole = all((order[0], patch) in closure(pairs) for patch in order[1:])
    assert is_accepted(block, reordered(con, order, pairs)) == (is_true and is_least and is_whole)


@pytest.mark.parametrize("name", BLOCKS)
def test_every_order_that_can_be_sewn_is_accepted_with_the_one_relation_and_no_other_order(name: str) -> None:
    block, con = planned(name)
    pairs, first = con.foundations[0].precedes, con.foundations[0].order[0]
    for rest in permutations(con.foundations[0].order[1:]):
        order = (first, *rest)
        told = reordered(con, order, pairs)
        if order in valid_orders(name):
            assert is_accepted(block, told)
        else:
            with pytest.raises(SewingError) as caught:
                replay(block, told)
            assert caught.value.reason in {Reason.OUT_OF_ORDER, Reason.CANNOT_FOLD, Reason.NO_CONTACT}


@pytest.mark.parametrize("name", BLOCKS)
def test_an_empty_relation_is_refused(name: str) -> None:
    block, con = planned(name)
    assert not is_accepted(block, reordered(con, con.foundations[0].order, frozenset()))


@pytest.mark.parametrize(
    ("change", "words"),
    [({("2", "4")}, "2 must come directly before 4"), ({("2", "3")}, "2 need not come before 3"),
     ({("1", "4")}, "1 does not come directly before 4"), ({("4", "2")}, "4 is not sewn before 2"),
     ({("2", "2")}, "2 is not sewn before 2"), ({("2", "9")}, "both must be its patches")],
)  # fmt: skip
def test_a_refused_pair_is_named_with_what_is_wrong_with_it(change: set[tuple[str, str]], words: str) -> None:
    block, con = planned("courthouse steps")
    order = ("1", "2", "3", "4", "5")
    pairs = frozenset({("1", "2"), ("1", "3"), *((a, b) for a in "23" for b in "45")})
    assert replay(block, reordered(con, order, pairs)).contacts == 8
    with pytest.raises(SewingError, match=words) as caught:
        replay(block, reordered(con, order, pairs ^ change))
    assert caught.value.reason == Reason.WRONG_PRECEDENCE
    assert caught.value.patches == next(iter(change))


def test_a_pair_that_follows_from_others_is_told_to_be_one() -> None:
    block, con = planned("cabin")
    order = ("1", "2", "3", "4", "5")
    pairs = frozenset({("1", "2"), ("2", "3"), ("3", "4"), ("4", "5")})
    assert replay(block, reordered(con, order, pairs)).contacts == 8
    for more in (("2", "4"), ("3", "5"), ("2", "5")):
        with pytest.raises(SewingError, match=f"{more[0]} does not come directly before {more[1]}"):
            replay(block, reordered(con, order, pairs | {more}))


@cache
def all_firsts(name: str) -> frozenset[str]:
    """Every patch with which some order begins that can be sewn, tried one by one."""
    block, con = planned(name)
    orders = (order for order in permutations(block.ids) if folds_all(name, order))
    assert con.foundations
    return frozenset(order[0] for order in orders)


@pytest.mark.parametrize("name", BLOCKS)
def test_a_patch_may_be_asked_for_as_first_just_where_some_order_begins_with_it(name: str) -> None:
    block, _ = planned(name)
    for patch in block.ids:
        if patch in all_firsts(name):
            (foundation,) = sp.plan(block, first=patch).foundations
            assert foundation.order[0] == patch
        else:
            with pytest.raises(sp.NotSewable):
                sp.plan(block, first=patch)


def test_what_reaches_over_a_line_from_far_off_comes_after_it() -> None:
    # A row of strips, a tooth on the first of them, and at the far end a strip higher than the tooth's line.
    count = 600
    row = [box(k, 0, k + 1, 1) for k in range(count)]
    block = sp.Block.from_polygons([*row, box(0, 1, 1, 2), box(count, 0, count + 1, 3)])
    tooth, tall = str(count + 1), str(count + 2)
    con = sp.plan(block, first="1")
    (foundation,) = con.foundations
    chain = {(str(k), str(k + 1)) for k in range(1, count)} | {("1", tooth), (str(count), tall), (tooth, tall)}
    assert foundation.precedes == chain
    assert replay(block, con).contacts == count + 1
    for pair in ((tooth, tall), ("500", "501")):
        told = replace(foundation, precedes=foundation.precedes - {pair})
        assert not is_accepted(block, replace(con, foundations=(told,)))


def paper_of(block: sp.Block, con: Construction, foundation: Foundation, *, is_convex: bool | None = None) -> Paper:
    """A foundation sewn to its end; it may be told to be convex or not, against what it sees."""
    table = Table(block, con, Touching.of([patch.outline for patch in block.patches]), 0.25)
    paper = Paper(table, foundation, tuple((table.index[patch],) for patch in foundation.order))
    if is_convex is not None:
        paper.__dict__["is_convex"] = is_convex
    paper.first()
    for number, step in enumerate(con.steps):
        if step.kind == "add" and step.foundation == foundation.label:
            paper.add(step, number)
    return paper


@given(slicing_tilings(most=12))
def test_on_a_convex_outline_a_look_at_every_fold_finds_nothing_more(block: sp.Block) -> None:
    con = sp.plan(block)
    for foundation in con.foundations:
        looked, spared = paper_of(block, con, foundation, is_convex=False), paper_of(block, con, foundation)
        shape = shapely.union_all([shapely.Polygon(block.patch(patch).outline.polygon) for patch in foundation.order])
        assert spared.is_convex == (shape.convex_hull.area - shape.area < 1e-6)
        assert looked.relation() == spared.relation()


OUTLINES: dict[str, tuple[list[list[Point]], bool]] = {
    "square": ([box(0, 0, 1, 1), box(1, 0, 2, 1), box(0, 1, 2, 2)], True),
    "fan": ([[(0, 0), (2, 0), (2, 1)], [(0, 0), (2, 1), (1, 2)]], True),
    "corner a hair in": ([box(0, 0, 1, 1), [(1, 0), (2, 0), (2, 1), (1, 0.9999)]], True),
    "corner a hundredth in": ([[(0, 0), (1, 0), (1, 0.99), (0, 1)], [(1, 0), (2, 0), (2, 1), (1, 0.99)]], False),
    "ell": ([box(0, 0, 2, 1), box(0, 1, 1, 2)], False),
    "tee": ([box(0, 0, 3, 1), box(1, 1, 2, 2)], False),
    "one patch bends": ([[(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)], box(1, 1, 2, 2)], False),
    "round a hole": ([box(0, 0, 2, 1), box(2, 0, 3, 2), box(1, 2, 3, 3), box(0, 1, 1, 3)], False),
    "notch on one side": ([box(0, 0, 1, 2), box(1, 0, 2, 1.5), box(2, 0, 3, 2)], False),
}


@pytest.mark.parametrize("name", OUTLINES)
def test_an_outline_is_convex_where_no_corner_turns_inward(name: str) -> None:
    rings, is_convex = OUTLINES[name]
    block = sp.Block.from_polygons(rings)
    foundation = sp.Foundation("A", block.ids, tuple((patch,) for patch in block.ids))
    con = sp.Construction("foundation", (foundation,), (), (), ())
    table = Table(block, con, Touching.of([patch.outline for patch in block.patches]), 0.25)
    assert Paper(table, foundation, tuple((k,) for k in range(len(rings)))).is_convex == is_convex


def test_a_long_row_is_held_to_its_own_pairs_alone() -> None:
    block = sp.Block.from_polygons([box(k, 0, k + 1, 4) for k in range(60)])
    con = sp.plan(block)
    pairs = con.foundations[0].precedes
    assert {frozenset(pair) for pair in pairs} == {frozenset((str(k), str(k + 1))) for k in range(1, 60)}
    assert replay(block, con).contacts == 59
    one = next(pair for pair in sorted(pairs) if pair[0] != con.foundations[0].order[0])
    assert not is_accepted(block, replace(con, foundations=(replace(con.foundations[0], precedes=pairs - {one}),)))
