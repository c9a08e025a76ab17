"""Recipes as tests: pytest collects each `*.recipe.toml` as one item for each claim it makes.

`storm-lantern.recipe.toml::covers` holds where the claim "covers" holds; a recipe that cannot be read has one item,
`loads`, which fails with every fault. Nothing of Seamproof is imported before a recipe is collected.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from seamproof.pattern.examining import Examination
    from seamproof.recipe import Recipe

_SUFFIX = ".recipe.toml"


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> RecipeFile | None:
    """Collect recipes."""
    return RecipeFile.from_parent(parent, path=file_path) if file_path.name.endswith(_SUFFIX) else None


class RecipeFile(pytest.File):
    """A recipe, worked out once for all its claims."""

    @cached_property
    def recipe(self) -> Recipe:
        """The recipe. Raises RecipeError where it cannot be read."""
        from seamproof.recipe import load_recipe

        return load_recipe(self.path)

    @cached_property
    def examination(self) -> Examination:
        """What was found of its claims."""
        from seamproof.pattern.examining import examine

        return examine(self.recipe)

    def collect(self) -> Iterator[ClaimItem]:
        """One item for each claim, or one that fails where the recipe cannot be read."""
        from seamproof.errors import SeamproofError
        from seamproof.pattern.examining import claim_names

        try:
            names = claim_names(self.recipe)
        except SeamproofError as error:
            yield ClaimItem.from_parent(self, name="loads", trouble=str(error))
            return
        for name in names:
            yield ClaimItem.from_parent(self, name=name)


class ClaimFailed(Exception):  # noqa: N818 - it is no error: a claim was looked at and does not hold
    """A claim that does not hold."""


class ClaimItem(pytest.Item):
    """One claim of one recipe."""

    parent: RecipeFile

    def __init__(self, *, trouble: str | None = None, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._trouble = trouble

    def runtest(self) -> None:
        """Fail where the claim does not hold."""
        if self._trouble is not None:
            raise ClaimFailed(self._trouble)
        claim = next((claim for claim in self.parent.examination.claims if claim.claim == self.name), None)
        if claim is None:
            raise ClaimFailed(f"{self.name} was not looked at")
        if not claim.ok:
            bound = "" if claim.bound is None else f", held to {claim.bound}"
            raise ClaimFailed(f"{self.name}: {claim.value}{bound} {claim.unit}".rstrip() + f"\n{claim.proof}")

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> Any:
        """The reason alone, for a claim; a traceback for anything else."""
        from seamproof.errors import SeamproofError

        if isinstance(excinfo.value, (ClaimFailed, SeamproofError)):
            return str(excinfo.value)
        return super().repr_failure(excinfo, style)

    def reportinfo(self) -> tuple[Path, int, str]:
        """Where the item is, for reports."""
        return self.path, 0, f"{self.path.name}: {self.name}"
