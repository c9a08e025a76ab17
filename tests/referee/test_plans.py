"""What the planner finds is replayed, and spoiled in every way that its steps allow."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.ops import split

import seamproof as sp
from seamproof.errors import SewingError
from seamproof.referee import Reason, replay
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sequence import Construction

SEEDS = st.integers(0, 10**6)


def sliced(count: int, seed: int) -> list[list[Point]]:
    """A square cut by straight lines, patch by patch, some of them leaning; no patch is a sliver."""
    rng = random.Random(seed)
    pieces = [shapely.box(0, 0, 8, 8)]
    while len(pieces) < count:
        piece = max(rng.sample(pieces, min(2, len(pieces))), key=lambda shape: shape.area)
        x, y = piece.centroid.coords[0]
        angle = math.radians(rng.choice([0, 30, 45, 90, 90, 120, 0]))
        dx, dy = 20 * math.cos(angle), 20 * math.sin(angle)
        parts = list(split(piece, shapely.LineString([(x - dx, y - dy), (x + dx, y + dy)])).geoms)
        if all(_is_plain(part) for part in parts):
            pieces = [other for other in pieces if other is not piece] + parts
    return [list(piece.exterior.coords)[:-1] for piece in pieces]


def _is_plain(shape: shapely.Polygon) -> bool:
    return min(math.dist(p, q) for p, q in pairwise(shape.exterior.coords)) > 0.05 and not shape.buffer(-0.1).is_empty


def tilings(across: int, up: int) -> list[list[list[Point]]]:
    """Every tiling of a grid by grid rectangles."""

    def fill(taken: frozenset[tuple[int, int]]) -> list[list[tuple[int, int, int, int]]]:
        free = [(x, y) for y in range(up) for x in range(across) if (x, y) not in taken]
        if not free:
            return [[]]
        x, y = free[0]
        found = []
        for right in range(x + 1, across + 1):
            for top in range(y + 1, up + 1):
                cells = {(i, j) for i in range(x, right) for j in range(y, top)}
                if not cells & taken:
                    found += [[(x, y, right, top), *rest] for rest in fill(taken | cells)]
        return found

    return [
        [[(x0, y0), (x1, y0), (x1, y1), (x0, y1)] for x0, y0, x1, y1 in boxes] for boxes in fill(frozenset())
    ]  # fmt: skip


def reason(block: sp.Block, con: Construction) -> str:
    with pytest.raises(SewingError) as caught:
        replay(block, con)
    return caught.value.reason


def test_every_tiling_of_three_by_three_is_planned_and_replayed() -> None:
    # Source: OEIS A116694 (322 tilings) and A222659 (320 of them by straight seams alone).
    seen = []
    for polygons in tilings(3, 3):
        if len(polygons) > 1:
            block = sp.Block.from_polygons(polygons)
            seen.append(replay(block, sp.plan(block)))
    assert len(seen) + 1 == 322
    assert sum(replayed.technique == "straight" for replayed in seen) + 1 == 320


@given(st.integers(2, 9), SEEDS, st.sampled_from(["foundation", "pieced", "hand"]))
def test_what_is_planned_for_a_sliced_square_can_be_sewn(count: int, seed: int, method: str) -> None:
    block = sp.Block.from_polygons(sliced(count, seed))
    con = sp.plan(block, method=method)  # type: ignore[arg-type]
    seen = replay(block, con)
    assert seen.technique == con.technique
    assert method == "hand" or seen.technique == "straight"


@given(st.integers(2, 8), SEEDS)
def test_corners_moved_within_the_tolerance_change_nothing(count: int, seed: int) -> None:
    rng = random.Random(seed)
    polygons = [[(x + rng.uniform(-1, 1) * SAME_POINT / 3, y + rng.uniform(-1, 1) * SAME_POINT / 3) for x, y in ring]
                for ring in sliced(count, seed)]  # fmt: skip
    block = sp.Block.from_polygons(polygons)
    assert replay(block, sp.plan(block)).technique == "straight"


@given(st.integers(3, 9), SEEDS)
def test_neighbours_swapped_are_refused_exactly_where_one_must_precede(count: int, seed: int) -> None:
    block = sp.Block.from_polygons(sliced(count, seed))
    con = sp.plan(block)
    for number, (one, two) in enumerate(pairwise(con.steps)):
        if one.kind == two.kind == "add" and one.foundation == two.foundation:
            steps = (*con.steps[:number], two, one, *con.steps[number + 2 :])
            assert reason(block, replace(con, steps=steps)) == Reason.OUT_OF_ORDER
            assert con.foundations  # the order and the steps swapped together:
            swapped = _swapped(con, one.foundation or "", one.patch or "", two.patch or "")
            pairs = con.foundation(one.foundation or "").precedes
            if (one.patch, two.patch) in pairs:
                assert reason(block, replace(swapped, steps=steps)) == Reason.OUT_OF_ORDER
            else:
                assert replay(block, replace(swapped, steps=steps)).contacts


def _swapped(con: Construction, label: str, one: str, two: str) -> Construction:
    places = {one: two, two: one}
    papers = []
    for given_paper in con.foundations:
        paper = replace(given_paper, twin_of=None)
        if paper.label == label:
            order = tuple(places.get(patch, patch) for patch in paper.order)
            papers.append(replace(paper, order=order, groups=tuple((patch,) for patch in order)))
        else:
            papers.append(paper)
    return replace(con, foundations=tuple(papers))


@given(st.integers(3, 9), SEEDS)
def test_a_step_left_out_is_refused(count: int, seed: int) -> None:
    block = sp.Block.from_polygons(sliced(count, seed))
    con = sp.plan(block)
    for number in range(len(con.steps)):
        steps = con.steps[:number] + con.steps[number + 1 :]
        assert reason(block, replace(con, steps=steps)) in {Reason.OUT_OF_ORDER, Reason.STEPS_DISAGREE}


HEXAGON = [(math.cos(math.radians(60 * k)), math.sin(math.radians(60 * k))) for k in range(6)]


def test_a_rosette_of_seven_hexagons_has_six_pivots() -> None:
    # Source: derived: one pivot for each of its six inner junctions, in every construction.
    centres = [(0.0, 0.0), *((math.sqrt(3) * math.cos(math.radians(30 + 60 * k)),
                              math.sqrt(3) * math.sin(math.radians(30 + 60 * k))) for k in range(6))]  # fmt: skip
    block = sp.Block.from_polygons([[(x + a, y + b) for a, b in HEXAGON] for x, y in centres])
    con = sp.plan(block, method="hand")
    assert replay(block, con).pivots == 6
    for join in con.joins:
        if join.pivots:
            fewer = replace(join, pivots=join.pivots[1:], kind="set-in" if join.pivots[1:] else "straight")
            joins = tuple(fewer if other is join else other for other in con.joins)
            assert reason(block, replace(con, joins=joins, bounds=sp.Construction("hand", (), (), (), ()).bounds)) in {
                Reason.UNDECLARED_PIVOT,
                Reason.BENT_SEAM,
            }


# Source: Bouwkamp code (18,15)(7,8)(14,4)(10,1)(9): a rectangle 33 × 32 of nine squares.
SQUARED = [(0, 14, 18), (18, 17, 15), (18, 10, 7), (25, 9, 8), (0, 0, 14), (14, 10, 4), (14, 0, 10), (24, 9, 1),
           (24, 0, 9)]  # fmt: skip


def test_the_squared_rectangle_takes_two_partial_seams() -> None:
    # Source: computed independently: two partial seams, no fewer.
    polygons = [[(x, y), (x + a, y), (x + a, y + a), (x, y + a)] for x, y, a in SQUARED]
    block = sp.Block.from_polygons(polygons)
    assert sum(a * a for _, _, a in SQUARED) == 33 * 32
    block.check()
    con = sp.plan(block)
    seen = replay(block, con)
    assert (seen.technique, seen.partial_seams + seen.pivots) == ("partial", 2)
    for number, step in enumerate(con.steps):
        if step.kind == "finish":
            steps = con.steps[:number] + con.steps[number + 1 :]
            assert reason(block, replace(con, steps=steps)) in {Reason.UNFINISHED_SEAM, Reason.NO_CONTACT,
                                                                 Reason.OPEN_CONTACT}  # fmt: skip
