"""Blocks that no one can sew, or that are very large: a clear error or a right answer, and never an endless search."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import seamproof as sp
from seamproof.planning.repair import Repair, repair

Ring = list[tuple[float, float]]


def oblong(x: float, y: float, width: float, height: float) -> Ring:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def pinwheel(x: float = 0, y: float = 0) -> list[Ring]:
    rooms = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    return [oblong(x + a, y + b, w, h) for a, b, w, h in rooms]


def block(rings: list[Ring]) -> sp.Block:
    return sp.Block.from_polygons(rings)


@pytest.mark.parametrize(
    ("rings", "reason"),
    [
        ([oblong(0, 0, 1, 1), oblong(3, 0, 1, 1)], "parts"),
        ([oblong(0, 0, 1, 1), oblong(1, 1, 1, 1)], "parts"),
        (pinwheel()[:4], "holes"),
    ],
    ids=["two parts", "a point in common", "a hole"],
)
def test_what_hangs_together_by_no_seam_is_refused_with_its_patches(rings: list[Ring], reason: str) -> None:
    for search in (sp.plan, repair):
        with pytest.raises(sp.NotSewable) as caught:
            search(block(rings))
        assert (caught.value.reason, bool(caught.value.patches)) == (reason, True)


@pytest.mark.parametrize("width", [5e-5, 1e-4])
def test_a_sliver_is_refused_by_name(width: float) -> None:
    rings = [oblong(0, 0, 1, 1), oblong(1, 0, width, 1), oblong(1 + width, 0, 1, 1)]
    for search in (sp.plan, repair):
        with pytest.raises(sp.BlockError, match="patch 2"):
            search(block(rings))


def test_a_ring_with_a_very_thin_patch_is_mended_like_any() -> None:
    thin = 0.002
    rooms = [(0, 0, 2, thin), (2, 0, 1, 2), (1, 2, 2, 1), (0, thin, 1, 3 - thin), (1, thin, 1, 2 - thin)]
    mended = repair(block([oblong(*room) for room in rooms]))
    assert (len(mended.additions), mended.is_least) == (1, True)
    mended.block.check()


def test_curved_blocks_are_mended_as_straight_ones_are() -> None:
    # Source: derived: one arc between two patches is one seam; a ring of five needs a seam added, whatever its outside.
    edge = sp.Edge((0, 0), (2, 0), math.tan(math.pi / 8))
    upper = sp.Outline((edge, sp.Edge((2, 0), (2, 2)), sp.Edge((2, 2), (0, 2)), sp.Edge((0, 2), (0, 0))))
    lower = sp.Outline((sp.Edge((0, 0), (0, -2)), sp.Edge((0, -2), (2, -2)), sp.Edge((2, -2), (2, 0)), edge.reversed()))
    wave = sp.Block("Wave", (sp.Patch("1", upper), sp.Patch("2", lower)))
    assert repair(wave) == Repair(wave, (), solved=True, bound=0)
    ring = block(pinwheel())
    first = replace(ring.patch("1"), outline=sp.Outline((edge, *ring.patch("1").outline.edges[1:])))
    mended = repair(replace(ring, patches=(first, *ring.patches[1:]), outline=None))
    assert (mended.solved, len(mended.additions), mended.is_least) == (True, 1, True)


@pytest.mark.parametrize("looks", [1, 30])
def test_a_large_block_ends_within_its_looks_with_its_bound(looks: int) -> None:
    # Source: derived: rings of seams that share no seam need an addition each.
    mended = repair(block([ring for i in range(6) for j in range(6) for ring in pinwheel(3 * i, 3 * j)]), looks=looks)
    assert mended.bound == 36
    assert mended.solved == mended.is_least
    assert len(mended.additions) in {0, 36}


def test_twenty_thousand_patches_are_answered() -> None:
    # Source: derived: squares in rows need no seam added.
    squares = block([oblong(i, j, 1, 1) for i in range(142) for j in range(141)])
    assert len(squares.patches) > 20_000
    assert repair(squares, looks=1).is_least
