"""How long the command takes, each time in a process of its own: help, a list of families, recipe to measured handout.

Modules are compiled before, as an installation has them, whatever the environment says of writing bytecode.

Run by hand: pytest tests/benchmarks/bench_command.py
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytest_benchmark.fixture import BenchmarkFixture

RECIPE = Path(__file__).parents[2] / "gallery" / "rings" / "storm-lantern.recipe.toml"


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., None]:
    """Runs the command with words."""
    environment = os.environ | {"PYTHONPYCACHEPREFIX": str(tmp_path_factory.mktemp("compiled"))}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)

    def run(*words: str) -> None:
        command = [sys.executable, "-m", "seamproof.cli", *words]
        subprocess.run(command, check=True, capture_output=True, env=environment)

    return run


def test_help(benchmark: BenchmarkFixture, run: Callable[..., None]) -> None:
    run("--help")
    benchmark(run, "--help")


def test_families(benchmark: BenchmarkFixture, run: Callable[..., None]) -> None:
    run("families")
    benchmark(run, "families")


def test_recipe_of_25_patches_to_its_measured_handout(
    benchmark: BenchmarkFixture, run: Callable[..., None], tmp_path: Path
) -> None:
    words = ("pack", str(RECIPE), "-o", str(tmp_path / "handout"))
    run(*words)
    benchmark(run, *words)
