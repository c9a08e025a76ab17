"""How long a forecast takes: the target is 10 000 trials for 100 patches within 1 s.

Run by hand: pytest tests/benchmarks/bench_forecast.py
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.planning.forecast import forecast

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

    from seamproof.sequence.construction import Method


@pytest.mark.parametrize("method", ["pieced", "foundation"])
@pytest.mark.parametrize("patches", [25, 100, 400])
def test_ten_thousand_trials(benchmark: BenchmarkFixture, patches: int, method: Method) -> None:
    side = round(math.sqrt(patches))
    block = sp.Block.from_polygons(
        [[(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)] for j in range(side) for i in range(side)]
    )
    construction = sp.plan(block, method)
    assert benchmark(forecast, block, construction).trials == 10_000
