"""How long it takes to say where every allowance lies, and how that grows.

Run by hand: pytest tests/benchmarks/bench_pressing.py
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.planning.layers import LayerMap
from seamproof.planning.pressing import order_for_pressing, plan_pressing
from seamproof.planning.pressing_rows import advise_rows
from seamproof.planning.rescue import plan_rescue

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

    from seamproof.sequence.construction import Method


def squares(patches: int) -> sp.Block:
    """A grid of squares: at every corner seams meet across a join."""
    side = round(math.sqrt(patches))
    return sp.Block.from_polygons(
        [[(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)] for j in range(side) for i in range(side)]
    )


@pytest.mark.parametrize("method", ["pieced", "foundation"])
@pytest.mark.parametrize("patches", [100, 400, 1_024])
def test_pressing_plan(benchmark: BenchmarkFixture, patches: int, method: Method) -> None:
    """As many seams as patches, less one: the target is 2 s for 1 000."""
    block = squares(patches)
    construction = sp.plan(block, method)
    assert len(benchmark(plan_pressing, block, construction).seams) == len(block.patches) - 1


@pytest.mark.parametrize("patches", [100, 1_024])
def test_orders_of_foundations(benchmark: BenchmarkFixture, patches: int) -> None:
    block = squares(patches)
    construction = sp.plan(block)
    ordered = benchmark(order_for_pressing, block, construction)
    assert plan_pressing(block, ordered).missed <= plan_pressing(block, construction).missed


@pytest.mark.parametrize("patches", [100, 1_024])
def test_layers(benchmark: BenchmarkFixture, patches: int) -> None:
    block = squares(patches)
    construction = sp.plan(block, "pieced")
    plan = plan_pressing(block, construction)
    assert benchmark(lambda: LayerMap(block, construction, plan, 0.25).thickest)


@pytest.mark.parametrize("patches", [25, 100])
def test_rows_of_blocks(benchmark: BenchmarkFixture, patches: int) -> None:
    block = squares(patches)
    construction = sp.plan(block, "pieced")
    assert benchmark(advise_rows, block, construction, plan_pressing(block, construction), 4, 5)


@pytest.mark.parametrize("patches", [100, 1_024])
def test_rescue(benchmark: BenchmarkFixture, patches: int) -> None:
    block = squares(patches)
    assert len(benchmark(plan_rescue, block, sp.plan(block, "pieced"))) == len(block.patches)
