"""How long planning takes, and how that grows.

Run by hand: pytest tests/benchmarks/bench_planning.py
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.planning.frame import Frame
from seamproof.planning.verdict import stuck_units

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

    from seamproof.geometry import Point
    from seamproof.sequence.construction import Method


def rectangle(x: float, y: float, width: float, height: float) -> list[Point]:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def squares(patches: int) -> sp.Block:
    """A grid of squares: a crossing at every corner."""
    side = round(math.sqrt(patches))
    return sp.Block.from_polygons([rectangle(i, j, 1, 1) for j in range(side) for i in range(side)])


def bricks(patches: int) -> sp.Block:
    """Rows of bricks, each half a brick over: a tee at every corner."""
    side = round(math.sqrt(patches))
    rows = [[0.0, *(k + 0.5 * (row % 2) for k in range(1, side)), side + 1.0] for row in range(side)]
    return sp.Block.from_polygons([rectangle(a, j, b - a, 1) for j, row in enumerate(rows) for a, b in pairwise(row)])


def log_cabin(rounds: int) -> sp.Block:
    patches, low, high = [rectangle(0, 0, 1, 1)], 0, 1
    for _ in range(rounds):
        patches.append(rectangle(high, low, 1, high - low))
        patches.append(rectangle(low, high, high + 1 - low, 1))
        patches.append(rectangle(low - 1, low, 1, high + 1 - low))
        patches.append(rectangle(low - 1, low - 1, high + 2 - low, 1))
        low, high = low - 1, high + 1
    return sp.Block.from_polygons(patches)


def quartered(columns: int, rows: int) -> sp.Block:
    """Squares, every second one quartered corner to corner."""
    patches: list[list[Point]] = []
    for j in range(rows):
        for i in range(columns):
            ring = rectangle(i, j, 1, 1)
            if (i + j) % 2:
                patches += [[a, b, (i + 0.5, j + 0.5)] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)]
            else:
                patches.append(ring)
    return sp.Block.from_polygons(patches)


@pytest.mark.parametrize("patches", [100, 1_000, 10_000])
@pytest.mark.parametrize("draw", [squares, bricks], ids=["squares", "bricks"])
def test_verdict_of_straight_seams(benchmark: BenchmarkFixture, draw: object, patches: int) -> None:
    """From the outlines: planar map, runs and cuts. The slope is the logarithm of the ratio of two rows."""
    assert callable(draw)
    block = draw(patches)

    def verdict() -> tuple[int, ...]:
        frame = Frame.of(block)
        return stuck_units(frame, frame.all)

    assert benchmark(verdict) == ()


@pytest.mark.parametrize("patches", [100, 1_000, 10_000])
def test_cuts_alone(benchmark: BenchmarkFixture, patches: int) -> None:
    """The queue, on a map already made."""
    frame = Frame.of(bricks(patches))
    stuck_units(frame, frame.all)
    assert benchmark(stuck_units, frame, frame.all) == ()


@pytest.mark.parametrize("rounds", [3, 15, 60])
def test_one_foundation(benchmark: BenchmarkFixture, rounds: int) -> None:
    block = log_cabin(rounds)
    assert len(benchmark(sp.plan, block).foundations) == 1


@pytest.mark.parametrize(("columns", "rows"), [(3, 3), (5, 4), (6, 4), (8, 8)])
def test_fewest_foundations(benchmark: BenchmarkFixture, columns: int, rows: int) -> None:
    """21, 50, 60 and 160 patches; up to 60 the count is proven, beyond the search stops at its limit."""
    block = quartered(columns, rows)
    construction = benchmark(sp.plan, block)
    assert construction.optimal or len(block.patches) > 60


@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
def test_plan_of_a_thousand_patches(benchmark: BenchmarkFixture, method: Method) -> None:
    block = squares(1_000)
    benchmark(sp.plan, block, method)
