"""What must not change a plan: turning, mirroring, scaling, shifting, another listing, corners moved a little."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import TYPE_CHECKING, TypeAlias

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.errors import LengthError
from seamproof.testing.strategies import slicing_tilings
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sequence.construction import Method

Ring: TypeAlias = "list[Point]"
Rectangle: TypeAlias = tuple[int, int, int, int]


def grid_tiling(rectangles: list[Rectangle]) -> sp.Block:
    return sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in rectangles])


PINWHEEL = grid_tiling([(1, 1, 2, 2), (0, 0, 2, 1), (2, 0, 3, 2), (1, 2, 3, 3), (0, 1, 1, 3)])
PINWHEEL_WITH_LOGS = grid_tiling(
    [(1, 1, 2, 2), (0, 0, 2, 1), (2, 0, 3, 2), (1, 2, 3, 3), (0, 1, 1, 3), (0, 3, 3, 4), (3, 0, 4, 4), (-1, 0, 0, 4)]
)
FOUR_PATCH = grid_tiling([(0, 0, 1, 1), (1, 0, 2, 1), (0, 1, 1, 2), (1, 1, 2, 2)])
L_SHAPE = grid_tiling([(0, 0, 2, 1), (2, 0, 3, 1), (0, 1, 1, 3), (1, 1, 2, 2)])
U_SHAPE = grid_tiling([(0, 0, 3, 1), (0, 1, 1, 2), (0, 2, 1, 3), (2, 1, 3, 3)])
EIGHT_POINTS = sp.Block.from_polygons(
    [
        [
            (0.0, 0.0),
            (math.cos(a), math.sin(a)),
            (math.cos(a) + math.cos(a + math.pi / 4), math.sin(a) + math.sin(a + math.pi / 4)),
            (math.cos(a + math.pi / 4), math.sin(a + math.pi / 4)),
        ]
        for a in (k * math.pi / 4 for k in range(8))
    ]
)


@st.composite
def grid_tilings(draw: st.DrawFn) -> sp.Block:
    """A grid parted into rectangles, pinwheels and crossings among them."""
    columns, rows = draw(st.integers(1, 5)), draw(st.integers(1, 5))
    free = {(x, y) for x in range(columns) for y in range(rows)}
    rectangles = []
    while free:
        x, y = min(free, key=lambda cell: (cell[1], cell[0]))
        right, top = x + 1, y + 1
        while (right, y) in free and draw(st.booleans()):
            right += 1
        while all((i, top) in free for i in range(x, right)) and draw(st.booleans()):
            top += 1
        free -= {(i, j) for i in range(x, right) for j in range(y, top)}
        rectangles.append((x, y, right, top))
    return grid_tiling(rectangles)


def can_be_cut(block: sp.Block) -> bool:
    """Whether no patch is a sliver: its whole area against its outline, and every edge."""
    return all(
        patch.outline.area > patch.outline.perimeter * 0.03 and all(edge.length > 0.1 for edge in patch.outline.edges)
        for patch in block.patches
    )


def blocks() -> st.SearchStrategy[sp.Block]:
    named = [PINWHEEL, PINWHEEL_WITH_LOGS, FOUR_PATCH, L_SHAPE, U_SHAPE, EIGHT_POINTS]
    slicing = slicing_tilings(most=10).filter(can_be_cut)
    return st.one_of(st.sampled_from(named), grid_tilings(), slicing)


def counts(block: sp.Block) -> tuple[object, ...]:
    """What of a plan must stay; the referee takes the plan besides."""
    construction = sp.plan(block)
    sp.replay(block, construction)
    return (
        construction.technique,
        len(construction.foundations),
        len(construction.loose),
        len(construction.joins),
        construction.pivots,
        construction.partial_seams,
        construction.bounds,
        construction.optimal,
    )


moves = st.one_of(
    st.floats(0, 360).map(sp.Transform.turn),
    st.just(sp.Transform.mirror()),
    st.floats(0.7, 20).map(sp.Transform.scale),
    st.tuples(st.floats(-99, 99), st.floats(-99, 99)).map(lambda by: sp.Transform.shift(*by)),
)


@given(blocks(), moves, moves)
def test_moves_change_nothing(block: sp.Block, move: sp.Transform, then: sp.Transform) -> None:
    assert counts(block.transformed(move.then(then))) == counts(block)


@given(blocks(), st.randoms(use_true_random=False))
def test_listing_patches_otherwise_changes_nothing(block: sp.Block, rng: random.Random) -> None:
    patches = rng.sample(block.patches, len(block.patches))
    assert sp.plan(replace(block, patches=tuple(patches))) == sp.plan(block)


@given(blocks(), st.randoms(use_true_random=False))
def test_other_ids_change_no_count(block: sp.Block, rng: random.Random) -> None:
    ids = rng.sample(block.ids, len(block.ids))
    renamed = tuple(replace(patch, id=other) for patch, other in zip(block.patches, ids, strict=True))
    assert counts(replace(block, patches=renamed)) == counts(block)


def jittered(block: sp.Block, rng: random.Random) -> sp.Block:
    """The block with each corner of each patch moved on its own by up to half the tolerance."""

    def moved(point: Point) -> Point:
        angle, by = rng.uniform(0, math.tau), rng.uniform(0, SAME_POINT / 2)
        return (point[0] + by * math.cos(angle), point[1] + by * math.sin(angle))

    return sp.Block.from_polygons([[moved(point) for point in patch.outline.points] for patch in block.patches])


@given(blocks(), st.integers(0, 2**32))
@example(PINWHEEL_WITH_LOGS, 1)
@example(EIGHT_POINTS, 2)
def test_corners_moved_by_half_the_tolerance_change_nothing(block: sp.Block, seed: int) -> None:
    assert counts(jittered(block, random.Random(seed))) == counts(block)


@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
@given(block=blocks())
def test_the_referee_takes_every_plan(method: Method, block: sp.Block) -> None:
    construction = sp.plan(block, method)
    sp.replay(block, construction)
    assert construction.method == method
    assert sorted(construction.patches_of(construction.whole)) == sorted(block.ids)


@given(blocks())
def test_pivots_and_partial_seams_reach_their_bounds(block: sp.Block) -> None:
    methods: tuple[Method, ...] = ("foundation", "pieced")
    for method in methods:
        construction = sp.plan(block, method)
        assert construction.pivots == construction.bounds.pivots
        assert construction.partial_seams == construction.bounds.partial_seams


def test_a_sharp_stem_off_its_bar_by_a_hair_makes_no_dead_stop() -> None:
    """A stem at under ten degrees to the bar, each corner off by half the tolerance at most."""
    block = sp.Block.from_polygons(
        [
            [
                (-4.381642031518135, 4.098975257293335),
                (-2.2475e-05, -2.3759e-05),
                (-6.14845743822704, -6.572358618260212),
            ],
            [
                (-7.685521894536326, -8.215487844403896),
                (-8.19795816511914, -8.763247630285623),
                (-16.96110196194725, -0.5652534199666511),
                (-8.763245696481864, 8.197901232456008),
                (-4.381572273146801, 4.0989831317705185),
                (-5.2650012226679515, -1.236746277419541),
            ],
            [
                (-5.265076366579089, -1.2367166547515633),
                (-6.148485531057536, -6.572434608668851),
                (-7.685520288081796, -8.215507312220824),
            ],
        ]
    )
    con = sp.plan(block, "hand")
    sp.replay(block, con)
    assert con.joins[0].pivots == ()


@pytest.mark.parametrize("allowance", [0.0, -0.25, math.nan, math.inf])
def test_an_allowance_that_is_no_size_is_refused(allowance: float) -> None:
    with pytest.raises(LengthError, match="allowance"):
        sp.plan(FOUR_PATCH, allowance=allowance)
