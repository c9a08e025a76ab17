"""How long the planar map, the tiling proof and the seam map take, and how that grows.

Run by hand: pytest tests/benchmarks/bench_geometry.py
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.geometry.planar import PlanarMap

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture


def bricks(patches: int) -> sp.Block:
    """A wall of bricks, each row half a brick over: a tee at every corner, the dearest case for the map."""
    side = round(patches**0.5)
    return sp.Block.from_polygons(
        [[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)] for y in range(side) for x in
         [column + y % 2 / 2 for column in range(side)]]
    )  # fmt: skip


@pytest.mark.parametrize("patches", [100, 1_000, 10_000])
def test_planar_map(benchmark: BenchmarkFixture, patches: int) -> None:
    outlines = [patch.outline for patch in bricks(patches).patches]
    benchmark(lambda: PlanarMap.of(outlines).runs)


@pytest.mark.parametrize("patches", [100, 1_000, 10_000])
def test_seam_map_with_its_tiling_proof(benchmark: BenchmarkFixture, patches: int) -> None:
    block = bricks(patches)
    benchmark(lambda: sp.SeamMap.of(block))
