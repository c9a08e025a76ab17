"""How long the command takes, each time in a process of its own: help, a list of families, recipe to measured handout.

Run by hand: pytest tests/benchmarks/bench_command.py
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

RECIPE = Path(__file__).parents[2] / "gallery" / "rings" / "storm-lantern.recipe.toml"


def run(*words: str) -> None:
    subprocess.run([sys.executable, "-m", "seamproof.cli", *words], check=True, capture_output=True)


def test_help(benchmark: BenchmarkFixture) -> None:
    benchmark(run, "--help")


def test_families(benchmark: BenchmarkFixture) -> None:
    benchmark(run, "families")


def test_recipe_of_25_patches_to_its_measured_handout(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    benchmark(run, "pack", str(RECIPE), "-o", str(tmp_path / "handout"))
