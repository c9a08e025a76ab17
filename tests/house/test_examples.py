"""Every example in a docstring gives what it says."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def modules() -> list[str]:
    """The modules that hold an example."""
    files = [path for top in ("core", "plugins") for path in sorted((ROOT / top).rglob("*.py"))]
    names = [
        ".".join(path.relative_to(ROOT).with_suffix("").parts[1:]).removesuffix(".__init__")
        for path in files
        if ">>> " in path.read_text(encoding="utf-8")
    ]
    assert names
    return names


@pytest.mark.parametrize("name", modules())
def test_an_example_gives_what_it_says(name: str) -> None:
    found = doctest.testmod(import_module(name))
    assert found.attempted
    assert not found.failed
