"""Laws of pressing where finished units are laid on foundations."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import permutations, product
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given

import seamproof as sp
from seamproof.cutting import cut_pieces, rough_pieces
from seamproof.errors import SewingError
from seamproof.geometry.planar import PlanarMap
from seamproof.planning.pressing import order_for_pressing, plan_pressing
from seamproof.planning.pressing_rows import advise_rows
from seamproof.sequence.construction import laid_name
from seamproof.testing.strategies import slicing_tilings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.geometry import Point
    from seamproof.sequence import Construction

FROST = Path(__file__).parents[2] / "gallery" / "stars" / "frost-on-the-mole.recipe.toml"


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def four_patch_with_logs(logs: int) -> sp.Block:
    """A four-patch of 4 in with so many logs round it, of four cloths."""
    squares = [rectangle(x, y, x + 2, y + 2) for y in (0, 2) for x in (0, 2)]
    round_it = [rectangle(0, -1, 4, 0), rectangle(4, -1, 5, 4), rectangle(0, 4, 5, 5), rectangle(-1, -1, 0, 5)]
    return sp.Block.from_polygons(squares + round_it[:logs], roles=[*"abcd", *"efgh"[:logs]])


def laid(block: sp.Block) -> Construction:
    construction = sp.plan(block, prepieced=True)
    assert construction.laid
    return construction


def resewn(block: sp.Block, construction: Construction) -> Iterator[Construction]:
    """Every construction with the same units on the same foundations that the referee lets pass."""
    steps = {(step.foundation, step.added): step for step in construction.steps}
    places = {step.foundation for step in construction.steps}
    assert places == {f.label for f in construction.foundations}
    for orders in product(*(permutations(f.order) for f in construction.foundations)):
        papers, sewn = [], []
        for foundation, order in zip(construction.foundations, orders, strict=True):
            alone = tuple((part,) for part in order)
            must = _must_precede(block, construction, order)
            papers.append(replace(foundation, order=order, groups=alone, precedes=must))
            for number, part in enumerate(order):
                step = steps[foundation.label, part]
                edges = _between(block, construction, part, order[:number])
                kind = "add" if number else "first"
                sewn.append(replace(step, kind=kind, seam=edges))  # type: ignore[arg-type]
        other = replace(construction, foundations=tuple(papers), steps=tuple(sewn))
        try:
            sp.replay(block, other)
        except SewingError:
            continue
        yield other


def _must_precede(block: sp.Block, construction: Construction, order: tuple[str, ...]) -> frozenset[tuple[str, str]]:
    """Which part must be sewn before which, of parts that touch; what follows from others is left out."""
    touch = {(a, b) for number, b in enumerate(order) for a in order[:number] if _between(block, construction, b, (a,))}
    later = {a: {b for c, b in touch if c == a} for a in order}
    for part in reversed(order):
        later[part] |= {far for near in later[part] for far in later[near]}
    return frozenset((a, b) for a, b in touch if not any(b in later[c] for d, c in touch if d == a))


@cache
def _map_of(block: sp.Block) -> PlanarMap:
    return PlanarMap.of([patch.outline for patch in block.patches])


def _between(block: sp.Block, construction: Construction, part: str, earlier: tuple[str, ...]) -> tuple[sp.Edge, ...]:
    """The seam between a part and what was sewn before: by the patches' own corners, rectangles all."""
    pm = _map_of(block)
    mine = set(construction.patches_of(part)) if part in construction.laid else {part}
    theirs = {
        p for other in earlier for p in (construction.patches_of(other) if other in construction.laid else (other,))
    }
    edges = []
    for edge in pm.edges:
        if edge.is_inner:
            left, right = block.ids[edge.left], block.ids[edge.right]
            if left in mine and right in theirs:
                edges.append(edge.edge)
            elif right in mine and left in theirs:
                edges.append(edge.edge.reversed())
    if not edges:
        return ()
    way = edges[0].direction(0)
    return tuple(sorted(edges, key=lambda edge: edge.start[0] * way[0] + edge.start[1] * way[1]))


def test_no_order_of_foundations_with_units_nests_more() -> None:
    """Against every order of every foundation that the referee lets pass."""
    block = four_patch_with_logs(2)
    construction = laid(block)
    missed = [plan_pressing(block, other).missed for other in resewn(block, construction)]
    assert set(missed) == {0, 1}
    after = order_for_pressing(block, construction)
    sp.replay(block, after)
    assert plan_pressing(block, after).missed == min(missed)


@pytest.mark.parametrize("logs", [2, 4])
def test_foundations_with_units_are_begun_so_that_the_middle_nests(logs: int) -> None:
    # The two seams that meet in the middle of a four-patch lie one way or the other by what is first on each of its
    # halves, one laid on the other: whichever is first on one, the other can be begun so that they oppose. derived
    block = four_patch_with_logs(logs)
    construction = laid(block)
    after = order_for_pressing(block, construction)
    sp.replay(block, after)
    (meeting,) = plan_pressing(block, after).meetings
    assert (meeting.place, meeting.nests, meeting.spins) == ((2.0, 2.0), True, False)
    assert meeting.join == laid_name(*after.laid)
    assert [f.label for f in after.foundations] == [f.label for f in construction.foundations]
    assert after.laid == construction.laid


def test_what_was_missed_before_is_chosen_otherwise() -> None:
    block = four_patch_with_logs(4)
    construction = laid(block)
    after = order_for_pressing(block, construction)
    assert plan_pressing(block, construction).missed > plan_pressing(block, after).missed
    foundation = after.foundation(next(iter(after.laid.values())))
    assert sorted(foundation.order) == sorted(construction.foundation(foundation.label).order)


def test_twins_with_units_are_begun_alike() -> None:
    quarters = [
        [(x + a, y + b) for a, b in patch.outline.points]
        for x in (0, 6)
        for y in (0, 6)
        for patch in four_patch_with_logs(4).patches
    ]
    block = sp.Block.from_polygons(quarters, roles=[*"abcdefgh"] * 4)
    construction = laid(block)
    after = order_for_pressing(block, construction)
    sp.replay(block, after)
    assert plan_pressing(block, after).missed <= plan_pressing(block, construction).missed
    roles = {patch.id: patch.role for patch in block.patches}
    twins = [f for f in after.foundations if f.twin_of and not after.laid.keys().isdisjoint(f.order)]
    assert twins
    for twin in twins:
        model = after.foundation(twin.twin_of or "")
        assert [roles.get(part) for part in twin.order] == [roles.get(part) for part in model.order]


def test_blocks_with_units_on_papers_are_advised_in_rows() -> None:
    # The seams that reach the edges are the same, however they are sewn, so they meet at as many places. derived
    pattern = sp.work_out(sp.load_recipe(FROST))
    found = []
    for prepieced in (False, True):
        make = pattern.recipe.make.model_copy(update={"prepieced": prepieced})
        other = sp.work_out(pattern.recipe.model_copy(update={"make": make}))
        assert bool(other.construction.laid) == prepieced
        advice = advise_rows(other.block, other.construction, other.pressing, 2, 2)
        assert advice is not None
        found.append(advice.alike.meetings)
    assert found[0] == found[1] > 0


@given(slicing_tilings(most=9))
def test_whatever_order_is_chosen_is_sewable_and_nests_no_less(block: sp.Block) -> None:
    construction = sp.plan(block, prepieced=True)
    after = order_for_pressing(block, construction)
    sp.replay(block, after, (*rough_pieces(block, after), *cut_pieces(block, after)))
    assert plan_pressing(block, after).missed <= plan_pressing(block, construction).missed
    assert after.laid == construction.laid
