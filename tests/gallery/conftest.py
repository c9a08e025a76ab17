"""Recipes of the gallery, for sites of a few blocks."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from collections.abc import Callable

GALLERY = Path(__file__).parents[2] / "gallery"


@pytest.fixture
def recipes(tmp_path: Path) -> Path:
    """A folder of two small recipes."""
    folder = tmp_path / "recipes"
    folder.mkdir()
    for name in ("grids/five-boathouses", "rings/tide-glass"):
        shutil.copy(GALLERY / f"{name}.recipe.toml", folder)
    return folder


@pytest.fixture
def write(recipes: Path) -> Callable[..., Path]:
    """Writes another small recipe, under a title of its own."""

    def _write(name: str, title: str, **changes: str) -> Path:
        text = new_recipe("square-in-a-square", "economy patch")
        lines = [f"title = '''{title}'''" if line.startswith("title = ") else line for line in text.splitlines()]
        text = "\n".join(lines)
        for old, new in changes.items():
            text = text.replace(old, new)
        path = recipes / f"{name}.recipe.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return _write
