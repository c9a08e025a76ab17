"""Finding recipes in folders."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from seamproof.errors import Fault, RecipeError

if TYPE_CHECKING:
    from collections.abc import Iterable

SUFFIX: Final = ".recipe.toml"
"""How a recipe's file name ends."""


def find_recipes(paths: Iterable[str]) -> list[str]:
    """The recipe files that paths name: a file stands for itself, a folder for all in and under it, sorted.

    Folders whose name begins with a dot are passed by.

    Raises:
        RecipeError: a folder holds no recipe, or a path cannot be looked at.
    """
    found: list[str] = []
    for path in paths:
        try:
            inside = _inside(Path(path)) if Path(path).is_dir() else [path]
        except (OSError, ValueError) as error:
            raise RecipeError([Fault(path, 1, 1, "", f"cannot be looked at: {error}")]) from None
        if not inside:
            raise RecipeError([Fault(path, 1, 1, "", f"this folder holds no file that ends in {SUFFIX}")])
        found += inside
    return list(dict.fromkeys(found))


def _inside(folder: Path) -> list[str]:
    every = sorted(folder.rglob(f"*{SUFFIX}"))
    return [
        str(path)
        for path in every
        if path.is_file() and not any(part.startswith(".") for part in path.relative_to(folder).parts)
    ]
