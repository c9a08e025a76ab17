"""Finished units laid on papers as if they were one patch: planned, replayed, and spoiled."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.ops import split

import seamproof as sp
from seamproof.cutting import cut_pieces, rough_pieces, unfinished
from seamproof.errors import SewingError
from seamproof.referee import Reason, replay

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sequence import Construction

SEEDS = st.integers(0, 10**6)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def moved(rings: list[list[Point]], x: float, y: float) -> list[list[Point]]:
    return [[(a + x, b + y) for a, b in ring] for ring in rings]


FOUR_PATCH = [rectangle(i, j, i + 1, j + 1) for j in (0, 1) for i in (0, 1)]


def logs(rings: list[list[Point]], side: int, rounds: int) -> list[list[Point]]:
    """Logs half an inch wide round a square, each round of four."""
    low, high = 0.0, float(side)
    for _ in range(rounds):
        a, b = low - 0.5, high + 0.5
        rings = [*rings, rectangle(low, a, high, low), rectangle(high, a, b, high)]
        rings += [rectangle(low, high, b, b), rectangle(a, a, low, b)]
        low, high = a, b
    return rings


def snails_trail(rounds: int) -> list[list[Point]]:
    """A four-patch with rounds of four triangles on its sides, each round half as large again in area."""
    rings, corners = list(FOUR_PATCH), rectangle(0, 0, 2, 2)
    for _ in range(rounds):
        tips = []
        for (x, y), (u, v) in zip(corners, corners[1:] + corners[:1], strict=True):
            tip = ((x + u) / 2 + (v - y) / 2, (y + v) / 2 - (u - x) / 2)
            rings.append([(x, y), tip, (u, v)])
            tips.append(tip)
        corners = tips
    return rings


def sliced(count: int, seed: int) -> list[list[Point]]:
    """A square cut by straight lines, patch by patch."""
    rng = random.Random(seed)
    pieces = [shapely.box(0, 0, 8, 8)]
    while len(pieces) < count:
        piece = max(rng.sample(pieces, min(2, len(pieces))), key=lambda shape: shape.area)
        x, y = piece.centroid.coords[0]
        angle = math.radians(rng.choice([0, 0, 30, 45, 90, 90, 120]))
        dx, dy = 20 * math.cos(angle), 20 * math.sin(angle)
        parts = list(split(piece, shapely.LineString([(x - dx, y - dy), (x + dx, y + dy)])).geoms)
        if all(part.area > 0.4 for part in parts):
            pieces = [other for other in pieces if other is not piece] + parts
    return [list(piece.exterior.coords)[:-1] for piece in pieces]


def prepieced(rings: list[list[Point]]) -> tuple[sp.Block, Construction]:
    block = sp.Block.from_polygons(rings)
    return block, sp.plan(block, prepieced=True)


def reason(block: sp.Block, con: Construction) -> str:
    with pytest.raises(SewingError) as caught:
        replay(block, con)
    return caught.value.reason


@pytest.mark.parametrize("rings", [logs(FOUR_PATCH, 2, 3), snails_trail(3)])
def test_a_four_patch_and_all_that_goes_round_it_is_sewn_on_two_papers(rings: list[list[Point]]) -> None:
    # derived: no paper holds the crossing of a four-patch, so two are needed; whatever is sewn round the finished
    # four-patch touches it along one straight line, so it can be sewn on the paper on which the second half was laid.
    block, con = prepieced(rings)
    assert (len(con.foundations), con.bounds.foundations, con.loose, con.joins) == (2, 2, (), ())
    assert con.whole == "B"
    assert sorted(con.patches_of("B"), key=int) == list(block.ids)
    pieces = rough_pieces(block, con)
    assert len(pieces) == len(rings)
    assert cut_pieces(block, con) == ()
    seen = replay(block, con, pieces)
    assert seen.covered == len(rings)
    assert seen.least_slack is not None
    assert seen.least_slack >= 0


def test_a_unit_is_laid_when_it_is_finished() -> None:
    _, con = prepieced(logs(FOUR_PATCH, 2, 3))
    (unit,) = con.laid
    at = next(n for n, step in enumerate(con.steps) if step.unit == unit)
    assert all(step.foundation != unit for step in con.steps[at:])
    assert con.steps[at].patch is None
    assert con.foundation(con.laid[unit]).order.count(unit) == 1


def test_without_loose_pieces_nothing_is_laid_on_papers() -> None:
    block = sp.Block.from_polygons(FOUR_PATCH)
    assert sp.plan(block, prepieced=True) == sp.plan(block)


@given(SEEDS, st.integers(3, 12))
def test_the_count_of_papers_stays_and_no_piece_is_left_loose(seed: int, count: int) -> None:
    block = sp.Block.from_polygons(sliced(count, seed))
    plain, con = sp.plan(block), sp.plan(block, prepieced=True)
    assert len(con.foundations) == len(plain.foundations)
    assert con.bounds == plain.bounds
    assert not con.loose
    assert len(con.joins) + len(con.laid) == max(0, len(con.foundations) - 1)
    assert replay(block, con).pivots == 0


@given(SEEDS)
def test_pieces_cover_where_units_are_laid(seed: int) -> None:
    block, con = prepieced(sliced(9, seed))
    assert replay(block, con, (*rough_pieces(block, con), *cut_pieces(block, con))).covered == 9


@given(SEEDS)
def test_orders_with_units_are_the_linear_extensions_of_what_is_said(seed: int) -> None:
    block, con = prepieced(logs(sliced(5, seed), 8, 1))
    rng = random.Random(seed)
    for foundation in con.foundations:
        left, order = list(foundation.order[1:]), [foundation.order[0]]
        while left:
            free = [p for p in left if not any((q, p) in foundation.precedes for q in left)]
            order.append(rng.choice(free))
            left.remove(order[-1])
        other = replace(foundation, order=tuple(order), groups=tuple((part,) for part in order))
        assert replay(block, _with(con, foundation.label, other)).partial_seams == 0


def _with(con: Construction, label: str, foundation: sp.Foundation) -> Construction:
    """The construction with one paper sewn in another order, its steps where they were."""
    steps = {step.added: step for step in con.steps if step.foundation == label}
    others = [step for step in con.steps if step.foundation != label]
    at = max(n for n, step in enumerate(con.steps) if step.foundation == label) + 1 - len(steps)
    mine = [steps[part] for part in foundation.order]
    papers = tuple(foundation if f.label == label else f for f in con.foundations)
    return replace(con, foundations=papers, steps=(*others[:at], *mine, *others[at:]))


def test_papers_printed_once_for_several_stay_alike() -> None:
    # A four-by-four of squares in rows: the row with a log is grown, the other three are printed once and sewn thrice.
    grid = [rectangle(i, j, i + 1, j + 1) for j in range(4) for i in range(4)]
    block = sp.Block.from_polygons(logs(grid, 4, 2))
    con = sp.plan(block, prepieced=True)
    printed = [f.label for f in con.foundations if f.twin_of is None]
    assert (len(con.foundations), len(printed), con.loose) == (4, 2, ())
    assert [label[0] for label in con.laid] == ["J"]
    assert replay(block, con, (*rough_pieces(block, con), *cut_pieces(block, con))).covered == len(block.patches)
    assert set(unfinished(block, con)) == {f.label for f in con.foundations} | {j.label for j in con.joins}


def test_papers_with_units_laid_alike_are_printed_once() -> None:
    quarters = [ring for x in (0, 4) for y in (0, 4) for ring in moved(logs(FOUR_PATCH, 2, 2), x, y)]
    block = sp.Block.from_polygons(quarters)
    con = sp.plan(block, prepieced=True)
    twins = [f for f in con.foundations if f.twin_of and not con.laid.keys().isdisjoint(f.order)]
    assert twins
    assert replay(block, con).contacts == replay(block, sp.plan(block)).contacts
    unlike = next((f for f in con.foundations if f.twin_of is None and f.label != "A"), None)
    assert unlike is not None
    said = tuple(replace(f, twin_of="A") if f is unlike else f for f in con.foundations)
    assert reason(block, replace(con, foundations=said)) == Reason.WRONG_TWIN


def spoiled(change: str) -> tuple[sp.Block, Construction]:
    block, con = prepieced(logs(FOUR_PATCH, 2, 2))
    paper = con.foundation("B")
    at = next(n for n, step in enumerate(con.steps) if step.unit)
    steps, laid = list(con.steps), con.steps[at]
    if change == "early":
        steps = [*[s for s in steps if s.foundation == "B"], *[s for s in steps if s.foundation == "A"]]
    elif change == "twice":
        a = con.foundation("A")
        return block, replace(con, foundations=(replace(a, order=(*a.order, "B")), *con.foundations[1:]))
    elif change == "left out":
        del steps[at]
    elif change == "as a patch":
        steps[at] = replace(laid, unit=None, patch="A")
    elif change == "other seam":
        steps[at] = replace(laid, seam=laid.seam[:1])
    elif change == "too late":
        order = (*(part for part in paper.order if part != "A"), "A")
        return block, _with(con, "B", replace(paper, order=order, groups=tuple((p,) for p in order)))
    elif change == "free":
        groups = (*paper.groups[:-2], (*paper.groups[-2], *paper.groups[-1]))
        return block, replace(con, foundations=(con.foundations[0], replace(paper, groups=groups)))
    elif change == "unknown":
        order = tuple("C" if part == "A" else part for part in paper.order)
        return block, replace(con, foundations=(con.foundations[0], replace(paper, order=order)))
    return block, replace(con, steps=tuple(steps))


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ("early", Reason.OUT_OF_ORDER),
        ("twice", Reason.OUT_OF_ORDER),
        ("left out", Reason.OUT_OF_ORDER),
        ("as a patch", Reason.STEPS_DISAGREE),
        ("other seam", Reason.OPEN_CONTACT),
        ("too late", Reason.OUT_OF_ORDER),
        ("free", Reason.NOT_FREE),
        ("unknown", Reason.UNKNOWN_PATCH),
    ],
)
def test_what_is_spoiled_is_refused(change: str, why: Reason) -> None:
    block, con = spoiled(change)
    with pytest.raises(SewingError) as caught:
        replay(block, con)
    assert caught.value.reason == why
    if change in {"early", "left out"}:
        assert (caught.value.step is not None, bool(caught.value.patches)) == (True, True)


def test_a_unit_is_not_laid_and_joined() -> None:
    block, con = prepieced(logs(FOUR_PATCH, 2, 1))
    again = sp.Join("J1", "B", "A", con.steps[-1].seam)
    assert reason(block, replace(con, joins=(again,))) == Reason.PATCH_TWICE


def test_a_unit_that_bends_round_what_is_there_is_refused(square_and_corner: tuple[sp.Block, Construction]) -> None:
    assert reason(*square_and_corner) == Reason.BENT_SEAM


@pytest.fixture
def square_and_corner() -> tuple[sp.Block, Construction]:
    """An L of two strips said to be laid, as one, round two patches in its corner."""
    block = sp.Block.from_polygons(
        [rectangle(0, 0, 1, 2), rectangle(1, 0, 2, 2), rectangle(0, 2, 3, 3), rectangle(2, 0, 3, 2)]
    )
    edge = sp.Edge
    seams = {
        "2": (edge((1, 0), (1, 2)),),
        "4": (edge((2, 2), (3, 2)),),
        "A": (edge((2, 0), (2, 2)), edge((2, 2), (0, 2))),
    }
    papers = (
        sp.Foundation("A", ("3", "4"), (("3",), ("4",))),
        sp.Foundation("B", ("1", "2", "A"), (("1",), ("2",), ("A",))),
    )
    step = sp.Step
    steps = (
        step("first", foundation="A", patch="3"),
        step("add", seams["4"], "A", "4"),
        step("first", foundation="B", patch="1"),
        step("add", seams["2"], "B", "2"),
        step("add", seams["A"], "B", unit="A"),
    )
    return block, sp.Construction("foundation", papers, (), (), steps)
